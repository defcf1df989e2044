"""The times of a column, as a clock shows them."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.clocks.date_order import order_told, settle_order, unlike_weekday
from core.weather.clocks.number_times import number_times, without_zeros
from core.weather.clocks.stamps import DAY_S, Stamp, clock_s, parse_stamp
from core.weather.hours import ROW_S, Floats

NO_ANSWERS = Answers()
HALF_DAY_S = 12 * ROW_S


@dataclass(frozen=True, slots=True)
class Times:
    """Times of a column. Arrays of shape (row,): `clock_s` as if it were UTC, NaN for
    what can't be read; `offset_s` NaN where the time says no offset; `letters` of a zone,
    empty for none; `at_24` a cell whose clock shows 24:00 in a file that has no 0:00."""

    clock_s: Floats
    offset_s: Floats
    letters: tuple[str, ...]
    remarks: tuple[str, ...] = field(default=())
    at_24: str = ""


def read_times(
    cells: Sequence[str],
    lines: Sequence[int],
    where: str,
    header: str = "",
    answers: Answers = NO_ANSWERS,
) -> Times:
    """The times of a column.

    Args: cells and their line numbers, shape (row,); the file for messages; the names of
    the columns, which may tell the order of dates; what the user answered.
    The order of day, month and a year of two digits is settled for the whole file: by
    its header, by numbers over 12, by days that follow one another, by dots (day first),
    by a 12-hour clock (month first), else by the answer.
    Missing: a cell that is no time is NaN.
    Raises: NeedsAnswer where the order stays open; BadWeather where the file holds
    both orders, dates without a time of day, or a 12-hour clock without am and pm.
    """
    none = ("",) * len(cells)
    plain = _plain_iso(cells)
    if plain is not None:
        _refuse_half_clock(plain, cells, where)
        _refuse_same_date(plain, cells, where)
        return Times(plain, np.full(len(cells), np.nan), none)
    cells = without_zeros(cells)
    numbers = number_times(cells, header, where)
    if numbers is not None:
        clock, offset, remarks = numbers
        return Times(clock, offset, none, remarks)
    return _read_stamps(cells, lines, where, header, answers)


def _read_stamps(cells, lines, where: str, header: str, answers: Answers) -> Times:
    known: dict[str, Stamp | None] = {cell: parse_stamp(cell) for cell in dict.fromkeys(cells)}
    stamps = [known[cell] for cell in cells]
    read = [s for s in stamps if s is not None]
    if read and all(s.seconds is None for s in read):
        raise BadWeather(
            f"'{cells[0]}' is a day without a time: the table is by the day",
            where,
            "Use a table by the hour.",
        )
    _refuse_spans(read, cells, where)
    order, remarks = settle_order(stamps, cells, lines, where, order_told(header), answers)
    clock = np.array([np.nan if s is None else clock_s(s, order) for s in stamps], float)
    if not any(s.twelve for s in read):
        _refuse_half_clock(clock, cells, where)
    _refuse_same_date(clock, cells, where)
    remarks = (*remarks, *unlike_weekday(stamps, cells, order))
    offset = [np.nan if s is None or s.offset_s is None else s.offset_s for s in stamps]
    letters = tuple("" if s is None else s.letters for s in stamps)
    return Times(clock, np.array(offset, float), letters, remarks, _cell_at_24(stamps, cells))


def _cell_at_24(stamps: Sequence[Stamp | None], cells: Sequence[str]) -> str:
    """A cell at 24:00, in a file that has none from 0:00 to 0:59; empty for none."""
    seconds = [None if s is None else s.seconds for s in stamps]
    if any(s is not None and s < ROW_S for s in seconds) or DAY_S not in seconds:
        return ""
    return cells[seconds.index(DAY_S)]


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


def _refuse_spans(stamps: Sequence[Stamp], cells: Sequence[str], where: str) -> None:
    """Refuses `06:00-07:00`, `07:00-08:00`: an end that moves with the clock is no offset."""
    told = {
        (s.offset_s, s.offset_s + s.seconds)
        for s in stamps
        if s.offset_s is not None and s.seconds is not None
    }
    if len(told) > 1 and len({sums for _, sums in told}) == 1 and len({o for o, _ in told}) > 1:
        raise BadWeather(
            f"'{cells[0]}' looks like a span of time, not a time and its zone",
            where,
            "Give the start of each hour alone.",
        )


def _refuse_half_clock(clock: Floats, cells: Sequence[str], where: str) -> None:
    """Refuses 11:00, 12:00, 1:00 of one day: a 12-hour clock without am and pm."""
    known = clock[~np.isnan(clock)]
    of_day = np.mod(known, DAY_S)
    if not len(known) or of_day.min() < ROW_S or of_day.max() >= HALF_DAY_S + ROW_S:
        return
    steps = np.diff(known)
    forward = np.sign(np.sign(steps).sum()) or 1
    if (steps * forward == ROW_S - HALF_DAY_S).any():
        raise BadWeather(
            f"its clock goes from 12 to 1 on one day and says no am or pm ('{cells[0]}')",
            where,
            "Add AM or PM, or write hours from 0 to 23.",
        )


def _refuse_same_date(clock: Floats, cells: Sequence[str], where: str) -> None:
    """Refuses 23:00 and then 0:00 of the same date: the date is not that of the row."""
    rows = np.flatnonzero(~np.isnan(clock))
    known = clock[rows]
    steps = np.diff(known)
    if len(steps) < 2:
        return
    forward = np.sign(np.sign(steps).sum()) or 1
    wraps = np.flatnonzero(steps * forward == np.median(np.abs(steps)) - DAY_S)
    if not len(wraps):
        return
    first = int(wraps[0]) + 1
    again = len(np.unique(known)) < len(known)  # a day told twice
    if again and (len(np.unique(known // DAY_S)) > 1 or known[first] == known[0]):
        return
    raise BadWeather(
        f"its clock passes midnight and its date stays ('{cells[rows[first - 1]]}', then "
        f"'{cells[rows[first]]}')",
        where,
        "Give each hour its own date.",
    )
