"""The ground in local metres: planes, lines, areas, and the points air may reach.

East and north of the property's centre on a plane that is true near it. What
depends on the ground alone, and not on wind or clock, is worked out here.
"""

import functools
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.angles import signed_difference_deg, wrap_deg
from core.ground.layout import LonLat

Floats = npt.NDArray[np.float64]

WGS84_A_M = 6378137.0  # semi-major axis, WGS84
WGS84_E2 = 6.69437999014e-3  # first eccentricity squared, WGS84
MIN_DISTANCE_M = 10.0  # no air is followed closer than this
COARSE_M, FINE_M, FINE_OVER_DEG = 5.0, 1.0, 2.0
NEAR_M = 1.01 * COARSE_M / math.sin(math.radians(FINE_OVER_DEG))  # farther no piece is so wide
CHUNK = 40_000  # numbers in hand at once: few enough to stay near the processor


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

    a_m: Floats  # (piece, 2) starts of pieces no longer than 5 m
    b_m: Floats  # (piece, 2) their ends
    area: shapely.Polygon | None = None

    @functools.cached_property
    def points(self) -> tuple[Floats, npt.NDArray[np.int64]]:
        """Every end of a piece once, and the one that each piece starts from."""
        ends = np.concatenate([self.a_m, self.b_m])
        points, index = np.unique(ends, axis=0, return_inverse=True)
        return points, index.reshape(-1)[: len(self.a_m)]


def pieces(line_m: Floats) -> tuple[Floats, Floats]:
    """A polyline cut into pieces of 5 m and less. Shapes (piece, 2), (piece, 2)."""
    line_m = np.asarray(line_m, float)
    if len(line_m) == 1:  # a part of no length is one point
        return line_m, line_m
    starts, ends = [], []
    for a, b in itertools.pairwise(line_m):
        n = max(1, math.ceil(math.dist(a, b) / COARSE_M))
        at = a + (b - a) * np.linspace(0.0, 1.0, n + 1)[:, None]
        starts.append(at[:-1])
        ends.append(at[1:])
    return np.concatenate(starts), np.concatenate(ends)


def zone_of_lines(lines_m: list[Floats]) -> Zone:
    """A zone of one or more polylines in local metres."""
    cut = [pieces(line) for line in lines_m]
    return Zone(np.concatenate([c[0] for c in cut]), np.concatenate([c[1] for c in cut]))


def zone_of_area(area: shapely.Polygon) -> Zone:
    """A zone of a polygon's boundary in local metres; inside it air is all round."""
    rings = [np.asarray(area.exterior.coords), *(np.asarray(r.coords) for r in area.interiors)]
    lines = zone_of_lines(rings)
    return Zone(lines.a_m, lines.b_m, area)


@dataclass(frozen=True, eq=False)
class Zones:
    """Some zones as one: their points and pieces, and the zone of each."""

    n_zones: int
    points_m: Floats  # (point, 2)
    zone: npt.NDArray[np.int64]  # (point,)
    a_m: Floats  # (piece, 2)
    b_m: Floats
    piece_zone: npt.NDArray[np.int64]  # (piece,)
    starts: npt.NDArray[np.int64]  # the point that each piece starts from
    areas: npt.NDArray[np.object_]  # (zone,), None for lines


def joined(zones: Sequence[Zone]) -> Zones:
    """Zones as `receptors` takes them. Args: any number of zones, in their order."""
    sizes = np.array([len(zone.points[0]) for zone in zones], int)
    before, each = np.cumsum(sizes) - sizes, np.arange(len(zones))
    nothing = [np.empty((0, 2))]
    return Zones(
        n_zones=len(zones),
        points_m=np.concatenate([zone.points[0] for zone in zones] or nothing),
        zone=np.repeat(each, sizes),
        a_m=np.concatenate([zone.a_m for zone in zones] or nothing),
        b_m=np.concatenate([zone.b_m for zone in zones] or nothing),
        piece_zone=np.repeat(each, np.array([len(zone.a_m) for zone in zones], int)),
        starts=np.concatenate(
            [z.points[1] + n for z, n in zip(zones, before, strict=True)] or [each]
        ),
        areas=np.array([zone.area for zone in zones], object),
    )


