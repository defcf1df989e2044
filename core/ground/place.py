"""Where beds, food, corridors and lanes lie from a stand, and how that is in a wind; and the
points of them that air may reach: what depends on the ground alone, not on wind or clock."""

import dataclasses
import functools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import shapely

from core.angles import wrap_deg
from core.ground.plan import Floats, Ints, Zones, bearing_deg

Shapes = npt.NDArray[np.object_]

MIN_DISTANCE_M = 10.0  # no air is followed closer than this
TOUCH_M = 1e-3  # nearer, a source is on a line
RAYS = np.stack([np.sin(np.radians(np.arange(360.0))), np.cos(np.radians(np.arange(360.0)))], -1)
CHUNK = 20_000  # pieces seen at once: few enough to stay near the processor


@dataclass(frozen=True, slots=True)
class Place:
    """Where a feature lies from a stand. NaN bearing: on top of it."""

    id: str
    kind: str
    bearing_deg: float
    distance_m: float
    inside: bool


def shapes(of: Iterable) -> Shapes:
    """Geometries as an array, for sums on all of them at once. Args: geometries."""
    return np.array(list(of), object)


def places_from(at_m, areas: Shapes, lines: Shapes, known: Sequence[tuple[str, str]]):
    """Areas by their middle, lines by their nearest point, as they lie from a place.

    Args: the place in local metres, shape (2,); areas; lines; id and kind of each, the
    areas first. Returns: a `Place` of each, in that order.
    """
    point = shapely.Point(at_m)
    near = shapely.line_interpolate_point(lines, shapely.line_locate_point(lines, point))
    toward_m = shapely.get_coordinates(np.concatenate([shapely.centroid(areas), near]))
    bearing = bearing_deg(at_m, toward_m)
    bearing[np.isclose(at_m, toward_m, atol=1e-9).all(axis=1)] = math.nan
    far_m = shapely.distance(np.concatenate([areas, lines]), point)
    inside = np.append(shapely.covers(areas, point), np.zeros(len(lines), bool))
    rows = zip(known, bearing.tolist(), far_m.tolist(), inside.tolist(), strict=True)
    return [
        Place(name, kind, turn, 0.0 if within else far, within)
        for (name, kind), turn, far, within in rows
    ]


def relation(wind_from_deg: float, place: Place) -> str | None:
    """Where a place lies from the stand in a wind: upwind, crosswind, downwind.

    To 45 degrees upwind, from 135 degrees downwind. Returns None inside a place
    or on top of it, and the word "none" without a direction.
    """
    if place.inside or math.isnan(place.bearing_deg):
        return None
    if math.isnan(wind_from_deg):
        return "none"
    turn = float(wrap_deg(wind_from_deg - place.bearing_deg))
    turn = round(min(turn, 360.0 - turn), 9)
    return "upwind" if turn <= 45 else "downwind" if turn >= 135 else "crosswind"


# --- the points of zones that air may reach ---


@dataclass(frozen=True, eq=False)
class Receptors:
    """Points that the air of some sources may reach, one row a point.

    Sorted by group. `group` is source x n_zones + zone. Distances have the
    floor applied; shapes (point,).
    """

    distance_m: Floats
    bearing_deg: Floats
    group: Ints
    n_sources: int
    n_zones: int
    worked_out: dict[Any, Any] = dataclasses.field(default_factory=dict)

    def kept(self, key: Any, make) -> Any:
        """Something of the points worked out once. Args: its key; what makes it."""
        if key not in self.worked_out:
            self.worked_out[key] = make()
        return self.worked_out[key]

    @functools.cached_property
    def starts(self) -> Ints:
        """Where the points of each group begin, of the groups that have some."""
        return np.flatnonzero(np.diff(self.group, prepend=-1))

    def source(self) -> Ints:
        """The source of each point."""
        bounds = np.searchsorted(self.group, np.arange(self.n_sources + 1) * self.n_zones)
        return np.repeat(np.arange(self.n_sources), np.diff(bounds))

    def zone(self) -> Ints:
        """The zone of each point."""
        return self.group % self.n_zones

    def turned(self) -> "Receptors":
        """The same points with the sources in the opposite order."""
        group = (self.n_sources - 1 - self.source()) * self.n_zones + self.zone()
        order = np.argsort(group, kind="stable")
        return Receptors(
            self.distance_m[order],
            self.bearing_deg[order],
            group[order],
            self.n_sources,
            self.n_zones,
        )


