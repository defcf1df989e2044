"""The instants of a table's rows: clock times, their zone, and the part of the hour they name."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.errors import Choice, NeedsAnswer
from core.weather.answers import ZONE_WORDS_H, Answers, zone_of
from core.weather.clocks.hour_labels import ask_label, label_above, moved_back, told_label
from core.weather.clocks.times import Times, read_times
from core.weather.clocks.zones import (
    LOCAL,
    OPEN,
    is_letters,
    offsets_of_letters_s,
    one_zone,
    zone_above,
    zone_cell,
)
from core.weather.hours import Floats
from core.weather.reading.local_time import ask_zone, offset_word, offsets_s, to_instants
from core.weather.tables.columns import Chosen
from core.weather.tables.grid_text import Table, cells_of, coded
from core.weather.tables.headers import Column
from core.weather.tables.time_columns import TimeCells, time_cells

FAR_S = 20 * 365.25 * 86_400
YEAR_S = 365.25 * 86_400
_IN = {LOCAL: "by the clock that is called local", OPEN: "as its header and its lines say"}


@dataclass(frozen=True, eq=False)
class Instants:
    """Starts of the rows. Arrays of shape (row,): `at_s` NaN where it can't be read, `untold`
    hours that the clock shows twice, `far` hours to be left out as far from all others."""

    at_s: Floats
    untold: np.ndarray
    far: np.ndarray
    cells: list[str]
    columns: tuple[Column, ...]
    zone: str
    remarks: tuple[str, ...]


def read_instants(
    table: Table, chosen: Chosen, answers: Answers, bad: set[int], where: str
) -> Instants:
    """The instants of the rows of a table.

    Args: the table; its columns by role; what the user answered; rows that can't be read
    for another reason; the file for messages.
    Raises: NeedsAnswer where the order of dates, the zone or the part of the hour stays
    open; BadWeather for times that can't be used.
    """
    told = time_cells(table, answers, where)
    times = read_times(told.cells, table.lines, where, told.name, answers)
    label = _label(told, table, times, answers, where)
    at_s, untold, zone, said = _in_zones(table, chosen, told, times, answers, where)
    at_s, moved = moved_back(at_s, label)
    far = _far(at_s, bad, told.cells, table.lines, answers, where)
    said = (*_unlike_header(told, table.above, times), *said)
    remarks = (*told.remarks, *times.remarks, *said, *moved)
    return Instants(at_s, untold, far, told.cells, told.columns, zone, remarks)


def _unlike_header(told: TimeCells, lines: Sequence[str], times: Times) -> tuple[str, ...]:
    """A remark where cells tell an offset that is not that of their header."""
    rows = np.flatnonzero(~np.isnan(times.offset_s) & ~np.isnan(times.clock_s))
    zone = one_zone({z for z in (told.zone, zone_above(lines)) if z})
    if not len(rows) or not zone or is_letters(zone):
        return ()
    own = times.offset_s[rows]
    if zone in (OPEN, LOCAL):
        alike = zone == LOCAL and bool(own.any())
    else:
        first, second = offsets_s(times.clock_s[rows].astype(np.int64), zone_of(zone))
        alike = bool(((own == first) | (own == second)).all())
    if alike:
        return ()
    return (f"times were read by the offsets in their cells, not {_IN.get(zone, f'in {zone}')}",)


def _unlike_rows(words: Sequence[str], told: TimeCells, lines, clock_s: float) -> list[str]:
    """A remark where rows tell a zone that is not that of the header, or of a line above."""
    common = one_zone({z for z in (told.zone, zone_above(lines)) if z})
    if not common:
        return []
    odd = [w for w in words if w not in ("", OPEN) and not _agree([w, common], clock_s)]
    instead = _IN.get(common, f"in {common}")
    return [f"times were read in {w}, as their rows say, not {instead}" for w in odd]


def _label(told: TimeCells, table: Table, times: Times, answers: Answers, where: str) -> str:
    """The part of the hour that the times name."""
    named = {part for c in told.columns if (part := told_label(c.name, where))}
    above = label_above(table.above)
    said = named | ({above} if above else set())
    if len(said) == 1:
        return said.pop()
    if len(said) > 1 or times.at_24:
        cell = times.at_24 or told.cells[0]
        if answers.hour_label is None:
            raise ask_label(cell, bool(times.at_24), where)
        return answers.hour_label
    return ""


def _in_zones(
    table: Table, chosen: Chosen, told: TimeCells, times: Times, answers: Answers, where: str
):
    """Instants, which of them can't be told, the zone's name, and remarks."""
    readable = ~np.isnan(times.clock_s)
    at_s = times.clock_s - np.nan_to_num(times.offset_s)
    untold = np.zeros(len(at_s), bool)
    bare = np.isnan(times.offset_s) & readable
    if not bare.any():
        return at_s, untold, "UTC", ()
    words = np.array(times.letters, object)
    if "zone" in chosen:
        codes, zones = coded(cells_of(table, chosen["zone"]), zone_cell)
        words = np.where(words == "", np.array(zones, object)[codes], words)
    of_rows = dict.fromkeys(words[bare])
    remarks = _unlike_rows(tuple(of_rows), told, table.above, times.clock_s[int(np.argmax(bare))])
    if (bare & (words == "")).any():
        row = int(np.argmax(bare & (words == "")))
        common, more = _common(told, table.above, times.clock_s[row], row, answers, where)
        remarks += more
        words = np.where(words == "", common, words)
    zone = "UTC"
    for word in dict.fromkeys(words[bare]):
        rows = np.flatnonzero(bare & (words == word))
        one = _Rows(times.clock_s[rows].astype(np.int64), told.cells[int(rows[0])])
        at_s[rows], untold[rows], zone, said = _placed(one, str(word), answers, where)
        remarks += said
    return at_s, untold, zone, tuple(dict.fromkeys(remarks))


@dataclass(frozen=True, eq=False)
class _Rows:
    """Clock times of some rows, as if they were UTC, and the first as it is written."""

    clock_s: np.ndarray
    cell: str


def _common(
    told: TimeCells, lines: Sequence[str], clock_s: float, row: int, answers: Answers, where: str
) -> tuple[str, list[str]]:
    """The zone of all rows, told by the header or by a line above it, else the answer."""
    header, above = told.zone, zone_above(lines)
    said = [zone for zone in (header, above) if zone]
    named = [zone for zone in said if zone not in (OPEN, LOCAL)]
    if named and OPEN not in said and _agree(said, clock_s):
        return named[0], [] if header == named[0] else [f"a line above the table says {above}"]
    if answers.zone:
        return answers.zone, []
    offered = tuple(z for z in named if not is_letters(z))
    raise ask_zone(
        told.cells[row], int(clock_s), answers.likely_zone, where, offered, _why(header, above)
    )


def _why(header: str, above: str) -> str:
    """Why the zone is asked of a header and lines above that differ; empty for another reason."""
    if not above or header in ("", OPEN, above):
        return ""
    known = above not in (OPEN, LOCAL)
    said = above if known else "that its times are local" if above == LOCAL else "another zone"
    return f"its header says {header}, a line above it {said}"


def _agree(zones: Sequence[str], clock_s: float) -> bool:
    """Whether zones have one offset at a clock time; letters agree with themselves only."""
    if OPEN in zones:
        return False
    if LOCAL in zones:  # any clock but UTC
        return "UTC" not in zones
    if len(set(zones)) == 1:
        return True
    if any(is_letters(z) for z in zones):
        return False
    clock = np.array([clock_s], np.int64)
    return len({int(offsets_s(clock, zone_of(z))[0][0]) for z in zones}) == 1


def _placed(rows: _Rows, word: str, answers: Answers, where: str):
    """Instants of rows whose zone one word tells, which can't be told, its name, remarks."""
    if word == OPEN or (is_letters(word) and answers.zone):
        if not answers.zone:
            raise ask_zone(rows.cell, int(rows.clock_s[0]), answers.likely_zone, where)
        return _answered(rows, word, answers.zone, where)
    if not is_letters(word):
        return *to_instants(rows.clock_s, zone_of(word, where), where), word, []
    if answers.likely_zone:
        offsets = offsets_of_letters_s(rows.clock_s, word, zone_of(answers.likely_zone))
        if not np.isnan(offsets).any():
            named = offset_word(int(offsets[0]))
            said = f"{word} was read as {named}, as in {answers.likely_zone}"
            return rows.clock_s - offsets, np.zeros(len(offsets), bool), named, [said]
    hours = ZONE_WORDS_H.get(word.upper())
    offered = () if hours is None else (offset_word(hours * 3600),)
    why = f"'{word}' is the clock of several places, or not the one of the ground at these dates"
    raise ask_zone(rows.cell, int(rows.clock_s[0]), answers.likely_zone, where, offered, why)


