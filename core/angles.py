"""Directions: wrapping, differences, compass points, components, ranges.

Every direction is in degrees clockwise from true north. `wind_from_deg` is where
the wind comes from; `air_to_deg` is where the air goes; they are opposite.
"""

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

POINTS_16 = (
    *("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE"),
    *("S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"),
)
POINT_WIDTH_DEG = 22.5
HALF_WIDTH_16_DEG = 11.25
HALF_WIDTH_8_DEG = 22.5
HALF_WIDTH_DEGREES_DEG = 5.0  # direction reports come in steps of 10 degrees


def wrap_deg(angle_deg):
    """Any angle brought into [0, 360). Arrays or scalars; NaN stays NaN."""
    wrapped = np.mod(angle_deg, 360.0)
    # a tiny negative angle rounds up to 360.0 itself
    return np.where(wrapped >= 360.0, 0.0, wrapped)[()]


def signed_difference_deg(a_deg, b_deg):
    """Smallest turn from b to a, in [-180, 180); positive is clockwise."""
    return np.mod(np.asarray(a_deg) - np.asarray(b_deg) + 180.0, 360.0) - 180.0


def separation_deg(a_deg, b_deg):
    """Angle between two directions, in [0, 180]."""
    return np.abs(signed_difference_deg(a_deg, b_deg))


def opposite_deg(direction_deg):
    """The direction behind: where air goes for where wind is from, and back."""
    return wrap_deg(np.asarray(direction_deg) + 180.0)


def components_mps(speed_mps, wind_from_deg):
    """East and north components of a wind. [m/s], [m/s]

    Source: EPA-454/R-99-005 section 2.2 (direction from, clockwise, true north).
    """
    theta = np.radians(wind_from_deg)
    return -np.asarray(speed_mps) * np.sin(theta), -np.asarray(speed_mps) * np.cos(theta)


def wind_from_components(east_mps, north_mps):
    """Direction from, in [0, 360), of a wind given by components; NaN if still."""
    east, north = np.asarray(east_mps, float), np.asarray(north_mps, float)
    direction = wrap_deg(np.degrees(np.arctan2(-east, -north)))
    return np.where((east == 0) & (north == 0), np.nan, direction)[()]


def mean_direction_deg(directions_deg: Sequence[float] | Array) -> float:
    """Unit-vector mean direction; NaN without directions or where they cancel.

    Source: EPA-454/R-99-005 section 6.2.2, unit-vector mean.
    """
    theta = np.radians(np.asarray(directions_deg, float))
    theta = theta[~np.isnan(theta)]
    if theta.size == 0:
        return math.nan
    sin, cos = float(np.mean(np.sin(theta))), float(np.mean(np.cos(theta)))
    if math.hypot(sin, cos) < 1e-9:  # opposite winds have no mean
        return math.nan
    return float(wrap_deg(math.degrees(math.atan2(sin, cos))))


def point_index(direction_deg: float) -> int:
    """Index in POINTS_16; the lower edge of a sector belongs to it."""
    return int((direction_deg + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG) % 16


def point_name(direction_deg: float) -> str:
    """Compass point of a direction, of sixteen."""
    return POINTS_16[point_index(direction_deg)]


def point_deg(name: str) -> float:
    """Degrees of one of the sixteen points. Raises: KeyError for another word."""
    try:
        return POINTS_16.index(name.strip().upper()) * POINT_WIDTH_DEG
    except ValueError:
        raise KeyError(name) from None


def in_ranges(direction_deg, ranges_deg: Sequence[tuple[float, float]], half_width_deg=0.0):
    """Whether a report's span touches any of the ranges. Elementwise.

    Args:
        direction_deg: middle of the report. [deg]
        ranges_deg: pairs (a, b), clockwise from a to b, ends included; (0, 360)
            is all round, (a, a) one direction.
        half_width_deg: half of the report's span. [deg]

    Missing: NaN directions give False.
    """
    direction, half = np.broadcast_arrays(
        np.asarray(direction_deg, float), np.asarray(half_width_deg, float)
    )
    touched = np.zeros(direction.shape, bool)
    for a_deg, b_deg in ranges_deg:
        span = b_deg - a_deg if 0 <= b_deg - a_deg <= 360 else (b_deg - a_deg) % 360.0
        middle = a_deg + span / 2.0
        # the small allowance keeps "ends included" true after rounding
        reach = span / 2.0 + np.nan_to_num(half) + 1e-9
        with np.errstate(invalid="ignore"):
            touched |= separation_deg(direction, middle) <= reach
    return touched[()]
