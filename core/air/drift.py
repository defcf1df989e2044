"""How much of the hunter's air reaches a place, and the distance that is like.

Strength is relative: it is only ever compared with the strength that a steady
6 mph wind in neutral air has straight downwind, and told as that distance.
"""

import math

import numpy as np

from core.air.spread import narrowing, spread_rad, thinning_per_m
from core.air.stability import D
from core.units import MPS_PER_MPH

REFERENCE_MPS = 6.0 * MPS_PER_MPH
NEAREST_LIKE_M, FARTHEST_LIKE_M = 1.0, 20_000.0
NARROW_RAD = 0.3
_ROOT_2PI = math.sqrt(2.0 * math.pi)


def wrapped_normal_per_rad(offset_rad, sigma_rad):
    """Density of the wrapped normal at offsets within half a turn. [1/rad]

    Args: offsets and standard deviation, both [rad]; they broadcast.
    Source: the definition of the wrapped normal distribution.

    The long way round is enough: a whole turn more adds less than 1e-38 of the middle at
    the widest spread that occurs, 0.48 rad at 10 m from light air in timber.
    """
    offset = np.abs(offset_rad)
    total = np.exp(-0.5 * (offset / sigma_rad) ** 2)
    # the long way round adds less than 1e-23 where the spread is narrow
    if np.max(sigma_rad, initial=0.0) > NARROW_RAD:
        total = total + np.exp(-0.5 * ((2 * np.pi - offset) / sigma_rad) ** 2)
    return total / (sigma_rad * _ROOT_2PI)


def offset_rad(air_to_deg, bearing_deg, half_width_deg=0.0):
    """Angle from the air's way to a bearing, less the report's half-width. [rad]

    Doubt is not dilution: a vaguer report turns the air towards the place.

    Args: air's way, bearing and half-width, all [deg]; they broadcast.
    Source: our own rule.
    """
    turn = np.abs(np.asarray(air_to_deg) - bearing_deg)
    if np.max(turn, initial=0.0) > 540.0:
        turn = np.mod(turn, 360.0)  # slow: up to a turn and a half the next line tells too
    turn = np.minimum(turn, np.abs(360.0 - turn))
    return np.radians(np.maximum(0.0, turn - half_width_deg))


def strength(*, distance_m, offset_rad, stability, carried_mps, sigma_rad, height_m=0.0):
    """c: how strongly air reaches a point. [s/m3 relative to a release of 1]

    Args (elementwise):
        distance_m: from the hunter, floor already applied. [m]
        offset_rad: angle between the air's way and the point. [rad]
        stability: class 0 to 5.
        carried_mps: speed of the air, floor already applied. [m/s]
        sigma_rad: spread of the direction, at 100 m. [rad]
        height_m: of the stand; 0 on foot. [m]

    Source: Gaussian plume written in angles, [turner1970]; [spicer1989], [isc3].
    """
    thin = thinning_per_m(stability, distance_m, height_m)
    seen_rad = sigma_rad * narrowing(distance_m)
    return plume(thin, carried_mps, distance_m, offset_rad, seen_rad)


def plume(thinning_per_m, carried_mps, distance_m, offset_rad, sigma_rad):
    """What a release of 1 leaves at a point, the plume's depth and width given. [s/m3]

    Args (elementwise): share of the air at the point's height [1/m], see
    `core.air.spread.column_per_m`; speed of the air [m/s]; distance [m]; angle to
    the point and spread of the direction there [rad].

    Source: [turner1970] equation 3.1, sideways distance written as an angle.
    """
    across = wrapped_normal_per_rad(offset_rad, sigma_rad)
    return thinning_per_m / (carried_mps * distance_m) * across


def reference_strength(distance_m):
    """Strength straight downwind in neutral air at 6 mph, from the ground."""
    sigma = spread_rad(D, REFERENCE_MPS)
    return strength(
        distance_m=distance_m,
        offset_rad=0.0,
        stability=D,
        carried_mps=REFERENCE_MPS,
        sigma_rad=sigma,
    )


_LIKE_LOG_M = np.linspace(math.log(NEAREST_LIKE_M), math.log(FARTHEST_LIKE_M), 4001)
_LIKE_LOG_C = np.log(reference_strength(np.exp(_LIKE_LOG_M)))


def equivalent_distance_m(strength_value):
    """The distance at which the reference is as strong. [m]  Elementwise.

    Returns: 1 m to 20 km, clipped. Missing: NaN gives NaN; 0 gives 20 km.
    """
    with np.errstate(divide="ignore"):
        log_c = np.log(np.asarray(strength_value, float))
    log_m = np.interp(-log_c, -_LIKE_LOG_C, _LIKE_LOG_M)
    return np.exp(np.where(np.isnan(log_c), np.nan, log_m))[()]
