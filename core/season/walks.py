"""Walks of many sits at once: the dose of `core.sit.ways` from tables of each minute."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.drift import equivalent_distance_m
from core.air.shelter import LOWEST_M, wind_at_hunter_mps
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.season.half_days import Half
from core.season.rows import sun_of
from core.season.strength_table import Grid, merged
from core.sit.minutes import EVENING
from core.sit.scene import OUT, Way
from core.sit.verdicts import CANT_CALL, JUST_OFF, grade, milder
from core.units import M_PER_YD, SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
MOST_PIECES = 12  # a longer walk is judged in so many pieces of its minutes


@dataclass(frozen=True, eq=False)
class SeasonWay:
    """One walk in some sits. Shapes (sit,); distances NaN where it can't be called."""

    way: Way
    verdict: npt.NDArray[np.int8]
    equivalent_yd: Floats
    start_s: Floats


@dataclass(frozen=True, eq=False)
class Walkers:
    """The air of everyone who walks under one cover: its grid and where each hour lies."""

    grid: Grid | None
    at: npt.NDArray[np.int64]  # place of an hour in the grid; 0 where it has none
    sure: npt.NDArray[np.bool_]
    log_carried: Floats


def walkers(half: Half, cover: str, direction: str) -> Walkers:
    """The air of walks in or out under a cover, kept for all of them.

    Args: the sits; open, edge or timber; in or out.
    """
    return half.kept(("walkers", cover, direction), lambda: _walkers(half, cover, direction))


def _walkers(half: Half, cover: str, direction: str) -> Walkers:
    hours, clock = half.rows.hours, half.clock
    speed = np.maximum(hours.speed_mps, LEAST_EFFECTIVE_MPS)
    sure = hours.directed & (speed >= half.scene.ground.air.cant_call_below_mps)
    needed = sure
    if direction != OUT and clock.sit != EVENING:
        seated = np.repeat(clock.seated_s, half.rows.block)
        needed = sure & (hours.start_s < seated + SECONDS_PER_HOUR)
    some = np.flatnonzero(needed)
    stability = hours.stability[some]
    carried = wind_at_hunter_mps(hours.speed_mps[some], LOWEST_M, stability, cover)
    at = np.zeros(len(sure), np.int64)
    at[some] = np.arange(len(some))
    log_carried = np.log(np.maximum(carried, LEAST_CARRY_MPS))
    grid = None
    if len(some):
        wind = hours.weather.wind_from_deg[some]
        sigma = spread_rad(stability, speed[some], COVER_SPREAD_DEG[cover])
        half_width = hours.weather.half_width_deg[some]
        grid = Grid(stability, sigma, np.mod(wind + 180.0, 360.0), half_width, half.coarse)
    return Walkers(grid, at, needed, log_carried)


def judge_walk(half: Half, way: Way, start_s, sit, crossed) -> SeasonWay:
    """Judges one walk in some sits.

    Args: the sits; the walk; when it starts in each [epoch s]; which sits; whether
    it crosses a part deer walk before the shot. Shapes (sit,).
    """
    pieces = np.array_split(np.arange(way.minutes), min(way.minutes, MOST_PIECES))
    count = np.array([len(p) for p in pieces])
    middle = np.array([p.mean() for p in pieces]) + 0.5
    time_s = np.asarray(start_s)[:, None] + SECONDS_PER_MINUTE * middle
    row = half.rows.index_of(time_s, np.asarray(sit)[:, None])
    air = walkers(half, way.lane.cover, way.direction)
    sure = air.sure[row]
    n_sure = (count * sure).sum(axis=1)
    held = half.kinds.held(time_s, sun_of(half.clock, np.asarray(sit)[:, None]))
    given = _given(half, way, air, row, held, pieces)
    share = count * sure / np.maximum(n_sure, 1)[:, None] * (way.minutes / 60.0)
    rules = half.scene.ground.air
    verdict, distance = _worse([(c * share).sum(axis=1) for c in given], rules)
    verdict = np.where(crossed, np.maximum(verdict, JUST_OFF), verdict)
    unsure = 2 * (way.minutes - n_sure) > way.minutes
    return SeasonWay(
        way,
        np.where(unsure, CANT_CALL, verdict).astype(np.int8),
        np.where(unsure, np.nan, distance),
        np.asarray(start_s),
    )


