"""Which columns of a table tell the time of its rows, put together to one text a row."""

import datetime
import re
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.clocks.hour_labels import END, told_label
from core.weather.clocks.number_times import EXCEL_EPOCH_DAYS, EXCEL_RANGE
from core.weather.clocks.stamps import parse_stamp
from core.weather.clocks.times import read_times
from core.weather.clocks.zones import LOCAL, OPEN, is_letters, one_zone, told_zone
from core.weather.hours import ROW_S
from core.weather.reading.words import tokens
from core.weather.tables.cells import read_number
from core.weather.tables.grid_text import NAMES, Table, cells_of
from core.weather.tables.headers import Column
from core.weather.tables.named_columns import ask_columns

PARTS = ("year", "month", "day", "hour", "minute")
LOOKED_AT = 200  # rows, where two columns are compared
FARTHEST_ZONES_S = 26 * ROW_S
QUARTER_S = ROW_S // 4
HALVES = {"am", "pm", "a.m.", "p.m.", "a.m", "p.m"}
HALF_NAMES = {"ampm", "am", "ap", "meridiem", "half", "meridian"}
DECIMALS = {"0", "00", "5", "50", "25", "75"}  # of an hour, by quarters
SHARE_REMARK = "times are parts of a day as spreadsheets count them, rounded to the minute"
DECIMAL_REMARK = "hours such as {} were read as parts of an hour"


@dataclass(frozen=True)
class TimeCells:
    """The time of each row as text; the columns that tell it; what was taken for granted."""

    cells: list[str]
    columns: tuple[Column, ...]
    remarks: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The names of its columns, which may tell zone, order and part of the hour."""
        return " ".join(c.name for c in self.columns)

    @property
    def zone(self) -> str:
        """The zone that one of its names tells; local, empty for none, open for several."""
        told = {zone for c in self.columns if (zone := told_zone(c.name))}
        told |= {LOCAL for c in self.columns if "local" in tokens(c.name)}
        if not told and {"epoch", "unix", "unixtime"} & set(tokens(self.name)):
            return "UTC"
        return one_zone(told)


class _Roles(NamedTuple):
    whole: list[Column]  # a date and a clock in one
    days: list[Column]
    clocks: list[Column]


def time_cells(table: Table, answers: Answers, where: str) -> TimeCells:
    """The time of each row.

    Args: the table; what the user answered; the file for messages.
    Of several columns that could be it, one that never changes is no time of a row, and
    the end of an hour stands back behind its start; of two clocks of one time that differ
    by a zone the one that tells its zone is taken.
    Raises: BadWeather where no column holds a date; NeedsAnswer where two different times
    may each be it.
    """
    found = _candidates(table)
    if not found:
        raise BadWeather("it has no column of dates", where, NAMES)
    starts = [f for f in found if not any(told_label(c.name, where) == END for c in f.columns)]
    found = starts or found
    moving = [f for f in found if len(set(f.cells)) > 1]
    found = moving or found
    if len(found) == 1:
        return found[0]
    return _one_of(table, found, answers, where)


def _candidates(table: Table) -> list[TimeCells]:
    roles = _roles(table)
    half = _half_cells(table)
    parts = {c.role: c for c in reversed(table.columns) if c.role in PARTS}
    found = [_with_half(TimeCells(cells_of(table, c), (c,)), half) for c in roles.whole]
    if {"year", "month", "day"} <= set(parts):
        found.append(_from_parts(table, parts, roles.clocks, half))
    elif roles.days and roles.clocks:
        clock, remarks = _clock_cells(table, roles.clocks[0], half)
        days = [_sheet_date(day) for day in cells_of(table, roles.days[0])]
        pair = zip(days, clock, strict=True)
        cells = [f"{day} {at}" for day, at in pair]
        found.append(TimeCells(cells, (roles.days[0], roles.clocks[0]), remarks))
    if not found:
        alone = [*roles.days, *roles.clocks]
        found = [TimeCells(cells_of(table, alone[0]), (alone[0],))] if alone else []
    return found


def _roles(table: Table) -> _Roles:
    """The columns of times by what is in them: a `time` may hold dates, a `stamp` none."""
    roles = _Roles([], [], [])
    named = [c.index for c in table.columns if c.role in ("stamp", "clock", "hour")]
    clocks = any(not any(tells_time(row[i]) for row in table.rows[:5]) for i in named)
    for column in table.columns:
        if column.role not in ("stamp", "clock", "hour", "date", "day"):
            continue
        cells = [row[column.index] for row in table.rows[:5]]
        stamps = [s for cell in cells if (s := parse_stamp(cell))]
        if any(s.seconds is not None for s in stamps) or any(map(_is_count, cells)):
            dated = column.role in ("date", "day") and all(map(_is_sheet_day, cells))
            (roles.days if dated and clocks else roles.whole).append(column)
        elif stamps or column.role in ("date", "day"):
            roles.days.append(column)
        else:
            roles.clocks.append(column)
    # dates before the names of days beside them
    roles.days.sort(key=lambda c: not any(tells_time(r[c.index]) for r in table.rows[:5]))
    return roles


def _is_count(cell: str) -> bool:
    """Whether a number is a count of days or seconds, or a date run together."""
    return (read_number(cell) or 0) >= EXCEL_RANGE[0] and not _is_day(cell)


def _is_sheet_day(cell: str) -> bool:
    """Whether a cell is a spreadsheet's number of a day, without a part of it."""
    number = read_number(cell)
    return number is not None and EXCEL_RANGE[0] <= number < EXCEL_RANGE[1] and number % 1 == 0


