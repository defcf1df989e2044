"""The rows of a window: what of it is judged one by one, and how much each counts."""

import functools
import math
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

MORNING, EVENING, ALL_DAY = "morning", "evening", "all-day"
PRIME_MORNING_S, PRIME_EVENING_S = 7200, 5400
EDGE_OF_DAY_S, LAST_LIGHT_S = 5400, 1800  # minutes this near sunrise or sunset count more
SHORT_MIN = 15


@dataclass(frozen=True, eq=False)
class WindowRows:
    """What of some windows is judged one by one; shapes (sit, row), kept row after row.

    A row is an hour of the weather, or a part of one with its own start and end. In order;
    where a sit has fewer than others, rows of no minutes stand at its end. `minutes`: those
    inside the window; `weight`: the sum of what they count; `prime_first_min`,
    `prime_last_min`: those in the first and the last prime block.
    """

    start_s: Ints
    end_s: Ints
    minutes: Floats
    weight: Floats
    prime_first_min: Floats
    prime_last_min: Floats

    @functools.cached_property
    def deciding(self) -> Bools:
        """Rows with enough minutes inside to decide anything."""
        return self.minutes >= SHORT_MIN

    @functools.cached_property
    def inside(self) -> Bools:
        """Rows with any minute inside."""
        return self.minutes > 0

    @functools.cached_property
    def prime(self) -> Bools:
        """Deciding rows that touch a prime block."""
        return (self.prime_first_min + self.prime_last_min > 0) & self.deciding

    def take(self, which) -> "WindowRows":
        """The rows of some sits. Args: their places, or a mask."""
        return WindowRows(*(by_row(getattr(self, f.name)[which]) for f in fields(self)))


def by_row(values):
    """An array (sit, row) laid out row after row: sums over the few rows are then quick."""
    return np.asfortranarray(values)


def minutes_in(row, window, from_s=-math.inf, until_s=math.inf):
    """Minutes of a window in a row that have their middle between two instants. Elementwise.

    Args: start and end of the row, and of the window, whole minutes; the instants,
    all times by default. [epoch s]
    """
    start_s, end_s = window
    n_minutes = (end_s - start_s) // SECONDS_PER_MINUTE

    def before(time_s):
        return np.clip(np.ceil((time_s - start_s) / SECONDS_PER_MINUTE - 0.5), 0, n_minutes)

    first = np.maximum(before(row[0]), before(from_s))
    return np.maximum(np.minimum(before(row[1]), before(until_s)) - first, 0.0)


def weight_in(row, window, day):
    """Sum of what the minutes of a window in a row count. Elementwise.

    A minute counts 1, within 90 minutes of the day's edge 1.5, in the last half
    hour 2. Args: as `minutes_in`; day, anything with sunrise and sunset [epoch s].
    Source: common practice; crepuscular movement is supported, see [webb2010].
    """
    minutes = minutes_in(row, window)
    early = minutes_in(row, window, until_s=day.sunrise_s + EDGE_OF_DAY_S)
    late = minutes_in(row, window, from_s=day.sunset_s - EDGE_OF_DAY_S)
    last = minutes_in(row, window, from_s=day.sunset_s - LAST_LIGHT_S)
    return minutes + 0.5 * np.minimum(minutes, early + late) + 0.5 * last


def row_sums(row, window, day, legal_s, sit: str, no_prime):
    """Of rows: minutes of a window in them, their weight, and those in the prime blocks.

    Args (elementwise): start and end of each row; the window; the sun; start and end of
    legal light; the kind of sit; whether the day has no prime block. [epoch s]
    """
    first = minutes_in(row, window, until_s=legal_s[0] + PRIME_MORNING_S)
    last = minutes_in(row, window, from_s=legal_s[1] - PRIME_EVENING_S)
    return (
        minutes_in(row, window),
        weight_in(row, window, day),
        np.where(no_prime, 0.0, first) * (sit != EVENING),
        np.where(no_prime, 0.0, last) * (sit != MORNING),
    )


def hours_of(window, origin_s: int = 0) -> tuple[Ints, Ints]:
    """Starts and ends of the hours that windows touch; shapes (sit, row), equal for all.

    Args: starts and ends of the windows [epoch s], shapes (sit,); an instant at which an
    hour of the weather begins.
    """
    start_s, end_s = window
    first = (start_s - origin_s) // SECONDS_PER_HOUR
    n_rows = max(1, int(((end_s - 1 - origin_s) // SECONDS_PER_HOUR - first).max(initial=0)) + 1)
    row_start = (first[:, None] + np.arange(n_rows)) * SECONDS_PER_HOUR + origin_s
    return row_start, row_start + SECONDS_PER_HOUR
