"""Days as people write them: 9/13, 13 Sep, Sept 13, 2026-09-13, yesterday, Saturday."""

import datetime
import re
from dataclasses import dataclass

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MONTH_NAMES = (
    *("january", "february", "march", "april", "may", "june", "july"),
    *("august", "september", "october", "november", "december"),
)
_ISO = re.compile(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
_WORD = re.compile(
    r"\b(?:(?P<d1>\d{1,2})(?:st|nd|rd|th)?\s*(?:of\s+)?(?P<m1>[a-z]{3,9})\.?"
    r"|(?P<m2>[a-z]{3,9})\.?\s*(?P<d2>\d{1,2})(?:st|nd|rd|th)?)\b(?:,?\s*(?P<y>\d{4}))?"
)
_SLASH = re.compile(r"(?<![\d/])(\d{1,2})/(\d{1,2})(?:/(\d{4}|\d{2}))?(?![\d/])")


@dataclass(frozen=True, slots=True)
class WrittenDay:
    """A day found in a text, and where. `choices` has two days where the order is open."""

    choices: tuple[tuple[int | None, int, int], ...]  # (year or None, month, day)
    start: int
    end: int

    @property
    def open(self) -> bool:
        """Whether it could be either of two days."""
        return len(self.choices) > 1


def find_day(text: str) -> WrittenDay | None:
    """The first day that a text names by its month. Args: the text. Returns: None without one.

    A pair such as 9/13 is a day whichever way it is read; 9/10 is two days, and open.
    """
    low = text.casefold()
    found = _ISO.search(low)
    if found:
        year, month, day = (int(x) for x in found.groups())
        if _is_day(year, month, day):
            return WrittenDay(((year, month, day),), *found.span())
    for found in _WORD.finditer(low):
        named = month_of(found["m1"] or found["m2"])
        told = (_whole_year(found["y"]), named or 0, int(found["d1"] or found["d2"]))
        if _is_day(*told):
            return WrittenDay((told,), *found.span())
    for found in _SLASH.finditer(low):
        a, b = int(found[1]), int(found[2])
        days = {(_whole_year(found[3]), *pair) for pair in ((a, b), (b, a))}
        known = [day for day in days if _is_day(*day)]
        if known:
            return WrittenDay(tuple(sorted(known, key=lambda d: d[1:])), *found.span())
    return None


def month_of(word: str) -> int | None:
    """Number of a month by its name or the beginning of it, three letters or more."""
    low = word.casefold().rstrip(".")
    for number, name in enumerate(MONTH_NAMES, 1):
        if len(low) >= 3 and (name.startswith(low) or (low == "sept" and number == 9)):
            return number
    return None


def read_month_day(text: str) -> tuple[str, ...]:
    """A day of the year as MM-DD. Args: as written.

    Returns: one; two where the order is open; none where it is no day.
    """
    plain = re.fullmatch(r"\s*(\d{2})-(\d{2})\s*", text)
    if plain and _is_day(None, int(plain[1]), int(plain[2])):
        return (f"{plain[1]}-{plain[2]}",)
    found = find_day(text)
    if found is None or text[: found.start].strip() or text[found.end :].strip():
        return ()
    return tuple(f"{month:02d}-{day:02d}" for _, month, day in found.choices)


def nearest_date(choice: tuple[int | None, int, int], today: datetime.date) -> datetime.date:
    """A written day as a date: the last one that is not after today, where no year is told.

    Args: year or None, month, day; today, where the ground is.
    """
    year, month, day = choice
    if year is not None:
        return datetime.date(year, month, day)
    for back in range(9):  # 29 February comes every fourth year, and not in 1900 or 2100
        if _is_day(today.year - back, month, day):
            found = datetime.date(today.year - back, month, day)
            if found <= today:
                return found
    return datetime.date(today.year, month, day)


def next_date(choice: tuple[int | None, int, int], today: datetime.date) -> datetime.date:
    """A written day as a date: the next one that is not before today, where no year is told.

    Args: as `nearest_date`.
    """
    year, month, day = choice
    if year is not None:
        return datetime.date(year, month, day)
    years = (today.year + ahead for ahead in range(9))
    days = (datetime.date(y, month, day) for y in years if _is_day(y, month, day))
    return next(date for date in days if date >= today)


def relative_date(word: str, today: datetime.date) -> datetime.date | None:
    """Today, yesterday, or the last day of a weekday's name. Returns: None for another word."""
    low = word.casefold()
    if low == "today":
        return today
    if low == "yesterday":
        return today - datetime.timedelta(days=1)
    for number, name in enumerate(WEEKDAYS):
        full = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")[
            number
        ]
        if low in (name, full) or (len(low) > 3 and full.startswith(low)):
            return today - datetime.timedelta(days=(today.weekday() - number) % 7)
    return None


def _whole_year(text: str | None) -> int | None:
    if not text:
        return None
    return int(text) if len(text) == 4 else 2000 + int(text)


def _is_day(year: int | None, month: int, day: int) -> bool:
    try:
        datetime.date(2000 if year is None else year, month, day)
    except ValueError:
        return False
    return True
