"""The rows of a window: what of it is judged one by one, and how much each counts.

Hours, or the pieces of them that are cut where the slope wind of a stand turns.
"""

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
WHOLE, BEFORE, TURNING, AFTER = range(4)
PIECE_WORDS = ("whole", "before", "turning", "after")


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

    @functools.cached_property
    def in_prime(self) -> Bools:
        """Rows with enough minutes in one of the prime blocks to decide anything."""
        return (self.prime_first_min >= SHORT_MIN) | (self.prime_last_min >= SHORT_MIN)

    @functools.cached_property
    def total(self) -> Floats:
        """What all rows of each sit count together, never nothing; shape (sit,)."""
        return np.maximum(self.weight.sum(axis=-1), 1e-9)

    def take(self, which) -> "WindowRows":
        """The rows of some sits. Args: their places, or a mask."""
        return WindowRows(*(by_row(getattr(self, f.name)[which]) for f in fields(self)))


def by_row(values):
    """An array (sit, row) laid out row after row: sums over the few rows are then quick."""
    return np.asfortranarray(values)


class RowsIn:
    """Rows as they lie in windows. Elementwise.

    Args: start and end of each row, and of its window, whole minutes. [epoch s]
    """

    def __init__(self, row, window) -> None:
        self._start_s, end_s = window
        self._n_minutes = (end_s - self._start_s) // SECONDS_PER_MINUTE
        self._first, self._end = self._before(row[0]), self._before(row[1])

    def _before(self, time_s):
        """Minutes of the window with their middle before an instant."""
        minute = np.ceil((time_s - self._start_s) / SECONDS_PER_MINUTE - 0.5)
        return np.clip(minute, 0, self._n_minutes)

    def minutes(self, from_s=-math.inf, until_s=math.inf):
        """Minutes of the windows in the rows that have their middle between two instants.

        Args: the instants, all times by default. [epoch s]
        """
        first = np.maximum(self._first, self._before(from_s))
        return np.maximum(np.minimum(self._end, self._before(until_s)) - first, 0.0)

    def weight(self, day):
        """Sum of what the minutes of the windows in the rows count.

        A minute counts 1, within 90 minutes of the day's edge 1.5, in the last half
        hour 2. Args: the day, anything with sunrise and sunset [epoch s].
        Source: common practice; crepuscular movement is supported, see [webb2010].
        """
        minutes = self.minutes()
        early = self.minutes(until_s=day.sunrise_s + EDGE_OF_DAY_S)
        late = self.minutes(from_s=day.sunset_s - EDGE_OF_DAY_S)
        last = self.minutes(from_s=day.sunset_s - LAST_LIGHT_S)
        return minutes + 0.5 * np.minimum(minutes, early + late) + 0.5 * last


