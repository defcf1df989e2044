"""How far the air of an hour strays from its mean: doubt, told as a half-width.

A plume's own curves are means of ten minutes, and the field test bears them out. A hunter
sits an hour, and in light wind the air of an hour goes further to the side than that of
its ten minutes. That is doubt about where they point, not more thinning: it widens the
half-width of the report and leaves the plume alone.
"""

import numpy as np

from core.air.spread import SIGMA_B_RAD, SIGMA_V_MPS

HOUR_SIGMA_V_MPS = 0.5  # side gusts of an hour in light wind [hanna1983]
MEANS_MIN, HOUR_MIN = 10.0, 60.0
AVERAGING_POWER = 0.2  # sigma-y goes as averaging time to this power [spicer1989]


def averaged_share(minutes):
    """Share by which a longer mean is wider than one of ten minutes. Elementwise.

    Args: averaging time [min]. Source: [spicer1989], sigma-y as time^0.2.
    """
    return (np.asarray(minutes, float) / MEANS_MIN) ** AVERAGING_POWER


def wander_deg(stability, effective_speed_mps):
    """What an hour's air strays beyond its ten-minute means. [deg]  Elementwise.

    Args: class 0 to 5; wind that steadies the air, see `core.air.slopes` [m/s].
    Returns: the root of the difference of the two variances, 0 or more.
    Missing: NaN in gives NaN out.
    Source: an hour's spread is the larger of the curve's, by [spicer1989], and 0.5 m/s over
    the speed [hanna1983]; that of ten minutes the larger of the curve and 0.2 m/s [aermod].
    """
    speed = np.asarray(effective_speed_mps, float)
    curve = SIGMA_B_RAD[stability]
    hour = np.maximum(averaged_share(HOUR_MIN) * curve, HOUR_SIGMA_V_MPS / speed)
    ten_minutes = np.maximum(curve, SIGMA_V_MPS / speed)
    return np.degrees(np.sqrt(np.maximum(0.0, hour**2 - ten_minutes**2)))


def hour_half_width_deg(half_width_deg, stability, effective_speed_mps):
    """w': a report's half-width with the wander of the hour. [deg]  Elementwise.

    Args: half-width of the report [deg]; class 0 to 5; wind that steadies the air [m/s].
    Missing: NaN in gives NaN out.
    Source: two doubts that know nothing of each other add as squares; `wander_deg`.
    """
    return np.hypot(half_width_deg, wander_deg(stability, effective_speed_mps))
