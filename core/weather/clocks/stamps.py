"""One time as tables write it: ISO, day or month first, months in words, 12-hour clocks,
with or without a zone.
"""

import datetime
import math
import re
from dataclasses import dataclass, replace

from core.errors import BadRequest
from core.weather.answers import zone_of
from core.weather.clocks.zones import LETTERS

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
DAY_S = 86_400
FIRST_SHORT_YEAR = 69  # POSIX: two digits from 69 on are of the last century
DMY, MDY, YMD = "dmy", "mdy", "ymd"
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WEEKDAY = re.compile(rf"^({'|'.join(WEEKDAYS)})[a-z]*\.?,?\s+", re.IGNORECASE)
_DATES = (
    ("ymd", re.compile(r"(?P<y>\d{4})([-/.])(?P<m>\d{1,2})\2(?P<d>\d{1,2})(?!\d)")),
    ("ymd", re.compile(r"(?P<y>\d{4})(?P<m>\d{2})(?P<d>\d{2})(?=$|[T\s_]|\d{2})")),
    ("open", re.compile(r"(?P<a>\d{1,2})([-/.])(?P<b>\d{1,2})\2(?P<y>\d{4}|\d{2})(?!\d)")),
    (
        "ymd",
        re.compile(
            r"(?P<d>\d{1,2})(?:st|nd|rd|th)?[-\s./]*(?P<m>[A-Za-z]{3,9})\.?,?"
            r"[-\s./]*(?P<y>\d{4})(?!\d)"
        ),
    ),
    (
        "ymd",
        re.compile(
            r"(?P<m>[A-Za-z]{3,9})\.?\s*(?P<d>\d{1,2})(?:st|nd|rd|th)?,?\s+"
            r"(?P<y>\d{4})(?!\d)"
        ),
    ),
)
_CLOCK = re.compile(
    r"(?P<h>\d{1,2})(?:[:hH.]?(?P<mi>\d{2})(?:[:.]?(?P<s>\d{2})(?:[.,]\d+)?)?)?"
    r"\s*(?:(?P<half>[ap])\.?\s?m?\.?(?![a-z]))?",
    re.IGNORECASE,
)
_OFFSET = re.compile(r"\(?(Z|UTC|GMT|UT|Zulu|(?:UTC|GMT)?\s?[+-]\d{1,2}(?::?\d{2})?)\)?", re.I)


@dataclass(frozen=True, slots=True)
class Stamp:
    """One time: its date, the clock, the offset or the letters of its zone.

    Of a date with a `mark` the order of its numbers is open; where it is `short` its year
    has two digits, and may come first.
    """

    year: int
    first: int  # month, or the first of two numbers whose order is open
    second: int  # day, or the second
    seconds: int | None  # of the day; None for a date alone
    offset_s: int | None = None
    mark: str = ""  # what divides an open date: / - or .
    twelve: bool = False
    letters: str = ""
    short: bool = False
    weekday: int | None = None  # 0 for Monday, where the cell says it


def parse_stamp(text: str) -> Stamp | None:
    """One time; None for what is none. Args: the cell."""
    rest = text.strip().strip("'\"")
    said = _WEEKDAY.match(rest)
    if said is None:
        return _parsed(rest)
    stamp = _parsed(rest[said.end() :])
    return stamp and replace(stamp, weekday=WEEKDAYS.index(said[1].casefold()))


def _parsed(rest: str) -> Stamp | None:
    """A time without the day of its week."""
    for kind, pattern in _DATES:
        found = pattern.match(rest)
        if not found:
            continue
        clock = _clock(rest[found.end() :].lstrip(" T_,\t"))
        if clock is None:
            return None
        seconds, twelve, offset, letters = clock
        short = len(found["y"]) == 2
        year = full_year(int(found["y"])) if short else int(found["y"])
        if kind == "open":
            first, second = int(found["a"]), int(found["b"])
            return Stamp(year, first, second, seconds, offset, found[2], twelve, letters, short)
        month = _month(found["m"])
        day = int(found["d"])
        return Stamp(year, month, day, seconds, offset, letters=letters) if month else None
    return None


def full_year(two_digits: int) -> int:
    """The year of its last two digits, 1969 to 2068. Args: 0 to 99."""
    return two_digits + (1900 if two_digits >= FIRST_SHORT_YEAR else 2000)


def _month(text: str) -> int:
    if text.isdigit():
        return int(text)
    name = text.casefold()[:3]
    return MONTHS.index(name) + 1 if name in MONTHS else 0


def _clock(text: str) -> tuple[int | None, bool, int | None, str] | None:
    """Seconds of the day, whether on a 12-hour clock, offset and letters; None for another."""
    if not text:
        return None, False, None, ""
    text = text.zfill(4) if re.fullmatch(r"\d{3}", text) else text  # 700 is 7:00
    found = _CLOCK.match(text)
    if not found:
        return None
    hour, minute, second = (int(found[k] or 0) for k in ("h", "mi", "s"))
    if found["half"]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found["half"].casefold() == "p" else 0)
    if minute > 59 or second > 59 or hour > 24 or (hour == 24 and minute + second > 0):
        return None
    tail = text[found.end() :].strip()
    letters = tail.strip("()").upper()
    letters = letters if letters in LETTERS else ""
    offset = None if letters else _offset(tail)
    if tail and offset is None and not letters:
        return None
    return hour * 3600 + minute * 60 + second, bool(found["half"]), offset, letters


def _offset(text: str) -> int | None:
    if not _OFFSET.fullmatch(text):
        return None
    try:
        size = zone_of(text.strip("()")).utcoffset(None)
    except BadRequest:
        return None
    return None if size is None else int(size.total_seconds())


def date_of(stamp: Stamp, order: str) -> datetime.date | None:
    """The date of a time; None for a date that is none. Args: the time; dmy, mdy or ymd,
    the order of its numbers where that is open."""
    year, month, day = stamp.year, stamp.first, stamp.second
    if stamp.mark and order == YMD:
        year, month, day = full_year(stamp.first), stamp.second, stamp.year % 100
    elif stamp.mark and order == DMY:
        month, day = day, month
    try:
        return datetime.date(year, month, day)
    except ValueError:
        return None


def clock_s(stamp: Stamp, order: str) -> float:
    """The time as if it were UTC; NaN for a date that is none. [s]  Args: as `date_of`."""
    date = date_of(stamp, order)
    if date is None:
        return math.nan
    return float((date - datetime.date(1970, 1, 1)).days * DAY_S + (stamp.seconds or 0))
