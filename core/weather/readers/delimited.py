"""A table of wind of unknown making: any separator, encoding, header words and units.

What the file tells is taken in this order: the cell, its row, its header, the lines
above the header. What none of them tells is asked, never guessed.
"""

import math

import numpy as np

from core.errors import BadWeather
from core.units import MM_PER_INCH, c_from_f
from core.weather.answers import TABLE_FORMAT, Answers
from core.weather.hours import Floats, Ints
from core.weather.reading.observations import (
    NAMED,
    Observations,
    make_observations,
    one_station,
)
from core.weather.reading.reader import FORECAST, HISTORY, Reader
from core.weather.reading.weather_file import WeatherFile
from core.weather.tables.cells import read_number
from core.weather.tables.columns import Chosen, choose, doubts_above, taken_as
from core.weather.tables.grid_text import Table, cells_of, coded, read_table
from core.weather.tables.instants import Instants, read_instants
from core.weather.tables.named_columns import with_named
from core.weather.tables.winds import Winds, read_winds

PUT_RIGHT = "Put the table right, or use another."
TRACE = ("t", "trace")  # of rain
SPECIAL_WORDS = ("speci", "special", "sp", "fm-16", "saosp")


def looks_like(file: WeatherFile) -> bool:
    """Whether a file may be a table: any text that is no JSON. Args: the file. Raises:
    BadWeather for a web page, or no text."""
    return file.body is None


def read(file: WeatherFile, answers: Answers) -> Observations:
    """The hours of a delimited text.

    Args: the file; what the user answered.
    Missing: blank cells are missing; rows that can't be read are left out, told by
    their line.
    Raises: BadWeather where it is no such table, or most rows can't be read;
    NeedsAnswer where columns, unit, zone or the order of day and month stay open.
    """
    text, where = file.text, file.name
    table = with_named(read_table(text, where), answers.columns, where)
    table = _without_unit_row(table, where)
    if not table.rows:
        _refuse_no_rows(table, where)
    chosen = choose(table, where)
    one_station(cells_of(table, chosen["station"]) if "station" in chosen else (), where)
    winds = read_winds(table, chosen, answers, where)
    times = read_instants(table, chosen, answers, set(winds.bad), where)
    taken = taken_as(chosen, times.columns, {word for word, _ in answers.columns})
    taken += doubts_above(table.above)
    reports = make_observations(
        at_s=np.where(np.isnan(times.at_s), 0, times.at_s).astype(np.int64),
        line=table.lines,
        speed_mps=winds.speed_mps,
        speed_low_mps=winds.low_mps,
        speed_high_mps=winds.high_mps,
        wind_from_deg=winds.wind_from_deg,
        half_width_deg=winds.half_width_deg,
        gust_mps=winds.gust_mps,
        special=winds.special | _specials(table, chosen),
        **_sky(table, chosen),
        kind="forecast",
        format=TABLE_FORMAT,
        zone=times.zone,
        north_is_360=False,
        where=where,
        remarks=(*taken, *times.remarks, *dict.fromkeys(winds.remarks), *_cut(text)),
        first=_named(table, winds, times),
        source=f"table of wind, {where}",
    )
    return _counted(reports, table, winds, times, where)


def _cut(text: str) -> tuple[str, ...]:
    """A remark where the last line has no end, as in a file that was cut off."""
    return () if text.endswith("\n") else ("its last line has no line end: it may be cut off",)


def _without_unit_row(table: Table, where: str) -> Table:
    """The table with a line of units below its header taken into the header."""
    from dataclasses import replace

    from core.weather.answers import unit_word

    speeds = [c for c in table.columns if c.role in ("speed", "wind", "gust", "u", "v")]
    if not table.rows or not any(unit_word(table.rows[0][c.index]) for c in speeds):
        return table
    units = {c.index: unit_word(table.rows[0][c.index].strip("()[]")) for c in speeds}
    for column in speeds:
        below = units[column.index]
        if below and column.unit and below != column.unit:
            raise BadWeather(
                f"'{column.name}' says {column.unit}, and the line below it {below}",
                where,
                "Keep the one that is right.",
            )
    columns = [
        replace(c, unit=c.unit or units[c.index], role="speed" if c.role == "wind" else c.role)
        if units.get(c.index)
        else c
        for c in table.columns
    ]
    return replace(table, columns=columns, rows=table.rows[1:], lines=table.lines[1:])


def _specials(table: Table, chosen: Chosen) -> np.ndarray:
    if "report" not in chosen:
        return np.zeros(len(table.rows), bool)
    codes, special = coded(
        cells_of(table, chosen["report"]), lambda c: c.strip().casefold() in SPECIAL_WORDS
    )
    return np.array(special, bool)[codes]


