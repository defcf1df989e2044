"""The ground in local metres: planes, lines, areas, and the points air may reach.

East and north of the property's centre on a plane that is true near it. What
depends on the ground alone, and not on wind or clock, is worked out here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely

from core.angles import signed_difference_deg, wrap_deg
from core.ground.layout import LonLat

Floats = npt.NDArray[np.float64]

WGS84_A_M = 6378137.0  # semi-major axis, WGS84
WGS84_E2 = 6.69437999014e-3  # first eccentricity squared, WGS84
MIN_DISTANCE_M = 10.0  # no air is followed closer than this
TOUCH_M = 1e-3  # nearer, a source is on a line
RAYS = np.stack([np.sin(np.radians(np.arange(360.0))), np.cos(np.radians(np.arange(360.0)))], -1)
CHUNK = 20_000  # pieces seen at once: few enough to stay near the processor


class Plane:
    """Local metres east and north of a centre, from the ellipsoid's radii there.

    Valid: within 20 km; 0.1 % within a mile of the centre.
    Source: radii of curvature of the WGS84 ellipsoid; checked against
    geographiclib in tests/reference.
    """

    def __init__(self, center: LonLat) -> None:
        self.lon_deg, self.lat_deg = center
        phi = math.radians(self.lat_deg)
        w2 = 1.0 - WGS84_E2 * math.sin(phi) ** 2
        meridian_m = WGS84_A_M * (1.0 - WGS84_E2) / w2**1.5
        normal_m = WGS84_A_M / math.sqrt(w2)
        self.m_per_lat_deg = math.radians(meridian_m)
        self.m_per_lon_deg = math.radians(normal_m * math.cos(phi))

    def to_local(self, lon_deg, lat_deg) -> tuple[Floats, Floats]:
        """East and north of the centre. [m], [m]; any shape."""
        east = signed_difference_deg(np.asarray(lon_deg, float), self.lon_deg)
        north = np.asarray(lat_deg, float) - self.lat_deg
        return east * self.m_per_lon_deg, north * self.m_per_lat_deg

    def to_lonlat(self, east_m, north_m) -> tuple[Floats, Floats]:
        """Longitude and latitude of local metres. [deg], [deg]; any shape."""
        lon = self.lon_deg + np.asarray(east_m, float) / self.m_per_lon_deg
        return (
            np.asarray(signed_difference_deg(lon, 0.0)),
            self.lat_deg + np.asarray(north_m, float) / self.m_per_lat_deg,
        )

    def points(self, line) -> Floats:
        """A sequence of (lon, lat) as local metres. Shape (point, 2)."""
        array = np.asarray(line, float).reshape(-1, 2)
        return np.column_stack(self.to_local(array[:, 0], array[:, 1]))


def bearing_deg(from_m: Floats, to_m: Floats):
    """Bearing in [0, 360) from points to points; shapes (..., 2) broadcast."""
    delta = np.asarray(to_m, float) - np.asarray(from_m, float)
    return wrap_deg(np.degrees(np.arctan2(delta[..., 0], delta[..., 1])))


@dataclass(frozen=True, eq=False)
class Receptors:
    """Points that the air of some sources may reach, one row a point.

    Sorted by group. `group` is source x n_zones + zone. Distances have the
    floor applied; shapes (point,).
    """

    distance_m: Floats
    bearing_deg: Floats
    group: npt.NDArray[np.int64]
    n_sources: int
    n_zones: int

    def source(self) -> npt.NDArray[np.int64]:
        """The source of each point."""
        return self.group // self.n_zones

    def zone(self) -> npt.NDArray[np.int64]:
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


@dataclass(frozen=True, eq=False)
class Zone:
    """One place that air may reach: pieces of line, and the area they bound."""

    a_m: Floats  # (piece, 2) where straight pieces start
    b_m: Floats  # (piece, 2) where they end
    area: shapely.Polygon | None = None

    @property
    def lines(self) -> npt.NDArray[np.object_]:
        """The pieces as geometries; shape (piece,)."""
        return shapely.linestrings(np.stack([self.a_m, self.b_m], axis=1))


def zone_of_lines(lines_m: list[Floats]) -> Zone:
    """A zone of one or more polylines in local metres; one of a single point is a point."""
    lines = [np.asarray(line, float) for line in lines_m]
    lines = [np.repeat(line, 2, axis=0) if len(line) == 1 else line for line in lines]
    return Zone(
        np.concatenate([line[:-1] for line in lines]), np.concatenate([line[1:] for line in lines])
    )


def zone_of_area(area: shapely.Polygon) -> Zone:
    """A zone of a polygon's boundary in local metres; inside it air is all round."""
    rings = [np.asarray(area.exterior.coords), *(np.asarray(r.coords) for r in area.interiors)]
    lines = zone_of_lines(rings)
    return Zone(lines.a_m, lines.b_m, area)


@dataclass(frozen=True, eq=False)
class Zones:
    """Some zones as one: their pieces, and the zone of each."""

    n_zones: int
    a_m: Floats  # (piece, 2)
    b_m: Floats
    zone: npt.NDArray[np.int64]  # (piece,)
    areas: npt.NDArray[np.object_]  # (zone,), None for lines


