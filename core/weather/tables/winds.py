"""The wind of each row of a table: speeds in their units, directions in their forms."""

import math
import re
from dataclasses import dataclass, field

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG, wind_from_components
from core.errors import BadWeather
from core.weather.answers import SPEED_UNITS_MPS, Answers, answered_unit, unit_word
from core.weather.hours import Floats
from core.weather.tables.cells import Direction, Speed, read_direction, read_speed
from core.weather.tables.columns import Chosen
from core.weather.tables.directions import Directions, read_directions
from core.weather.tables.grid_text import Table, cells_of, coded
from core.weather.tables.headers import Column
from core.weather.tables.metar import read_metar
from core.weather.tables.speed_units import row_factors, unit_above

STATION_WORDS = {"drct"}  # station tables leave the direction of a light wind out
COMPONENTS_MPS = {"u10", "v10", "10u", "10v"}  # ECMWF defines these names in m/s
_BOTH = re.compile(
    r"(?P<wind>[a-z][a-z. -]*?|\d{1,3}\s*(?:°|deg)|\d{1,3}(?=\s*(?:at|@|/)))"
    r"\s*(?:at|@|/|,)?\s*(?P<speed>\d.*)",
    re.IGNORECASE,
)


@dataclass
class Winds:
    """Arrays of shape (row,), NaN unknown; `bad` says why a row can't be read."""

    speed_mps: Floats
    low_mps: Floats
    high_mps: Floats
    gust_mps: Floats
    wind_from_deg: Floats
    half_width_deg: Floats
    undirected: np.ndarray
    special: np.ndarray
    zero_told: np.ndarray  # directions of 0 degrees, as the file writes them
    bad: dict[int, str] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)


def read_winds(table: Table, chosen: Chosen, answers: Answers, where: str) -> Winds:
    """The winds of a table.

    Args: the table; its columns by role; what the user answered; the file.
    Missing: blank speeds are missing; a speed with a blank direction is missing
    too, and counted, but variable in a table of station reports.
    Raises: NeedsAnswer where a speed is in no unit that the file names.
    """
    if "speed" in chosen and "direction" in chosen:
        winds = _from_columns(table, chosen, answers, where)
    elif {"u", "v"} <= set(chosen):
        winds = _from_components(table, chosen, answers, where)
    elif "both" in chosen:
        winds = _from_both(table, chosen, answers, where)
    else:
        winds = _from_metar(table, chosen["metar"], where)
    return winds


def _from_columns(table: Table, chosen: Chosen, answers: Answers, where: str) -> Winds:
    codes, speeds = coded(cells_of(table, chosen["speed"]), read_speed)
    low, high, unit = _speed_columns(codes, speeds)
    d_codes, directions = coded(cells_of(table, chosen["direction"]), read_direction)
    winds = _blank(len(table.rows))
    _note_bad(winds, table, chosen["speed"], codes, speeds, "no speed")
    _note_bad(winds, table, chosen["direction"], d_codes, directions, "no direction")
    row_unit = _row_units(table, chosen, winds)
    factor = _factors(table, chosen["speed"], unit, row_unit, high, answers, where, winds)
    winds.low_mps, winds.high_mps = low * factor + 0.0, high * factor + 0.0  # no -0
    gust_cell = np.array([math.nan if s is None else s.gust for s in speeds])[codes]
    winds.gust_mps = gust_cell * factor
    if "gust" in chosen:
        _read_gusts(table, chosen["gust"], row_unit, factor, winds)
    column = chosen["direction"]
    told = read_directions(d_codes, directions, column, table, _moving(winds), answers, where)
    _direct(winds, told, column)
    return winds


def _blank(n: int) -> Winds:
    nan = np.full(n, math.nan)
    no = np.zeros(n, bool)
    return Winds(
        nan, nan.copy(), nan.copy(), nan.copy(), nan.copy(), nan.copy(), no, no.copy(), no.copy()
    )


def _speed_columns(codes, speeds: list[Speed | None]) -> tuple[Floats, Floats, np.ndarray]:
    """Both ends and the unit's factor (NaN where the cell names none)."""
    low = np.array([math.nan if s is None else s.low for s in speeds])[codes]
    high = np.array([math.nan if s is None else s.high for s in speeds])[codes]
    unit = [SPEED_UNITS_MPS[s.unit] if s is not None and s.unit else math.nan for s in speeds]
    return low, high, np.array(unit)[codes]


