"""Stability class A to F of an hour, from wind, cloud, sun and the clock.

Classes are small integers, 0 = A ... 5 = F. Night by Pasquill's table, day by
EPA's table of solar radiation; the hour before night and the hour after are D.
"""

import numpy as np

CLASSES = "ABCDEF"
A, B, C, D, E, F = range(6)
HOUR_S = 3600.0
OVERCAST_OVER_FRAC = 0.5

# lower edges of the wind bins; a lower edge belongs to the faster bin
SPEED_EDGES_MPS = np.array([2.0, 3.0, 5.0, 6.0])  # [pasquill1961], [epa2000] table 6-7
RADIATION_EDGES_WM2 = np.array([175.0, 675.0, 925.0])  # [epa2000] table 6-7

# rows: wind bin; columns: under 175, 175 to 675, 675 to 925, 925 and over [W/m2]
DAY_TABLE = np.array([[D, B, A, A], [D, C, B, A], [D, C, B, B], [D, D, C, C], [D, D, D, C]])
# rows: wind bin; columns: cloud over half, cloud to half (Pasquill's two night columns)
NIGHT_TABLE = np.array([[E, F], [E, F], [D, E], [D, D], [D, D]])


def day_class(speed_mps, radiation_wm2):
    """Class by day from 10 m wind and solar radiation. Elementwise.

    Args: wind [m/s] and global horizontal irradiance [W/m2], any shapes.
    Missing: NaN counts as the lowest bin; callers leave missing hours out.
    Source: [epa2000] section 6.4.2, table 6-7.
    """
    row = np.searchsorted(SPEED_EDGES_MPS, np.nan_to_num(speed_mps), side="right")
    column = np.searchsorted(RADIATION_EDGES_WM2, np.nan_to_num(radiation_wm2), side="right")
    return DAY_TABLE[row, column]


def night_class(speed_mps, cloud_frac):
    """Class by night from 10 m wind and cloud. Elementwise.

    Args: wind [m/s]; cloud cover [0 to 1].
    Missing: a missing cloud counts as a clear night, on purpose: doubt must
        not make the air look more mixed than it may be.
    Source: [pasquill1961] as printed by NOAA ARL READY.
    """
    row = np.searchsorted(SPEED_EDGES_MPS, np.nan_to_num(speed_mps), side="right")
    column = np.where(np.nan_to_num(cloud_frac) > OVERCAST_OVER_FRAC, 0, 1)
    return NIGHT_TABLE[row, column]


def stability_class(*, time_s, sunrise_s, sunset_s, speed_mps, cloud_frac, radiation_wm2):
    """Class of each instant of one local day. Elementwise.

    Args:
        time_s: the instants, the middles of rows. [epoch s]
        sunrise_s, sunset_s: of the local day of each instant. [epoch s]
        speed_mps: wind at 10 m. [m/s]
        cloud_frac: cloud cover; NaN where not given.
        radiation_wm2: global irradiance under that cloud. [W/m2]

    Returns: 0 = A ... 5 = F.
    Source: [pasquill1961] for night (1 h before sunset to 1 h after sunrise)
        and for D in the hour before it and after it; [epa2000] by day.
    """
    since_rise = np.asarray(time_s) - sunrise_s
    until_set = np.asarray(sunset_s) - time_s
    night = (since_rise <= HOUR_S) | (until_set <= HOUR_S)
    turn = (since_rise <= 2 * HOUR_S) | (until_set <= 2 * HOUR_S)
    by_day = np.where(turn, D, day_class(speed_mps, radiation_wm2))
    return np.where(night, night_class(speed_mps, cloud_frac), by_day)
