"""A walked track without the wobble of its receiver, and without standing about at its ends.

A receiver that errs by some yards at every second draws a walk far longer than it was. Here
the walk is a few straight pieces, each at an even pace, laid through all the places by least
squares; pieces are joined for as long as the places do not tell them apart, errors that go on
from one place to the next counted as such. Corners that errors alone may have made so sharp
are drawn in by what they may owe to them.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
LEAST_PLACES = 16  # fewer were put down one by one
MOST_PLACES = 2000  # more are averaged in groups first
MOST_PIECES, PLACES_EACH = 80, 4  # to begin with
TELLS_APART = 2.5  # times ln(2 n) a corner: two directions and, in part, its place in time
MOST_ALIKE = 0.98  # how far one error may go on in the next
DOUBT_TIMES, DOUBT_SHARE = 2.0, 0.02  # of the length: by its errors, and by pieces for bends
STANDS_BELOW = 0.4  # of the walk's usual pace
JUMPS_ARE = 2.04  # 1.177 x sqrt(3): median jump over three places, of errors of 1 m (rms)
WINDS = 8.0  # times as far off as the places jump: the way winds, the receiver does not wobble
FARTHEST_M = 50.0  # places that lie farther off were no wobble


@dataclass(frozen=True, eq=False)
class WalkedTrack:
    """A walk as a few places, and what it was before. Shapes (corner, 2); lengths [m]."""

    places_m: Floats
    recorded_m: float
    length_m: float
    doubt_m: float  # the length is likely known to so much
    stood: bool  # about, at an end


def straightened(places_m: Floats, times_s: Floats | None = None) -> WalkedTrack | None:
    """The walk behind a track.

    Args: its places in local metres, shape (place, 2); when each was recorded [s], None for
    places at an even beat.
    Returns: None for a track of under 16 places, one without a time for each, and one that is
    no walk of straight pieces: where places lie over 50 m off, or the way itself winds.
    Source: least squares of a line with corners that are taken away one by one; of all these
    the one with the least of Schwarz's criterion, of errors that go on in the next (AR(1));
    corners drawn in as by James and Stein; our own trials.
    """
    places, clock = _grouped(places_m, times_s)
    if len(places) < LEAST_PLACES or not (np.diff(clock) > 0).all():
        return None
    fit = _fitted(places, clock)
    off_m = np.hypot(*fit.errors.T)
    jumps_m = _jump_m(np.asarray(places_m, float))
    if np.percentile(off_m, 99) > FARTHEST_M or np.sqrt((off_m**2).mean()) > WINDS * jumps_m:
        return None
    moves = _moves(fit.corners, clock[fit.at])
    walked = slice(moves[0], moves[-1] + 2)
    kept = _drawn_in(fit)[walked]
    stood = moves[0] > 0 or moves[-1] + 2 < len(fit.corners)
    recorded_m, length_m = _length_m(np.asarray(places_m, float)), _length_m(kept)
    doubt_m = DOUBT_TIMES * _length_error_m(fit, walked) + DOUBT_SHARE * length_m
    return WalkedTrack(kept, recorded_m, length_m, doubt_m, bool(stood))


@dataclass(frozen=True, eq=False)
class _Fit:
    """A line with corners through all places: where these lie, and at which places in time;
    the inverse of its normal matrix; what is left over. Shapes (corner, 2), (corner,),
    (corner, corner), (place, 2)."""

    corners: Floats
    at: npt.NDArray[np.int64]
    inverse: Floats
    errors: Floats

    def alike(self) -> float:
        """How far one error goes on in the next."""
        total = float((self.errors**2).sum())
        alike = float((self.errors[1:] * self.errors[:-1]).sum()) / max(total, 1e-9)
        return min(max(alike, 0.0), MOST_ALIKE)

    def variance_m2(self) -> float:
        """Of one error in one direction, raised for errors that go on. [m2]"""
        free = max(1, 2 * (len(self.errors) - len(self.at)))
        alike = self.alike()
        return max(float((self.errors**2).sum()) / free, 1e-6) * (1 + alike) / (1 - alike)

    def criterion(self) -> float:
        """Schwarz's, of what each error adds to what goes on of the last one."""
        news = self.errors[1:] - self.alike() * self.errors[:-1]
        n = len(self.errors)
        fits = 2 * n * np.log(max(float((news**2).mean()), 1e-6))
        return float(fits + TELLS_APART * len(self.at) * np.log(2 * n))


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


def _fitted(places: Floats, clock: Floats) -> _Fit:
    """The line with as many corners as the places tell apart."""
    n = len(places)
    pieces = min(MOST_PIECES, n // PLACES_EACH)
    at = np.unique(np.linspace(0, n - 1, pieces + 1).round().astype(np.int64))
    fits = [_least_squares(places, clock, at)]
    while len(at) > 2:
        last = fits[-1]
        at = np.delete(at, int(_costs(last.corners, last.inverse, clock[at]).argmin()) + 1)
        fits.append(_least_squares(places, clock, at))
    return min(fits, key=_Fit.criterion)


def _drawn_in(fit: _Fit) -> Floats:
    """Corners nearer to the line of their neighbours, by what errors alone make of each."""
    corners, variance_m2 = fit.corners.copy(), fit.variance_m2()
    for i in range(1, len(corners) - 1):
        before, after = (float(np.hypot(*(corners[i] - corners[k]))) for k in (i - 1, i + 1))
        part = before / max(before + after, 1e-9)
        weights = np.zeros(len(corners))
        weights[i - 1 : i + 2] = part - 1, 1.0, -part
        bend = weights @ corners
        by_errors_m2 = 2 * float(weights @ fit.inverse @ weights) * variance_m2
        corners[i] -= bend * min(1.0, by_errors_m2 / max(float(bend @ bend), 1e-9))
    return corners


def _length_error_m(fit: _Fit, walked: slice) -> float:
    """By how much the length errs, one standard deviation. [m]"""
    pieces = np.diff(fit.corners[walked], axis=0)
    unit = pieces / np.maximum(np.hypot(*pieces.T), 1e-9)[:, None]
    moved = np.zeros_like(fit.corners[walked])
    moved[1:] += unit
    moved[:-1] -= unit
    inverse = fit.inverse[walked, walked]
    return float(np.sqrt(np.einsum("ia,ij,ja", moved, inverse, moved) * fit.variance_m2()))


def _least_squares(places: Floats, clock: Floats, at) -> _Fit:
    """The corners that fit best at places in time. Args: the places; their clock; which."""
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
    return _Fit(corners, at, inverse, errors)


def _costs(corners: Floats, inverse: Floats, clock: Floats) -> Floats:
    """What each inner corner saves: how much the errors grow without it. [m2]"""
    pace = 1 / np.diff(clock)
    bend = np.stack([pace[:-1], -(pace[:-1] + pace[1:]), pace[1:]], axis=1)
    three = np.arange(len(bend))[:, None] + np.arange(3)
    turned = (bend[:, :, None] * corners[three]).sum(axis=1)
    spread = np.einsum("ia,iab,ib->i", bend, inverse[three[:, :, None], three[:, None, :]], bend)
    return (turned**2).sum(axis=1) / spread


def _moves(corners: Floats, clock: Floats) -> npt.NDArray[np.int64]:
    """The pieces that were walked, not stood through: by the pace of half of the way."""
    long = np.hypot(*np.diff(corners, axis=0).T)
    pace = long / np.diff(clock)
    order = np.argsort(pace)
    half = np.searchsorted(np.cumsum(long[order]), long.sum() / 2)
    return np.flatnonzero(pace >= STANDS_BELOW * pace[order][min(half, len(pace) - 1)])
