"""Wind too strong for a seat: for anybody, by its owner's limit, and off the ground."""

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.units import MPS_PER_MPH
from core.weather.hours import Hours

Bools = npt.NDArray[np.bool_]

GUST, STRONG, STORM = "gust", "strong-wind", "storm"
STRONG_WIND_MPS = 13.9  # Beaufort 7 begins
STORM_MPS = 28.5  # Beaufort 11 begins: trees come down


def over_limits(stand: Stand, weather: Hours) -> dict[str, Bools]:
    """Whether each hour's wind rules out a seat, by reason.

    Args: the stand; hours, shape (hour,).
    Returns: `storm`, over Beaufort 10 at any seat; `gust`, over the owner's limit;
    `strong-wind`, a mean of Beaufort 7 at a raised seat; shapes (hour,). For the first two
    the strongest wind told of the hour counts: gust, mean, or the upper end of a range.
    Missing: an hour without wind and gust is over no limit.
    Source: [nws-beaufort].
    """
    mean_mps = np.nan_to_num(weather.speed_mps)
    top_mps = np.fmax(np.fmax(weather.gust_mps, weather.speed_high_mps), mean_mps)
    limit_mps = np.inf if stand.max_gust_mph is None else stand.max_gust_mph * MPS_PER_MPH
    return {
        STORM: top_mps >= STORM_MPS,
        GUST: top_mps > limit_mps + 1e-9,
        STRONG: (mean_mps >= STRONG_WIND_MPS) & (stand.height_ft > 0),
    }
