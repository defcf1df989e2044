"""Which columns of a table hold the wind and the time, and what its head says of them."""

import re
from collections.abc import Sequence

import numpy as np

from core.errors import BadWeather
from core.units import M_PER_FT
from core.weather.clocks.stamps import parse_stamp
from core.weather.tables.angle_units import refuse_magnetic, refuse_other_angles, told_unit
from core.weather.tables.cells import read_direction, read_number
from core.weather.tables.grid_text import Table, cells_of
from core.weather.tables.headers import Column, odd_words, strange_unit
from core.weather.tables.named_columns import ROLES, ask_columns
from core.weather.tables.senses import OPEN, TOWARD, told_sense
from core.weather.tables.speed_units import refuse_scaled
from core.weather.tables.time_columns import tells_time

Chosen = dict[str, Column]
STANDARD_M = (9.0, 11.0)  # heights that count as the 10 m of weather services
LOOKED_AT = 200  # rows, where two columns are compared
UNLIKE_DEG = 60.0  # two columns of one direction never lie so far apart
OTHER_UNIT = 36  # numbers up to this may be tens of degrees, sectors, radians or turns
_HEIGHT_ABOVE = re.compile(
    r"\b(?:anemometer|wind|sensor|mast|measured|measuring)\b"
    r"[^.;\d]*?\b(?:height|at|agl|above ground)\b"
    r"(?![^\d]*(?:elevation|altitude|sea))[^.;\d]*(\d+(?:\.\d+)?)\s*(m|ft)\b(?!\s*(?:/|s-|per))",
    re.IGNORECASE,
)
LACKS = {"time": "time", "clock": "time of day", "from": "wind direction", "speed": "wind speed"}


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
    if "direction" in chosen:
        _ask_of_unlike(table, chosen["direction"], where)
    _settle_wind(chosen, table)
    _ask_for_missing(chosen, table, where)
    for role in ("speed", "gust", "u", "v"):
        if role in chosen:
            refuse_scaled(chosen[role].name, where)
        if role in chosen and strange_unit(chosen[role]):
            raise BadWeather(
                f"the column '{chosen[role].name}' is in a unit that is not known",
                where,
                "Use mph, knots, m/s or km/h.",
            )
    _refuse_other_directions(chosen, table, where)
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
    return any(tells_time(row[i]) for row in table.rows[:1] for i in clocks)


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


def _refuse_other_directions(chosen: Chosen, table: Table, where: str) -> None:
    column = chosen.get("direction") or chosen.get("both")
    if column is None:
        return
    refuse_other_angles(column.name, where)
    for line in table.above:
        if re.search(r"\b(?:direction|bearing|degree)s?\b", line, re.IGNORECASE):
            refuse_magnetic(line, f"by '{line.strip()[:60]}' its direction", where)


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
        [c for c in at_10 if role == "direction" and told_unit(c.name) == "deg"],
    ):
        at_10 = narrower if len(narrower) == 1 else at_10
    if len(at_10) > 1 and role in ("speed", "direction", "u", "v"):
        why = f"{' and '.join(repr(c.name) for c in at_10[:3])} may each be the wind {role}"
        if role in ("u", "v"):
            raise BadWeather(why, where, "Keep one of them.")
        raise ask_columns(table, [w for w in ROLES if ROLES[w] == role], why, where)
    return at_10[0] if at_10 else None


def _ask_of_unlike(table: Table, chosen: Column, where: str) -> None:
    """Asks which column is the direction where another one points elsewhere in most rows."""
    own = _pointed(table, chosen)
    for other in table.columns:
        if other.role != "direction" or other is chosen or other.height_m != chosen.height_m:
            continue
        if OPEN in (told_sense(chosen.name), told_sense(other.name)):
            continue  # which way they point is asked
        apart = np.abs((_pointed(table, other) - own + 180.0) % 360.0 - 180.0)
        told = ~np.isnan(apart)
        if told.any() and (apart[told] > UNLIKE_DEG).mean() > 0.5:
            why = f"'{chosen.name}' and '{other.name}' point to different sides"
            raise ask_columns(table, ["from"], why, where)


def _pointed(table: Table, column: Column) -> np.ndarray:
    """Directions of the first rows as degrees, turned about where the name says so; NaN for
    numbers in what may be another unit."""
    read = [read_direction(cell) for cell in cells_of(table, column)[:LOOKED_AT]]
    deg = np.array([np.nan if d is None else d.wind_from_deg for d in read], float)
    named = np.array([bool(d and d.label) for d in read], bool)
    if told_unit(column.name) not in ("", "deg") or not (deg[~named] > OTHER_UNIT).any():
        deg = np.where(named, deg, np.nan)
    return deg + (180.0 if told_sense(column.name) == TOWARD else 0.0)


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


def doubts_above(lines: Sequence[str]) -> tuple[str, ...]:
    """Remarks where a line above the table speaks of magnetic north, or names another
    height of its wind than 10 m. Args: the lines."""
    magnetic = any(re.search(r"\bmagnetic\b", line, re.IGNORECASE) for line in lines)
    said = ("a line above the table speaks of magnetic north: directions were read as true",)
    return (*(said if magnetic else ()), *_other_height(lines))


def _other_height(lines: Sequence[str]) -> tuple[str, ...]:
    for line in lines:
        found = _HEIGHT_ABOVE.search(line)
        height_m = (
            float(found[1]) * (M_PER_FT if found[2].casefold() == "ft" else 1.0) if found else 10
        )
        if not STANDARD_M[0] <= height_m <= STANDARD_M[1]:
            return (f"a line above the table names a height of {height_m:.3g} m: read as at 10 m",)
    return ()


def taken_as(chosen: Chosen, times: Sequence[Column], named: set[str]) -> tuple[str, ...]:
    """Remarks on columns whose names hold a word that is not known.

    Args: the columns by role; those of the time; the words of columns that the user named.
    """
    said = []
    roles = (
        ("direction", "from", "wind direction"),
        ("speed", "speed", "wind speed"),
        ("both", "speed", "wind"),
    )
    for role, word, what in roles:
        if role in chosen and word not in named and odd_words(chosen[role].name):
            said.append(f"'{chosen[role].name}' was taken as the {what}")
    if "time" not in named:
        odd = [c.name for c in times if odd_words(c.name)]
        said += [f"'{name}' was taken as the time" for name in odd]
    return tuple(said)
