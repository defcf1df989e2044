"""In which unit a column of directions counts: degrees, tens of them, radians, sectors.

A name that says its unit is believed. Where it says none, numbers that are all 36 or
less may be anything, and are asked about.
"""

import re
from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_8_DEG, HALF_WIDTH_16_DEG, HALF_WIDTH_DEGREES_DEG, point_name
from core.errors import BadWeather, Choice, NeedsAnswer
from core.weather.hours import Floats
from core.weather.reading.words import tokens

LARGEST_TENS = 36
VARIABLE_TENS = 99  # in reports that count in tens
ROUND_UP = 1e-3  # a full turn in radians, as it is rounded


@dataclass(frozen=True, slots=True)
class AngleUnit:
    """Degrees in one of it, what it counts from, its largest number, and how it is said."""

    deg: float
    largest: float
    half_width_deg: float
    said: str
    whole: bool = True
    first: float = 0.0


UNITS = {
    "deg": AngleUnit(1.0, 360, HALF_WIDTH_DEGREES_DEG, "degrees", whole=False),
    "tens": AngleUnit(10.0, LARGEST_TENS, HALF_WIDTH_DEGREES_DEG, "tens of degrees"),
    "rad": AngleUnit(
        float(np.degrees(1.0)), 2 * np.pi + ROUND_UP, HALF_WIDTH_DEGREES_DEG, "radians", whole=False
    ),
    "turns": AngleUnit(360.0, 1, HALF_WIDTH_DEGREES_DEG, "turns", whole=False),
    "sixteenths": AngleUnit(22.5, 16, HALF_WIDTH_16_DEG, "sixteen points, north is 0"),
    "sixteenths-1": AngleUnit(22.5, 16, HALF_WIDTH_16_DEG, "sixteen points, north is 1", first=1),
    "eighths": AngleUnit(45.0, 8, HALF_WIDTH_8_DEG, "eight points, north is 0"),
    "eighths-1": AngleUnit(45.0, 8, HALF_WIDTH_8_DEG, "eight points, north is 1", first=1),
}
OPEN = "open"  # a name that hints at a unit and leaves it in doubt
_RESOLUTION = re.compile(
    r"\b(?:(?:to )?(?:the )?nearest|rounded(?: to)?(?: the)?(?: nearest)?|steps? of|in steps of)"
    r"(?: whole)? (?:\d+|tens?|ten|one)s?\b|\b\d+ deg(?:rees?)? (?:steps?|bins?)\b"
)
_TENS = re.compile(r"\b(?:tens|10s|10 ?s) (?:of )?(?:deg|degrees)\b|\bdeca?deg\w*|\bdekadeg\w*")
_TENFOLD = re.compile(r"deg\w*\s*[x×*]\s*10\b|\b10\s*[x×*]\s*deg|°\s*[x×*]\s*10\b|\b10\s*°")
_MAGNETIC = re.compile(r"(?:°|º|deg(?:rees?)?)[\s_]*m\b|(?<![a-z])mag(?![a-z])|magn", re.IGNORECASE)
OTHERS = {
    "gon": "gons",
    "gons": "gons",
    "gradian": "gons",
    "gradians": "gons",
    "grads": "gons",
    "mil": "mils",
    "mils": "mils",
    "mrad": "milliradians",
}
_ROUND = re.compile(
    r"\b(?:counter|anti) ?clockwise\b|\bccw\b|\bmath\w*\b|\bcartesian\b"
    r"|\b(?:e|east) of (?:n|north)\b"
    r"|\bfrom (?:the )?(?:east|south|west|[esw])\b|\b0 (?:is |at )?(?:east|south|west|[esw])\b"
)


def told_unit(name: str) -> str:
    """The unit that a column's name tells. Args: the name as written.

    Returns: a key of `UNITS`, `open` where it hints at one of them, or empty.
    """
    words = _RESOLUTION.sub(" ", " ".join(tokens(name)))
    said = set(words.split())
    if _TENS.search(words) or _TENFOLD.search(name.casefold()):
        return "tens"
    if said & {"rad", "radian", "radians"}:
        return "rad"
    if said & {"turn", "turns", "revolution", "revolutions"}:
        return "turns"
    if said & {"tens", "10s", "sector", "sectors", "octant", "octants", "points", "code", "index"}:
        return OPEN
    signs = set(re.findall(r"[°º]", name))
    return "deg" if signs or said & {"deg", "degree", "degrees", "grad", "degt"} else ""


