"""The ground in local metres: planes, lines, areas, and the points air may reach.

East and north of the property's centre on a plane that is true near it. What
depends on the ground alone, and not on wind or clock, is worked out here.
"""

import itertools
import math
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


@dataclass(frozen=True, eq=False)
class Zone:
    """One place that air may reach: pieces of line, and the area they bound."""

    a_m: Floats  # (piece, 2) starts of pieces no longer than 5 m
    b_m: Floats  # (piece, 2) their ends
    area: shapely.Polygon | None = None


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


def receptors(sources_m: Floats, zones: list[Zone]) -> Receptors:
    """The nearest point in each whole degree of bearing, per source and zone.

    Boundaries and lines are sampled every 5 m, and every 1 m where neighbours
    lie over 2 degrees apart from the source. Inside an area: 10 m all round.

    Args:
        sources_m: where air starts, local metres. Shape (source, 2).
        zones: the places it may reach.
    """
    sources_m = np.asarray(sources_m, float).reshape(-1, 2)
    n_zones, n_sources = len(zones), len(sources_m)
    distances, bearings, groups = [], [], []
    for index, zone in enumerate(zones):
        inside = np.zeros(n_sources, bool)
        if zone.area is not None:
            inside = shapely.covers(zone.area, shapely.points(sources_m))
        source, point_m = _samples(sources_m, zone)
        keep = ~inside[source]
        source, point_m = source[keep], point_m[keep]
        delta = point_m - sources_m[source]
        distances.append(np.hypot(delta[:, 0], delta[:, 1]))
        bearings.append(wrap_deg(np.degrees(np.arctan2(delta[:, 0], delta[:, 1]))))
        groups.append(source * n_zones + index)
        within = np.repeat(np.flatnonzero(inside), 360)
        distances.append(np.full(len(within), MIN_DISTANCE_M))
        bearings.append(np.tile(np.arange(360.0), int(inside.sum())))
        groups.append(within * n_zones + index)
    if not zones or not n_sources:
        empty = np.zeros(0)
        return Receptors(empty, empty, np.zeros(0, np.int64), n_sources, max(n_zones, 1))
    return _nearest_per_degree(
        np.concatenate(distances),
        np.concatenate(bearings),
        np.concatenate(groups),
        n_sources,
        n_zones,
    )


def _samples(sources_m: Floats, zone: Zone) -> tuple[npt.NDArray[np.int64], Floats]:
    """Sampled points of a zone for each source: source index and place."""
    n, k = len(sources_m), len(zone.a_m)
    to_a = zone.a_m[None, :, :] - sources_m[:, None, :]  # (source, piece, 2)
    to_b = zone.b_m[None, :, :] - sources_m[:, None, :]
    cross = np.abs(to_a[..., 0] * to_b[..., 1] - to_a[..., 1] * to_b[..., 0])
    dot = (to_a * to_b).sum(-1)
    wide = np.arctan2(cross, dot) > math.radians(FINE_OVER_DEG)
    source = [np.repeat(np.arange(n), k), np.repeat(np.arange(n), k)]
    place = [np.tile(zone.a_m, (n, 1)), np.tile(zone.b_m, (n, 1))]
    near_source, near_piece = np.nonzero(wide)
    a, b = zone.a_m[near_piece], zone.b_m[near_piece]
    steps = np.arange(FINE_M / COARSE_M, 1.0, FINE_M / COARSE_M)
    for share in steps:
        source.append(near_source)
        place.append(a + (b - a) * share)
    return np.concatenate(source), np.concatenate(place)


def _nearest_per_degree(distance_m, bearing, group, n_sources: int, n_zones: int) -> Receptors:
    degree = np.floor(bearing).astype(np.int64) % 360
    key = group * 360 + degree
    order = np.lexsort((bearing, distance_m, key))
    first = np.ones(len(order), bool)
    first[1:] = key[order][1:] != key[order][:-1]
    picked = order[first]
    return Receptors(
        distance_m=np.maximum(distance_m[picked], MIN_DISTANCE_M),
        bearing_deg=bearing[picked],
        group=group[picked],
        n_sources=n_sources,
        n_zones=n_zones,
    )