def _sky(table: Table, chosen: Chosen) -> dict[str, Floats]:
    """What is shown only, where its unit is told."""
    columns: dict[str, Floats] = {}
    for role, name, scale in (
        ("temperature", "temperature_c", 1.0),
        ("cloud", "cloud_frac", 0.01),
        ("chance", "rain_chance_frac", 0.01),
        ("rain", "rain_mm", 1.0),
    ):
        if role not in chosen or (role == "temperature" and chosen[role].unit is None):
            continue
        read_cell = _rain if role == "rain" else read_number
        codes, values = coded(cells_of(table, chosen[role]), read_cell)
        numbers = np.array([math.nan if v is None else v for v in values]) * scale
        if role == "temperature" and chosen[role].unit == "F":
            numbers = c_from_f(numbers)
        if role == "rain" and chosen[role].unit == "in":
            numbers = numbers * MM_PER_INCH
        if name.endswith("frac"):
            numbers = np.where((numbers >= 0) & (numbers <= 1), numbers, math.nan)
        columns[name] = numbers[codes]
    return columns


def _rain(cell: str) -> float | None:
    """Rain as a cell has it: a trace is none; less than nothing is not told."""
    if cell.strip().casefold() in TRACE:
        return 0.0
    depth = read_number(cell)
    return None if depth is None or depth < 0 else depth


def _named(table: Table, winds: Winds, times: Instants) -> dict[str, tuple[str, ...]]:
    """The first rows whose wind can't be read, by line and reason."""
    rows = [r for r in sorted(winds.bad) if not np.isnan(times.at_s[r])]
    rows = rows if len(rows) <= NAMED else rows[:1]
    said = tuple(f"line {table.lines[r]}: {winds.bad[r]}" for r in rows)
    return {"lines": said} if said else {}


def _counted(reports: Observations, table: Table, winds: Winds, times: Instants, where: str):
    """The reports that can be used, with what was left out counted."""
    lines: Ints = np.array(table.lines, np.int64)
    timeless = np.isnan(times.at_s)
    bad = np.isin(np.arange(len(lines)), list(winds.bad)) | timeless
    broken = np.array(table.broken, np.int64)
    good = ~bad & ~times.untold & ~times.far
    wrong = np.concatenate([lines[bad], broken])
    if not good.any() or len(wrong) > (len(lines) + len(broken)) / 2:
        _refuse(table, winds, times, len(wrong), where)
    # what stands below the last hour and has neither its cells nor a time is a footer
    ends = np.isin(wrong, np.concatenate([broken, lines[timeless]]))
    ends &= wrong > int(lines[~bad].max())
    tail, wrong = np.sort(wrong[ends]), np.sort(wrong[~ends])
    north = winds.zero_told & (reports.speed_mps > 0) & good
    reports = reports.counted("lines", wrong).counted("footer", tail)
    reports = reports.counted("headers", table.repeated)
    reports = reports.counted("clock", lines[times.untold & ~bad])
    reports = reports.counted("far", lines[times.far & ~bad])
    reports = reports.counted("undirected", lines[winds.undirected & good])
    return reports.counted("north", lines[north]).take(good)


def _refuse_no_rows(table: Table, where: str) -> None:
    if not table.broken:
        raise BadWeather("there are no lines below its header", where, "Use the whole file.")
    n, width = len(table.broken), len(table.columns)
    why = f"line {table.broken[0]} does not have the {width} cells of its header"
    raise BadWeather(f"{n} of {n} lines can't be read, such as {why}", where, PUT_RIGHT)


def _refuse(table: Table, winds: Winds, times: Instants, wrong: int, where: str) -> None:
    total = len(table.lines) + len(table.broken)
    timeless = np.flatnonzero(np.isnan(times.at_s)).tolist()
    row = min([*winds.bad, *timeless], default=None)
    if row is not None:
        said = f"'{times.cells[row][:40]}' is no time" if row in timeless else winds.bad[row]
        why = f"line {table.lines[row]}: {said}"
    elif len(table.broken):
        why = f"line {table.broken[0]} does not have the {len(table.columns)} cells of its header"
    else:
        why = "the clock shows its hours twice"
    raise BadWeather(
        f"{wrong + int(times.untold.sum())} of {total} lines can't be read, such as {why}",
        where,
        PUT_RIGHT,
    )


TABLE = Reader("any table of wind", (FORECAST, HISTORY), looks_like, read, as_history="unsaid")
