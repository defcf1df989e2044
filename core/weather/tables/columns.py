"""Which columns of a table hold the wind and the time, and what its head says of them."""

import re
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import numpy as np

from core.errors import BadRequest, BadWeather
from core.weather.answers import unit_word, zone_of
from core.weather.tables.cells import read_direction, read_number
from core.weather.tables.grid_text import NAMES, Table
from core.weather.tables.headers import Column, strange_unit, tokens
from core.weather.tables.named_columns import ROLES, ask_columns
from core.weather.tables.stamps import EXCEL_RANGE, parse_stamp

Chosen = dict[str, Column]
STANDARD_M = (9.0, 11.0)  # heights that count as the 10 m of weather services
LACKS = {"time": "time", "clock": "time of day", "from": "wind direction", "speed": "wind speed"}
PARTS = ("year", "month", "day", "hour", "minute")
_ZONE_ABOVE = re.compile(
    r"(?:time ?zone|\btz|\bzone|\btimes?(?: are)?(?: in)?|\bhours?(?: are)? in)\s*[:=,]?\s*\(?"
    r"([A-Za-z]+/[A-Za-z_]+(?:/[A-Za-z_]+)?|(?:UTC|GMT)\s?[+-]\d{1,2}(?::?\d{2})?|"
    r"UTC|GMT|Zulu|[ECMP][SD]T)\b",
    re.IGNORECASE,
)
_UNIT_ABOVE = re.compile(
    r"(?:wind|speeds?|units?)[^\n]*?(?<![a-z])(mph|mp/h|knots?|kts?|m/s|km/h|kph)(?![a-z])",
    re.IGNORECASE,
)


def choose(table: Table, where: str) -> Chosen:
    """The column of each role.

    Args: the table; the file for messages.
    Raises: BadWeather where there is no wind for 10 m, or a unit that can't be used;
    NeedsAnswer where no column, or more than one, is known as time, direction or speed.
    """
    chosen: Chosen = {}
    for role in ("speed", "direction", "gust", "u", "v", "wind", "metar"):
        column = _only(role, table, where)
        if column:
            chosen[role] = column
    for column in table.columns:
        if column.role not in ("", "speed", "direction", "gust", "u", "v", "wind", "metar"):
            chosen.setdefault(column.role, column)
    _settle_wind(chosen, table)
    _ask_for_missing(chosen, table, where)
    for role in ("speed", "gust", "u", "v"):
        if role in chosen and strange_unit(chosen[role]):
            raise BadWeather(
                f"the column '{chosen[role].name}' is in a unit that is not known",
                where,
                "Use mph, knots, m/s or km/h.",
            )
    _refuse_other_directions(chosen, where)
    return chosen


def _ask_for_missing(chosen: Chosen, table: Table, where: str) -> None:
    needs = [] if _tells_dates(table) else ["time"]
    needs += ["clock"] if _lacks_clock(table) else []
    if not ({"u", "v"} <= set(chosen) or {"metar", "both"} & set(chosen)):
        needs += [word for word in ("from", "speed") if ROLES[word] not in chosen]
    if needs:
        lacks = " or ".join(LACKS[need] for need in needs)
        raise ask_columns(table, needs, f"no column is known as its {lacks}", where)


def _tells_dates(table: Table) -> bool:
    """Whether a column holds dates, by its name or by what is in it."""
    if any(c.role in ("stamp", "date", "day", "year") for c in table.columns):
        return True
    clocks = [c.index for c in table.columns if c.role in ("clock", "hour")]
    return any(_is_stamp(row[i]) for row in table.rows[:1] for i in clocks)


def _lacks_clock(table: Table) -> bool:
    """Whether the days are known, and the clock beside them is under no known name."""
    roles = {c.role for c in table.columns}
    days = [c.index for c in table.columns if c.role in ("stamp", "date")]
    if not (days and table.rows) or {"clock", "hour", "year"} & roles:
        return False
    row = table.rows[0]
    stamps = [parse_stamp(row[i]) for i in days]
    if any(s is None or s.seconds is not None for s in stamps):
        return False
    return any(
        not c.role and ":" in row[c.index] and parse_stamp(f"2000-01-01 {row[c.index]}")
        for c in table.columns
    )


def _is_stamp(cell: str) -> bool:
    """Whether a time tells its date: in words, or as a count of days or seconds."""
    return bool(parse_stamp(cell)) or (read_number(cell) or 0) >= EXCEL_RANGE[0]


def _refuse_other_directions(chosen: Chosen, where: str) -> None:
    column = chosen.get("direction")
    if column is None:
        return
    if column.unit == "rad":
        raise BadWeather(f"'{column.name}' is in radians", where, "Use degrees.")
    if {"magnetic", "mag", "degm"} & set(tokens(column.name)):
        raise BadWeather(
            f"'{column.name}' counts from magnetic north", where, "Use directions from true north."
        )