def unjudged(way: Way, start_s) -> SeasonWay:
    """A walk of which only the time matters. Args: the walk; its starts [epoch s]."""
    nothing = np.full(len(start_s), np.nan)
    return SeasonWay(way, np.full(len(start_s), CANT_CALL, np.int8), nothing, start_s)


def _given(half: Half, way: Way, air: Walkers, row, held, pieces) -> tuple[Floats, Floats]:
    """Strength at the worst place held, and at the worst of the others; (sit, piece)."""
    best = [np.zeros(row.shape), np.zeros(row.shape)]
    if air.grid is None:
        return best[0], best[1]
    base = np.arange(len(pieces)) * air.grid.size
    at = air.at[row]
    for kind, table in enumerate(_tables(half, way, air.grid, pieces)):
        if table is None:
            continue
        c = np.exp(air.grid.log_strength(table, at, base) - air.log_carried[at])
        c = np.where(half.counts[kind][row], c, 0.0)
        for i, mask in enumerate((held[kind], ~held[kind])):
            best[i] = np.maximum(best[i], np.where(mask, c, 0.0))
    return best[0], best[1]


def _tables(half: Half, way: Way, grid: Grid, pieces) -> list:
    """For each kind of place the tables of all pieces, one behind another; None if bare."""
    points = merged(way.receptors, half.kinds.of_area, max(1, len(half.kinds)))
    found: list = []
    for kind in range(len(half.kinds)):
        if not any(len(source[kind][0]) for source in points):
            found.append(None)
            continue
        minute = np.exp([grid.table(source[kind], 0.0) for source in points])
        found.append(np.log(np.concatenate([minute[p].mean(axis=0) for p in pieces])))
    return found


def _worse(doses, rules):
    """The dose to places held, and one step milder to the others; the worse counts."""
    far = [equivalent_distance_m(dose) / M_PER_YD for dose in doses]
    verdict = [grade(d, rules.wrong_within_yd, rules.clean_beyond_yd) for d in far]
    verdict[1] = milder(verdict[1])
    second = (verdict[1] > verdict[0]) | ((verdict[1] == verdict[0]) & (far[1] < far[0]))
    return np.where(second, verdict[1], verdict[0]), np.where(second, far[1], far[0])


def best_of(ways: list[SeasonWay]) -> npt.NDArray[np.int64]:
    """Which of several walks is chosen in each sit, as `core.sit.ways.choose_way`.

    Args: the walks, at least one, all of the same sits. Returns: shape (sit,).
    """
    order = sorted(ways, key=lambda w: (len(w.way.crosses), w.way.length_m, w.way.lane.id))
    keys = []
    for walk in ways:
        shown = np.floor(np.clip(walk.equivalent_yd, 10.0, 3520.0) + 0.5)
        tens = np.where(np.isnan(shown), -1.0, np.floor(shown / 10.0 + 0.5))
        keys.append(walk.verdict * 1e6 - tens + order.index(walk) * 1e-3)
    return np.argmin(keys, axis=0)


@dataclass(frozen=True, eq=False)
class Chosen:
    """The walk taken in each of some sits; shapes (sit,)."""

    sits: npt.NDArray[np.int64]
    at: npt.NDArray[np.int64]  # which of the ways
    verdict: npt.NDArray[np.int8]
    start_s: npt.NDArray[np.float64]
    minutes: npt.NDArray[np.int64]

    def take(self, at) -> "Chosen":
        """Some of the sits. Args: their places."""
        return Chosen(
            self.sits[at], self.at[at], self.verdict[at], self.start_s[at], self.minutes[at]
        )


def chosen(walks: list[SeasonWay], sits) -> Chosen:
    """The walk taken in each sit. Args: the walks, at least one; the sits they are of."""
    at = best_of(walks)
    each = np.arange(len(sits))

    def picked(values):
        return np.stack(values)[at, each]

    return Chosen(
        sits=sits,
        at=at,
        verdict=picked([w.verdict for w in walks]),
        start_s=picked([w.start_s for w in walks]),
        minutes=np.array([w.way.minutes for w in walks])[at],
    )
