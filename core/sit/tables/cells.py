"""What reaches a place in some states of the air and ways that it goes: small tables.

A distance changes the spread by the same share in every hour, so strength x speed is
the largest, over the bearings of a place's nearest points, of a thinning that knows
only class and distance and a direction term that knows only spread and angle (the
angle counted for more where distance makes the spread narrower).
"""

import functools
import math

import numpy as np
import numpy.typing as npt

from core.air.drift import offset_rad, strength, wrapped_normal_per_rad
from core.air.spread import spread_rad, thinning_per_m
from core.air.stability import CLASSES, D
from core.air.wander import hour_half_width_deg
from core.sit.lately import Lately

Floats = npt.NDArray[np.float64]
Floats32 = npt.NDArray[np.float32]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

Points = tuple[Floats, Floats]  # bearing [deg], distance [m]

STEPS_PER_RAD = 1200.0
THIN_RAD = 0.1  # a spread so small that the long way round adds nothing
N_CLASSES = len(CLASSES)
NO_STRENGTH = 1e-37
CHUNK = 1 << 17
KEPT_PLACES = 8  # the tables of so many seats and walks: those of a stand at hand


class Cells:
    """Half-widths, classes and speeds of the air, and the ways it goes: states and drifts.

    States are counted class after class, in each speed after speed; those of the first
    half-width come first. Many are alike but for their class: what they share of a table is
    worked out once.

    Args: what the cover at the source adds to the spread [deg]; the speeds; the drifts [deg];
    whether these are all that reports know, or every so many degrees round to north again;
    the half-widths [deg], and which of them the wander of an hour widens. Shapes (speed,),
    (drift,), (width,), (width,).
    """

    def __init__(self, cover_deg: float, speed_mps, drift_deg, few: bool, half_deg, strays) -> None:
        self.drift_deg, self.few = drift_deg, few
        self.half_deg, self.strays, self.speed_mps = half_deg, strays, speed_mps
        self.sigma_rad = spread_rad(np.arange(N_CLASSES)[:, None], speed_mps, cover_deg)
        self.tables = Lately(KEPT_PLACES)

    @property
    def n_states(self) -> int:
        """How many states there are."""
        return len(self.half_deg) * self.sigma_rad.size

    @functools.cached_property
    def _near(self) -> tuple[Floats32, Ints]:
        """Density x spread at small steps of offset up to half a turn, for each spread; and
        which of them each class and speed has, shape (class x speed,)."""
        offset = np.arange(math.floor(math.pi * STEPS_PER_RAD) + 1) / STEPS_PER_RAD
        each, at = np.unique(self.sigma_rad, return_inverse=True)
        near = [wrapped_normal_per_rad(offset, s) * s for s in each]
        return np.array(near, np.float32), at.ravel()

    @functools.cached_property
    def _alike(self) -> tuple[Ints, Ints, Floats]:
        """States of one spread that turn the air as far towards a place: which of these kinds
        each state is, (state,); and the spread of each kind and how far it turns [deg]."""
        every = np.arange(N_CLASSES)[:, None]
        turned = [
            hour_half_width_deg(half, every, self.speed_mps)
            if strays
            else np.full(self.sigma_rad.shape, half)
            for half, strays in zip(self.half_deg, self.strays, strict=True)
        ]
        spread = np.tile(self._near[1], len(turned))
        state = np.stack([spread.astype(float), np.ravel(turned)], axis=1)
        kinds, at = np.unique(state, axis=0, return_inverse=True)
        return at.ravel(), kinds[:, 0].astype(np.int64), kinds[:, 1]

    def strongest(self, points: Points, height_m: float, states: Ints) -> Floats32:
        """log(strength x speed x spread) of the strongest of a place's points. (state, drift)

        Args: the points, at least one; the height of the source [m]; which states.
        """
        bearing, distance = points
        peak, width = _along(distance, height_m)
        steps = (STEPS_PER_RAD / width)[:, None]
        offset = offset_rad(self.drift_deg, bearing[:, None]) * steps  # (point, drift)
        kind = self._alike[0][states]
        of_class = states // len(self.speed_mps) % N_CLASSES
        each, at = np.unique(kind * N_CLASSES + of_class, return_inverse=True)
        found = self._each_turned if self.few else self._all_turned
        return found(*np.divmod(each, N_CLASSES), peak, offset, steps)[at]

    def _each_turned(self, kind: Ints, of_class: Ints, peak, offset, steps) -> Floats32:
        """The strongest point for each kind of state and class, the air turned towards each."""
        near, spread, turned = self._near[0], *self._alike[1:]
        best = np.empty((len(kind), len(self.drift_deg)), np.float32)
        offset, steps = (x.astype(np.float32)[:, None] for x in (offset, steps))
        kinds, at_kind = np.unique(kind, return_inverse=True)
        step = max(1, CHUNK // offset.size)
        for first in range(0, len(kinds), step):
            some = kinds[first : first + step]
            at = offset - np.radians(turned[some]).astype(np.float32)[:, None] * steps
            np.maximum(at, 0.0, out=at)
            at = np.minimum(at.astype(np.int32), near.shape[1] - 1)
            at += (spread[some] * near.shape[1]).astype(np.int32)[:, None]
            picked = np.take(near, at)  # (point, kind, drift)
            mine = np.flatnonzero((at_kind >= first) & (at_kind < first + step))
            for k in np.unique(of_class[mine]):
                which = mine[of_class[mine] == k]
                seen = picked[:, at_kind[which] - first] * peak[k][:, None, None]
                best[which] = seen.max(axis=0)
        return np.log(np.maximum(best, NO_STRENGTH))

    def _all_turned(self, kind: Ints, of_class: Ints, peak, offset, steps) -> Floats32:  # noqa: ARG002
        """As `_each_turned` for drifts all round: the doubt is a sliding largest over them."""
        near, spread, turned = self._near[0], *self._alike[1:]
        sures, at = np.unique(spread[kind] * N_CLASSES + of_class, return_inverse=True)
        offset = np.rint(offset).astype(np.intp)
        sure = np.empty((len(sures), offset.shape[1]), np.float32)
        rows, classes = np.divmod(sures, N_CLASSES)
        for row in np.unique(rows):  # classes of one spread share the direction
            picked = np.take(near[row], offset, mode="clip")
            for i in np.flatnonzero(rows == row):
                sure[i] = (picked * peak[classes[i]][:, None]).max(axis=0)
        sure = np.log(np.maximum(sure, NO_STRENGTH))
        return widened(sure, at, turned[kind] / self.drift_deg[1])


class Tables:
    """What reaches a place from some sources, by state and drift, worked out as it is asked for.

    `values`: log(strength x speed x spread), shape (source, state, drift).
    Args: the cells; the nearest points of the place from each source; their height [m].
    """

    def __init__(self, cells: Cells, sources: list[Points], height_m: float) -> None:
        self._cells, self._sources, self._height_m = cells, sources, height_m
        shape = (len(sources), cells.n_states, len(cells.drift_deg))
        self.values = np.full(shape, math.log(NO_STRENGTH), np.float32)
        self._filled = np.zeros(cells.n_states, bool)

    def of(self, states: Bools) -> Floats32:
        """All values, flat, those of some states worked out. Args: which are, (state,)."""
        new = np.flatnonzero(states & ~self._filled)
        if len(new):
            self._filled[new] = True
            for i, points in enumerate(self._sources):
                if len(points[0]):
                    self.values[i, new] = self._cells.strongest(points, self._height_m, new)
        return self.values.ravel()


def widened(sure, of, half_steps):
    """The largest within so many steps to either side, all round. Shape (state, step).

    Args: values at steps round a circle, the first again at the end, shape (row, step); the
    row of each state, and its steps, whole or not, shapes (state,): between two whole ones it
    lies between theirs.
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
    narrow, wide = (_largest(every, of, h) for h in (low, low + 1))
    found = narrow * (1 - share) + wide * share
    return np.concatenate([found, found[:, :1]], axis=1)


def _largest(rings, of, half):
    """The largest of the steps from -half to half about each. Shape (state, step)."""
    n = rings.shape[2]
    level = np.floor(np.log2(2 * half + 1)).astype(np.int64)
    first = np.arange(n) - half[:, None]
    last = np.arange(n) + half[:, None] - (2**level)[:, None] + 1
    level, of = level[:, None], of[:, None]
    return np.maximum(rings[level, of, first % n], rings[level, of, last % n])


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
