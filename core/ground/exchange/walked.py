"""A walked track without the wobble of its receiver, and without standing about at its ends.

A receiver that errs by some yards at every second draws a walk far longer than it was. Here
the walk is a few straight pieces, each at an even pace, laid through all the places by least
squares; pieces are joined for as long as the places do not tell them apart.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
LEAST_PLACES = 16  # fewer were put down one by one
MOST_PLACES = 2000  # more are averaged in groups first
MOST_PIECES, PLACES_EACH = 80, 4  # to begin with
TELLS_APART = 3.0  # times ln(2 n): two directions and a place in time, by Schwarz's criterion
MOST_ALIKE = 0.95  # how far one error may go on in the next
STANDS_BELOW = 0.4  # of the walk's usual pace
JUMPS_ARE = 2.04  # 1.177 x sqrt(3): median jump over three places, of errors of 1 m (rms)
WINDS = 6.0  # times as far off as the places jump: the way winds, the receiver does not wobble
FARTHEST_M = 50.0  # places that lie farther off were no wobble


@dataclass(frozen=True, eq=False)
class Walked:
    """A walk as a few places, and what it was before. Shapes (corner, 2); lengths [m]."""

    places_m: Floats
    recorded_m: float
    length_m: float
    stood: bool  # about, at an end


def straightened(places_m: Floats, times_s: Floats | None = None) -> Walked | None:
    """The walk behind a track.

    Args: its places in local metres, shape (place, 2); when each was recorded [s], None for
    places at an even beat.
    Returns: None for a track of under 16 places, one without a time for each, and one that is
    no walk of straight pieces: where places lie over 50 m off, or the way itself winds.
    Source: least squares of a line with corners that are taken away one by one while Schwarz's
    criterion falls, errors in a row counted by their autocorrelation; our own trials.
    """
    places, clock = _grouped(places_m, times_s)
    if len(places) < LEAST_PLACES or not (np.diff(clock) > 0).all():
        return None
    corners, at, off_m = _fitted(places, clock)
    jumps_m = _jump_m(np.asarray(places_m, float))
    if np.percentile(off_m, 99) > FARTHEST_M or np.sqrt((off_m**2).mean()) > WINDS * jumps_m:
        return None
    moves = _moves(corners, clock[at])
    kept = corners[moves[0] : moves[-1] + 2]
    stood = moves[0] > 0 or moves[-1] + 2 < len(corners)
    return Walked(kept, _length_m(np.asarray(places_m, float)), _length_m(kept), bool(stood))


def _jump_m(places: Floats) -> float:
    """How far a place jumps from where its neighbours lead: what a receiver errs by itself. [m]"""
    jumps = places[2:] - 2 * places[1:-1] + places[:-2]
    return float(np.median(np.hypot(*jumps.T))) / JUMPS_ARE


def _length_m(line: Floats) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def _grouped(places_m, times_s) -> tuple[Floats, Floats]:
    """At most so many places, each the mean of some that follow each other, and their clock."""
    places = np.asarray(places_m, float)
    clock = np.arange(len(places), dtype=float) if times_s is None else np.asarray(times_s, float)
    size = -(-len(places) // MOST_PLACES)
    count = len(places) // max(size, 1)
    if size <= 1 or not count:
        return places, clock
    end = count * size
    return (
        places[:end].reshape(count, size, 2).mean(axis=1),
        clock[:end].reshape(count, size).mean(axis=1),
    )


def _fitted(places: Floats, clock: Floats) -> tuple[Floats, npt.NDArray[np.int64], Floats]:
    """Corners, the places at which they lie in time, and how far off each place lies."""
    n = len(places)
    pieces = min(MOST_PIECES, n // PLACES_EACH)
    at = np.unique(np.linspace(0, n - 1, pieces + 1).round().astype(np.int64))
    while True:
        corners, inverse, errors = _least_squares(places, clock, at)
        if len(at) == 2:
            break
        costs = _costs(corners, inverse, clock[at])
        worst = int(costs.argmin())
        if costs[worst] > TELLS_APART * np.log(2 * n) * _variance_m2(errors, len(at)):
            break
        at = np.delete(at, worst + 1)
    return corners, at, np.hypot(*errors.T)


def _least_squares(places: Floats, clock: Floats, at) -> tuple[Floats, Floats, Floats]:
    """The corners that fit best, the inverse of their normal matrix, and what is left over."""
    cell = np.clip(np.searchsorted(at, np.arange(len(places)), "right") - 1, 0, len(at) - 2)
    begins, ends = clock[at][cell], clock[at][cell + 1]
    late = (clock - begins) / (ends - begins)
    k = len(at)

    def summed(to, values):
        return np.bincount(to, values, k)

    first = summed(cell, (1 - late) ** 2) + summed(cell + 1, late**2)
    beside = summed(cell, late * (1 - late))[:-1]
    normal = np.diag(first) + np.diag(beside, 1) + np.diag(beside, -1)
    told = np.column_stack(
        [summed(cell, (1 - late) * axis) + summed(cell + 1, late * axis) for axis in places.T]
    )
    inverse = np.linalg.inv(normal)
    corners = inverse @ told
    errors = places - ((1 - late)[:, None] * corners[cell] + late[:, None] * corners[cell + 1])
    return corners, inverse, errors


def _costs(corners: Floats, inverse: Floats, clock: Floats) -> Floats:
    """What each inner corner saves: how much the errors grow without it. [m2]"""
    pace = 1 / np.diff(clock)
    bend = np.stack([pace[:-1], -(pace[:-1] + pace[1:]), pace[1:]], axis=1)
    three = np.arange(len(bend))[:, None] + np.arange(3)
    turned = (bend[:, :, None] * corners[three]).sum(axis=1)
    spread = np.einsum("ia,iab,ib->i", bend, inverse[three[:, :, None], three[:, None, :]], bend)
    return (turned**2).sum(axis=1) / spread


def _variance_m2(errors: Floats, n_corners: int) -> float:
    """Of one error in one direction, raised for errors that go on from place to place. [m2]"""
    total = float((errors**2).sum())
    alike = float((errors[1:] * errors[:-1]).sum()) / max(total, 1e-9)
    alike = min(max(alike, 0.0), MOST_ALIKE)
    free = max(1, 2 * (len(errors) - n_corners))
    return max(total / free, 1e-6) * (1 + alike) / (1 - alike)


def _moves(corners: Floats, clock: Floats) -> npt.NDArray[np.int64]:
    """The pieces that were walked, not stood through: by the pace of half of the way."""
    long = np.hypot(*np.diff(corners, axis=0).T)
    pace = long / np.diff(clock)
    order = np.argsort(pace)
    half = np.searchsorted(np.cumsum(long[order]), long.sum() / 2)
    return np.flatnonzero(pace >= STANDS_BELOW * pace[order][min(half, len(pace) - 1)])
