"""The columns that the user names, and the question which they are."""

import dataclasses
from collections.abc import Sequence

from core.errors import BadRequest, BadWeather, Choice, NeedsAnswer
from core.weather.clocks.stamps import parse_stamp
from core.weather.tables.cells import read_number
from core.weather.tables.grid_text import NAMES, Table
from core.weather.tables.headers import Column, read_column

ROLES = {
    "time": "stamp",
    "clock": "clock",
    "from": "direction",
    "speed": "speed",
    "gust": "gust",
    "cloud": "cloud",
}
DATES = {"stamp", "date", "day", "year", "month"}
SAMPLES, LONGEST_SAMPLE = 3, 20
LARGEST_OTHER_SCALE = 10  # eighths and tenths of the sky go no higher


def with_named(table: Table, named: Sequence[tuple[str, str]], where: str) -> Table:
    """The table with the columns that the user names in their places.

    Args: the table; pairs of a word of `COLUMN_WORDS` and a column's name or number; the
    file for messages. What a header says of its column, such as the unit, still counts.
    Raises: BadRequest for a name that no column has or two have, a column named twice, or
    a cloud cover that is in no percent.
    """
    words: dict[int, str] = {}
    for word, name in named:
        index = _find(table, name, where)
        if index in words:
            raise BadRequest(
                f"the column '{name}' is named for {words[index]} and for {word}",
                where,
                "Name another column for one of them.",
            )
        words[index] = word
    if "cloud" in words.values():
        _refuse_other_scale(table, next(i for i, word in words.items() if word == "cloud"), where)
    columns = [_settled(c, words, table) for c in table.columns]
    return dataclasses.replace(table, columns=columns)


def _settled(column: Column, words: dict[int, str], table: Table) -> Column:
    """A column in the role that it is named for, or out of one that another is named for."""
    word = words.get(column.index)
    if word:
        day_only = word == "time" and _is_day(table, column.index)
        return read_column(column.index, column.name, "date" if day_only else ROLES[word])
    given = set(words.values())
    if "time" in given and column.role in DATES:
        return dataclasses.replace(column, role="")
    if "clock" in given and column.role == "stamp":
        return dataclasses.replace(column, role="date")
    gone = column.role in {ROLES[w] for w in given - {"time"}}
    return dataclasses.replace(column, role="") if gone else column


def _is_day(table: Table, index: int) -> bool:
    stamp = parse_stamp(table.rows[0][index]) if table.rows else None
    return stamp is not None and stamp.seconds is None


def _find(table: Table, name: str, where: str) -> int:
    """The place of a column by its name, else by its number."""
    for same in (str, str.casefold):
        found = [c.index for c in table.columns if same(c.name) == same(name)]
        if len(found) == 1:
            return found[0]
        if found:
            numbers = " or ".join(str(i + 1) for i in found)
            raise BadRequest(
                f"{len(found)} columns are called '{name}'", where, f"Give a number: {numbers}."
            )
    if name.isdecimal() and 1 <= int(name) <= len(table.columns):
        return int(name) - 1
    names = ", ".join(f"'{c.name}'" for c in table.columns)
    raise BadRequest(f"no column is called '{name}'", where, f"Its columns are {names}.")


def _refuse_other_scale(table: Table, index: int, where: str) -> None:
    numbers = [read_number(row[index]) for row in table.rows]
    highest = max((n for n in numbers if n is not None and n == n), default=0.0)
    if 0 < highest <= LARGEST_OTHER_SCALE:
        raise BadRequest(
            f"'{table.columns[index].name}' goes no higher than {highest:g}: it looks like "
            "tenths, eighths or a share of the sky",
            where,
            "Leave the cloud out, or write it in percent.",
        )


def ask_columns(table: Table, needs: Sequence[str], why: str, where: str) -> NeedsAnswer:
    """The question which columns are what.

    Args: the table; words of `COLUMN_WORDS` that are not known; why it is asked; the file.
    Raises: BadWeather where no column is left that could be it.
    """
    wanted = {ROLES[need] for need in needs}
    open_roles = {"", "wind", *wanted, *(DATES if "time" in needs else ())}
    offered = [c for c in table.columns if c.role in open_roles and _samples(table, c.index)]
    if len(offered) < len(needs):
        held = ", ".join(f"'{c.name}'" for c in table.columns)
        raise BadWeather(f"{why} ({held})", where, NAMES)
    names = [c.name for c in table.columns]
    choices = tuple(
        Choice(
            c.name if names.count(c.name) == 1 and c.name else str(c.index + 1),
            _samples(table, c.index),
        )
        for c in offered
    )
    known = {c.role for c in table.columns}
    more = ("clock", "gust", "cloud") if "time" in needs else ("gust", "cloud")
    may = tuple(word for word in more if ROLES[word] not in known)
    return NeedsAnswer(why, where, "columns", choices, needs=tuple(needs), may=may)


def _samples(table: Table, index: int) -> str:
    """The first few different values of a column; empty for an empty one."""
    cells = dict.fromkeys(row[index] for row in table.rows[:200] if row[index])
    return " | ".join(cell[:LONGEST_SAMPLE] for cell in list(cells)[:SAMPLES])
