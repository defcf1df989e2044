"""A small table of what reaches a place: strength at some spreads, drifts and half-widths.

A distance changes the spread by the same share in every hour, so strength x speed is
the largest, over the bearings of a place's nearest points, of a thinning that knows
only class and distance and a direction term that knows only spread and angle (the
angle counted for more where distance makes the spread narrower).
"""

import itertools
import math

import numpy as np
import numpy.typing as npt

from core.air.drift import offset_rad, strength, wrapped_normal_per_rad
from core.air.spread import thinning_per_m
from core.air.stability import D
from core.ground.plan import Receptors

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

SIGMA_STEP, COARSE_SIGMA_STEP, COARSE_DRIFT_DEG = 1.1, 1.25, 3.0
FEW_DIRECTIONS = 72  # so many reported directions are taken as they are
FEW_WIDTHS, WIDTH_STEP_DEG = 6, 5.0
STEPS_PER_RAD = 1200.0
THIN_RAD = 0.1  # a spread so small that the long way round adds nothing
N_CLASSES = 6
NO_STRENGTH = 1e-37
CHUNK = 1 << 16
SAMPLE = 500


Points = tuple[Floats, Floats]  # bearing [deg], distance [m]


def merged(points: Receptors, kind_of_zone, n_kinds: int) -> list[list[Points]]:
    """The nearest point of each ray, and of each half degree between, per source and kind.

    Args: points; the kind of each zone, -1 for those left out; how many kinds.

    Returns: for each source, for each kind, bearings [deg] and distances [m].
    """
    kind = np.asarray(kind_of_zone, np.int64)[points.zone()] if len(points.group) else points.group
    keep = kind >= 0
    group = (points.source() * n_kinds + kind)[keep]
    bearing, distance = points.bearing_deg[keep], points.distance_m[keep]
    degree = bearing.astype(np.int64)
    slot = np.where(bearing == degree, 0, 1 + (2.0 * (bearing - degree)).astype(np.int64))
    key = (group * 360 + degree) * 3 + slot
    order = np.lexsort((distance, key))
    first = np.ones(len(order), bool)
    first[1:] = key[order][1:] != key[order][:-1]
    picked = order[first]
    bounds = np.searchsorted(group[picked], np.arange(points.n_sources * n_kinds + 1))
    pairs = [(bearing[picked[a:b]], distance[picked[a:b]]) for a, b in itertools.pairwise(bounds)]
    return [pairs[i : i + n_kinds] for i in range(0, len(pairs), n_kinds)]