def _note_bad(winds: Winds, table: Table, column: Column, codes, results, said: str) -> None:
    wrong = np.array([r is None for r in results], bool)[codes]
    for row in np.flatnonzero(wrong):
        cell = table.rows[row][column.index]
        winds.bad.setdefault(int(row), f"'{cell[:40]}' is {said}")


def _row_units(table: Table, chosen: Chosen, winds: Winds) -> Floats:
    """Factor of the unit that a column names by row; NaN where it does not."""
    if "unit" not in chosen:
        return np.full(len(table.rows), math.nan)
    codes, units = coded(cells_of(table, chosen["unit"]), lambda c: unit_word(c) if c else "")
    _note_bad(winds, table, chosen["unit"], codes, units, "no unit of wind")
    factors = [SPEED_UNITS_MPS[u] if u else math.nan for u in units]
    return np.array(factors)[codes]


def _factors(table, column: Column, cell_unit, row_unit, high, answers, where, winds) -> Floats:
    """Metres per second in one of each row's unit: the cell's own, the row's, the
    column's, that of the lines above, else the answer."""
    above = unit_above(table.above)
    unread = np.isin(np.arange(len(high)), list(winds.bad))
    needed = np.isnan(cell_unit) & (np.nan_to_num(high) > 0) & ~unread
    row = int(np.argmax(needed))
    answer = None if answers.speed_unit is None else answered_unit(answers.speed_unit)
    factor = row_factors(
        column.name,
        column.unit,
        above,
        row_unit,
        answer,
        needed,
        (float(high[row]) if len(high) else 0.0, table.lines[row] if table.lines else 0),
        where,
    )
    if above and not column.unit and needed.any():
        winds.remarks.append(f"a line above the table says {above}")
    if (~np.isnan(cell_unit) & ~np.isnan(factor) & (cell_unit != factor)).any():
        winds.remarks.append(f"cells of '{column.name}' were read in the units that they name")
    factor = np.where(np.isnan(cell_unit), factor, cell_unit)
    return np.where(np.isnan(factor), 1.0, factor)


def _read_gusts(table: Table, column: Column, row_unit, speed_factor, winds: Winds) -> None:
    codes, gusts = coded(cells_of(table, column), read_speed)
    _note_bad(winds, table, column, codes, gusts, "no gust")
    _, gust, unit = _speed_columns(codes, gusts)
    own = SPEED_UNITS_MPS[column.unit] if column.unit else math.nan
    factor = np.where(np.isnan(unit), own, unit)
    if (~np.isnan(row_unit) & ~np.isnan(factor) & (row_unit != factor)).any():
        winds.remarks.append(f"'{column.name}' was read in its own unit, not in that of its row")
    factor = np.where(np.isnan(factor), row_unit, factor)
    if np.isnan(factor).any():
        winds.remarks.append(f"'{column.name}' was read in the unit of the wind speed")
    winds.gust_mps = gust * np.where(np.isnan(factor), speed_factor, factor)


def _direct(winds: Winds, told: Directions, column: Column) -> None:
    """Lays directions onto the speeds; calm and variable in words count."""
    wind, words = told.wind_from_deg, told.words
    winds.half_width_deg, winds.zero_told = told.half_width_deg, told.zero_told
    winds.remarks += told.remarks
    calm = words == "calm"
    for row in np.flatnonzero(calm & (np.nan_to_num(winds.high_mps) > 0)):
        winds.bad.setdefault(int(row), "calm has a speed beside it")
    winds.low_mps = np.where(calm, 0.0, winds.low_mps)
    winds.high_mps = np.where(calm, 0.0, winds.high_mps)
    moving = np.nan_to_num(winds.high_mps) > 0
    station = column.name.casefold() in STATION_WORDS
    winds.undirected = np.isnan(wind) & moving & (words == "missing") & (not station)
    for name in ("low_mps", "high_mps"):
        setattr(winds, name, np.where(winds.undirected, math.nan, getattr(winds, name)))
    winds.speed_mps = (winds.low_mps + winds.high_mps) / 2
    winds.wind_from_deg = wind


