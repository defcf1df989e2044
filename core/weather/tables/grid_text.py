"""A text of unknown making as a header and rows of cells."""

import csv
import itertools
import math
import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from core.errors import BadWeather
from core.weather.clocks.stamps import parse_stamp
from core.weather.tables.cells import read_direction, read_number
from core.weather.tables.headers import Column, read_header

SEPARATORS = (",", ";", "\t", "|", "  ", " ")
# without known names the rarer separator is tried first: commas are in numbers too
SHAPES = ("\t", ";", "|", ",", "  ", " ")
LEAST_CELLS = 3  # a time, a direction, a speed
HEAD_LINES = 120
LONGEST_HEADER = 20_000  # characters; reading a longer one word by word would take minutes
WIND_ROLES = {"speed", "wind", "metar", "u"}
TIME_ROLES = {"stamp", "date", "clock", "year"}
NAMES = "Name its columns like time_utc, wind_dir_deg and wind_mph in one line above the values."
REMARKS = ("#", "//", "%", "!")


@dataclass(frozen=True)
class Table:
    """Columns, rows of cells with their line numbers, and the lines above the header."""

    columns: list[Column]
    rows: list[list[str]]
    lines: list[int]
    above: list[str]
    broken: list[int]  # lines whose cells do not fit the header
    repeated: list[int]  # header lines that come again


class TableHead(NamedTuple):
    """Where a table begins: its header's line, its first line of values, how it is cut."""

    at: int
    first: int
    separator: str
    columns: list[Column]


def read_table(text: str, where: str) -> Table:
    """The table in a text.

    Args: the text, lines ended by a line feed; the file for messages.
    The header is the first line that names both a time and a wind; the separator is
    the one under which it names most. Where no line does, the table is told by its
    shape. Lines that begin with # are remarks.
    Raises: BadWeather where there is no table, or nothing stands below its header.
    """
    lines = text.split("\n")
    head = _header(lines) or _by_shape(lines)
    if head is None:
        raise BadWeather(_no_header(lines), where, NAMES)
    columns, separator = head.columns, head.separator
    header = [c.name for c in columns]
    rows, numbers, broken, repeated = [], [], [], []
    texts: dict[int, list[str]] = {}
    for number, cells in _cells(lines[head.first :], head.first + 1, separator):
        has_value = any(cell[:1].isdigit() for cell in cells)
        blank = not has_value and (not any(cells) or _is_rule(cells))
        if blank or cells[0].startswith(REMARKS):
            continue
        if cells == header:
            repeated.append(number)
            continue
        if not has_value:
            texts[number] = cells
        fitted = _fitted(cells, len(header), separator)
        if fitted is None:
            broken.append(number)
        else:
            rows.append(fitted)
            numbers.append(number)
    if not rows and not broken:
        raise BadWeather("there are no lines below its header", where, "Use the whole file.")
    _refuse_second(texts, sorted([*numbers, *broken]), len(header), where)
    return Table(columns, rows, numbers, lines[: head.at], broken, repeated)


def _refuse_second(texts: dict[int, list[str]], numbers: list[int], width: int, where: str) -> None:
    """Refuses a file in which another header comes later: its columns would be read as ours.

    Args: lines without a digit at the start of a cell, by number; numbers of all lines of
    cells. Another header names a time and a wind, or has one word in each column and lines
    below it. A line of units below the header may come again with it.
    """
    units = texts.get(numbers[0]) if numbers else None
    for number, cells in texts.items():
        if number == numbers[0] or cells == units:
            continue
        roles = {c.role for c in read_header(cells)}
        words = len(cells) == width and number < numbers[-1]
        words = words and all(read_number(c) is None and read_direction(c) is None for c in cells)
        if words or (roles & TIME_ROLES and roles & WIND_ROLES):
            raise BadWeather(
                f"line {number} begins another table ({', '.join(cells)[:80]})",
                where,
                "Keep one table in a file.",
            )


def _header(lines: Sequence[str]) -> TableHead | None:
    """The header that names both a time and a wind."""
    head = range(min(len(lines), HEAD_LINES))
    marked = [at for at in head if lines[at].lstrip().startswith(REMARKS)]
    # a remark may name a time and a wind too: it is the header only where no other is
    order = [*(at for at in head if at not in set(marked)), *marked]
    # spaces part words too, so they part cells only where nothing else does in any line
    for strict, separators in itertools.product(
        (True, False), ((",", ";", "\t", "|"), ("  ",), (" ",))
    ):
        for at in order:
            found = [(c, s) for s in separators if (c := _columns(lines, at, s, strict))]
            if found:
                columns, separator = max(found, key=lambda f: sum(bool(c.role) for c in f[0]))
                return TableHead(at, at + 1, separator, columns)
    return None


