"""A table of wind of unknown making: any separator, encoding, header words and units.

What the file tells is taken in this order: the cell, its row, its header, the lines
above the header. What none of them tells is asked, never guessed.
"""

import math

import numpy as np

from core.errors import BadWeather
from core.units import c_from_f
from core.weather.answers import Answers, zone_of
from core.weather.hours import Floats, Hours, Ints
from core.weather.reading.decoding import text_of
from core.weather.reading.local_time import ask_zone, to_instants
from core.weather.reading.observations import (
    NAMED,
    ROW_S,
    Observations,
    make_observations,
    one_station,
    to_hours,
)
from core.weather.tables.cells import read_number
from core.weather.tables.columns import Chosen, cells_of, choose, coded, time_cells, zone_above
from core.weather.tables.grid_text import Table, read_table
from core.weather.tables.headers import Column
from core.weather.tables.named_columns import with_named
from core.weather.tables.stamps import Times, order_told, read_times
from core.weather.tables.winds import Winds, read_winds

FORMAT = "table"
NO_TIME = " is no time"
SPECIAL_WORDS = ("speci", "special", "sp", "fm-16", "saosp")


def read(data: bytes, where: str, answers: Answers) -> Hours:
    """The hourly table of a delimited text.

    Args: the file's bytes; its name for messages; what the user answered.
    Missing: blank cells are missing; rows that can't be read are left out, told by
    their line.
    Raises: BadWeather where it is no such table, or most rows can't be read;
    NeedsAnswer where columns, unit, zone or the order of day and month stay open.
    """
    text = text_of(data, where)
    table = with_named(read_table(text, where), answers.columns, where)
    table = _without_unit_row(table)
    chosen = choose(table, where)
    one_station(cells_of(table, chosen["station"]) if "station" in chosen else (), where)
    winds = read_winds(table, chosen, answers, where)
    at_s, untold, zone, remarks = _instants(table, chosen, answers, where, winds)
    reports = make_observations(
        at_s=np.where(np.isnan(at_s), 0, at_s).astype(np.int64),
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
        format=FORMAT,
        zone=zone,
        north_is_360=False,
        where=where,
        remarks=(*remarks, *dict.fromkeys(winds.remarks), *_cut(text)),
        first=_named(table, winds),
    )
    return to_hours(_counted(reports, table, winds, untold, where), f"table of wind, {where}")


def _cut(text: str) -> tuple[str, ...]:
    """A remark where the last line has no end, as in a file that was cut off."""
    return () if text.endswith("\n") else ("its last line has no line end: it may be cut off",)


def _without_unit_row(table: Table) -> Table:
    """The table with a line of units below its header taken into the header."""
    from dataclasses import replace

    from core.weather.answers import unit_word

    speeds = [c for c in table.columns if c.role in ("speed", "wind", "gust", "u", "v")]
    if not table.rows or not any(unit_word(table.rows[0][c.index]) for c in speeds):
        return table
    units = {c.index: unit_word(table.rows[0][c.index].strip("()[]")) for c in speeds}
    columns = [
        replace(c, unit=c.unit or units[c.index], role="speed" if c.role == "wind" else c.role)
        if units.get(c.index)
        else c
        for c in table.columns
    ]
    return replace(table, columns=columns, rows=table.rows[1:], lines=table.lines[1:])


def _instants(table: Table, chosen: Chosen, answers: Answers, where: str, winds: Winds):
    """Epoch seconds, which rows can't be told apart, the zone's name, and remarks."""
    cells, column = time_cells(table, chosen, where)
    told = " ".join(c.name for c in table.columns if c.role in ("stamp", "date", "clock"))
    order = order_told(told)
    times = read_times(cells, table.lines, where, order if order is not None else answers.dayfirst)
    bare = np.isnan(times.offset_s) & ~np.isnan(times.clock_s)
    for row in np.flatnonzero(np.isnan(times.clock_s)):
        winds.bad[int(row)] = f"'{cells[row][:40]}'{NO_TIME}"
    at_s = times.clock_s - np.nan_to_num(times.offset_s)
    untold = np.zeros(len(cells), bool)
    zone, remarks = "UTC", list(times.remarks)
    if bare.any():
        zone, said = _zone(table, chosen, column, answers, cells, times, bare, where)
        remarks += said
        names = cells_of(table, chosen["zone"]) if "zone" in chosen else [zone] * len(cells)
        for name in dict.fromkeys(np.array(names)[bare]):
            rows = np.flatnonzero(bare & (np.array(names) == name))
            clock = times.clock_s[rows].astype(np.int64)
            at_s[rows], untold[rows] = to_instants(clock, zone_of(name, where), where)
    if column.ends_hour:
        at_s, remarks = at_s - ROW_S, [*remarks, "times that end the hour were moved back by it"]
    return at_s, untold, zone, remarks