def row_sums(row, window, day, legal_s, sit: str, no_prime):
    """Of rows: minutes of a window in them, their weight, and those in the prime blocks.

    Args (elementwise): start and end of each row; the window; the sun; start and end of
    legal light; the kind of sit; whether the day has no prime block. [epoch s]
    """
    rows = RowsIn(row, window)
    first = rows.minutes(until_s=legal_s[0] + PRIME_MORNING_S)
    last = rows.minutes(from_s=legal_s[1] - PRIME_EVENING_S)
    return (
        rows.minutes(),
        rows.weight(day),
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


# --- hours cut where the slope wind begins to turn and where it has turned ---


@dataclass(frozen=True, eq=False)
class Pieces:
    """The pieces of the hours of many sits, in order of time. Shapes (sit, piece).

    `row`: the hour each is of; `kind`: one of `PIECE_WORDS`; `span`: which span of turning
    air it lies in, -1 for none. All sits have as many: some have no length, their start
    being their end.
    """

    start_s: Ints
    end_s: Ints
    row: Ints
    kind: npt.NDArray[np.int8]
    span: Ints


def whole_rows(row_start_s) -> Pieces:
    """Every hour as one piece. Args: starts of the hours of each sit [epoch s], (sit, row)."""
    start_s = np.asarray(row_start_s, np.int64)
    none = np.zeros(start_s.shape, np.int64)
    return Pieces(
        start_s,
        start_s + SECONDS_PER_HOUR,
        none + np.arange(start_s.shape[1]),
        none.astype(np.int8),
        none - 1,
    )


def cut_rows(row_start_s, uncut, span_sit, span_start_s, span_end_s) -> Pieces:
    """Cuts hours at both ends of every span of turning air.

    Args:
        row_start_s: starts of the hours of each sit, one after another. Shape (sit, row).
        uncut: hours that stay whole, whatever turns in them. Shape (sit, row).
        span_sit, span_start_s, span_end_s: spans in order of sit and time, those of one sit
            apart from each other [epoch s]. Shapes (span,).
    """
    row_start_s = np.asarray(row_start_s, np.int64)
    n_sits, n_rows = row_start_s.shape
    if not len(span_sit) or not n_rows:
        return whole_rows(row_start_s)
    first_s, end_s = row_start_s[:, :1], row_start_s[:, -1:] + SECONDS_PER_HOUR
    span = _spans_by_sit(n_sits, np.asarray(span_sit), span_start_s, span_end_s)
    cuts = np.concatenate([span.start_s, span.end_s], axis=1)
    row = np.clip((cuts - first_s) // SECONDS_PER_HOUR, 0, n_rows - 1)
    inside = (cuts > first_s) & (cuts < end_s) & ~np.take_along_axis(uncut, row, axis=1)
    # a cut that is none lies at the end, where a piece of no length begins
    cuts = np.where(inside, cuts, end_s)
    start_s = np.sort(np.concatenate([row_start_s, cuts], axis=1), axis=1)
    stop_s = np.concatenate([start_s[:, 1:], end_s], axis=1)
    row = np.clip((start_s - first_s) // SECONDS_PER_HOUR, 0, n_rows - 1)
    kept_whole = np.take_along_axis(uncut, row, axis=1)
    within = _span_of(span, start_s, stop_s) if span.start_s.size else np.full(row.shape, -1)
    within = np.where(kept_whole | (start_s == stop_s), -1, within)
    row_first_s = first_s + row * SECONDS_PER_HOUR
    is_whole = kept_whole | ((start_s == row_first_s) & (stop_s == row_first_s + SECONDS_PER_HOUR))
    turned = (span.end_s[:, None] > row_first_s[..., None]) & (
        span.end_s[:, None] <= start_s[..., None]
    )
    kind = np.select([within >= 0, is_whole, turned.any(axis=-1)], [TURNING, WHOLE, AFTER], BEFORE)
    return Pieces(start_s, stop_s, row, kind.astype(np.int8), within)


@dataclass(frozen=True, eq=False)
class _Spans:
    """Spans of each sit, shapes (sit, span); missing ones lie before all time."""

    at: Ints
    start_s: Ints
    end_s: Ints


def _spans_by_sit(n_sits: int, sit: Ints, start_s, end_s) -> _Spans:
    count = np.bincount(sit, minlength=n_sits)
    place = np.arange(len(sit)) - np.repeat(np.cumsum(count) - count, count)
    shape = (n_sits, int(count.max(initial=0)))
    table = _Spans(np.full(shape, -1), np.full(shape, -1), np.full(shape, -1))
    table.at[sit, place] = np.arange(len(sit))
    table.start_s[sit, place], table.end_s[sit, place] = start_s, end_s
    return table


def _span_of(span: _Spans, start_s: Ints, stop_s: Ints) -> Ints:
    """The span each piece lies in, -1 for none. Shape (sit, piece)."""
    holds = (span.start_s[:, None] <= start_s[..., None]) & (
        stop_s[..., None] <= span.end_s[:, None]
    )
    at = np.take_along_axis(span.at[:, None], holds.argmax(axis=-1)[..., None], axis=-1)
    return np.where(holds.any(axis=-1), at[..., 0], -1)
