"""Where the hours of some sits lie in a small table of what reaches a place, and looking it up."""

import itertools
import math

import numpy as np

from core.air.spread import SIGMA_B_RAD, spread_rad
from core.air.stability import F
from core.air.wander import HOUR_MIN, HOUR_SIGMA_V_MPS, averaged_share
from core.ground.place import Receptors
from core.sit.lately import Lately
from core.sit.scene import Scene
from core.sit.tables.cells import N_CLASSES, Cells, Points, Tables

SPEED_STEP, COARSE_SPEED_STEP, COARSE_DRIFT_DEG = 1.15, 1.4, 3.0
# over this no class widens any more, nor strays otherwise: 0.5 m/s over F's curve of an hour
STEADY_MPS = HOUR_SIGMA_V_MPS / (averaged_share(HOUR_MIN) * float(SIGMA_B_RAD[F]))
FEW_DIRECTIONS = 72  # so many reported directions are taken as they are
FEW_WIDTHS, WIDTH_STEP_DEG = 6, 5.0
NO_WIDTH_DEG = 1000.0  # no report is so vague: marks those widened by the wander
SAMPLE = 500
KEPT_CELLS = 8  # the cells of so many seats and covers


def merged(points: Receptors, kind_of_zone, n_kinds: int) -> list[list[Points]]:
    """The nearest point of each ray, and of each half degree between, per source and kind.

    Args: points; the kind of each zone, -1 for those left out; how many kinds.

    Returns: for each source, for each kind, bearings [deg] and distances [m].
    """
    if not n_kinds:
        return [[] for _ in range(points.n_sources)]
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
    shares how far it lies toward the others. Hours of one kind of sit mostly lie among the
    same cells as those of the other, and share their tables.

    Args:
        stability, effective_mps, air_to_deg, half_width_deg: of the hours, all known.
            Shape (row,).
        kept: the cells of a scene, see `cells_of`.
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
        kept: Lately,
        cover_deg: float,
        coarse: bool = False,
        strays=True,
        speed_step: float = SPEED_STEP,
    ) -> None:
        step = COARSE_SPEED_STEP if coarse else speed_step
        self._speeds(stability, effective_mps, cover_deg, step)
        self._drifts(air_to_deg, COARSE_DRIFT_DEG if coarse else 1.0)
        self._widths(half_width_deg, np.broadcast_to(strays, np.shape(half_width_deg)))
        made_of = (self.speed_mps, self._drift_deg, self._few, self._half_deg, self._strays)
        key = (cover_deg, *(np.asarray(part).tobytes() for part in made_of))
        self.cells = kept.get(key, lambda: Cells(cover_deg, *made_of))
        state = (self._width_at * N_CLASSES + stability) * len(self.speed_mps) + self._speed_at
        self._used = np.bincount(state, minlength=self.cells.n_states) > 0
        self._used[1:] |= self._used[:-1]  # the cells above are looked up too
        self.low = (state * len(self._drift_deg) + self._drift_at).astype(np.int64)

    def _speeds(self, stability, effective_mps, cover_deg: float, step: float) -> None:
        speed = np.minimum(effective_mps, STEADY_MPS)
        low, high = float(np.min(speed)), float(np.max(speed))
        n = max(2, math.ceil(math.log(high / low) / math.log(step)) + 1)
        self.speed_mps = np.geomspace(low * (1 - 1e-9), max(high, low * 1.001), n)
        log = np.log(self.speed_mps)
        steps = (np.log(speed) - log[0]) * ((n - 1) / (log[-1] - log[0]))
        at = np.clip(steps.astype(np.int64), 0, n - 2)
        # where the spread changes, the logarithm of a normal density, less that of its width,
        # is linear in 1/width^2; where it does not, the wander alone goes with the speed
        inverse = spread_rad(np.arange(N_CLASSES)[:, None], self.speed_mps, cover_deg) ** -2
        gap = inverse[stability, at + 1] - inverse[stability, at]
        own = spread_rad(stability, effective_mps, cover_deg)
        with np.errstate(invalid="ignore", divide="ignore"):
            share = np.where(gap > 0, (own**-2 - inverse[stability, at]) / gap, steps - at)
        self._speed_at = at
        self.speed_share = np.clip(share, 0.0, 1.0).astype(np.float32)
        self.minus_log_sigma = -np.log(own)

    def _drifts(self, air_to_deg, step_deg: float) -> None:
        self._few = _few(air_to_deg[:SAMPLE])
        if self._few:
            reported, at = np.unique(np.round(air_to_deg, 6), return_inverse=True)
            self._few = len(reported) <= FEW_DIRECTIONS
        if self._few:
            self._drift_deg, self._drift_at = reported, at
            self.drift_share = np.zeros(len(at), np.float32)
        else:
            n = round(360.0 / step_deg)
            self._drift_deg = np.linspace(0.0, 360.0, n + 1)  # north twice: no hour is past it
            steps = np.asarray(air_to_deg) / step_deg
            self._drift_at = np.minimum(steps.astype(np.int64), n - 1)
            self.drift_share = (steps - self._drift_at).astype(np.float32)

    def _widths(self, half_width_deg, strays) -> None:
        half = np.round(half_width_deg, 2)
        if len(half) and half.min() == half.max() and strays.all():  # as in most histories
            self._half_deg, self._strays = half[:1], strays[:1]
            self._width_at = np.zeros(len(half), np.int64)
            return
        if len(np.unique(half)) > FEW_WIDTHS:  # a vaguer report is never cleaner
            half = np.ceil(half / WIDTH_STEP_DEG) * WIDTH_STEP_DEG
        kinds, self._width_at = np.unique(half + NO_WIDTH_DEG * strays, return_inverse=True)
        self._strays = kinds >= NO_WIDTH_DEG
        self._half_deg = kinds - NO_WIDTH_DEG * self._strays

    def log_strength(self, tables: Tables, at, source=0):
        """log(strength x speed) of some hours. Same shape as `at`.

        Args: the tables of a place; hours as places in the arrays given to the grid; which of
        the sources of the tables each is of.
        """
        table = tables.of(self._used)
        low = self.low[at] + source * (self.cells.n_states * len(self._drift_deg))
        across, share = len(self._drift_deg), self.speed_share[at]
        here = table[low] * (1 - share) + table[low + across] * share
        if not self._few:
            beside = table[low + 1] * (1 - share) + table[low + across + 1] * share
            turn = self.drift_share[at]
            here = here * (1 - turn) + beside * turn
        return here + self.minus_log_sigma[at]


def cells_of(scene: Scene) -> Lately:
    """The cells and tables last used on a ground. Args: its scene."""
    return scene.kept("cells", lambda: Lately(KEPT_CELLS))


def _few(air_to_deg) -> bool:
    return len(np.unique(np.round(air_to_deg, 6))) <= FEW_DIRECTIONS