def _sheet_date(cell: str) -> str:
    """A spreadsheet's day number as a date; any other cell as it is."""
    if not _is_sheet_day(cell):
        return cell
    days = int(read_number(cell) or 0) - EXCEL_EPOCH_DAYS
    return f"{datetime.date(1970, 1, 1) + datetime.timedelta(days=days):%Y-%m-%d}"


def _are_shares(cells: list[str]) -> bool:
    numbers = [n for cell in cells if (n := read_number(cell)) is not None]
    return (
        len(numbers) == len(cells) and all(0 <= n < 1 for n in numbers) and any(n for n in numbers)
    )


def _is_day(cell: str) -> bool:
    stamp = parse_stamp(cell)
    return stamp is not None and stamp.seconds is None


def tells_time(cell: str) -> bool:
    """Whether a cell tells a date, in words or as a count. Args: the cell."""
    return parse_stamp(cell) is not None or _is_count(cell)


def _one_of(table: Table, found: list[TimeCells], answers: Answers, where: str) -> TimeCells:
    """The one of several columns of times that are the same time on two clocks."""
    best = min(found, key=lambda f: _rank(f.zone))
    first = read_times(best.cells[:LOOKED_AT], table.lines, where, best.name, answers)
    for other in found:
        if other is best:
            continue
        second = read_times(other.cells[:LOOKED_AT], table.lines, where, other.name, answers)
        apart = np.unique(second.clock_s - first.clock_s)
        apart = apart[~np.isnan(apart)]
        zones = len(apart) <= 2 and bool((apart % QUARTER_S == 0).all())
        zones = zones and bool((np.abs(apart) <= FARTHEST_ZONES_S).all())
        if not (zones and (best.zone not in ("", LOCAL) or not apart.any())):
            names = " and ".join(f"'{f.columns[-1].name}'" for f in (best, other))
            raise ask_columns(table, ["time"], f"{names} may each be the time", where)
    return best


def _rank(zone: str) -> int:
    """The clearer a zone is told, the lower."""
    if zone == "UTC":
        return 0
    return 3 if zone in ("", OPEN, LOCAL) else 2 if is_letters(zone) else 1


def _from_parts(table: Table, parts: dict[str, Column], clocks, half) -> TimeCells:
    """Times from a column each for year, month, day and hour."""
    hour = parts.get("hour") or next(iter(clocks), None)
    clock, remarks = _clock_cells(table, hour, half) if hour else ([""] * len(table.rows), ())
    columns = [[_whole_number(cell) for cell in cells_of(table, parts[p])] for p in PARTS[:3]]
    minutes = cells_of(table, parts["minute"]) if "minute" in parts else [""] * len(clock)
    rows = []
    for year, month, day, at, minute in zip(*columns, clock, minutes, strict=True):
        rest = f"{at}:{_whole_number(minute).zfill(2)}" if minute else at
        rows.append(f"{year}-{month}-{day} {rest}")
    return TimeCells(rows, (hour or parts["year"],), remarks)


def _whole_number(cell: str) -> str:
    return re.sub(r"(?<=\d)[.,]0+$", "", cell)


def _clock_cells(table: Table, column: Column, half: list[str] | None):
    """The clock of each row, with am or pm behind it where another column says it."""
    raw = cells_of(table, column)
    if _are_shares(raw):
        return [_from_share(str(24 * (read_number(cell) or 0))) for cell in raw], (SHARE_REMARK,)
    cells = [_whole_number(cell) for cell in raw]
    digits = [cell for cell in cells if cell.isdigit()]
    if "hhmm" in tokens(column.name) or any(int(cell) > 24 for cell in digits):
        cells = [cell.zfill(4) if cell.isdigit() else cell for cell in cells]
    shares = {found[1] for cell in cells if (found := re.fullmatch(r"\d{1,2}[.,](\d+)", cell))}
    remarks: tuple[str, ...] = ()
    if shares and shares <= DECIMALS and shares - {"00"}:
        said = next(cell for cell in cells if not cell.isdigit())
        cells = [_from_share(cell) for cell in cells]
        remarks = (DECIMAL_REMARK.format(said),)
    return [_halved(c, h) for c, h in zip(cells, half, strict=True)] if half else cells, remarks


def _from_share(cell: str) -> str:
    hours = read_number(cell)
    if hours is None or np.isnan(hours):
        return cell
    minutes = round(hours * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _with_half(times: TimeCells, half: list[str] | None) -> TimeCells:
    if half is None:
        return times
    cells = [_halved(cell, h) for cell, h in zip(times.cells, half, strict=True)]
    return TimeCells(cells, times.columns, times.remarks)


def _half_cells(table: Table) -> list[str] | None:
    """AM or PM of each row, where a column says nothing else; None without one, or where
    the clock counts beyond 12."""
    for column in table.columns:
        cells = [row[column.index].casefold() for row in table.rows]
        words = {cell for cell in cells if cell}
        named = "".join(tokens(column.name)) in HALF_NAMES and words <= {"a", "p"}
        if words and (words <= HALVES or named):
            return None if _beyond_twelve(table) else [cell[:1] for cell in cells]
    return None


def _beyond_twelve(table: Table) -> bool:
    clocks = [c.index for c in table.columns if c.role in ("clock", "hour", "stamp")]
    found = (
        re.search(r"(?:^|[\sT])(\d{1,2})(?::\d{2})*$", row[i]) for row in table.rows for i in clocks
    )
    return any(f and int(f[1]) > 12 for f in found)


def _halved(cell: str, half: str) -> str:
    """A clock with am or pm behind it, where it does not say that itself."""
    if not half or re.search(r"[ap]\.?m", cell, re.IGNORECASE):
        return cell
    return f"{cell} {half}m"
