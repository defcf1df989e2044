"""The ground in local metres: planes, lines and areas.

East and north of the property's centre on a plane that is true near it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.angles import signed_difference_deg, wrap_deg
from core.ground.layout import LonLat

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

WGS84_A_M = 6378137.0  # semi-major axis, WGS84
WGS84_E2 = 6.69437999014e-3  # first eccentricity squared, WGS84


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
class Zone:
    """One place that air may reach: pieces of line, and the area they bound.

    A piece goes from a corner to the next one; `start` has where each begins, (piece,).
    """

    corners_m: Floats  # (corner, 2)
    start: Ints
    area: shapely.Polygon | None = None

    @property
    def a_m(self) -> Floats:
        """Where the pieces start. (piece, 2)"""
        return self.corners_m[self.start]

    @property
    def b_m(self) -> Floats:
        """Where they end. (piece, 2)"""
        return self.corners_m[self.start + 1]

    @property
    def lines(self) -> npt.NDArray[np.object_]:
        """The pieces as geometries; shape (piece,)."""
        return shapely.linestrings(np.stack([self.a_m, self.b_m], axis=1))


def zone_of_lines(lines_m: list[Floats]) -> Zone:
    """A zone of one or more polylines in local metres; one of a single point is a point."""
    lines = [np.asarray(line, float) for line in lines_m]
    lines = [np.repeat(line, 2, axis=0) if len(line) == 1 else line for line in lines]
    ends = np.cumsum([len(line) for line in lines]) - 1
    return Zone(np.concatenate(lines), np.delete(np.arange(ends[-1]), ends[:-1]))


def zone_of_area(area: shapely.Polygon) -> Zone:
    """A zone of a polygon's boundary in local metres; inside it air is all round."""
    rings = [np.asarray(area.exterior.coords), *(np.asarray(r.coords) for r in area.interiors)]
    lines = zone_of_lines(rings)
    return Zone(lines.corners_m, lines.start, area)


@dataclass(frozen=True, eq=False)
class Zones:
    """Some zones as one: their corners and pieces, as in `Zone`, and the zone of each corner."""

    n_zones: int
    corners_m: Floats  # (corner, 2)
    zone: Ints  # (corner,)
    start: Ints  # (piece,)
    areas: npt.NDArray[np.object_]  # (zone,), None for lines


def zones_as_one(zones: Sequence[Zone]) -> Zones:
    """Zones as `receptors` takes them. Args: any number of zones, in their order."""
    count = np.array([len(zone.corners_m) for zone in zones], int)
    starts = [zone.start + at for zone, at in zip(zones, np.cumsum(count) - count, strict=True)]
    return Zones(
        n_zones=len(zones),
        corners_m=np.concatenate([np.empty((0, 2)), *(zone.corners_m for zone in zones)]),
        zone=np.repeat(np.arange(len(zones)), count),
        start=np.concatenate([np.empty(0, int), *starts]),
        areas=np.array([zone.area for zone in zones], object),
    )
