"""Where on earth a file says that it is for."""

import math
from collections.abc import Iterator

from core.weather.hours import Spot


def spot_of(longitude: object, latitude: object) -> Spot | None:
    """A place from what a file says of it, numbers or text; None where it says none.

    Args: longitude and latitude [deg]. Numbers that are no place on earth are kept: they
    are another place than any ground.
    """
    try:
        spot = (float(longitude), float(latitude))  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return None
    return spot if all(map(math.isfinite, spot)) else None


def middle_of(geometry: object) -> Spot | None:
    """The middle of a GeoJSON geometry's corners; None where there is none. Args: it."""
    if not isinstance(geometry, dict):
        return None
    inner = geometry.get("geometries")
    if isinstance(inner, list):  # of several the last, the area
        return next((found for one in reversed(inner) if (found := middle_of(one))), None)
    corners = [spot for pair in _pairs(geometry.get("coordinates")) if (spot := spot_of(*pair))]
    if not corners:
        return None
    lons, lats = zip(*corners, strict=True)
    return (min(lons) + max(lons)) / 2, (min(lats) + max(lats)) / 2


def _pairs(coordinates: object, depth: int = 4) -> Iterator[tuple[object, object]]:
    """Positions of nested coordinates."""
    if not isinstance(coordinates, list) or not depth:
        return
    if len(coordinates) >= 2 and not isinstance(coordinates[0], list):
        yield coordinates[0], coordinates[1]
        return
    for inner in coordinates:
        yield from _pairs(inner, depth - 1)