def receptors(sources_m: Floats, zones: Zones) -> Receptors:
    """The nearest point of each zone in each whole degree of bearing, and its corners.

    Where a ray of whole degrees meets a boundary or line, to the centimetre; of the
    corners and ends between rays the nearest in each half degree, but for those that lie
    behind what is met on both sides. Inside an area: 10 m all round.

    Args:
        sources_m: where air starts, local metres. Shape (source, 2).
        zones: the places it may reach.
    """
    sources_m = np.asarray(sources_m, float).reshape(-1, 2)
    n_zones, n_sources = zones.n_zones, len(sources_m)
    if not n_zones or not n_sources:
        nothing = np.zeros(0)
        return Receptors(nothing, nothing, nothing.astype(int), n_sources, max(n_zones, 1))
    step = max(1, CHUNK // len(zones.start))
    found = [_nearest(sources_m[i : i + step], zones) for i in range(0, n_sources, step)]
    return Receptors(
        distance_m=np.concatenate([f[0] for f in found]),
        bearing_deg=np.concatenate([f[1] for f in found]),
        group=np.concatenate([f[2] + i * step * n_zones for i, f in enumerate(found)]),
        n_sources=n_sources,
        n_zones=n_zones,
    )


class _Seen(NamedTuple):
    """Straight pieces and their corners as seen from sources."""

    a_m: Floats  # (piece, 2), from the source
    d_m: Floats  # (piece, 2), from start to end
    group: Ints  # (piece,)
    from_deg: Floats
    turn_deg: Floats  # clockwise from start to end
    nearest_m: Floats
    farthest_m: Floats
    corner_m: Floats  # (corner,)
    corner_deg: Floats
    corner_group: Ints


def _nearest(sources_m: Floats, ground: Zones):
    """Distances with the floor applied, bearings and groups, by group and bearing."""
    seen = _seen(sources_m, ground)
    met = _met_by_rays(seen, _all_round(seen, sources_m, ground))
    corner_m, corner_deg, corner_group = _corners(seen, met)
    group, degree = np.divmod(met.ray, 360)
    key = np.concatenate([met.ray.astype(float), corner_group * 360.0 + corner_deg])
    order = np.argsort(key, kind="stable")
    return (
        np.concatenate([met.far_m, corner_m])[order],
        np.concatenate([degree.astype(float), corner_deg])[order],
        np.concatenate([group, corner_group])[order],
    )


def _all_round(seen: _Seen, sources_m: Floats, ground: Zones):
    """Groups whose air is all round: inside an area, or on a point that is all there is."""
    on_it = np.flatnonzero(seen.nearest_m < TOUCH_M)
    a_point = np.hypot(*seen.d_m[on_it].T) < TOUCH_M
    found = np.zeros(len(sources_m) * ground.n_zones, bool)
    found[seen.group[on_it[a_point]]] = True
    found[seen.group[on_it[~a_point]]] = False
    return found | shapely.covers(ground.areas, shapely.points(sources_m)[:, None]).ravel()


def _seen(sources_m: Floats, ground: Zones) -> _Seen:
    """Every piece from every source. A source on a piece sees it as its two parts."""
    from_source = np.arange(len(sources_m))[:, None]
    corners = (ground.corners_m - sources_m[:, None]).reshape(-1, 2)
    group = (from_source * ground.n_zones + ground.zone).ravel()
    start = (from_source * len(ground.corners_m) + ground.start).ravel()
    a, b = corners[start], corners[start + 1]
    d = b - a
    foot = np.clip(-_dot(a, d) / np.maximum(_dot(d, d), TOUCH_M**2), 0.0, 1.0)
    nearest_m = np.hypot(*(a + d * foot[:, None]).T)
    far_m, deg = np.hypot(*corners.T), np.degrees(np.arctan2(*corners.T))
    from_deg, farthest_m = deg[start], np.maximum(far_m[start], far_m[start + 1])
    turn_deg = np.degrees(np.arctan2(_cross(a, b) * -1.0, _dot(a, b)))
    if len(on_it := np.flatnonzero(nearest_m < TOUCH_M)):
        ends = start[on_it] + np.array([[0], [1]])
        ends = np.where(far_m[ends] < TOUCH_M, ends[::-1], ends)  # bearings of the other end
        from_deg[on_it], turn_deg[on_it] = deg[ends[0]], 0.0
        farthest_m[on_it] = np.minimum(farthest_m[on_it], TOUCH_M / 2)
        far_m[far_m < TOUCH_M] = np.inf
        far_m = np.append(far_m, np.zeros(ends.size))
        deg, group = np.append(deg, deg[ends]), np.append(group, group[ends])
    return _Seen(
        a_m=a,
        d_m=d,
        group=group[start],
        from_deg=from_deg,
        turn_deg=turn_deg,
        nearest_m=nearest_m,
        farthest_m=farthest_m,
        corner_m=np.maximum(far_m, MIN_DISTANCE_M),
        corner_deg=wrap_deg(deg),
        corner_group=group,
    )


def _dot(x: Floats, y: Floats) -> Floats:
    return x[..., 0] * y[..., 0] + x[..., 1] * y[..., 1]


def _cross(x: Floats, y: Floats) -> Floats:
    return x[..., 0] * y[..., 1] - x[..., 1] * y[..., 0]


class _Met(NamedTuple):
    """How far off rays, group x 360 + degree in order, meet their group; those that do."""

    ray: Ints
    far_m: Floats

    def at(self, ray) -> Floats:
        """How far off some rays meet their group; infinite where they meet nothing."""
        place = np.searchsorted(self.ray, ray)
        known, far_m = np.append(self.ray, -1), np.append(self.far_m, np.inf)
        return np.where(known[place] == ray, far_m[place], np.inf)


def _met_by_rays(seen: _Seen, all_round) -> _Met:
    """What rays of whole degrees meet first. Args: the pieces; groups with air all round."""
    low = np.minimum(seen.from_deg, seen.from_deg + seen.turn_deg)
    first = np.ceil(low).astype(np.int64)
    count = np.floor(low + np.abs(seen.turn_deg)).astype(np.int64) - first + 1
    piece = np.repeat(np.arange(len(count)), count)
    within = np.arange(len(piece)) - np.repeat(np.cumsum(count) - count, count)
    degree = (first[piece] + within) % 360
    across = seen.d_m[piece]
    across = RAYS[degree, 0] * across[:, 1] - RAYS[degree, 1] * across[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        met_m = _cross(seen.a_m, seen.d_m)[piece] / across
    met_m = np.where(np.isfinite(met_m), met_m, 0.0)  # along the ray: its nearer end
    met_m = np.clip(met_m, seen.nearest_m[piece], seen.farthest_m[piece])
    round_ = (np.flatnonzero(all_round)[:, None] * 360 + np.arange(360)).ravel()
    met_m = np.append(np.maximum(met_m, MIN_DISTANCE_M), np.full(len(round_), MIN_DISTANCE_M))
    ray = np.append(seen.group[piece] * 360 + degree, round_)
    return _Met(*_least_of_each(ray, met_m))


def _corners(seen: _Seen, met: _Met):
    """Of the ends of pieces the nearest in each half degree; distance, bearing and group."""
    far_m, bearing, group = seen.corner_m, seen.corner_deg, seen.corner_group
    degree = bearing.astype(np.int64)
    beside = met.at(group * 360 + np.stack([degree, (degree + 1) % 360])).max(axis=0)
    shown = np.flatnonzero(far_m < beside)
    half, far_m, same = _least_of_each(
        group[shown] * 720 + (2.0 * bearing[shown]).astype(np.int64), far_m[shown], bearing[shown]
    )
    return far_m, same, half // 720


def _least_of_each(key, values, ties=None):
    """Keys in order, each once; the least value of each, and of those the least of `ties`."""
    order = np.argsort(key, kind="stable")
    key, values = key[order], values[order]
    first = np.flatnonzero(np.diff(key, prepend=-1))
    least = np.minimum.reduceat(values, first)
    if ties is None:
        return key[first], least
    of_each = np.repeat(least, np.diff(first, append=len(key)))
    tied = np.where(values == of_each, ties[order], np.inf)
    return key[first], least, np.minimum.reduceat(tied, first)
