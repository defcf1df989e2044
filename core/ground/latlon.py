"""Places typed as people write them: latitude first, one place a line."""

import re

from core.errors import BadProperty
from core.ground.fields import printable
from core.ground.kinds import LINE, POINT, POLYGON

NUMBER = r"([+-]?\d{1,3}(?:\.\d+)?)\s*°?\s*([NSEWnsew]?)"
PLACE = re.compile(rf"\s*\(?\s*{NUMBER}\s*[,;\s]\s*{NUMBER}\s*\)?\s*")
LEAST = {POINT: 1, LINE: 2, POLYGON: 3}
EXAMPLE = "36.101234, -79.901234"


def places_from_text(text: str, shape: str) -> dict:
    """A GeoJSON geometry from lines of latitude and longitude.

    Args:
        text: one place a line, as "36.101234, -79.901234" or "36.101234 N 79.901234 W".
        shape: Point, LineString or Polygon; an area's first place need not come again.

    Raises: BadProperty, with the line.
    """
    lines = [(n, line) for n, line in enumerate(text.splitlines(), 1) if line.strip()]
    places = [_place(line, number) for number, line in lines]
    if shape == POLYGON and len(places) > 1 and places[0] == places[-1]:
        places = places[:-1]
    if len(places) < LEAST[shape] or (shape == POINT and len(places) > 1):
        word = {POINT: "one place", LINE: "two places or more", POLYGON: "three places or more"}
        raise BadProperty(
            f"there are {len(places)} places here", "", f"Write {word[shape]}, one a line."
        )
    if shape == POINT:
        return {"type": POINT, "coordinates": places[0]}
    if shape == LINE:
        return {"type": LINE, "coordinates": places}
    return {"type": POLYGON, "coordinates": [[*places, places[0]]]}


def _place(line: str, number: int) -> list[float]:
    found = PLACE.fullmatch(line)
    where = f"line {number}"
    if not found:
        raise BadProperty(
            f'"{printable(line.strip())}" is not a place',
            where,
            f"Write latitude, then longitude, like {EXAMPLE}.",
        )
    first, side_1, second, side_2 = found.groups()
    lat, lon = _signed(first, side_1), _signed(second, side_2)
    if side_1.upper() in ("E", "W") or side_2.upper() in ("N", "S"):
        lat, lon = lon, lat
    if not (abs(lat) <= 90 and abs(lon) <= 180):
        raise BadProperty(
            f"latitude {lat:g}, longitude {lon:g} is not on the earth",
            where,
            f"Latitude comes first and is at most 90, like {EXAMPLE}.",
        )
    return [lon, lat]


def _signed(number: str, side: str) -> float:
    value = float(number)
    return -value if side.upper() in ("S", "W") else value


def text_from_places(geometry: dict) -> str:
    """A geometry's places as lines of latitude and longitude; an area's outline only."""
    places = geometry["coordinates"]
    if geometry["type"] == POINT:
        places = [places]
    elif geometry["type"] == POLYGON:
        places = places[0][:-1]
    return "\n".join(f"{lat:.7f}, {lon:.7f}" for lon, lat, *_ in places)
