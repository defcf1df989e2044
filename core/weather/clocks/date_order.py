"""Whether the day, the month or a year of two digits comes first in the dates of a file."""

import itertools
import re
from collections.abc import Sequence

from core.errors import BadWeather, Choice, NeedsAnswer
from core.weather.answers import Answers
from core.weather.clocks.stamps import DMY, MDY, MONTHS, YMD, Stamp, date_of, full_year

# only letters that stand together tell an order, not those of "date time (America/New_York)"
_D, _M, _Y, _GAP = r"(?:day|d{1,2})", r"(?:month|m{1,3})", r"(?:year|y{1,4})", r"[^a-z0-9]{0,3}"
WRITTEN = {
    order: re.compile(rf"(?<![a-z]){_GAP.join(parts)}(?![a-gi-su-z])")
    for order, parts in ((DMY, (_D, _M, _Y)), (YMD, (_Y, _M, _D)), (MDY, (_M, _D, _Y)))
}
Remarks = tuple[str, ...]
CLOSE_DAYS = 7  # between the dates of one table by the hour
Row = tuple[int, Stamp, str]  # line, time, cell


def order_told(header: str) -> str:
    """The order of dates that a header writes, as `DD/MM/YYYY` does; empty for none."""
    text = header.casefold()
    found = [order for order, pattern in WRITTEN.items() if pattern.search(text)]
    return found[0] if len(found) == 1 else ""


def settle_order(
    stamps: Sequence[Stamp | None],
    cells: Sequence[str],
    lines: Sequence[int],
    where: str,
    told: str,
    answers: Answers,
) -> tuple[str, Remarks]:
    """The order of the numbers in the dates of a whole file, and what was taken for granted.

    Args: times, cells and line numbers, shape (row,); the file; the order that the header
    tells; what the user answered.
    Raises: NeedsAnswer where it stays open; BadWeather where dates of both orders are there,
    or an answer does not fit.
    """
    rows = [
        (line, s, cell)
        for line, s, cell in zip(lines, stamps, cells, strict=True)
        if s is not None and s.mark
    ]
    if not rows:
        return MDY, ()
    remarks: Remarks = ()
    by_weekday = _by_weekday(rows)
    if by_weekday and not told and answers.dayfirst is None and answers.yearfirst is None:
        return by_weekday, (f"dates such as '{rows[0][2]}' were read by the day of the week",)
    if any(s.short for _, s, _ in rows):
        first, remarks = _year_first(rows, where, told, answers)
        if first:
            return YMD, remarks
    order, more = _day_or_month(rows, where, told, answers)
    return order, (*remarks, *more)


def _by_weekday(rows: list[Row]) -> str:
    """The one order in which each date falls on the day of the week that its cell names."""
    naming = [s for _, s, _ in rows if s.weekday is not None]
    orders = (DMY, MDY, YMD) if any(s.short for s in naming) else (DMY, MDY)
    fitting = [
        o
        for o in orders
        if all((d := date_of(s, o)) is not None and d.weekday() == s.weekday for s in naming)
    ]
    return fitting[0] if naming and len(fitting) == 1 else ""


def unlike_weekday(stamps: Sequence[Stamp | None], cells: Sequence[str], order: str) -> Remarks:
    """A remark where a cell names another day of the week than that of its date.

    Args: times and cells, shape (row,); the order of their numbers.
    """
    for stamp, cell in zip(stamps, cells, strict=True):
        if stamp is None or stamp.weekday is None:
            continue
        date = date_of(stamp, order)
        if date is not None and date.weekday() != stamp.weekday:
            return (f"'{cell}' names another day of the week than its date: read by the date",)
    return ()


def _year_first(rows: list[Row], where: str, told: str, answers: Answers) -> tuple[bool, Remarks]:
    """Whether dates such as 26/11/10 begin with the year."""
    cell = rows[0][2]
    fits = {o: [date_of(s, o) for _, s, _ in rows] for o in (YMD, DMY, MDY)}
    could = {o: d for o, d in fits.items() if _mostly(d)}
    if told:
        return told == YMD, ()
    if YMD not in could or answers.yearfirst is False:
        return False, ()
    if len(could) == 1 or answers.yearfirst:
        return True, ()
    near = {o for o, dates in could.items() if _close(dates)}
    if near and len(set(fits[YMD])) > 1 and (YMD not in near or near == {YMD}):
        said = "first" if YMD in near else "last"
        return YMD in near, (
            f"dates such as '{cell}' were read with the year {said}: their days follow one another",
        )
    raise _ask_year(rows[0][1], cell, where)


def _mostly(dates: Sequence) -> bool:
    return 2 * sum(d is not None for d in dates) > len(dates)


def _close(dates: Sequence) -> bool:
    days = sorted({d.toordinal() for d in dates if d is not None})
    return all(b - a <= CLOSE_DAYS for a, b in itertools.pairwise(days))


def _ask_year(stamp: Stamp, cell: str, where: str) -> NeedsAnswer:
    month = MONTHS[min(stamp.second, 12) - 1].capitalize()
    first = f"'{cell}' is {stamp.year % 100} {month} {full_year(stamp.first)}"
    choices = (Choice("yes", first), Choice("no", f"'{cell}' is of the year {stamp.year}"))
    return NeedsAnswer(f"'{cell}' may begin with the year", where, "yearfirst", choices)


def _day_or_month(rows: list[Row], where: str, told: str, answers: Answers) -> tuple[str, Remarks]:
    """Which of day and month comes first, with the year last."""
    days = next((r for r in rows if 12 < r[1].first <= 31), None)
    months = next((r for r in rows if 12 < r[1].second <= 31), None)
    answer = told == DMY if told in (DMY, MDY) else answers.dayfirst
    if days is not None and months is not None:
        raise BadWeather(
            f"line {days[0]} has the day first ('{days[2]}') and line {months[0]} the month "
            f"('{months[2]}')",
            where,
            "Write all dates in one order.",
        )
    telling = days or months
    if telling is not None:
        settled = days is not None
        if answer is not None and answer != settled:
            raise BadWeather(
                f"'{telling[2]}' in line {telling[0]} can't have the "
                f"{'day' if answer else 'month'} first",
                where,
                "Change that answer.",
            )
        return DMY if settled else MDY, ()
    if answer is not None:
        return DMY if answer else MDY, ()
    return _by_custom(rows, where)


def _by_custom(rows: list[Row], where: str) -> tuple[str, Remarks]:
    if all(s.mark == "." for _, s, _ in rows):
        return DMY, ("dates with dots were read with the day first",)
    if all(s.twelve for _, s, _ in rows):
        return MDY, ("dates beside a 12-hour clock were read with the month first",)
    unlike = [r for r in rows if r[1].first != r[1].second]
    if not unlike:
        return MDY, ()
    raise _ask_order(unlike[0][1], unlike[0][2], where)


def _ask_order(stamp: Stamp, cell: str, where: str) -> NeedsAnswer:
    def said(day: int, month: int) -> str:
        return f"'{cell}' is {day} {MONTHS[month - 1].capitalize()} {stamp.year}"

    first, second = min(stamp.first, 12), min(stamp.second, 12)
    choices = (Choice("yes", said(stamp.first, second)), Choice("no", said(stamp.second, first)))
    return NeedsAnswer(f"'{cell}' may begin with the day or the month", where, "dayfirst", choices)