def zones_as_one(zones: Sequence[Zone]) -> Zones:
    """Zones as `receptors` takes them. Args: any number of zones, in their order."""
    nothing = [np.empty((0, 2))]
    return Zones(
        n_zones=len(zones),
        a_m=np.concatenate([zone.a_m for zone in zones] or nothing),
        b_m=np.concatenate([zone.b_m for zone in zones] or nothing),
        zone=np.repeat(np.arange(len(zones)), np.array([len(z.a_m) for z in zones], int)),
        areas=np.array([zone.area for zone in zones], object),
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
    step = max(1, CHUNK // len(zones.a_m))
    found = [_nearest(sources_m[i : i + step], zones) for i in range(0, n_sources, step)]
    return Receptors(
        distance_m=np.concatenate([f[0] for f in found]),
        bearing_deg=np.concatenate([f[1] for f in found]),
        group=np.concatenate([f[2] + i * step * n_zones for i, f in enumerate(found)]),
        n_sources=n_sources,
        n_zones=n_zones,
    )


class _Seen(NamedTuple):
    """Straight pieces as seen from a source; shapes (piece,)."""

    a_m: Floats  # (piece, 2), from the source
    d_m: Floats  # (piece, 2), from start to end
    group: npt.NDArray[np.int64]
    from_deg: Floats
    turn_deg: Floats  # clockwise from start to end
    ends_m: Floats  # (2, piece)
    ends_deg: Floats
    nearest_m: Floats


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
    on_it = seen.nearest_m < TOUCH_M
    a_point = np.hypot(*seen.d_m.T) < TOUCH_M
    found = np.zeros(len(sources_m) * ground.n_zones, bool)
    found[seen.group[on_it & a_point]] = True
    found[seen.group[on_it & ~a_point]] = False
    return found | shapely.covers(ground.areas, shapely.points(sources_m)[:, None]).ravel()


def _seen(sources_m: Floats, ground: Zones) -> _Seen:
    """Every piece from every source. A source on a piece sees it as its two parts."""
    a, b = ((end - sources_m[:, None]).reshape(-1, 2) for end in (ground.a_m, ground.b_m))
    d = b - a
    length2 = np.maximum((d * d).sum(axis=1), TOUCH_M**2)
    foot = np.clip(-(a * d).sum(axis=1) / length2, 0.0, 1.0)
    nearest_m = np.hypot(*(a + d * foot[:, None]).T)
    turn_deg = np.degrees(np.arctan2(_cross(a, b) * -1.0, (a * b).sum(axis=1)))
    ends_m = np.stack([np.hypot(*a.T), np.hypot(*b.T)])
    ends_deg = np.degrees(np.stack([np.arctan2(*a.T), np.arctan2(*b.T)]))
    ends_deg = np.where(ends_m < TOUCH_M, ends_deg[::-1], ends_deg)  # of the other end
    on_it = nearest_m < TOUCH_M
    return _Seen(
        a_m=a,
        d_m=d,
        group=(np.arange(len(sources_m))[:, None] * ground.n_zones + ground.zone).ravel(),
        from_deg=ends_deg[0],
        turn_deg=np.where(on_it, 0.0, turn_deg),
        ends_m=np.where(on_it, np.minimum(ends_m, TOUCH_M / 2), ends_m),
        ends_deg=wrap_deg(ends_deg),
        nearest_m=nearest_m,
    )


def _cross(x: Floats, y: Floats) -> Floats:
    return x[..., 0] * y[..., 1] - x[..., 1] * y[..., 0]


class _Met(NamedTuple):
    """How far off rays, group x 360 + degree in order, meet their group; those that do."""

    ray: npt.NDArray[np.int64]
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
    met_m = np.clip(met_m, seen.nearest_m[piece], seen.ends_m.max(axis=0)[piece])
    round_ = (np.flatnonzero(all_round)[:, None] * 360 + np.arange(360)).ravel()
    met_m = np.append(np.maximum(met_m, MIN_DISTANCE_M), np.full(len(round_), MIN_DISTANCE_M))
    ray, at = np.unique(np.append(seen.group[piece] * 360 + degree, round_), return_inverse=True)
    nearest_m = np.full(len(ray), np.inf)
    np.minimum.at(nearest_m, at, met_m)
    return _Met(ray, nearest_m)


def _corners(seen: _Seen, met: _Met):
    """Of the ends of pieces the nearest in each half degree; distance, bearing and group."""
    far_m = np.maximum(seen.ends_m.ravel(), MIN_DISTANCE_M)
    bearing, group = seen.ends_deg.ravel(), np.tile(seen.group, 2)
    degree = bearing.astype(np.int64)
    beside = met.at(group * 360 + np.stack([degree, (degree + 1) % 360])).max(axis=0)
    shown = np.flatnonzero(far_m < beside)
    far_m, bearing, group = far_m[shown], bearing[shown], group[shown]
    key = group * 720 + (2.0 * bearing).astype(np.int64)
    order = np.lexsort((bearing, far_m, key))
    picked = order[np.diff(key[order], prepend=-1) > 0]
    return far_m[picked], bearing[picked], group[picked]
