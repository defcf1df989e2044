"""One cell of a weather table: a speed, a direction or a number, as people write it."""

import math
import re
from dataclasses import dataclass

from core.angles import (
    HALF_WIDTH_8_DEG,
    HALF_WIDTH_16_DEG,
    HALF_WIDTH_DEGREES_DEG,
    POINT_WIDTH_DEG,
    POINTS_16,
    separation_deg,
)
from core.weather.answers import unit_word

# marks that stand for "no value" in the tables seen
NO_VALUE = {
    "",
    "na",
    "n/a",
    "nan",
    "null",
    "none",
    "nil",
    "-",
    "--",
    "---",
    "m",
    "mm",
    "missing",
    "nd",
    "no data",
    "nodata",
    "?",
    "#n/a",
    "//",
    "///",
    "/////",
    "undefined",
    "tr",
}
NO_VALUE_NUMBERS = {-99.0, -99.9, -999.0, -999.9, -9999.0, -9900.0, -99.99, 9999.0}
NO_DIRECTION_NUMBERS = NO_VALUE_NUMBERS | {999.0}
VARIABLE_WORDS = {"vrb", "var", "variable", "lightandvariable", "lightvariable", "ltvrb", "lv"}
TELLING_HOURS = 24  # fewer hours of 45, 90, 135 may be so by chance
CALM_WORDS = {"calm", "clm", "still", "c"}
LETTERS = {"north": "N", "east": "E", "south": "S", "west": "W"}
_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d{1,3})?"
_PLAIN = re.compile(rf"{_NUMBER}|[+-]?inf(?:inity)?", re.IGNORECASE)
# 1,008 may be a thousand and eight, so it is not read as either
_THOUSANDS = re.compile(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_UNIT = r"(?!to\b|g\b|g\d|gust)[a-z/]+(?:\s?per\s?[a-z]+|\s?[sh]\*{0,2}-1|\s?/\s?[a-z]+)?"
_SPEED = re.compile(
    rf"(?P<low>{_NUMBER})\s*(?P<unit1>{_UNIT})?"
    rf"(?:\s*(?:-|–|—|\bto\b)\s*(?P<high>\d+\.?\d*)\s*(?P<unit2>{_UNIT})?)?"
    rf"(?:[,\s]*(?:gust(?:s|ing)?|g)\s*(?:to|of|up to)?\s*(?P<gust>\d+\.?\d*)"
    rf"\s*(?P<unit3>{_UNIT})?)?",
    re.IGNORECASE,
)
_DEGREES = re.compile(rf"({_NUMBER})\s*(?:°|º|deg(?:rees?)?|grad)?(?:\s*true)?", re.IGNORECASE)
_BOTH = re.compile(
    r"(?P<word>[a-z][a-z -]*?)\W*\(?(?P<deg>\d+(?:\.\d+)?)\s*(?:°|deg(?:rees)?)?\)?", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Speed:
    """Both ends of a speed, its gust (NaN for none), and the unit it names."""

    low: float
    high: float
    gust: float = math.nan
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Direction:
    """A direction: degrees, or NaN with the word calm, variable or missing."""

    wind_from_deg: float
    label: str = ""
    word: str = ""


def read_number(text: str) -> float | None:
    """A number with point or comma; NaN for a mark of no value; None for other text.

    Args: the cell. `inf` is a number: what can't be is thrown out later.
    """
    word = text.strip().replace("−", "-")
    if word.casefold() in NO_VALUE:
        return math.nan
    if word.count(",") == 1 and "." not in word and not _THOUSANDS.search(word):
        word = _COMMA.sub(".", word)
    if not _PLAIN.fullmatch(word):
        return None
    value = float(word)
    return math.nan if value in NO_VALUE_NUMBERS else value


def read_speed(text: str) -> Speed | None:
    """A speed such as `6`, `5 to 10 mph`, `12 km/h`, `10G20KT` or `calm`.

    Args: the cell.
    Missing: NaN ends for a mark of no value.
    Returns: None for what is no speed, or names a unit that is not known.
    """
    plain = read_number(text)
    if plain is not None:
        return Speed(plain, plain)
    word = text.strip().casefold()
    if word in CALM_WORDS:
        return Speed(0.0, 0.0)
    word = word if _THOUSANDS.search(word) else _COMMA.sub(".", word.replace("−", "-"))
    word = re.sub(r"^(?:around|about|near)\s+", "", word)
    found = _SPEED.fullmatch(word)
    if not found:
        return None
    words = [found[u] for u in ("unit1", "unit2", "unit3") if found[u]]
    units = {unit_word(u) for u in words}
    if len(units) > 1 or None in units:
        return None
    low = float(found["low"])
    high = float(found["high"]) if found["high"] else low
    if high < low:
        return None
    gust = float(found["gust"]) if found["gust"] else math.nan
    return Speed(low, high, gust, units.pop() if units else None)


def read_direction(text: str) -> Direction | None:
    """A direction in degrees, as one of the sixteen points, or calm, variable, none.

    Args: the cell.
    Missing: NaN degrees with the word missing.
    Returns: None for what is no direction.
    """
    word = text.strip()
    number = read_number(word)
    if number is not None and math.isnan(number):
        return Direction(math.nan, word="missing")
    found = _DEGREES.fullmatch(word if _THOUSANDS.search(word) else word.replace(",", "."))
    if number is None and found:
        number = float(found[1])
    if number is not None:
        missing = number in NO_DIRECTION_NUMBERS
        return Direction(math.nan, word="missing") if missing else Direction(number)
    label = point_label(word)
    if label:
        return Direction(POINTS_16.index(label) * POINT_WIDTH_DEG, label)
    letters = re.sub(r"[^a-z]", "", word.casefold())
    if letters in VARIABLE_WORDS:
        return Direction(math.nan, word="variable")
    if letters in CALM_WORDS:
        return Direction(math.nan, word="calm")
    return _label_with_degrees(word)


def _label_with_degrees(text: str) -> Direction | None:
    """`NW (315°)`: the degrees, where they fit the label."""
    found = _BOTH.fullmatch(text)
    label = point_label(found["word"]) if found else ""
    if not found or not label:
        return None
    degrees = float(found["deg"])
    apart = separation_deg(degrees, POINTS_16.index(label) * POINT_WIDTH_DEG)
    return Direction(degrees) if degrees <= 360 and apart <= HALF_WIDTH_8_DEG + 0.5 else None


def point_label(text: str) -> str:
    """One of the sixteen points in capitals, from letters or words; empty for none.

    Args: such as `nnw`, `North`, `West-Northwest`, `north west`.
    """
    word = text.strip().casefold().removeprefix("from the ").removeprefix("from ")
    word = re.sub(r"(?<=st|th)er(?:n|ly)$", "", word)
    for name, letter in LETTERS.items():
        word = word.replace(name, letter)
    label = re.sub(r"[\s._-]", "", word).upper()
    return label if label in POINTS_16 else ""


def half_width_of_labels(labels) -> float:
    """Half-width of the labels of one file. [deg]

    Args: labels of the sixteen points, at least one.
    A file that names a point such as NNW names sixteen; one that never does may
    name only eight, and the wider sector is the careful one.
    """
    return HALF_WIDTH_16_DEG if any(len(label) == 3 for label in labels) else HALF_WIDTH_8_DEG


def half_width_of_degrees(directions_deg) -> float:
    """Half-width of directions in degrees, from their own steps. [deg]

    Args: the directions of the hours of one file, no NaN. Degrees that are all of
    the sixteen points, some with a half degree, came from labels; a day or more of
    45, 135 and their like, which are no steps of ten degrees, from eight labels.
    """
    # what is no direction at all is thrown out later and tells nothing here
    steps = [d / POINT_WIDTH_DEG for d in directions_deg if 0 <= d <= 360]
    if not steps or any(s != int(s) for s in steps):
        return HALF_WIDTH_DEGREES_DEG
    if any(s % 2 for s in steps):
        return HALF_WIDTH_16_DEG
    eight = len(steps) >= TELLING_HOURS and any(s % 4 for s in steps)
    return HALF_WIDTH_8_DEG if eight else HALF_WIDTH_DEGREES_DEG
