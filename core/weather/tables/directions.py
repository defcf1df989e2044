"""The directions of a table as where the wind comes from, in degrees."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG, point_name
from core.errors import Choice, NeedsAnswer
from core.weather.answers import Answers
from core.weather.hours import Floats
from core.weather.tables.angle_units import UNITS, in_degrees, settled_unit, told_unit
from core.weather.tables.cells import Direction, half_width_of_degrees, half_width_of_labels
from core.weather.tables.grid_text import Table
from core.weather.tables.headers import Column
from core.weather.tables.senses import OPEN, TOWARD, joint_sense, sense_above, told_sense


@dataclass(frozen=True, eq=False)
class Directions:
    """Arrays of shape (row,): NaN for none; `words` calm, variable, missing or empty;
    `zero_told` where the file writes 0 degrees."""

    wind_from_deg: Floats
    half_width_deg: Floats
    words: np.ndarray
    zero_told: np.ndarray
    remarks: tuple[str, ...]


def read_directions(
    codes,
    cells: Sequence[Direction | None],
    column: Column,
    table: Table,
    moving: np.ndarray,
    answers: Answers,
    where: str,
) -> Directions:
    """The directions of a column.

    Args: places of the rows in its different cells, and those read; the column; the table;
    rows of a moving wind that can be read, shape (row,); what the user answered; the file.
    Raises: NeedsAnswer where the unit stays open, or whether they say where the wind comes
    from or where it goes; BadWeather for numbers that don't fit their unit.
    """
    told = np.array([np.nan if d is None else d.wind_from_deg for d in cells])[codes]
    words = np.array(["" if d is None else d.word for d in cells])[codes]
    by_label = np.array([bool(d and d.label) for d in cells], bool)[codes]
    numbers = np.where(by_label, np.nan, told)
    shown = numbers[moving & ~np.isnan(numbers)]
    line = table.lines[int(np.argmax(moving & ~np.isnan(numbers)))] if len(shown) else 0
    unit, remark = settled_unit(
        told_unit(column.name), answers.direction_unit, shown, column.name, where, line
    )
    wind = np.where(by_label, told, in_degrees(numbers, unit))
    half = _half_width_deg(cells, wind[~by_label & ~np.isnan(wind)], unit)
    sense = joint_sense(told_sense(column.name), sense_above(table.above))
    zero = (wind == 0) & ~by_label & (unit in ("deg", "tens")) & (sense != TOWARD)
    remarks = [remark] if remark else []
    if sense == OPEN and (~np.isnan(wind[moving])).any():
        sense = answers.direction_sense or _raise_ask(wind, moving, column, table, where)
    if sense == TOWARD:
        wind = np.where((wind >= 0) & (wind <= 360), (wind + 180.0) % 360.0, wind)
        remarks.append(f"'{column.name}' says where the wind goes: turned about")
    return Directions(wind, np.where(by_label, half[0], half[1]), words, zero, tuple(remarks))


def _half_width_deg(cells, degrees: Floats, unit: str) -> tuple[float, float]:
    """Half-width of labels, and of numbers."""
    labels = [d.label for d in cells if d and d.label]
    of_labels = half_width_of_labels(labels) if labels else HALF_WIDTH_DEGREES_DEG
    plain = half_width_of_degrees(degrees.tolist()) if unit == "deg" else UNITS[unit].half_width_deg
    return of_labels, plain


def _raise_ask(wind: Floats, moving, column: Column, table: Table, where: str) -> str:
    row = int(np.argmax(moving & ~np.isnan(wind)))
    deg, line = float(wind[row]), table.lines[row]
    choices = (
        Choice("from", f"where the wind comes from: line {line} is from {point_name(deg)}"),
        Choice("toward", f"where it goes: line {line} is from {point_name((deg + 180) % 360)}"),
    )
    raise NeedsAnswer(
        f"'{column.name}' may be where the wind comes from or where it goes",
        where,
        "direction_sense",
        choices,
    )
