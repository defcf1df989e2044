"""A small table of what reaches a place: strength at some states, drifts and half-widths.

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
from core.air.spread import SIGMA_B_RAD, spread_rad, thinning_per_m
from core.air.stability import D, F
from core.air.wander import HOUR_MIN, HOUR_SIGMA_V_MPS, averaged_share, hour_half_width_deg
from core.ground.plan import Receptors

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

SPEED_STEP, COARSE_SPEED_STEP, COARSE_DRIFT_DEG = 1.15, 1.4, 3.0
# over this no class widens any more, nor strays otherwise: 0.5 m/s over F's curve of an hour
STEADY_MPS = HOUR_SIGMA_V_MPS / (averaged_share(HOUR_MIN) * float(SIGMA_B_RAD[F]))
FEW_DIRECTIONS = 72  # so many reported directions are taken as they are
FEW_WIDTHS, WIDTH_STEP_DEG = 6, 5.0
STEPS_PER_RAD = 1200.0
THIN_RAD = 0.1  # a spread so small that the long way round adds nothing
N_CLASSES = 6
NO_STRENGTH = 1e-37
CHUNK = 1 << 17
NO_WIDTH_DEG = 1000.0  # no report is so vague: marks those widened by the wander
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
    """The states and drifts of the air in some hours, and where each hour lies among them.

    For each half-width that reports have, and each class, cells by the speed that steadies
    the air and by the way that it goes (its drift). A class and a speed give the spread, and
    how far an hour strays. An hour of one class and half-width lies between four cells:

                  drift 241    242    243  deg      speeds 1.15 times the one before, from
        speed 2.30     o------o------o              the least of the hours to the largest
                       |      |      |              that makes a difference; drifts 1 degree
        speed 2.65     o------o------o              apart round to north again, or, where
                       |   x  |      |              reports know few directions, those alone.
        speed 3.04     o------o------o   x: an hour

    A cell holds the logarithm of strength x speed x spread of the strongest of a place's
    points, with the air turned towards each of them by the half-width and the wander. Across
    drifts it is linear; across speeds it is linear in 1 / spread^2, and where the spread is
    the same, in the speed's logarithm. `low` is the cell at the upper left of each hour, the
    shares how far it lies toward the others.

    Args:
        stability, effective_mps, air_to_deg, half_width_deg: of the hours, all known.
            Shape (row,).
        cover_deg: what the cover at the source adds to the spread. [deg]
        coarse: cells far enough apart for a first look.
        strays: whether the wander of an hour widens the half-width, of all or of each.
        speed_step: how far apart speeds are, each that many times the one before.
    """

    def __init__(
        self,
        stability,
        effective_mps,
        air_to_deg,
        half_width_deg,
        *,
        cover_deg: float,
        coarse: bool = False,
        strays=True,
        speed_step: float = SPEED_STEP,
    ) -> None:
        self.cover_deg = cover_deg
        self._speeds(stability, effective_mps, COARSE_SPEED_STEP if coarse else speed_step)
        self._drifts(air_to_deg, COARSE_DRIFT_DEG if coarse else 1.0)
        self._widths(half_width_deg, np.broadcast_to(strays, np.shape(half_width_deg)))
        self.size = len(self.half_deg) * N_CLASSES * len(self.speed_mps) * len(self.drift_deg)
        cell = (self._width_at * N_CLASSES + stability) * len(self.speed_mps) + self._speed_at
        used = np.bincount(cell, minlength=self.size // len(self.drift_deg)) > 0
        used[1:] |= used[:-1]  # the cells above are looked up too
        self.used = used.reshape(len(self.half_deg), N_CLASSES, len(self.speed_mps))
        self.low = (cell * len(self.drift_deg) + self._drift_at).astype(np.int64)

    def _speeds(self, stability, effective_mps, step: float) -> None:
        speed = np.minimum(effective_mps, STEADY_MPS)
        low, high = float(np.min(speed)), float(np.max(speed))
        n = max(2, math.ceil(math.log(high / low) / math.log(step)) + 1)
        self.speed_mps = np.geomspace(low * (1 - 1e-9), max(high, low * 1.001), n)
        self.sigma_rad = spread_rad(np.arange(N_CLASSES)[:, None], self.speed_mps, self.cover_deg)
        log = np.log(self.speed_mps)
        steps = (np.log(speed) - log[0]) * ((n - 1) / (log[-1] - log[0]))
        at = np.clip(steps.astype(np.int64), 0, n - 2)
        # where the spread changes, the logarithm of a normal density, less that of its width,
        # is linear in 1/width^2; where it does not, the wander alone goes with the speed
        inverse = self.sigma_rad**-2
        gap = inverse[stability, at + 1] - inverse[stability, at]
        own = spread_rad(stability, effective_mps, self.cover_deg)
        with np.errstate(invalid="ignore", divide="ignore"):
            share = np.where(gap > 0, (own**-2 - inverse[stability, at]) / gap, steps - at)
        self._speed_at = at
        self.speed_share = np.clip(share, 0.0, 1.0).astype(np.float32)
        self.minus_log_sigma = -np.log(own)

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

    def _widths(self, half_width_deg, strays) -> None:
        half = np.round(half_width_deg, 2)
        if len(half) and half.min() == half.max() and strays.all():  # as in most histories
            self.half_deg, self.strays = half[:1], strays[:1]
            self._width_at = np.zeros(len(half), np.int64)
            return
        if len(np.unique(half)) > FEW_WIDTHS:  # a vaguer report is never cleaner
            half = np.ceil(half / WIDTH_STEP_DEG) * WIDTH_STEP_DEG
        kinds, self._width_at = np.unique(half + NO_WIDTH_DEG * strays, return_inverse=True)
        self.strays = kinds >= NO_WIDTH_DEG
        self.half_deg = kinds - NO_WIDTH_DEG * self.strays

    def table(self, points: Points, height_m: float):
        """log(strength x speed x spread) of a source's points. Shape (size,), float32.

        Args: points' bearing [deg] and distance [m]; height of the source [m].
        """
        bearing, distance = points
        shape = (len(self.half_deg), N_CLASSES, len(self.speed_mps), len(self.drift_deg))
        best = np.full(shape, math.log(NO_STRENGTH), np.float32)
        if len(bearing):
            peak, width = _along(distance, height_m)
            offset = offset_rad(self.drift_deg[:, None], bearing) * (STEPS_PER_RAD / width)
            if self.exact:
                self._fill_each(best, peak, offset.astype(np.float32), STEPS_PER_RAD / width)
            else:
                self._fill_wide(best, peak, np.rint(offset).astype(np.intp))
        return best.ravel()

    def _turned_deg(self, width: int):
        """How far the air of each state is turned towards a place. Shape (class, speed)."""
        if not self.strays[width]:
            return np.full(self.sigma_rad.shape, self.half_deg[width])
        every = np.arange(N_CLASSES)[:, None]
        return hour_half_width_deg(self.half_deg[width], every, self.speed_mps)

    def _fill_each(self, best, peak, offset, steps) -> None:
        """The strongest point for each state and way, each state's doubt taken for itself."""
        near, rows = self._directions()
        for i in range(len(self.half_deg)):
            states = np.nonzero(self.used[i])
            turned = np.radians(self._turned_deg(i)[states]).astype(np.float32)
            step = max(1, CHUNK // offset.size)
            for first in range(0, len(turned), step):
                k, s = (x[first : first + step] for x in states)
                at = offset - turned[first : first + step, None, None] * steps
                np.maximum(at, 0.0, out=at)
                at = np.minimum(at.astype(np.int32), near.shape[1] - 1)
                at += (rows[k, s] * near.shape[1]).astype(np.int32)[:, None, None]
                picked = np.take(near, at)
                picked *= peak[k][:, None, :]
                best[i, k, s] = np.log(np.maximum(picked.max(axis=-1), NO_STRENGTH))

    def _fill_wide(self, best, peak, at) -> None:
        """As `_fill_each` for all whole degrees: the doubt is a sliding largest over them."""
        near, rows = self._directions()
        used = self.used.any(axis=0)
        sure = np.zeros((N_CLASSES, len(near), len(self.drift_deg)), np.float32)
        for row in np.unique(rows[used]):  # states of one spread share the direction
            picked = np.take(near[row], at, mode="clip")
            for k in np.flatnonzero((used & (rows == row)).any(axis=1)):
                sure[k, row] = (picked * peak[k]).max(axis=-1)
        states = np.nonzero(used)
        sure = np.log(np.maximum(sure[states[0], rows[states]], NO_STRENGTH))
        for i in range(len(self.half_deg)):
            turned = self._turned_deg(i)[states] / self.drift_deg[1]
            best[i][states] = widened(sure, turned)

    def _directions(self):
        """Density x spread at small steps of offset up to half a turn, for each spread; and
        which of them each state has, shape (class, speed)."""
        if not hasattr(self, "_near"):
            offset = np.arange(math.floor(math.pi * STEPS_PER_RAD) + 1) / STEPS_PER_RAD
            each, at = np.unique(self.sigma_rad, return_inverse=True)
            near = [wrapped_normal_per_rad(offset, s) * s for s in each]
            self._near = np.array(near, np.float32), at.reshape(self.sigma_rad.shape)
        return self._near

    def log_strength(self, table, at, base=0):
        """log(strength x speed) of some hours. Same shape as `at`.

        Args: a table, or several behind one another; hours as places in the arrays
        given to the grid; where the table of each begins.
        """
        low = self.low[at] + base
        across, share = len(self.drift_deg), self.speed_share[at]
        here = table[low] * (1 - share) + table[low + across] * share
        if not self.exact:
            beside = table[low + 1] * (1 - share) + table[low + across + 1] * share
            turn = self.drift_share[at]
            here = here * (1 - turn) + beside * turn
        return here + self.minus_log_sigma[at]


def widened(sure, half_steps):
    """The largest within so many steps to either side, all round. Shape (state, step).

    Args: values at steps round a circle, the first again at the end, shape (state, step);
    steps, whole or not, shape (state,): between two whole ones it lies between theirs.
    """
    n = sure.shape[1] - 1
    half = np.minimum(np.asarray(half_steps, float), n // 2 - 1)
    low = np.floor(half).astype(np.int64)
    share = (half - low).astype(np.float32)[:, None]
    rings = [sure[:, :n]]  # the largest of 1, 2, 4 ... steps from each on
    while 2 ** len(rings) <= 2 * (int(low.max(initial=0)) + 1) + 1:
        reach = 2 ** (len(rings) - 1)
        rings.append(np.maximum(rings[-1], np.roll(rings[-1], -reach, axis=1)))
    every = np.stack(rings)
    narrow, wide = (_largest(every, h) for h in (low, low + 1))
    found = narrow * (1 - share) + wide * share
    return np.concatenate([found, found[:, :1]], axis=1)


def _largest(rings, half):
    """The largest of the steps from -half to half about each. Shape (state, step)."""
    n = rings.shape[2]
    level = np.floor(np.log2(2 * half + 1)).astype(np.int64)
    first = np.arange(n) - half[:, None]
    last = np.arange(n) + half[:, None] - (2**level)[:, None] + 1
    state = np.arange(len(half))[:, None]
    return np.maximum(
        rings[level[:, None], state, first % n], rings[level[:, None], state, last % n]
    )


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
