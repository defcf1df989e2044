"""Slope wind: air that slides down in the cold and climbs in the sun.

No published value exists for small hills; the strength and the wind at which it
fades are the owner's settings. The sun's part comes in as arrays; the clock of
first and last beam is worked out by `core.sit.clock`.
"""

import math

import numpy as np

FULL_GRADE_PCT = 20.0  # common practice, no source
FULL_SUN_WM2 = 600.0  # common practice, no source
RAMP_S = 3600.0
LEAST_EFFECTIVE_MPS = 0.75
LEAST_CARRY_MPS = 0.5
CLOUD_UNKNOWN_FRAC = 0.5


def tilt_deg(grade_pct: float) -> float:
    """Tilt of a grade in percent. [deg]"""
    return math.degrees(math.atan(grade_pct / 100.0))


def downward_share(time_s, first_beam_s, last_beam_s, sunset_s):
    """d: 1 while the slope is without sun, 0 in full sun, linear between. Elementwise.

    Args:
        time_s: instants. [epoch s]
        first_beam_s, last_beam_s: the slope's own; NaN where no beam comes. [epoch s]
        sunset_s: caps the evening ramp. [epoch s]

    Returns: falls over the hour after the first beam, rises over the hour before
    the last beam or sunset; the larger of the two; 1 all day without a beam.
    """
    time_s = np.asarray(time_s, float)
    evening_s = np.fmin(last_beam_s, sunset_s)
    falling = np.clip(1.0 - (time_s - first_beam_s) / RAMP_S, 0.0, 1.0)
    rising = np.clip(1.0 + (time_s - evening_s) / RAMP_S, 0.0, 1.0)
    return np.where(np.isnan(first_beam_s), 1.0, np.maximum(falling, rising))


def slope_speed_mps(*, downward, irradiance_wm2, cloud_frac, grade_pct, full_mps):
    """Slope wind before the general wind fades it; uphill is positive. [m/s]

    Args: d of `downward_share`; irradiance on the slope under this cloud [W/m2];
    cloud cover (NaN: half); grade [%]; strength of a full slope wind [m/s].
    """
    cloud = np.where(np.isnan(cloud_frac), CLOUD_UNKNOWN_FRAC, cloud_frac)
    heat = (1.0 - downward) * np.minimum(1.0, np.asarray(irradiance_wm2) / FULL_SUN_WM2)
    return (heat - downward * (1.0 - cloud)) * full_mps * min(1.0, grade_pct / FULL_GRADE_PCT)


def fade(speed_10m_mps, fades_at_mps: float):
    """How much of the slope wind the general wind leaves, 1 to 0."""
    return np.maximum(0.0, 1.0 - np.asarray(speed_10m_mps) / fades_at_mps)


def toward(wind_from_deg):
    """East and north of where a wind goes, of length one. Args: where it is from [deg]."""
    to = np.radians(np.asarray(wind_from_deg) + 180.0)
    return np.sin(to), np.cos(to)


def carried(*, wind_mps, toward, slope_mps, downhill_deg):
    """Where the air goes and how fast: wind at the hunter plus slope wind.

    Args: wind at the hunter [m/s] and its direction as `toward`; slope wind,
    uphill positive [m/s]; where downhill is [deg]. Elementwise.

    Returns: (air_to_deg in [0, 360), speed [m/s]).
    """
    up = math.radians(downhill_deg + 180.0)
    east = wind_mps * toward[0] + slope_mps * math.sin(up)
    north = wind_mps * toward[1] + slope_mps * math.cos(up)
    air_to_deg = np.degrees(np.arctan2(east, north))
    air_to_deg = np.where(air_to_deg < 0.0, air_to_deg + 360.0, air_to_deg)
    return np.where(air_to_deg >= 360.0, 0.0, air_to_deg), np.sqrt(east**2 + north**2)


def effective_speed_mps(speed_10m_mps, carried_mps, wind_mps):
    """Ue: the wind that steadies the air; opposing winds cancel. [m/s]

    10 m wind x the share of the hunter's wind that the slope leaves, at least
    0.75 m/s. At no wind at all it is 0.75.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(wind_mps > 0, carried_mps / wind_mps, 0.0)
    return np.maximum(LEAST_EFFECTIVE_MPS, speed_10m_mps * np.minimum(1.0, share))