def receptors(sources_m: Floats, zones: Zones) -> Receptors:
    """The nearest point in each whole degree of bearing, per source and zone.

    Boundaries and lines are sampled every 5 m, and every 1 m where neighbours
    lie over 2 degrees apart from the source. Inside an area: 10 m all round.

    Args:
        sources_m: where air starts, local metres. Shape (source, 2).
        zones: the places it may reach.
    """
    sources_m = np.asarray(sources_m, float).reshape(-1, 2)
    n_zones, n_sources = zones.n_zones, len(sources_m)
    if not n_zones or not n_sources:
        empty = np.zeros(0)
        return Receptors(empty, empty, np.zeros(0, np.int64), n_sources, max(n_zones, 1))
    step = max(1, CHUNK // max(360 * n_zones, len(zones.points_m)))
    found = [_nearest(sources_m[i : i + step], zones) for i in range(0, n_sources, step)]
    return Receptors(
        distance_m=np.concatenate([f[0] for f in found]),
        bearing_deg=np.concatenate([f[1] for f in found]),
        group=np.concatenate([f[2] + i * step * n_zones for i, f in enumerate(found)]),
        n_sources=n_sources,
        n_zones=n_zones,
    )


def _nearest(sources_m: Floats, ground: Zones):
    """Distances with the floor applied, bearings and groups, by group and degree.

    Of points equally far in a degree the one at the lower bearing is taken.
    """
    n, n_zones = len(sources_m), ground.n_zones
    east, north = (ground.points_m[:, i] - sources_m[:, i, None] for i in (0, 1))
    group = np.arange(n)[:, None] * n_zones + ground.zone
    distance_m = np.hypot(east, north)  # (source, point)
    source, piece = _wide(sources_m, ground, *np.nonzero(distance_m[:, ground.starts] < NEAR_M))
    if len(piece):
        fine = _between(ground.a_m[piece], ground.b_m[piece]) - sources_m[source][:, None, :]
        more = np.broadcast_to(
            (source * n_zones + ground.piece_zone[piece])[:, None], fine.shape[:2]
        )
        east, north = np.append(east, fine[..., 0]), np.append(north, fine[..., 1])
        group = np.append(group, more)
        distance_m = np.hypot(east, north)
    bearing = np.degrees(np.arctan2(east, north)).ravel()
    bearing = np.where(bearing < 0, bearing + 360.0, bearing)
    bearing[bearing >= 360.0] = 0.0  # a tiny negative angle rounds up to 360.0 itself
    distance_m, key = distance_m.ravel(), group.ravel() * 360 + bearing.astype(np.int64)
    nearest = np.full(n * n_zones * 360, np.inf)
    np.minimum.at(nearest, key, distance_m)
    first = np.flatnonzero(distance_m == nearest[key])
    at_deg = np.full(len(nearest), np.inf)
    np.minimum.at(at_deg, key[first], bearing[first])
    inside = shapely.covers(ground.areas, shapely.points(sources_m)[:, None]).ravel()
    nearest.reshape(-1, 360)[inside] = MIN_DISTANCE_M
    at_deg.reshape(-1, 360)[inside] = np.arange(360.0)
    picked = np.flatnonzero(nearest < np.inf)
    return np.maximum(nearest[picked], MIN_DISTANCE_M), at_deg[picked], picked // 360


def _wide(sources_m: Floats, ground: Zones, source, piece):
    """Of some pieces those over 2 degrees wide from their sources: source, piece."""
    to_a, to_b = ground.a_m[piece] - sources_m[source], ground.b_m[piece] - sources_m[source]
    cross = np.abs(to_a[:, 0] * to_b[:, 1] - to_a[:, 1] * to_b[:, 0])
    wide = np.arctan2(cross, (to_a * to_b).sum(-1)) > math.radians(FINE_OVER_DEG)
    return source[wide], piece[wide]


def _between(a_m: Floats, b_m: Floats) -> Floats:
    """Places every 1 m along pieces of 5 m, without their ends. Shape (piece, place, 2)."""
    shares = np.arange(FINE_M / COARSE_M, 1.0, FINE_M / COARSE_M)[:, None]
    return a_m[:, None, :] + (b_m - a_m)[:, None, :] * shares