class Grid:
    """The spreads, drifts and half-widths of some hours, and where each hour lies in them.

    For each half-width that reports have, and each class, cells by spread and by the way
    that air goes (its drift). An hour of one class and half-width lies between four cells:

                  drift 241    242    243  deg      spreads 1.1 times the one before, from
        spread 0.11    o------o------o              the least of the hours to the largest;
                       |      |      |              drifts 1 degree apart round to north
        spread 0.12    o------o------o              again, or, where reports know few
                       |   x  |      |              directions, those alone.
        spread 0.13    o------o------o   x: an hour

    A cell holds the logarithm of strength x speed x spread of the strongest of a place's
    points. Across drifts it is linear, across spreads linear in 1 / spread^2: so it is
    exact where one point is the strongest, and at reported directions. `low` is the cell
    at the upper left of each hour, the shares how far it lies toward the others.

    Args:
        stability, sigma_rad, air_to_deg, half_width_deg: of the hours, all known.
            Shape (row,).
        coarse: cells far enough apart for a first look.
    """

    def __init__(
        self, stability, sigma_rad, air_to_deg, half_width_deg, coarse: bool = False
    ) -> None:
        self._sigmas(sigma_rad, COARSE_SIGMA_STEP if coarse else SIGMA_STEP)
        self._drifts(air_to_deg, COARSE_DRIFT_DEG if coarse else 1.0)
        self._widths(half_width_deg)
        self.size = len(self.half_deg) * N_CLASSES * len(self.sigma) * len(self.drift_deg)
        cell = (self._width_at * N_CLASSES + stability) * len(self.sigma) + self._sigma_at
        used = np.bincount(cell, minlength=self.size // len(self.drift_deg)) > 0
        used[1:] |= used[:-1]  # the cells above are looked up too
        self.used = used.reshape(len(self.half_deg), N_CLASSES, len(self.sigma))
        self.low = (cell * len(self.drift_deg) + self._drift_at).astype(np.int64)

    def _sigmas(self, sigma_rad, step: float) -> None:
        low, high = float(np.min(sigma_rad)), float(np.max(sigma_rad))
        n = max(2, math.ceil(math.log(high / low) / math.log(step)) + 1)
        self.sigma = np.geomspace(low * (1 - 1e-9), max(high, low * 1.001), n)
        log = np.log(self.sigma)
        self.minus_log_sigma = -np.log(sigma_rad)
        steps = (-log[0] - self.minus_log_sigma) * ((n - 1) / (log[-1] - log[0]))
        at = np.clip(steps.astype(np.int64), 0, n - 2)
        # the logarithm of a normal density, less that of its width, is linear in 1/width^2
        inverse = self.sigma**-2
        gap = 1.0 / (inverse[:-1] - inverse[1:])
        share = (inverse[at] - 1.0 / np.square(sigma_rad)) * gap[at]
        self._sigma_at, self.sigma_share = at, np.clip(share, 0.0, 1.0).astype(np.float32)

    def _drifts(self, air_to_deg, step_deg: float) -> None:
        self.exact = _few(air_to_deg[:SAMPLE])
        if self.exact:
            reported, at = np.unique(np.round(air_to_deg, 6), return_inverse=True)
            self.exact = len(reported) <= FEW_DIRECTIONS
        if self.exact:
            self.drift_deg, self._drift_at = reported, at
            self.drift_share = np.zeros(len(at), np.float32)
        else:
            n = round(360.0 / step_deg)
            self.drift_deg = np.linspace(0.0, 360.0, n + 1)  # north twice: no hour is past it
            steps = np.asarray(air_to_deg) / step_deg
            self._drift_at = np.minimum(steps.astype(np.int64), n - 1)
            self.drift_share = (steps - self._drift_at).astype(np.float32)

    def _widths(self, half_width_deg) -> None:
        half = np.round(half_width_deg, 2)
        if half.min() == half.max():  # as in most histories
            self.half_deg, self._width_at = half[:1], np.zeros(len(half), np.int64)
            return
        if len(np.unique(half)) > FEW_WIDTHS:  # a vaguer report is never cleaner
            half = np.ceil(half / WIDTH_STEP_DEG) * WIDTH_STEP_DEG
        self.half_deg, self._width_at = np.unique(half, return_inverse=True)

    def table(self, points: Points, height_m: float):
        """log(strength x speed x spread) of a source's points. Shape (size,), float32.

        Args: points' bearing [deg] and distance [m]; height of the source [m].
        """
        bearing, distance = points
        shape = (len(self.half_deg), N_CLASSES, len(self.sigma), len(self.drift_deg))
        best = np.zeros(shape, np.float32)
        if len(bearing):
            peak, width = _along(distance, height_m)
            for i, half_deg in enumerate(self.half_deg):
                offset = offset_rad(self.drift_deg[:, None], bearing, half_deg)
                at = np.rint(offset * (STEPS_PER_RAD / width)).astype(np.intp)
                self._fill(best[i], self.used[i], peak, at)
        return np.log(np.maximum(best, NO_STRENGTH)).ravel()

    def _fill(self, best, used, peak, at) -> None:
        """The largest over the points, for the used classes and spreads of one width."""
        near = self._directions()
        step = max(1, CHUNK // at.size)
        for first in range(0, len(self.sigma), step):
            some = slice(first, first + step)
            picked = np.take(near[some], at, axis=1, mode="clip")  # (sigma, drift, point)
            room = np.empty_like(picked)
            for k in np.flatnonzero(used[:, some].any(axis=1)):
                np.multiply(picked, peak[k], out=room)
                best[k, some] = room.max(axis=-1)

    def _directions(self):
        """Density x spread at small steps of offset up to half a turn, for each spread."""
        if not hasattr(self, "_near"):
            offset = np.arange(math.floor(math.pi * STEPS_PER_RAD) + 1) / STEPS_PER_RAD
            near = [wrapped_normal_per_rad(offset, s) * s for s in self.sigma]
            self._near = np.array(near, np.float32)
        return self._near

    def log_strength(self, table, at, base=0):
        """log(strength x speed) of some hours. Same shape as `at`.

        Args: a table, or several behind one another; hours as places in the arrays
        given to the grid; where the table of each begins.
        """
        low = self.low[at] + base
        across, share = len(self.drift_deg), self.sigma_share[at]
        here = table[low] * (1 - share) + table[low + across] * share
        if not self.exact:
            beside = table[low + 1] * (1 - share) + table[low + across + 1] * share
            turn = self.drift_share[at]
            here = here * (1 - turn) + beside * turn
        return here + self.minus_log_sigma[at]


def _along(distance_m, height_m: float):
    """Strength x speed x spread straight along each point's bearing, and what its distance
    makes of the spread; shapes (class, point) and (point,).

    A spread that changes with distance as the same share in every class turns into a
    wider or narrower offset.
    """
    classes = np.arange(N_CLASSES)[:, None]
    peak = strength(
        distance_m=distance_m,
        offset_rad=0.0,
        stability=classes,
        carried_mps=1.0,
        sigma_rad=THIN_RAD,
        height_m=height_m,
    ) * (THIN_RAD * math.sqrt(2.0 * math.pi))
    plain = thinning_per_m(D, distance_m, height_m) / distance_m
    return peak.astype(np.float32), plain / peak[D]


def _few(air_to_deg) -> bool:
    return len(np.unique(np.round(air_to_deg, 6))) <= FEW_DIRECTIONS
