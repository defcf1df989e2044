"""How strongly air that bends over the land reaches the places of a stand.

A place is as far as the way is long where it first is as far from the stand; what the place
lies beside the way thins the air as it does beside a straight one. Where the way leaves the
straight line the air may be between the two: doubt that is added, never taken away.
"""

import numpy as np
import numpy.typing as npt

from core.air.drift import offset_rad, strength
from core.air.slopes import LEAST_CARRY_MPS
from core.angles import separation_deg
from core.ground.layout import Stand
from core.ground.place import Receptors
from core.land.air_ways import by_range, ways_by_range
from core.land.still_way import StillWay
from core.sit.land.stand_land import StandLand, land_of_stand
from core.sit.scene import Scene
from core.sit.stand_air import StandAir

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
NO_ROWS = np.zeros(0, np.int64)
EVERY_M = 20.0
CHUNK = 60_000  # of ways x points: more leave the processor's cache
STRAIGHT_DEG = 0.01  # a way that keeps so near to a line is one


def bent_strengths(scene: Scene, stand: Stand, air: StandAir) -> tuple[Ints, Floats]:
    """Strengths at areas and approaches in the rows whose air bends.

    Args: the scene; the stand; its air in some rows.
    Returns: places of the rows that bend, none without heights; strengths, (such a row, place).
    """
    n_places = len(scene.areas) + len(scene.approaches(stand))
    own_land = land_of_stand(scene, stand)
    if own_land is None or not len(rows := own_land.mixed_rows(air)):
        return NO_ROWS, np.zeros((0, n_places))
    some, points = air.take(rows), _every_place(scene, stand)
    ways = own_land.mixed_ways(some)
    # ways are looked up every 20 m: between them they hardly turn
    range_m, at = np.unique(np.round(points.distance_m / EVERY_M), return_inverse=True)
    beyond_m = points.distance_m - range_m[at] * EVERY_M
    found, bends = np.zeros((len(rows), n_places)), np.zeros(len(rows), bool)
    step = max(1, CHUNK // max(1, len(at)))
    for i in range(0, len(rows), step):
        part = slice(i, i + step)
        own = some.take(part)
        bearing, along = ways_by_range(ways[part], range_m * EVERY_M)
        turned = separation_deg(bearing, own.air_to_deg[:, None])
        bends[part] = (turned >= STRAIGHT_DEG).any(axis=1)
        doubt_deg = own.doubt_deg[:, None] + turned / 2.0
        c = strengths_at(
            points,
            bearing.take(at, axis=1),
            along.take(at, axis=1) + beyond_m,
            doubt_deg=doubt_deg.take(at, axis=1),
            stability=own.stability[:, None],
            carried_mps=np.maximum(own.carried_mps, LEAST_CARRY_MPS)[:, None],
            sigma_rad=own.sigma_rad[:, None],
            height_m=air.height_m,
        )
        found[part] = strongest(points, c, n_places)
    return rows[bends], found[bends]


def _every_place(scene: Scene, stand: Stand) -> Receptors:
    """The points of the areas, then those of the approaches of a stand, as of one source."""

    def made() -> Receptors:
        (areas, n_areas), (approaches, n) = _places(scene, stand)
        return Receptors(
            np.concatenate([areas.distance_m, approaches.distance_m]),
            np.concatenate([areas.bearing_deg, approaches.bearing_deg]),
            np.concatenate([areas.group, approaches.group + n_areas]),
            1,
            n_areas + n,
        )

    return scene.kept(("every place", stand.id, stand.range_yd), made)


def way_of_row(scene: Scene, stand: Stand, air: StandAir, row: int) -> Floats | None:
    """The way of the air of one row over the land, from the stand; None where it is straight.

    Args: the scene; the stand; its air; the row. Returns: points [m], shape (point, 2).
    """
    one, own_land = air.take([row]), land_of_stand(scene, stand)
    if own_land is None or not len(own_land.mixed_rows(one)):
        return None
    way = own_land.mixed_ways(one)[0]
    bearing, _ = ways_by_range(way[None], np.linspace(50.0, 600.0, 12))
    turned = separation_deg(bearing, one.air_to_deg)
    return way - way[0] if (turned >= STRAIGHT_DEG).any() else None


def seen_from(way_m: Floats, straight_deg: float, range_m: Floats) -> tuple[Floats, Floats, Floats]:
    """A way as places at some distances see it. Shapes (range,).

    Args: a way from a stand [m]; where straight air would go [deg]; the distances [m].
    Returns: its bearing there [deg], its length to there [m], and the doubt that its leaving
    the straight line adds [deg].
    """
    bearing, along = ways_by_range(way_m[None], range_m)
    return bearing[0], along[0], separation_deg(bearing[0], straight_deg) / 2.0


def strengths_at(points: Receptors, bearing_deg, along_m, *, doubt_deg, **air) -> Floats:
    """Strengths at points, from air on ways of which they know bearing and length.

    Args: the points of one source; of each way where it first is as far away as each
    point: its bearing [deg] and its length [m], shape (way, point); its doubt there [deg];
    class, speed, spread and height as `core.air.drift.strength`.
    Source: our own rule, an assumption: no study has tested such ways for a person's air.
    """
    along_m = np.maximum(along_m, points.distance_m)
    beside = offset_rad(bearing_deg, points.bearing_deg, doubt_deg)
    return strength(distance_m=along_m, offset_rad=beside * (points.distance_m / along_m), **air)


def strongest(points: Receptors, strengths: Floats, n_zones: int) -> Floats:
    """The strongest point of each zone. Args: of one source; (way, point); how many zones."""
    best = np.zeros((len(strengths), n_zones))
    if len(points.group):
        starts = np.flatnonzero(np.r_[True, np.diff(points.group) != 0])
        best[:, points.group[starts]] = np.maximum.reduceat(strengths, starts, axis=1)
    return best


def still_strengths(
    scene: Scene, stand: Stand, to_deg: tuple[float, float], straight: Floats, **air
) -> Floats:
    """Strengths of still air going down and up, the most of any smoothing. (class, 2, place)

    Args: the scene; the stand; straight down and straight up [deg]; the strengths of straight
    air, for a stand that heights say nothing of; `stability`, `sigma_rad` (class,),
    `carried_mps` and `height_m`, numbers.
    """
    own_land = land_of_stand(scene, stand)
    if own_land is None or not own_land.bends:
        return straight
    each = [
        [_still(scene, stand, own_land, way, to, **air) for way in ways]
        for ways, to in zip(own_land.still_ways, to_deg, strict=True)
    ]
    bent = np.stack([np.fmax.reduce(of_way) for of_way in each], axis=1)
    return np.where(np.isnan(bent), straight, bent)


def _still(
    scene: Scene, stand: Stand, own_land: StandLand, way: StillWay, to_deg: float, **air
) -> Floats:
    """The same on one way. (class, place)"""
    air = {k: v[:, None] if np.ndim(v) else v for k, v in air.items()}
    found = []
    for points, n_zones in _places(scene, stand):
        bearing, along = by_range(way, points.distance_m)
        doubt = separation_deg(bearing, to_deg) / 2.0
        c = strengths_at(points, bearing, along, doubt_deg=doubt, **air)
        found.append(strongest(points, c, n_zones))
    pooled = own_land.pooled(way, scene.polygons)
    if pooled.any():
        there = strength(distance_m=max(way.length_m, 1.0), offset_rad=0.0, **air)
        found[0] = np.where(pooled, np.fmax(found[0], there), found[0])
    return np.concatenate(found, axis=1)


def _places(scene: Scene, stand: Stand) -> tuple[tuple[Receptors, int], ...]:
    return (
        (scene.area_receptors(stand), len(scene.areas)),
        (scene.approach_receptors(stand), len(scene.approaches(stand))),
    )
