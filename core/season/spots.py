"""Places along the trails where another seat could hang, and the lane that leads there."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.ground.layout import Lane
from core.sit.scene import Scene
from core.units import M_PER_YD

EVERY_M = 15.0 * M_PER_YD
OFF_M = 20.0 * M_PER_YD  # off the corridor
LONGEST_CUT_M = 250.0 * M_PER_YD


@dataclass(frozen=True, eq=False)
class Spot:
    """A place for a stand: local metres, its corridor, its lane and the straight end."""

    at_m: npt.NDArray[np.float64]
    corridor: str
    lane: str
    cut_m: float


def spots_for(
    scene: Scene, off_m: float = OFF_M, corridor: str | None = None, *, clear: bool = False
) -> Iterator[Spot]:
    """Every 15 yards along the day corridors, some way off either side.

    Args: the scene; how far off [m]; the id of one corridor, or None for all; whether they
    keep as far off beds and seats as the property's settings say.
    Left out: spots inside a bed, off the property, in water or a no-shoot area, and
    those that no lane and a straight end past the beds reaches.
    """
    beds = [p for a, p in zip(scene.areas, scene.polygons, strict=True) if a.kind == "bedding"]
    in_beds = shapely.unary_union(beds)
    barred = shapely.unary_union([*beds, *_marked(scene, ("water", "no-shoot"))])
    if clear:
        barred = barred.union(_kept_off(scene, in_beds))
    inside = shapely.unary_union(_marked(scene, ("boundary",)))
    for trail in scene.ground.corridors:
        if not trail.brings_shot or corridor not in (None, trail.id):
            continue
        for at_m in _beside(scene.corridor_lines[trail.id], off_m):
            point = shapely.Point(at_m)
            off_ground = not inside.is_empty and not inside.covers(point)
            if off_ground or barred.covers(point):
                continue
            reached = nearest_lane(scene, at_m, in_beds)
            if reached is not None:
                yield Spot(at_m, trail.id, reached[0].id, reached[1])


def _kept_off(scene: Scene, in_beds) -> shapely.Geometry:
    """Ground too near to a bed, or to a seat that is there, for another seat."""
    rules = scene.ground.sit
    seats = shapely.MultiPoint(scene.stands_m)
    near = [in_beds.buffer(rules.spot_off_bed_yd * M_PER_YD)]
    near += [seats.buffer(rules.spot_off_seat_yd * M_PER_YD)]
    return shapely.unary_union(near)


def _marked(scene: Scene, kinds: tuple[str, ...]) -> list:
    return [
        scene.area_of(m) for m in scene.ground.marks if m.kind in kinds and m.geometry == "Polygon"
    ]


def _beside(line, off_m: float) -> Iterator[npt.NDArray[np.float64]]:
    """Places to the left and right of a line."""
    for along_m in np.arange(0.0, line.length + 1e-6, EVERY_M):
        ahead = line.interpolate(min(along_m + 1.0, line.length))
        behind = line.interpolate(max(along_m - 1.0, 0.0))
        d = np.array([ahead.x - behind.x, ahead.y - behind.y])
        d = d / max(1e-9, float(np.hypot(*d)))
        middle = line.interpolate(along_m)
        for side in (1.0, -1.0):
            yield np.array([middle.x - side * d[1] * off_m, middle.y + side * d[0] * off_m])


def nearest_lane(
    scene: Scene, at_m, in_beds, but: tuple[str, ...] = ()
) -> tuple[Lane, float] | None:
    """The lane with the shortest straight end to a place that passes no bed.

    Args: scene; at_m, the place [m]; in_beds, all beds as one shape; but, lanes left out.
    Returns: the lane and the length of the end [m]; None where none is short enough.
    """
    point, best = shapely.Point(at_m), None
    for lane in scene.ground.lanes:
        if lane.way == "out" or lane.id in but:
            continue
        end = shapely.shortest_line(scene.lane_lines[lane.id], point)
        if end.length > LONGEST_CUT_M or (not in_beds.is_empty and end.intersects(in_beds)):
            continue
        if best is None or end.length < best[1]:
            best = (lane, float(end.length))
    return best