def refuse_other_angles(name: str, where: str) -> None:
    """Refuses directions that are counted from another north, another way round, or in a
    unit that can't be used. Args: the column's name; the file. Raises: BadWeather."""
    words = tokens(name)
    other = next((OTHERS[w] for w in words if w in OTHERS), None)
    if other:
        raise BadWeather(f"'{name}' is in {other}", where, "Use degrees.")
    if _ROUND.search(" ".join(words)):
        raise BadWeather(
            f"'{name}' is not counted clockwise from north",
            where,
            "Use directions clockwise from true north.",
        )
    refuse_magnetic(name, f"'{name}'", where)


def refuse_magnetic(text: str, said: str, where: str) -> None:
    """Refuses directions from magnetic north. Args: a name or line; how it is called; the
    file. Raises: BadWeather."""
    if _MAGNETIC.search(text):
        raise BadWeather(
            f"{said} counts from magnetic north", where, "Use directions from true north."
        )


def settled_unit(
    told: str, answer: str | None, numbers: Floats, name: str, where: str, line: int
) -> tuple[str, str]:
    """The unit of a column of directions, and a remark; one that stays open is asked.

    Args: that of `told_unit`; the answer, if any; the numbers of the column that are
    directions of a moving wind, shape (row,); the column's name; the file; the line of
    the first of them. Raises: NeedsAnswer where the numbers fit several units and none is
    told; BadWeather where they don't fit the one that is told or answered.
    """
    moving = numbers[np.isfinite(numbers)]
    small = not len(moving) or float(moving[moving != VARIABLE_TENS].max(initial=0)) <= LARGEST_TENS
    if not small and told in ("", "deg", "tens", OPEN) and answer in (None, "deg"):
        # up to 360 in tens of degrees is what a rounding to tens looks like
        return "deg", f"'{name}' goes beyond 36: read as degrees" if told in ("tens", OPEN) else ""
    if told and told != OPEN:
        if told == "deg" and len(moving) and (moving > 0).any():
            return "deg", f"all directions are 36 or less: degrees, as '{name}' says"
        _refuse_misfit(told, moving, name, where)
        return told, f"'{name}' was read in {UNITS[told].said}" if told != "deg" else ""
    if not (moving > 0).any():
        return "deg", ""
    if answer is None:
        raise _ask(moving, name, where, line)
    _refuse_misfit(answer, moving, name, where)
    return answer, ""


def _refuse_misfit(unit: str, moving: Floats, name: str, where: str) -> None:
    if unit != "deg" and not _fits(unit, moving):
        raise BadWeather(
            f"'{name}' goes up to {moving.max():g}, too far for {UNITS[unit].said}",
            where,
            "Use degrees.",
        )


def _fits(unit: str, moving: Floats) -> bool:
    kind = UNITS[unit]
    usual = moving[moving != VARIABLE_TENS] if unit == "tens" else moving
    whole = not kind.whole or bool((usual == np.round(usual)).all())
    return whole and bool(((usual >= kind.first) & (usual <= kind.largest)).all())


def _ask(moving: Floats, name: str, where: str, line: int) -> NeedsAnswer:
    first = float(moving[0])
    choices = tuple(
        Choice(unit, f"{kind.said}: line {line} is from {_said(first, kind)}")
        for unit, kind in UNITS.items()
        if _fits(unit, moving)
    )
    return NeedsAnswer(
        f"the directions in '{name}' go no further than {moving.max():g}",
        where,
        "direction_unit",
        choices,
    )


def _said(number: float, kind: AngleUnit) -> str:
    deg = (number - kind.first) * kind.deg % 360
    return f"{deg:.0f}° ({point_name(deg)})"


def in_degrees(numbers: Floats, unit: str) -> Floats:
    """Directions in degrees. Args: numbers, shape (row,); a key of `UNITS`. What lies
    outside of the unit stays outside of 0 to 360; 99 tens are variable, so NaN."""
    kind = UNITS[unit]
    if unit == "deg":
        return numbers
    numbers = np.where((numbers == VARIABLE_TENS) & (unit == "tens"), np.nan, numbers)
    turned = (numbers - kind.first) * kind.deg
    inside = (numbers >= kind.first) & (numbers <= kind.largest)
    return np.where(inside, np.mod(turned, 360.0), np.where(np.isnan(numbers), np.nan, -1.0))