def _moving(winds: Winds) -> np.ndarray:
    """Rows of a moving wind that can be read."""
    unread = np.isin(np.arange(len(winds.high_mps)), list(winds.bad))
    return (np.nan_to_num(winds.high_mps) > 0) & ~unread


def _from_components(table: Table, chosen: Chosen, answers: Answers, where: str) -> Winds:
    winds = _blank(len(table.rows))
    parts = []
    for role in ("u", "v"):
        column = chosen[role]
        codes, values = coded(cells_of(table, column), read_speed)
        _note_bad(winds, table, column, codes, values, "no speed")
        low, _, unit = _speed_columns(codes, values)
        if column.unit is None and column.name.casefold() in COMPONENTS_MPS:
            winds.remarks.append(f"'{column.name}' was read as m/s: ECMWF gives that name to m/s")
            parts.append(low)
            continue
        row_unit = _row_units(table, chosen, winds)
        size = np.abs(low)
        parts.append(low * _factors(table, column, unit, row_unit, size, answers, where, winds))
    with np.errstate(invalid="ignore", over="ignore"):
        winds.speed_mps = np.hypot(*parts)
        winds.wind_from_deg = wind_from_components(*parts)
    winds.low_mps = winds.high_mps = winds.speed_mps
    winds.half_width_deg = np.full(len(table.rows), HALF_WIDTH_DEGREES_DEG)
    if "gust" in chosen:
        _read_gusts(table, chosen["gust"], np.full(len(table.rows), math.nan), 1.0, winds)
    return winds


def read_both(text: str) -> tuple[Direction, Speed] | None:
    """Direction and speed of one cell such as `NW 5-10 mph`. Args: the cell."""
    alone = read_direction(text)
    if alone is not None and alone.word in ("calm", "missing"):
        end = 0.0 if alone.word == "calm" else math.nan
        return Direction(math.nan, word="missing"), Speed(end, end)
    found = _BOTH.fullmatch(text.strip())
    if not found:
        return None
    direction = read_direction(found["wind"].rstrip(" .-"))
    speed = read_speed(found["speed"])
    return None if direction is None or speed is None else (direction, speed)


def _from_both(table: Table, chosen: Chosen, answers: Answers, where: str) -> Winds:
    column = chosen["both"]
    codes, pairs = coded(cells_of(table, column), read_both)
    winds = _blank(len(table.rows))
    _note_bad(winds, table, column, codes, pairs, "no wind")
    speeds = [p[1] if p else None for p in pairs]
    low, high, unit = _speed_columns(codes, speeds)
    row_unit = _row_units(table, chosen, winds)
    factor = _factors(table, column, unit, row_unit, high, answers, where, winds)
    winds.low_mps, winds.high_mps = low * factor + 0.0, high * factor + 0.0  # no -0
    winds.gust_mps = np.array([s.gust if s else math.nan for s in speeds])[codes] * factor
    if "gust" in chosen:
        _read_gusts(table, chosen["gust"], row_unit, factor, winds)
    directions = [p[0] if p else None for p in pairs]
    told = read_directions(codes, directions, column, table, _moving(winds), answers, where)
    _direct(winds, told, column)
    return winds


def _from_metar(table: Table, column: Column, where: str) -> Winds:
    winds = _blank(len(table.rows))
    codes, reports = coded(cells_of(table, column), lambda c: read_metar(c) if c else False)
    _note_bad(winds, table, column, codes, reports, "no METAR with a wind")

    def values(name: str, scaled: bool = False) -> Floats:
        return np.array(
            [
                getattr(r, name) * (SPEED_UNITS_MPS[r.unit] if scaled else 1.0) if r else math.nan
                for r in reports
            ]
        )[codes]

    winds.speed_mps = winds.low_mps = winds.high_mps = values("speed", True)
    winds.gust_mps = values("gust", True)
    winds.wind_from_deg, winds.half_width_deg = values("wind_from_deg"), values("half_width_deg")
    winds.special = np.array([bool(r and r.special) for r in reports], bool)[codes]
    if not any(reports):
        raise BadWeather(
            f"'{column.name}' holds no METAR with a wind", where, "Give METAR reports, no TAF."
        )
    return winds
