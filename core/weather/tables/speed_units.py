"""Which unit the speeds of a table are in: its cells, rows, headers, or lines above."""

import re
from collections.abc import Iterable

import numpy as np

from core.errors import BadWeather, Choice, NeedsAnswer
from core.units import MPS_PER_MPH
from core.weather.answers import SPEED_UNITS_MPS, unit_word
from core.weather.hours import Floats

_UNIT = (
    r"(mph|mp/h|mi/h|miles per hour|knots?|kts?|kn|m/s|m s-1|mps|met(?:er|re)s per second"
    r"|km/h|kmh|kph)(?![a-z])"
)
# a statement of the unit; a speed that a headline warns of has a number before its unit
_ABOVE = (
    re.compile(
        r"\bunits?\b(?:\s+(?:of|for)\s+(?:the\s+)?(?:winds?|speeds?|wind speeds?))?"
        r"(?:\s*(?:are|is|in)\b)*\s*[:=,(-]*\s*" + _UNIT,
        re.IGNORECASE,
    ),
    re.compile(
        r"\b(?:winds?(?:[ _]speeds?)?|speeds?)\b(?:\s*(?:is|are|values?|and gusts?|given|shown"
        r"|reported|measured|expressed|listed|recorded|units?|data)\b)*"
        r"\s*(?:in\b|[:=(,\[])\s*" + _UNIT,
        re.IGNORECASE,
    ),
)
_SCALED = re.compile(
    r"[x×*]\s*10+\b|/\s*10+\b(?!\s*(?:m|min)\b)|\b10+\s*[x×*]|(?<!\d)0[.,]\d+|\b1e-?\d"
    r"|\b1\s*/\s*10+\b|tenths?|hundredths?",
    re.IGNORECASE,
)
_FINENESS = re.compile(r"(?:resolution|precision|accuracy|step)s?\W*(?:of\W*)?0[.,]\d+", re.I)


def unit_above(lines: Iterable[str]) -> str | None:
    """The unit of wind that the lines above the header tell; None without just one.

    Args: the lines. Only a statement of the unit counts, as in `wind in kt`.
    """
    said = {unit_word(f[1]) for line in lines for pattern in _ABOVE for f in pattern.finditer(line)}
    return said.pop() if len(said) == 1 else None


def refuse_scaled(name: str, where: str) -> None:
    """Refuses speeds that were multiplied, as `wind_kt*10`. Args: the column's name; the
    file. Raises: BadWeather."""
    if _SCALED.search(_FINENESS.sub("", name)):
        raise BadWeather(
            f"the numbers of '{name}' are multiplied or divided",
            where,
            "Write the speeds themselves, in mph, knots, m/s or km/h.",
        )


def row_factors(
    name: str,
    told: str | None,
    above: str | None,
    by_row: Floats,
    answer: str | None,
    needed: np.ndarray,
    example: tuple[float, int],
    where: str,
) -> Floats:
    """Metres per second in one of each row's unit, where its cell names none.

    Args: the column's name; the units that its header and the lines above tell; factors of
    a column of units, shape (row,), NaN for none; the unit answered; rows with a speed whose
    cell names no unit; a speed and its line, for the question; the file.
    Missing: NaN where no row needs it.
    Raises: NeedsAnswer where nothing tells the unit, or two tell different ones.
    """
    factor = np.where(np.isnan(by_row), _factor(told or above), by_row)
    rows = by_row[needed & ~np.isnan(by_row)]
    said = {told, above, *(_unit_of(f) for f in np.unique(rows))} - {None}
    lacking = bool((np.isnan(factor) & needed).any())
    if not lacking and (len(said) < 2 or not (told or above)):
        return factor
    if answer is not None:
        if len(said) > 1:
            return np.full(len(by_row), _factor(answer))
        return np.where(np.isnan(factor), _factor(answer), factor)
    if not needed.any():
        return factor
    why = f"the column '{name}' does not say its unit"
    if len(said) > 1:
        why = f"'{name}' is said to be in {' and in '.join(sorted(map(str, said)))}"
    raise _ask(why, tuple(sorted(map(str, said))) if len(said) > 1 else (), example, where)


def _factor(unit: str | None) -> float:
    return SPEED_UNITS_MPS[unit] if unit else np.nan


def _unit_of(factor: float) -> str:
    return next(u for u, f in SPEED_UNITS_MPS.items() if f == factor)


def _ask(why: str, units: tuple[str, ...], example: tuple[float, int], where: str) -> NeedsAnswer:
    speed, line = example
    choices = tuple(
        Choice(unit, f"line {line} is {speed * SPEED_UNITS_MPS[unit] / MPS_PER_MPH:.1f} mph")
        for unit in units or SPEED_UNITS_MPS
    )
    return NeedsAnswer(why, where, "speed_unit", choices)
