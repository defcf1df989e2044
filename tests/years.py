"""Calendar years with the hours of the typical one: a season of a known number of sits."""

import dataclasses
from collections.abc import Sequence

import numpy as np

from core.weather.files.typical import STANDARD_OFFSET_S
from core.weather.hours import ROW_S, Hours


def laid_over(year: Hours, years: Sequence[int]) -> Hours:
    """A typical year's hours laid over calendar years.

    Args: the typical year of `core.weather.files.typical`; the years wanted, in order.
    29 February has no hours, for a typical year has none.
    """
    offset_s = STANDARD_OFFSET_S
    local = (year.start_s + offset_s).astype("datetime64[s]")
    month = local.astype("datetime64[M]")
    into_month_s = (local - month).astype("timedelta64[s]").astype(np.int64)
    month_number = month.astype(np.int64) % 12
    order = np.lexsort((into_month_s, month_number))
    order = order[(month_number[order] != 1) | (into_month_s[order] < 28 * 24 * ROW_S)]
    firsts = [(12 * (wanted - 1970) + month_number[order]) for wanted in years]
    first_s = np.concatenate(firsts).astype("datetime64[M]").astype("datetime64[s]")
    start_s = first_s.astype(np.int64) + np.tile(into_month_s[order], len(years)) - offset_s
    return dataclasses.replace(year.take(np.tile(order, len(years))), start_s=start_s)
