"""Sun and light repeat every four years but for a trifle: four years stand for many."""

import numpy as np
import numpy.typing as npt

from core.units import SECONDS_PER_HOUR

Ints = npt.NDArray[np.int64]

CYCLE_S = 1461 * 24 * SECONDS_PER_HOUR  # four years
CYCLE_YEARS = 4


def later_s(time_s: Ints, dates: npt.NDArray[np.datetime64]) -> Ints:
    """How much later instants are than the same day and hour in the four years meant.

    Those are the four in the middle of some dates; the first of all where they are few.
    Args: instants [epoch s], any shape; the dates. Returns: whole times four years. [s]
    """
    years = np.concatenate([dates.min(keepdims=True), dates.max(keepdims=True)])
    first, last = _year(years.astype("datetime64[s]").astype(np.int64))
    middle = first if last - first < CYCLE_YEARS else (first + last) // 2 - 1
    return (_year(time_s) - middle) // CYCLE_YEARS * CYCLE_S


def _year(time_s: Ints) -> Ints:
    return time_s.astype("datetime64[s]").astype("datetime64[Y]").astype(np.int64) + 1970
