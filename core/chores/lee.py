"""Trails that run along the downwind edge of a bed: information, and no part of any order.

Some hunters count on bucks there; no published test supports it. The distance is common
practice, no source, and a setting of the property.
"""

import math
from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import shapely
import shapely.geometry.polygon

from core.sit.scene import Scene
from core.units import M_PER_YD

EVERY_M = 5.0
ABREAST = math.cos(math.radians(45.0))  # farther off the wind, a trail is beside the bed


@dataclass(frozen=True, slots=True)
class Lee:
    """A trail, the bed whose downwind edge it runs along, and how near it comes. [m]"""

    trail: str
    bed: str
    distance_m: float


def lee_trails(
    scene: Scene, trails: Collection[str], wind_from_deg: float, month: int
) -> list[Lee]:
    """The trails that run along the downwind edge of a bed, by trail, nearest bed first.

    Args: the scene; ids of the trails that matter; the wind; the month, 1 to 12.
    Returns: those with a point outside the bed and downwind, by 45 degrees to either side, of
    the nearest point of its downwind edge, within the property's distance.
    Missing: none without a direction.
    """
    if math.isnan(wind_from_deg):
        return []
    to_rad = math.radians(wind_from_deg + 180.0)
    downwind = np.array([math.sin(to_rad), math.cos(to_rad)])
    within_m = scene.ground.work.lee_within_yd * M_PER_YD
    found = []
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        if area.kind != "bedding" or area.held == "never" or month not in area.months:
            continue
        edge = downwind_edge(polygon, downwind)
        for trail in trails:
            far_m = _along(scene.corridor_lines[trail], polygon, edge, downwind, within_m)
            if far_m is not None:
                found.append(Lee(trail, area.id, far_m))
    return sorted(found, key=lambda lee: (lee.trail, lee.distance_m))


def downwind_edge(polygon: shapely.Polygon, downwind) -> shapely.MultiLineString:
    """The sides of an area that face where the air goes. Args: it; a unit vector, (2,)."""
    ring = shapely.get_coordinates(shapely.geometry.polygon.orient(polygon).exterior)
    sides = np.stack([ring[:-1], ring[1:]], axis=1)
    along = sides[:, 1] - sides[:, 0]
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1)  # of a ring that turns left
    length = np.hypot(*along.T)
    faces = outward @ downwind > 1e-9 * np.maximum(length, 1e-9)
    return shapely.MultiLineString(list(sides[faces]))


def _along(line, polygon, edge, downwind, within_m: float) -> float | None:
    """How near a trail comes to a downwind edge from downwind; None where it does not. [m]"""
    if edge.is_empty or shapely.distance(line, edge) > within_m:
        return None
    spots = shapely.points(shapely.get_coordinates(shapely.segmentize(line, EVERY_M)))
    gaps = shapely.get_coordinates(shapely.shortest_line(edge, spots)).reshape(-1, 2, 2)
    gap = gaps[:, 1] - gaps[:, 0]
    far_m = np.hypot(*gap.T)
    lies = (
        (gap @ downwind > ABREAST * far_m) & (far_m <= within_m) & ~shapely.contains(polygon, spots)
    )
    return float(far_m[lies].min()) if lies.any() else None
