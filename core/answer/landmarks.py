"""Named places of a ground as they are seen from a spot, by which a puff of powder tells the wind.

With no number and no compass a hunter sees towards what the puff drifts. At most one place
stands for each of the eight winds, chosen so that none is taken for another.
"""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from core.angles import separation_deg, wrap_deg
from core.ground.layout import Mark
from core.ground.plan import bearing_deg
from core.sit.scene import Scene

SECTORS = 8  # as many as the winds that are told apart at a truck
NEAREST_M = 40.0  # a place nearer than that lies all about
LEAST_APART_DEG = 20.0
FARTHER_COSTS = 0.02  # degrees off a sector's middle that a meter nearer is worth
HIDDEN = ("boundary", "camera")  # marks that nobody sees from afar, or that lie all round


@dataclass(frozen=True, slots=True)
class Landmark:
    """A named place as seen from a spot, and the wind whose air goes there: one of eight."""

    name: str
    bearing_deg: float
    distance_m: float
    sector: int  # of where it lies: 0 north, 1 north-east ...

    @property
    def wind(self) -> int:
        """The wind that carries a puff there, counted as the sectors are."""
        return (self.sector + SECTORS // 2) % SECTORS


def landmarks(scene: Scene, at_m) -> list[Landmark]:
    """The places that tell a puff's way, by bearing.

    Args: the scene; the spot in local metres, shape (2,).
    Returns: at most one for each of eight ways, none within 40 m or 20 degrees of another.
    """
    seen = [one for p in _named(scene) if (one := _seen(at_m, *p)) is not None]
    best: dict[int, Landmark] = {}
    for one in sorted(seen, key=_off):
        if one.name.casefold() not in {b.name.casefold() for b in best.values()}:
            best.setdefault(one.sector, one)
    kept: list[Landmark] = []
    for one in sorted(best.values(), key=_off):
        apart = [separation_deg(one.bearing_deg, other.bearing_deg) for other in kept]
        if min(apart, default=360.0) >= LEAST_APART_DEG:
            kept.append(one)
    return sorted(kept, key=lambda one: one.bearing_deg)


def _off(one: Landmark) -> tuple[float, str]:
    """How ill a place stands for its sector: off its middle, and far away."""
    off = separation_deg(one.bearing_deg, one.sector * 360 / SECTORS)
    return float(off) + FARTHER_COSTS * one.distance_m, one.name


def _seen(at_m, name: str, shape: shapely.Geometry) -> Landmark | None:
    middle = np.array(shape.representative_point().coords[0])
    far_m = float(shape.distance(shapely.Point(at_m)))
    if not name.strip() or far_m < NEAREST_M:
        return None
    toward = float(wrap_deg(bearing_deg(np.asarray(at_m, float), middle)))
    sector = math.floor(toward / (360 / SECTORS) + 0.5) % SECTORS
    return Landmark(name, toward, far_m, sector)


def _named(scene: Scene) -> list[tuple[str, shapely.Geometry]]:
    areas = [(a.name, p) for a, p in zip(scene.areas, scene.polygons, strict=True)]
    marks = [(m.name, _shape(scene, m)) for m in scene.ground.marks if m.kind not in HIDDEN]
    return areas + marks


def _shape(scene: Scene, mark: Mark) -> shapely.Geometry:
    if mark.geometry == "Polygon":
        return scene.area_of(mark)
    points = scene.plane.points(mark.points)
    return shapely.Point(points[0]) if mark.geometry == "Point" else shapely.LineString(points)
