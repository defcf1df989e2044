"""Universal Transverse Mercator: meters of a zone from longitude and latitude, and back.

Source: [snyder1987] for zones, scale and false eastings; the series in the third flattening
to the fourth order is Krueger's, good to a few micrometers within a zone.
"""

import math

import numpy as np

from core.ground.plan import WGS84_A_M, WGS84_E2

SCALE = 0.9996
FALSE_EAST_M, FALSE_NORTH_M = 500_000.0, 10_000_000.0
_F = 1.0 - math.sqrt(1.0 - WGS84_E2)
_N = _F / (2.0 - _F)
_N2, _N3, _N4 = _N**2, _N**3, _N**4
_RADIUS_M = WGS84_A_M / (1.0 + _N) * (1.0 + _N2 / 4.0 + _N4 / 64.0)
_FORWARD = (
    _N / 2.0 - 2.0 * _N2 / 3.0 + 5.0 * _N3 / 16.0 + 41.0 * _N4 / 180.0,
    13.0 * _N2 / 48.0 - 3.0 * _N3 / 5.0 + 557.0 * _N4 / 1440.0,
    61.0 * _N3 / 240.0 - 103.0 * _N4 / 140.0,
    49561.0 * _N4 / 161280.0,
)
_BACK = (
    _N / 2.0 - 2.0 * _N2 / 3.0 + 37.0 * _N3 / 96.0 - _N4 / 360.0,
    _N2 / 48.0 + _N3 / 15.0 - 437.0 * _N4 / 1440.0,
    17.0 * _N3 / 480.0 - 37.0 * _N4 / 840.0,
    4397.0 * _N4 / 161280.0,
)
_LATITUDE = (
    2.0 * _N - 2.0 * _N2 / 3.0 - 2.0 * _N3 + 116.0 * _N4 / 45.0,
    7.0 * _N2 / 3.0 - 8.0 * _N3 / 5.0 - 227.0 * _N4 / 45.0,
    56.0 * _N3 / 15.0 - 136.0 * _N4 / 35.0,
    4279.0 * _N4 / 630.0,
)


def zone_of(lon_deg: float) -> int:
    """The zone of a longitude, 1 to 60; Norway's and Svalbard's exceptions are left out."""
    return int((lon_deg + 180.0) // 6.0) % 60 + 1


def middle_lon_deg(zone: int) -> float:
    """The longitude in the middle of a zone. [deg]"""
    return -183.0 + 6.0 * zone


def to_utm(lon_deg, lat_deg, zone: int, south: bool = False):
    """East and north in a zone.

    Args: longitude and latitude, any one shape [deg]; the zone; whether of the south.
    Returns: two arrays of that shape [m]. Missing: NaN gives NaN.
    """
    turn = np.radians(np.asarray(lon_deg, float) - middle_lon_deg(zone))
    sine = np.sin(np.radians(np.asarray(lat_deg, float)))
    k = 2.0 * math.sqrt(_N) / (1.0 + _N)
    t = np.sinh(np.arctanh(sine) - k * np.arctanh(k * sine))
    xi, eta = np.arctan2(t, np.cos(turn)), np.arctanh(np.sin(turn) / np.hypot(1.0, t))
    east, north = eta.copy(), xi.copy()
    for j, a in enumerate(_FORWARD, start=1):
        east += a * np.cos(2 * j * xi) * np.sinh(2 * j * eta)
        north += a * np.sin(2 * j * xi) * np.cosh(2 * j * eta)
    return (
        FALSE_EAST_M + SCALE * _RADIUS_M * east,
        (FALSE_NORTH_M if south else 0.0) + SCALE * _RADIUS_M * north,
    )


def from_utm(east_m, north_m, zone: int, south: bool = False):
    """Longitude and latitude of meters in a zone.

    Args: east and north, any one shape [m]; the zone; whether of the south.
    Returns: two arrays of that shape [deg]. Missing: NaN gives NaN.
    """
    xi = (np.asarray(north_m, float) - (FALSE_NORTH_M if south else 0.0)) / (SCALE * _RADIUS_M)
    eta = (np.asarray(east_m, float) - FALSE_EAST_M) / (SCALE * _RADIUS_M)
    real, imaginary = xi.copy(), eta.copy()
    for j, b in enumerate(_BACK, start=1):
        real -= b * np.sin(2 * j * xi) * np.cosh(2 * j * eta)
        imaginary -= b * np.cos(2 * j * xi) * np.sinh(2 * j * eta)
    chi = np.arcsin(np.sin(real) / np.cosh(imaginary))
    lat = chi.copy()
    for j, d in enumerate(_LATITUDE, start=1):
        lat += d * np.sin(2 * j * chi)
    lon = middle_lon_deg(zone) + np.degrees(np.arctan2(np.sinh(imaginary), np.cos(real)))
    return lon, np.degrees(lat)
