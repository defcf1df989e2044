"""How far forecasts miss: by their source, by the owner's setting, and by what came here."""

import numpy as np

from core.answer.chances import Misses
from core.chance.law import spread_of
from core.ground.layout import Property
from core.weather.hours import Hours

# against the forecasts that the law was fitted on: common practice, no source
WEATHER_SERVICE_Q, OTHERS_Q = 1.0, 1.2
USUAL_PAIRS = 100  # what the usual value is worth: common practice, no source
LEAST_PAIRS, LEAST_MPS = 50, 2.0
LEAST_Q, MOST_Q = 0.7, 2.5
MEDIAN_OF_T = 0.741  # of the size of Student's t with 4 degrees of freedom


def usual_misses(weather: Hours, ground: Property) -> Misses:
    """What is taken before anything is known of one's own. Args: a forecast; the property.

    Source: common practice, no source: a setting of the property.
    """
    by_source = WEATHER_SERVICE_Q if weather.format.startswith("nws") else OTHERS_Q
    return Misses(by_source * ground.air.forecast_miss_times)


def moved(usual: Misses, cross_mps, speed_mps, lead_h) -> Misses:
    """The same, moved by pairs of forecast and what came.

    Args: what is usual; how far the wind that came lay across the forecast's way [m/s]; the
    forecast's speed [m/s]; hours ahead. Shapes (pair,).
    Missing: pairs with NaN, and forecasts under 2 m/s, are left out.
    Returns: unmoved with fewer than 50 pairs. Source: the median of the law's own t; weights
    are common practice, no source.
    """
    cross, speed = np.asarray(cross_mps, float), np.asarray(speed_mps, float)
    lead = np.asarray(lead_h, float)
    known = np.isfinite(cross) & np.isfinite(lead) & (np.nan_to_num(speed) >= LEAST_MPS)
    n = int(known.sum())
    if n < LEAST_PAIRS:
        return usual
    spread = spread_of(speed[known], lead[known]).cross_mps
    own = float(np.median(np.abs(cross[known]) / (MEDIAN_OF_T * spread)))
    q = np.sqrt((USUAL_PAIRS * usual.q**2 + n * own**2) / (USUAL_PAIRS + n))
    return Misses(float(np.clip(q, LEAST_Q, MOST_Q)), n)
