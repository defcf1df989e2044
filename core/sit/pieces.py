"""Hours cut where the slope wind of a stand begins to turn and where it has turned."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.units import SECONDS_PER_HOUR

Ints = npt.NDArray[np.int64]

WHOLE, BEFORE, TURNING, AFTER = range(4)
PIECE_WORDS = ("whole", "before", "turning", "after")


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
