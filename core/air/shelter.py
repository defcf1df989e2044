"""From the forecast's 10 m wind to the wind at the hunter."""

import numpy as np

FORECAST_HEIGHT_M = 10.0
LOWEST_M = 2.0  # a hunter on foot or on the ground
PROFILE_EXPONENT = np.array([0.07, 0.07, 0.10, 0.15, 0.35, 0.55])  # rural, A ... F [isc3]
# share of the open wind left by cover: wildland fire's wind adjustment factors for
# open and sheltered ground [andrews2012]; the edge value is an assumption
SHELTER = {"open": 1.0, "edge": 0.6, "timber": 0.3}


def wind_at_height_mps(speed_10m_mps, height_m, stability):
    """Wind at another height over open ground by the power law. [m/s]

    Args: 10 m wind [m/s]; height wanted [m]; class 0 to 5. Elementwise.
    Missing: NaN in gives NaN out.
    Source: [isc3] rural exponents.
    """
    ratio = np.asarray(height_m, float) / FORECAST_HEIGHT_M
    if ratio.ndim == 0:  # one height, many hours: one power for each class
        return np.asarray(speed_10m_mps) * (ratio**PROFILE_EXPONENT)[stability]
    return np.asarray(speed_10m_mps) * ratio ** PROFILE_EXPONENT[stability]


def wind_at_hunter_mps(speed_10m_mps, height_m, stability, cover: str):
    """Wind where the hunter is: by height, at least 2 m, and by cover. [m/s]

    Args: 10 m wind [m/s]; seat height [m]; class 0 to 5; open, edge or timber.
    Missing: NaN in gives NaN out.
    Source: [isc3] for height, [andrews2012] for cover.
    """
    height_m = np.maximum(height_m, LOWEST_M)
    return wind_at_height_mps(speed_10m_mps, height_m, stability) * SHELTER[cover]
