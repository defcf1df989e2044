"""The wind group of a METAR report."""

import math
import re
from dataclasses import dataclass

from core.angles import HALF_WIDTH_DEGREES_DEG, separation_deg

_WIND = re.compile(
    r"(?<!\S)(?P<dir>\d{3}|VRB|///)(?P<speed>P?\d{2,3}|//)(?:G(?P<gust>P?\d{2,3}|//))?"
    r"(?P<unit>KTS?|MPS|KMH)(?:\s+(?P<left>\d{3})V(?P<right>\d{3})(?!\S))?(?!\S)"
)
_KIND = re.compile(r"^\s*(TAF|METAR|SPECI)\b")
UNITS = {"KT": "kt", "KTS": "kt", "MPS": "m/s", "KMH": "km/h"}


@dataclass(frozen=True, slots=True)
class MetarWind:
    """A wind group: NaN for what it does not tell; speed and gust in `unit`."""

    wind_from_deg: float
    half_width_deg: float
    speed: float
    gust: float
    unit: str
    special: bool = False


def read_metar(text: str) -> MetarWind | None:
    """The wind of a report: its first wind group.

    Args: the report. VRB and no direction give NaN degrees; a span such as 270V330
    widens the half-width to take in both of its ends; P99 is 99 at least.
    Returns: None for a text without a wind group, or for a TAF.
    """
    text = text.strip().upper().rstrip("=")
    kind = _KIND.match(text)
    if kind and kind[1] == "TAF":
        return None
    found = _WIND.search(text.split(" RMK ")[0])
    if not found:
        return None
    direction = float(found["dir"]) if found["dir"].isdigit() else math.nan
    half = HALF_WIDTH_DEGREES_DEG
    if found["left"] and direction == direction:
        ends = [float(separation_deg(direction, float(found[k]))) for k in ("left", "right")]
        half = max(half, *ends)
    return MetarWind(
        direction,
        half,
        _number(found["speed"]),
        _number(found["gust"]),
        UNITS[found["unit"]],
        bool(kind and kind[1] == "SPECI"),
    )


def _number(text: str | None) -> float:
    return float(text.removeprefix("P")) if text and text != "//" else math.nan