def _by_shape(lines: Sequence[str]) -> TableHead | None:
    """The head of a table that names nothing known: most lines have as many cells."""
    head = [
        at
        for at in range(min(len(lines), HEAD_LINES))
        if lines[at].strip() and len(lines[at]) <= LONGEST_HEADER
    ]
    for separator in SHAPES:
        cells = {at: _split(lines[at], separator) for at in head}
        cells = {at: c for at, c in cells.items() if not c[0].startswith(REMARKS)}
        widths = Counter(len(c) for c in cells.values() if len(c) >= LEAST_CELLS)
        width = widths.most_common(1)[0][0] if widths else 0
        block = [at for at, c in cells.items() if len(c) == width and not _is_rule(c)]
        if not block or 2 * len(block) < sum(at >= block[0] for at in cells):
            continue
        named = not any(_is_value(cell) for cell in cells[block[0]])
        values = [cells[at] for at in block[int(named) :]]
        if _could_be_wind(values, named):
            names = cells[block[0]] if named else [str(i + 1) for i in range(width)]
            return TableHead(block[0], block[0] + named, separator, read_header(names))
    return None


def _is_value(cell: str) -> bool:
    number = read_number(cell)
    return parse_stamp(cell) is not None or (number is not None and not math.isnan(number))


def _could_be_wind(rows: Sequence[list[str]], named: bool) -> bool:
    """Whether two columns hold digits, of which one is a date where no name tells."""
    columns = list(zip(*rows, strict=True))
    digits = sum(_mostly(c, lambda cell: any(x.isdigit() for x in cell)) for c in columns)
    dated = named or any(_mostly(c, lambda cell: parse_stamp(cell) is not None) for c in columns)
    return digits >= 2 and dated


def _mostly(cells: Sequence[str], is_so: Callable[[str], bool]) -> bool:
    return 2 * sum(map(is_so, cells)) > len(cells)


def _columns(lines: Sequence[str], at: int, separator: str, strict: bool) -> list[Column]:
    """The columns of a line under a separator; empty where it is no header, or where it
    does not fit the line that follows and has to."""
    if len(lines[at]) > LONGEST_HEADER:
        return []
    columns = read_header(_split(lines[at].lstrip("#/%! \t"), separator))
    roles = {c.role for c in columns}
    if not (roles & TIME_ROLES and roles & WIND_ROLES and len(columns) > 1):
        return []
    if not strict:
        return columns
    below = (x for x in lines[at + 1 :] if x.strip() and not x.lstrip().startswith(REMARKS))
    cells = _split(next(below, ""), separator)
    fits = not any(cells) or _is_rule(cells) or _fitted(cells, len(columns), separator) is not None
    return columns if fits else []


def _no_header(lines: Sequence[str]) -> str:
    first = next((line.strip() for line in lines if line.strip()), "")[:LONGEST_HEADER]
    best = max((_split(first, s) for s in SEPARATORS[:4]), key=len)
    known = [c.name for c in read_header(best) if c.role]
    if known and len(best) > 1:
        return (
            f"no line names both a time and a wind speed (line 1 is '{first[:80]}'; known in it: "
            f"{', '.join(known)})"
        )
    return f"not a forecast, and no table of wind: its first line is '{first[:80]}'"


def _split(line: str, separator: str) -> list[str]:
    if separator == " ":
        return line.split()
    if separator == "  ":
        return re.split(r"\s{2,}|\t", line.strip())
    try:
        cells = next(csv.reader([line], delimiter=separator, strict=True), [])
    except csv.Error:
        cells = line.split(separator)
    # ="5" keeps a spreadsheet from changing a cell
    return [
        c[2:-1] if c.startswith('="') and c.endswith('"') else c
        for c in (cell.strip() for cell in cells)
    ]


def _cells(lines: Sequence[str], first: int, separator: str):
    """Line number and cells of each line."""
    if separator in (" ", "  ") or any('"' in line for line in lines):
        for number, line in enumerate(lines, first):
            yield number, _split(line, separator)
        return
    for number, line in enumerate(lines, first):
        yield number, [c.strip() for c in line.split(separator)]


def _is_rule(cells: Sequence[str]) -> bool:
    """Whether a line only underlines the header."""
    return all(set(c) <= set("-=+: ") for c in cells) and any(
        "---" in c or "==" in c for c in cells
    )


def _fitted(cells: list[str], wanted: int, separator: str) -> list[str] | None:
    """The cells of a line that has as many as the header; None for another."""
    while len(cells) > wanted and not cells[-1]:
        cells = cells[:-1]
    if separator == " " and len(cells) == wanted + 1:
        # a date and its clock time, divided by the same space as the columns
        cells = [f"{cells[0]} {cells[1]}", *cells[2:]]
    return cells if len(cells) == wanted else None


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
