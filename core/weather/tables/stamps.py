"""Times as tables write them: ISO, day or month first, months in words, 12-hour
clocks, epochs and spreadsheet numbers, with or without a zone.
"""

import datetime
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from core.errors import BadRequest, BadWeather, Choice, NeedsAnswer
from core.weather.answers import zone_of
from core.weather.hours import Floats
from core.weather.tables.stamp_patterns import DATES, WEEKDAY

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
EXCEL_EPOCH_DAYS = 25569  # 1 January 1970 as a spreadsheet counts days
EXCEL_RANGE = (20_000.0, 80_000.0)
EPOCH_SCALES = ((1e8, 4.2e9, 1.0), (1e11, 4.2e12, 1e3), (1e14, 4.2e15, 1e6), (1e17, 4.2e18, 1e9))
DAY_S = 86_400
_CLOCK = re.compile(
    r"(?P<h>\d{1,2})(?:[:hH.]?(?P<mi>\d{2})(?:[:.]?(?P<s>\d{2})(?:[.,]\d+)?)?)?"
    r"\s*(?:(?P<half>[ap])\.?\s?m?\.?(?![a-z]))?",
    re.IGNORECASE,
)
_ZONE = re.compile(r"\(?(Z|(?:UTC|GMT)?\s?[+-]\d{1,2}(?::?\d{2})?|[A-Z]{2,4})\)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Stamp:
    """One time: its date, or two numbers whose order is open, the clock, the offset."""

    year: int
    first: int  # month, or the first of two numbers whose order is open
    second: int  # day, or the second
    seconds: int | None  # of the day; None for a date alone
    offset_s: int | None = None
    mark: str = ""  # what divides an open date: / - or .
    twelve: bool = False


@dataclass(frozen=True, slots=True)
class Times:
    """Times of a column. Arrays of shape (row,): `clock_s` as if it were UTC, NaN for
    what can't be read; `offset_s` NaN where the time says no zone."""

    clock_s: Floats
    offset_s: Floats
    remarks: tuple[str, ...] = field(default=())


def order_told(header: str) -> bool | None:
    """Whether a header says that days come first, as `DD/MM/YYYY` does; None if not."""
    letters = re.sub(r"[^dmy]+", "", re.sub(r"[a-z]{5,}", "", header.casefold()))
    if re.search(r"d{1,2}m{1,3}y", letters):
        return True
    return False if re.search(r"m{1,2}d{1,2}y", letters) else None


def read_times(
    cells: Sequence[str], lines: Sequence[int], where: str, dayfirst: bool | None = None
) -> Times:
    """The times of a column.

    Args: cells and their line numbers, shape (row,); the file for messages; whether
    the user said that days come first.
    The order of day and month is settled for the whole file: by a number over 12, by
    dots (day first), by a 12-hour clock (month first), else by the answer.
    Missing: a cell that is no time is NaN.
    Raises: NeedsAnswer where the order stays open; BadWeather where the file holds
    both orders, or dates without a time of day.
    """
    plain = _plain_iso(cells)
    if plain is not None:
        return Times(plain, np.full(len(cells), np.nan))
    numbers = _numbers(cells)
    if numbers is not None:
        return numbers
    known: dict[str, Stamp | None] = {}
    stamps = []
    for cell in cells:
        if cell not in known:
            known[cell] = parse_stamp(cell)
        stamps.append(known[cell])
    read = [s for s in stamps if s is not None]
    if read and all(s.seconds is None for s in read):
        raise BadWeather(
            f"'{cells[0]}' is a day without a time: the table is by the day",
            where,
            "Use a table by the hour.",
        )
    _refuse_spans(stamps, cells, where)
    days_first, remarks = _order(stamps, cells, lines, where, dayfirst)
    clock = [math.nan if s is None else _clock_s(s, days_first) for s in stamps]
    offset = [math.nan if s is None or s.offset_s is None else s.offset_s for s in stamps]
    return Times(np.array(clock, float), np.array(offset, float), remarks)


def _refuse_spans(stamps, cells, where: str) -> None:
    """Refuses `06:00-07:00`, `07:00-08:00`: an end that moves with the clock is no offset."""
    told = {
        (s.offset_s, s.offset_s + s.seconds)
        for s in stamps
        if s is not None and s.offset_s is not None and s.seconds is not None
    }
    if len(told) > 1 and len({sums for _, sums in told}) == 1 and len({o for o, _ in told}) > 1:
        raise BadWeather(
            f"'{cells[0]}' looks like a span of time, not a time and its zone",
            where,
            "Give the start of each hour alone.",
        )


def _plain_iso(cells: Sequence[str]) -> Floats | None:
    """The quick way for a column that is all `2025-11-01 06:00`; None for another."""
    # an offset such as -05 at the end must not get through here
    usual = all(
        len(c) in (16, 19)
        and c[4:8:3] == "--"
        and c[10] in " T"
        and c[13::3] in (":", "::")
        and c[-1].isdigit()
        for c in cells
    )
    if not usual or not cells:
        return None
    try:
        return np.array(cells, dtype="datetime64[s]").astype(np.int64).astype(float)
    except ValueError:
        return None


def parse_stamp(text: str) -> Stamp | None:
    """One time; None for what is none. Args: the cell."""
    rest = WEEKDAY.sub("", text.strip().strip("'\""))
    for kind, pattern in DATES:
        found = pattern.match(rest)
        if not found:
            continue
        clock = _clock(rest[found.end() :].lstrip(" T_,\t"))
        if clock is None:
            return None
        seconds, twelve, offset = clock
        if len(found["y"]) == 2 and found[2] == "-":
            return None  # 25-11-01 may begin with the year
        year = int(found["y"]) + (2000 if len(found["y"]) == 2 else 0)
        if kind == "open":
            return Stamp(year, int(found["a"]), int(found["b"]), seconds, offset, found[2], twelve)
        month = _month(found["m"])
        return Stamp(year, month, int(found["d"]), seconds, offset) if month else None
    return None


def _month(text: str) -> int:
    if text.isdigit():
        return int(text)
    name = text.casefold()[:3]
    return MONTHS.index(name) + 1 if name in MONTHS else 0


def _clock(text: str) -> tuple[int | None, bool, int | None] | None:
    """Seconds of the day, whether on a 12-hour clock, and the offset; None for another."""
    if not text:
        return None, False, None
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
    offset = _offset(tail)
    if tail and offset is None:
        return None
    return hour * 3600 + minute * 60 + second, bool(found["half"]), offset


def _offset(text: str) -> int | None:
    if not _ZONE.fullmatch(text):
        return None
    try:
        size = zone_of(text.strip("()")).utcoffset(None)
    except BadRequest:
        return None
    return None if size is None else int(size.total_seconds())


def _clock_s(stamp: Stamp, days_first: bool) -> float:
    """The time as if it were UTC; NaN for a date that is none."""
    month, day = stamp.first, stamp.second
    if stamp.mark and days_first:
        month, day = day, month
    try:
        date = datetime.date(stamp.year, month, day)
    except ValueError:
        return math.nan
    since = (date - datetime.date(1970, 1, 1)).days * DAY_S
    return float(since + (stamp.seconds or 0))


def _order(stamps, cells, lines, where: str, answer: bool | None) -> tuple[bool, tuple[str, ...]]:
    """Whether days come first in the whole file, and what was taken for granted."""
    open_rows = [i for i, s in enumerate(stamps) if s is not None and s.mark]
    if not open_rows:
        return False, ()
    days = next((i for i in open_rows if 12 < stamps[i].first <= 31), None)
    months = next((i for i in open_rows if 12 < stamps[i].second <= 31), None)
    if days is not None and months is not None:
        raise BadWeather(
            f"line {lines[days]} has the day first ('{cells[days]}') and line {lines[months]} the "
            f"month ('{cells[months]}')",
            where,
            "Write all dates in one order.",
        )
    if days is not None or months is not None:
        settled = days is not None
        row = days if days is not None else months
        if answer is not None and answer != settled:
            raise BadWeather(
                f"'{cells[row]}' in line {lines[row]} can't have the "
                f"{'day' if answer else 'month'} first",
                where,
                "Change that answer.",
            )
        return settled, ()
    if answer is not None:
        return answer, ()
    if all(stamps[i].mark == "." for i in open_rows):
        return True, ("dates with dots were read with the day first",)
    if all(stamps[i].twelve for i in open_rows):
        return False, ("dates beside a 12-hour clock were read with the month first",)
    if all(stamps[i].first == stamps[i].second for i in open_rows):
        return False, ()
    row = next(i for i in open_rows if stamps[i].first != stamps[i].second)
    raise _ask_order(stamps[row], cells[row], where)


def _ask_order(stamp: Stamp, cell: str, where: str) -> NeedsAnswer:
    def said(day: int, month: int) -> str:
        return f"'{cell}' is {day} {MONTHS[month - 1].capitalize()} {stamp.year}"

    first, second = min(stamp.first, 12), min(stamp.second, 12)
    choices = (Choice("yes", said(stamp.first, second)), Choice("no", said(stamp.second, first)))
    return NeedsAnswer(f"'{cell}' may begin with the day or the month", where, "dayfirst", choices)


def _numbers(cells: Sequence[str]) -> Times | None:
    """A column of plain numbers: epochs, spreadsheet days or dates run together."""
    values = []
    for cell in cells:
        try:
            values.append(float(cell) if cell[:1].isdigit() else math.nan)
        except ValueError:
            values.append(math.nan)
    numbers = np.array(values)
    with np.errstate(invalid="ignore"):
        good = np.isfinite(numbers)
        if good.sum() <= len(cells) / 2:
            return None
        middle = float(np.median(numbers[good]))
        if EXCEL_RANGE[0] <= middle < EXCEL_RANGE[1]:
            return _spreadsheet_days(numbers)
        if _run_together(cells, good):
            return None
        for low, high, scale in EPOCH_SCALES:
            if low <= middle < high:
                inside = (numbers >= low) & (numbers < high)
                clock = np.where(inside, np.floor(numbers / scale), np.nan)
                return Times(clock, np.where(inside, 0.0, np.nan))
    return None


def _spreadsheet_days(numbers: Floats) -> Times:
    inside = (numbers >= EXCEL_RANGE[0]) & (numbers < EXCEL_RANGE[1])
    minutes = np.round((numbers - EXCEL_EPOCH_DAYS) * 1440)
    clock = np.where(inside, minutes * 60, np.nan)
    remark = "times are spreadsheet day numbers, rounded to the minute"
    return Times(clock, np.full(len(numbers), np.nan), (remark,))


def _run_together(cells: Sequence[str], good) -> bool:
    """Whether the numbers are dates such as 20251101 or 202511010600."""
    for cell in (c for c, ok in zip(cells, good, strict=True) if ok):
        stamp = parse_stamp(cell) if len(cell) in (8, 10, 12, 14) and cell.isdigit() else None
        if stamp is None or not 1950 <= stamp.year < 2100:
            return False
        if not (1 <= stamp.first <= 12 and 1 <= stamp.second <= 31):
            return False
    return True
