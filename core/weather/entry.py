"""A wind as people type it, turned into one hour that is held for all hours."""

import math
import re
from dataclasses import dataclass

from core.angles import HALF_WIDTH_16_DEG, HALF_WIDTH_DEGREES_DEG, POINTS_16, point_deg
from core.errors import BadWind
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.hours import FASTEST_MPS, Hours, make_hours
from core.weather.spoken import LIGHT, plain_wind

EXAMPLES = "Write it like NW 8, nw 8-12 mph gust 20, 315 at 4 m/s, W B3, calm or variable 3."
LIGHT_TO_MPH = 5.0  # NWS forecast terms, "light" and "light and variable": 0 to 5 mph
UNITS_MPS = {
    "mph": MPS_PER_MPH,
    "kt": MPS_PER_KNOT,
    "kts": MPS_PER_KNOT,
    "kn": MPS_PER_KNOT,
    "knot": MPS_PER_KNOT,
    "knots": MPS_PER_KNOT,
    "m/s": 1.0,
    "mps": 1.0,
    "ms": 1.0,
    "km/h": MPS_PER_KMH,
    "kmh": MPS_PER_KMH,
    "kph": MPS_PER_KMH,
}


@dataclass(frozen=True, slots=True)
class Force:
    """One Beaufort force: its speeds at 10 m and what shows it on land."""

    force: int
    low_mph: float
    high_mph: float
    name: str
    sign: str


# speeds and names: NWS, Beaufort wind scale (mph column); signs in our own words
BEAUFORT = (
    Force(0, 0, 0, "calm", "smoke goes straight up"),
    Force(1, 1, 3, "light air", "smoke leans"),
    Force(2, 4, 7, "light breeze", "felt on the face"),
    Force(3, 8, 12, "gentle breeze", "leaves and twigs keep moving"),
    Force(4, 13, 18, "moderate breeze", "small branches move"),
    Force(5, 19, 24, "fresh breeze", "small trees sway"),
    Force(6, 25, 31, "strong breeze", "big branches move"),
    Force(7, 32, 38, "near gale", "whole trees move"),
    Force(8, 39, 46, "gale", "twigs break off"),
    Force(9, 47, 54, "strong gale", "slates come loose"),
    Force(10, 55, 63, "storm", "trees come down"),
    Force(11, 64, 73, "violent storm", "damage all round"),
    Force(12, 74, 74, "hurricane", "nothing stands"),
)
SIGN_WORDS = {
    1: ("smoke leans", "smoke drifts"),
    2: ("felt on the face", "on face", "leaves rustle"),
    3: ("leaves and twigs", "leaves move", "twigs move"),
    4: ("small branches", "dust rises"),
    5: ("small trees",),
    6: ("big branches", "large branches"),
    7: ("whole trees",),
    8: ("twigs break",),
}

_NUMBER = r"\d+(?:\.\d+)?"
_SPEED = re.compile(
    rf"(?P<low>{_NUMBER})(?:\s*(?:-|–|to)\s*(?P<high>{_NUMBER}))?\s*(?P<unit>[a-z/]+)?"
    rf"(?:,?\s*(?:gusts?|gusting|g)\s*(?:to|of)?\s*(?P<gust>{_NUMBER})\s*(?P<gust_unit>[a-z/]+)?)?"
)
EXAMPLE_WIND = "an example"  # the source of a wind that nobody gave: it shows the demo


def sign_words(force: Force) -> str:
    """What shows a force, and its speeds. Args: the force."""
    if not force.high_mph:
        return f"{force.sign} ({force.name})"
    low, high = round(force.low_mph), round(force.high_mph)
    return f"{force.sign} ({low} to {high} mph)" if low < high else f"{force.sign} ({low} mph)"


def beaufort_force(speed_mph: float) -> int:
    """Force of a speed at 10 m, the speed taken to the whole mile an hour.

    Args: speed [mph]. Source: NWS Beaufort wind scale. Raises: nothing.
    """
    whole = int(speed_mph + 0.5)
    return max(f.force for f in BEAUFORT if whole >= f.low_mph)


