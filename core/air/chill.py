"""Wind chill, for the line about the cold."""

import numpy as np

from core.units import MPS_PER_MPH, f_from_c

WARMEST_F, LEAST_MPH = 50.0, 3.0


def wind_chill_f(temperature_c, speed_10m_mps):
    """What bare skin feels, for airport wind. [degF]  Elementwise.

    Args: air temperature [degC]; wind at 10 m [m/s]. A hunter low in timber sees
    less wind, so this is the cold end.
    Missing: NaN outside the formula's range (over 50 degF, under 3 mph) or for NaN.
    Source: [nws2001] National Weather Service and Meteorological Service of
    Canada, 2001.
    """
    t = f_from_c(np.asarray(temperature_c, float))
    v = np.asarray(speed_10m_mps, float) / MPS_PER_MPH
    with np.errstate(invalid="ignore"):
        power = np.power(v, 0.16)
        felt = 35.74 + 0.6215 * t - 35.75 * power + 0.4275 * t * power
        return np.where((t <= WARMEST_F) & (v > LEAST_MPH), felt, np.nan)