def _answered(rows: _Rows, letters: str, zone: str, where: str):
    """Rows in the zone that the user named; letters tell which of two hours is meant."""
    place = zone_of(zone)
    at_s, untold = to_instants(rows.clock_s, place, where)
    if letters != OPEN:
        offsets = offsets_of_letters_s(rows.clock_s, letters, place)
        known = ~np.isnan(offsets)
        at_s = np.where(known, rows.clock_s - np.nan_to_num(offsets), at_s)
        untold = untold & ~known
    return at_s, untold, zone, []


def _far(at_s: Floats, bad: set[int], cells, lines, answers: Answers, where: str) -> np.ndarray:
    """Rows that lie 20 years from all others, where they are to be left out."""
    none = np.zeros(len(at_s), bool)
    rows = np.array([i for i in np.flatnonzero(~np.isnan(at_s)) if i not in bad], int)
    if len(rows) < 2:
        return none
    order = rows[np.argsort(at_s[rows], kind="stable")]
    breaks = np.flatnonzero(np.diff(at_s[order]) > FAR_S) + 1
    if not len(breaks) or answers.far_hours == "keep":
        return none
    groups = np.split(order, breaks)
    most = max(groups, key=len)
    others = np.sort(np.concatenate([g for g in groups if g is not most]))
    if answers.far_hours is None:
        first = int(others[0])
        years = abs(at_s[first] - np.median(at_s[most])) / YEAR_S
        raise _ask_far(len(others), cells[first], lines[first], years, where)
    none[others] = True
    return none


def _ask_far(count: int, cell: str, line: int, years: float, where: str) -> NeedsAnswer:
    hours = "1 hour is" if count == 1 else f"{count} hours are"
    choices = (
        Choice("drop", f"leave {'it' if count == 1 else 'them'} out"),
        Choice("keep", f"keep {'it' if count == 1 else 'them'}"),
    )
    return NeedsAnswer(
        f"{hours} decades from the others: '{cell}' in line {line} by {years:.0f} years",
        where,
        "far_hours",
        choices,
    )