def _only(role: str, table: Table, where: str) -> Column | None:
    """The one column of a role at 10 m."""
    columns = [c for c in table.columns if c.role == role]
    low, high = STANDARD_M
    at_10 = [c for c in columns if c.height_m is None or low <= c.height_m <= high]
    if columns and not at_10 and role in ("speed", "direction", "u", "v", "wind"):
        heights = " and ".join(f"{h:g} m" for h in sorted({c.height_m or 0.0 for c in columns}))
        raise BadWeather(
            f"the wind is for {heights} above ground, not 10 m ('{columns[0].name}')",
            where,
            "Use the wind at 10 m.",
        )
    for narrower in (
        [c for c in at_10 if c.height_m is not None],
        [c for c in at_10 if role == "direction" and c.unit == "deg"],
    ):
        at_10 = narrower if len(narrower) == 1 else at_10
    if len(at_10) > 1 and role in ("speed", "direction", "u", "v"):
        why = f"{' and '.join(repr(c.name) for c in at_10[:3])} may each be the wind {role}"
        if role in ("u", "v"):
            raise BadWeather(why, where, "Keep one of them.")
        raise ask_columns(table, [w for w in ROLES if ROLES[w] == role], why, where)
    return at_10[0] if at_10 else None


def _settle_wind(chosen: Chosen, table: Table) -> None:
    """What a column that is only called wind holds: a direction, a speed, or both."""
    column = chosen.pop("wind", None)
    if column is None:
        return
    if "direction" in chosen and "speed" not in chosen:
        chosen["speed"] = column
    elif "direction" not in chosen:
        cells = [row[column.index] for row in table.rows[:50]]
        named = [d for c in cells if (d := read_direction(c)) and (d.label or d.word == "variable")]
        if named and "speed" in chosen:
            chosen["direction"] = column
        elif "speed" not in chosen and any(read_number(c) is None for c in cells):
            chosen["both"] = column


def time_cells(table: Table, chosen: Chosen, where: str) -> tuple[list[str], Column]:
    """The time of each row as text, and the column that names its zone.

    Args: the table; its columns by role; the file for messages.
    A time that tells its zone is taken before one that does not.
    Raises: BadWeather where no column holds a date.
    """
    stamps = [c for c in table.columns if c.role == "stamp"]
    dates = [c for c in table.columns if c.role in ("date", "day")]
    clocks = [c for c in table.columns if c.role in ("clock", "hour")]
    if dates and table.rows:  # beside a date, a `time_utc` may be a clock alone
        alone = [c for c in stamps if not _is_stamp(table.rows[0][c.index])]
        stamps, clocks = [c for c in stamps if c not in alone], [*alone, *clocks]
    if "year" in chosen and {"month", "day"} <= set(chosen):
        return _from_parts(table, chosen)
    # the end of an hour only where nothing else tells the time
    whole = sorted(stamps + clocks, key=lambda c: (c.zone is None, c.ends_hour))
    for column in whole:
        if table.rows and parse_stamp(table.rows[0][column.index]):
            return cells_of(table, column), column
    if dates and clocks:
        pair = zip(cells_of(table, dates[0]), cells_of(table, clocks[0]), strict=True)
        told = clocks[0] if clocks[0].zone else dates[0] if dates[0].zone else clocks[0]
        return [f"{date} {clock}" for date, clock in pair], told
    if stamps or dates or clocks:
        best = (sorted(stamps, key=lambda c: c.zone is None) or dates or clocks)[0]
        return cells_of(table, best), best
    raise BadWeather("it has no column of dates", where, NAMES)


def _from_parts(table: Table, chosen: Chosen) -> tuple[list[str], Column]:
    parts = [cells_of(table, chosen[p]) if p in chosen else None for p in PARTS]
    clock = next((c for c in table.columns if c.role == "clock"), None)
    if parts[3] is None and clock is not None:
        parts[3] = cells_of(table, clock)
    rows = []
    for i in range(len(table.rows)):
        year, month, day, hour, minute = (p[i] if p else "" for p in parts)
        rest = f"{hour}:{minute.zfill(2)}" if minute else hour
        rows.append(f"{year}-{month}-{day} {rest}")
    return rows, chosen.get("hour") or clock or chosen["year"]


def cells_of(table: Table, column: Column) -> list[str]:
    """The cells of a column. Args: the table; the column."""
    return [row[column.index] for row in table.rows]


def coded(cells: Sequence[str], read: Callable[[str], Any]) -> tuple[np.ndarray, list[Any]]:
    """Each different cell read once: places in the results, and the results.

    Args: cells, shape (row,); what reads one.
    """
    place: dict[str, int] = {}
    codes = np.fromiter((place.setdefault(c, len(place)) for c in cells), np.int64, len(cells))
    return codes, [read(cell) for cell in place]


def zone_above(lines: Iterable[str]) -> str | None:
    """The zone that the lines above the header tell; None without just one."""
    said = {found[1] for line in lines for found in _ZONE_ABOVE.finditer(line)}
    zones = []
    for word in sorted(said):
        try:
            zone_of(word)
        except BadRequest:
            continue
        zones.append(word)
    return zones[0] if len(zones) == 1 else None


def unit_above(lines: Iterable[str]) -> str | None:
    """The unit of wind that the lines above the header tell; None without just one."""
    said = {unit_word(found[1]) for line in lines for found in _UNIT_ABOVE.finditer(line)}
    return said.pop() if len(said) == 1 else None
