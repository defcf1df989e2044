"""Shapes of a GeoJSON file: positions, lines and rings, checked and wound as they should be.

Source: [rfc7946], 3.1: longitude before latitude; rings closed, four positions and more;
outer rings counter-clockwise, holes clockwise.
"""

import itertools
import math
import re
from typing import Any

from core.angles import signed_difference_deg
from core.ground.fields import Fault, shown
from core.ground.layout import Line, LonLat
from core.ground.plan import Plane
from core.ground.timezone_places import great_circle_m

SHAPES = ("Point", "LineString", "Polygon")
FAR_FROM_ZONE_M = 3_000_000.0
LEAST_AREA_M2 = 0.01
LEAST_RING = 4  # positions, the closing one included
WORDS = {"Point": "a point", "LineString": "a line", "Polygon": "an area"}


def shape_of(geometry: Any) -> str:
    """The geometry's type. Raises: Fault for none, for several in one, and for odd ones."""
    if geometry is None:
        raise Fault("has no geometry", "Draw it, or take the feature out.")
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    if isinstance(kind, str) and (kind.startswith("Multi") or kind == "GeometryCollection"):
        raise Fault(
            f"has the geometry {kind}, several shapes in one",
            "Split it into features of one shape each.",
        )
    if kind not in SHAPES:
        raise Fault(f"has the geometry {shown(kind)}", "Use one of: Point, LineString, Polygon.")
    return kind


def position(value: Any) -> LonLat:
    """(lon, lat) of a GeoJSON position; an altitude behind them is let through.

    Raises: Fault for what is no position and for degrees out of range.
    """
    if not isinstance(value, list) or len(value) < 2 or not all(map(_is_number, value)):
        raise Fault(
            f"has {shown(value)} where a place belongs",
            "Write longitude, then latitude: [-79.9, 36.1].",
        )
    lon, lat = value[:2]
    if not (-180 <= lon <= 180 and -90 <= lat <= 90):
        raise Fault(
            f"has the place {shown(value)}: longitude goes from -180 to 180, "
            "latitude from -90 to 90",
            "Write longitude first, then latitude.",
        )
    return float(lon), float(lat)


def _is_number(value: Any) -> bool:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    return isinstance(value, int) or math.isfinite(value)


def line_of(value: Any, least: int = 2) -> Line:
    """A sequence of positions. Raises: Fault for fewer than `least`."""
    if not isinstance(value, list):
        raise Fault(f"has {shown(value)} where a list of places belongs", "Draw it again.")
    if len(value) < least:
        raise Fault(
            f"has {len(value)} places in {shown(value)}, fewer than {least}",
            "Draw it again with enough points.",
        )
    return tuple(position(item) for item in value)


def ring_of(value: Any) -> Line:
    """A closed ring, the closing position included. Raises: Fault."""
    ring = line_of(value, LEAST_RING)
    if ring[0] != ring[-1]:
        raise Fault(
            f"has a ring that is not closed: it starts at {shown(value[0])} and "
            f"ends at {shown(value[-1])}",
            "Repeat the first place at the end.",
        )
    return ring


def signed_area_deg2(ring: Line) -> float:
    """Area of a closed ring in square degrees; above 0 if counter-clockwise.

    Source: the shoelace formula, from the first place, so that digits are kept
    and a ring across the 180th meridian stays whole.
    """
    lon_0, lat_0 = ring[0]
    flat = [(float(signed_difference_deg(lon, lon_0)), lat - lat_0) for lon, lat in ring]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(flat)) / 2


def wound(ring: list, *, outer: bool) -> list:
    """A ring's positions as they came, turned round if it is wound the wrong way.

    Args:
        ring: a closed ring of GeoJSON positions.
        outer: an outer ring runs counter-clockwise, a hole clockwise.
    """
    area = signed_area_deg2(tuple(position(p) for p in ring))
    return ring[::-1] if area and (area > 0) != outer else ring


def polygon_of(value: Any) -> tuple[list, list[Line]]:
    """An area's rings as GeoJSON, wound as they should be, and as closed lines.

    Raises: Fault for what is no ring, or one that is not closed.
    """
    if not isinstance(value, list) or not value:
        raise Fault(f"has {shown(value)} where the rings of an area belong", "Draw it again.")
    rings = [ring_of(ring) for ring in value]
    turned = [wound(ring, outer=i == 0) for i, ring in enumerate(value)]
    lines = [r[::-1] if t != v else r for r, t, v in zip(rings, turned, value, strict=True)]
    return turned, lines


def check_area(rings: list[Line]) -> None:
    """That an area has an extent and does not cross itself. Raises: Fault."""
    import shapely

    plane = Plane(rings[0][0])
    local = [plane.points(ring) for ring in rings]
    area = shapely.Polygon(local[0], local[1:])
    if shapely.convex_hull(shapely.MultiPoint(local[0])).area < LEAST_AREA_M2:
        raise Fault("has no extent: its outline encloses nothing", "Draw it again.")
    if shapely.is_valid(area):
        return
    reason = shapely.is_valid_reason(area)
    raise Fault(f"{_said(reason)}{_near(reason, plane)}", "Draw its outline again.")


def _said(reason: str) -> str:
    words = (
        ("Hole lies outside", "has a hole that lies outside it"),
        ("Holes are nested", "has a hole inside a hole"),
        ("Interior is disconnected", "is cut in pieces by its holes"),
        ("Too few points", "has a ring with too few different places"),
    )
    return next((said for key, said in words if reason.startswith(key)), "crosses itself")


def _near(reason: str, plane: Plane) -> str:
    found = re.search(r"\[(\S+) (\S+)\]", reason)
    if not found:
        return ""
    lon, lat = plane.to_lonlat(float(found.group(1)), float(found.group(2)))
    return f" near [{float(lon):.6f}, {float(lat):.6f}]"


def check_near_timezone(place: LonLat, timezone_at: LonLat | None, timezone: str) -> None:
    """That a place is on the time zone's side of the world. Raises: Fault.

    Args:
        place: (lon, lat). [deg]
        timezone_at: the zone's own place; None skips the check.
        timezone: the zone's name, for the message.
    """
    if timezone_at is None or great_circle_m(place, timezone_at) <= FAR_FROM_ZONE_M:
        return
    lon, lat = place
    km = great_circle_m(place, timezone_at) / 1000
    what = f"has the place [{lon:g}, {lat:g}], {km:,.0f} km from the time zone {timezone}"
    if abs(lon) <= 90 and great_circle_m((lat, lon), timezone_at) <= FAR_FROM_ZONE_M:
        raise Fault(f"{what}: longitude and latitude are swapped", f"Write [{lat:g}, {lon:g}].")
    raise Fault(what, "Mend the place, or the property's time zone.")