def _zone(
    table: Table,
    chosen: Chosen,
    column: Column,
    answers: Answers,
    cells,
    times: Times,
    bare,
    where: str,
) -> tuple[str, list[str]]:
    """The zone of the times that do not tell it, and a remark on where it was told."""
    if "zone" in chosen:
        return cells_of(table, chosen["zone"])[int(np.argmax(bare))], []
    if column.zone:
        return column.zone, []
    above = zone_above(table.above)
    if above:
        return above, [f"a line above the table says {above}"]
    if answers.zone:
        zone_of(answers.zone)
        return answers.zone, []
    row = int(np.argmax(bare))
    raise ask_zone(cells[row], int(times.clock_s[row]), answers.likely_zone, where)


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
        codes, values = coded(cells_of(table, chosen[role]), read_number)
        numbers = np.array([math.nan if v is None else v for v in values]) * scale
        if role == "temperature" and chosen[role].unit == "F":
            numbers = c_from_f(numbers)
        if name.endswith("frac"):
            numbers = np.where((numbers >= 0) & (numbers <= 1), numbers, math.nan)
        columns[name] = numbers[codes]
    return columns


def _named(table: Table, winds: Winds) -> dict[str, str]:
    """The first rows that can't be read, by line and reason."""
    rows = [r for r in sorted(winds.bad) if not winds.bad[r].endswith(NO_TIME)]
    rows = rows if len(rows) <= NAMED else rows[:1]
    said = [f"line {table.lines[r]}: {winds.bad[r]}" for r in rows]
    return {"lines": "; ".join(said)} if said else {}


def _counted(reports: Observations, table: Table, winds: Winds, untold, where: str):
    """The reports that can be used, with what was left out counted."""
    lines: Ints = np.array(table.lines, np.int64)
    bad = np.isin(np.arange(len(lines)), list(winds.bad))
    broken = np.array(table.broken, np.int64)
    good = ~bad & ~untold
    wrong = np.concatenate([lines[bad], broken])
    if not good.any() or len(wrong) > (len(lines) + len(broken)) / 2:
        _refuse(table, winds, wrong, untold, where)
    # what stands below the last hour and has neither its cells nor a time is a footer
    timeless = [table.lines[r] for r, said in winds.bad.items() if said.endswith(NO_TIME)]
    ends = np.isin(wrong, np.concatenate([broken, timeless])) & (wrong > int(lines[~bad].max()))
    tail, wrong = np.sort(wrong[ends]), np.sort(wrong[~ends])
    north = winds.zero_told & (reports.speed_mps > 0) & good
    reports = reports.counted("lines", wrong).counted("footer", tail)
    reports = reports.counted("headers", table.repeated)
    reports = reports.counted("clock", lines[untold & ~bad])
    reports = reports.counted("undirected", lines[winds.undirected & good])
    return reports.counted("north", lines[north]).take(good)


def _refuse(table: Table, winds: Winds, wrong, untold, where: str) -> None:
    total = len(table.lines) + len(table.broken)
    if winds.bad:
        row = min(winds.bad)
        why = f"line {table.lines[row]}: {winds.bad[row]}"
    elif len(table.broken):
        why = f"line {table.broken[0]} does not have the {len(table.columns)} cells of its header"
    else:
        why = "the clock shows its hours twice"
    raise BadWeather(
        f"{len(wrong) + int(untold.sum())} of {total} lines can't be read, such as {why}",
        where,
        "Put the table right, or use another.",
    )