def parse_wind(text: str, cloud_frac: float | None = None) -> Hours:
    """A typed wind as an hourly table of one row that is held for every hour.

    Args:
        text: such as `NW 8`, `315 at 4 m/s`, `W B3`, `W leaves rustle`, `calm`, or as it
            is said (`core.weather.spoken`): `8 NW`, `light and variable`. No unit means
            mph. Points have a half-width of 11.25 deg, degrees 5.
        cloud_frac: cloud cover, 0 to 1; None means 0.5.

    Raises: BadWind with examples where the text is not a wind.
    """
    cloud = _cloud(cloud_frac)
    words = plain_wind(text)
    if not text.strip():
        raise BadWind("no wind was typed", "the wind", EXAMPLES)
    if words in ("calm", "still", "still air", "no", "none"):
        return _held(text, cloud, speed_mps=0.0)
    head, rest = _head(words, text)
    low, high, gust = _speed(rest, text)
    wind, half = head
    if high == 0:
        return _held(text, cloud, speed_mps=0.0)
    return _held(
        text,
        cloud,
        speed_mps=(low + high) / 2,
        speed_low_mps=low,
        speed_high_mps=high,
        gust_mps=gust,
        wind_from_deg=wind,
        half_width_deg=half,
    )


def _cloud(cloud_frac: float | None) -> float:
    if cloud_frac is None:
        return 0.5
    if not 0.0 <= cloud_frac <= 1.0:
        raise BadWind(f"cloud {cloud_frac:g} is no share", "the cloud", "Give 0 to 1.")
    return cloud_frac


def _held(text: str, cloud_frac: float, **columns) -> Hours:
    return make_hours(
        start_s=[0],
        cloud_frac=cloud_frac,
        held=True,
        kind="typed",
        format="typed",
        source=f"typed: {text.strip()}",
        **columns,
    )


def _head(words: str, text: str) -> tuple[tuple[float, float], str]:
    """Direction and half-width, and the rest of the text."""
    found = re.match(r"(variable|vrb|[a-z]+)\b[\s,]*(.*)$", words)
    if found:
        word, rest = found.groups()
        if word in ("variable", "vrb"):
            return (math.nan, math.nan), rest
        if word.upper() in POINTS_16:
            return (point_deg(word), HALF_WIDTH_16_DEG), rest
        raise BadWind(f"'{text}' has no direction that is known", "the wind", EXAMPLES)
    found = re.match(rf"({_NUMBER})\s*(?:deg(?:rees)?)?(?:\s*(?:at|,|@)\s*|\s+)(.*)$", words)
    if not found:
        raise BadWind(f"'{text}' is not a wind", "the wind", EXAMPLES)
    degrees = float(found[1])
    if degrees > 360:
        raise BadWind(f"direction {degrees:g} is over 360", "the wind", EXAMPLES)
    return (degrees % 360.0, HALF_WIDTH_DEGREES_DEG), found[2]


def _speed(rest: str, text: str) -> tuple[float, float, float]:
    """Both ends of the speed and the gust. [m/s]"""
    rest = re.sub(r"^(at|@)\s+", "", rest.strip())
    if rest == LIGHT:
        return 0.0, LIGHT_TO_MPH * MPS_PER_MPH, math.nan
    force = re.fullmatch(r"(?:b|bft|beaufort|force)\s*(\d+)", rest)
    known = {f.force: f for f in BEAUFORT}
    number = (
        int(force[1])
        if force
        else next((f for f, signs in SIGN_WORDS.items() if any(s in rest for s in signs)), None)
    )
    if number is not None:
        if number not in known:
            raise BadWind(f"there is no force {number} in '{text}'", "the wind", EXAMPLES)
        row = known[number]
        return row.low_mph * MPS_PER_MPH, row.high_mph * MPS_PER_MPH, math.nan
    found = _SPEED.fullmatch(rest)
    if not found:
        raise BadWind(f"'{text}' has no speed that is known", "the wind", EXAMPLES)
    unit = _unit(found["unit"], text)
    low = float(found["low"]) * unit
    high = float(found["high"]) * unit if found["high"] else low
    gust = math.nan
    if found["gust"]:
        gust = float(found["gust"]) * (
            _unit(found["gust_unit"], text) if found["gust_unit"] else unit
        )
    if max(high, gust if gust == gust else 0.0) > FASTEST_MPS:
        most = f"{FASTEST_MPS:g} m/s ({math.floor(FASTEST_MPS / MPS_PER_MPH)} mph)"
        raise BadWind(f"'{text}' is over {most}, the most on record", "the wind", EXAMPLES)
    if high < low or gust < high:
        raise BadWind(f"the speeds in '{text}' do not fit", "the wind", EXAMPLES)
    return low, high, gust


def _unit(word: str | None, text: str) -> float:
    if word is None:
        return MPS_PER_MPH
    if word not in UNITS_MPS:
        raise BadWind(f"'{word}' in '{text}' is no unit of wind", "the wind", EXAMPLES)
    return UNITS_MPS[word]
