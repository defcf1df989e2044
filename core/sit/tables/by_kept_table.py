"""How strongly air reaches places, from tables that are kept with the ground.

The third source of strength, see `core.sit.strength`: for the many winds that may come instead
of a forecast's. Tables of a season are made for its own hours; these hold every state of the
air, with directions to five degrees and the half-width of a station's report, so that they
serve any wind of any day. They are made stand by stand, when first asked for. Air that bends
over heights is taken straight, as in those of a season.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air.shelter import LOWEST_M, wind_at_hunter_mps
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.ground.layout import Stand
from core.sit.held import Places
from core.sit.rows import Blocks
from core.sit.scene import Scene, Way
from core.sit.stand_air import StandAir
from core.sit.strength import LogStrengths
from core.sit.tables.cells import N_CLASSES, NO_STRENGTH, Cells, Points
from core.sit.tables.grid import STEADY_MPS, merged
from core.sit.trails import trails_in_range
from core.units import M_PER_FT

Ints = npt.NDArray[np.int64]
Singles = npt.NDArray[np.float32]
Halves = npt.NDArray[np.float16]  # of logarithms: to a hundredth where it counts

HALF_WIDTH_DEG = 5.0  # of a station's report: the winds drawn are judged as one would be
STEP_DEG = 5.0
N_WAYS = round(360.0 / STEP_DEG)
SEAT_SPEEDS, FEW_SPEEDS = 18, 9  # few where no wander goes with the speed, and on walks
# a dose of many minutes is not told so closely: a table serves so many of them, and points
# that lie nearer together than this are told by the nearest
WALK_STEP, WALK_POINT_DEG = 2, 2.0


class States:
    """Every class, speed and way of the air under a cover, and where hours lie among them.

    Cells of a table are by class, speed and way, as in `core.sit.tables.cells`: log(strength x
    speed x spread), linear between two speeds in 1 / spread^2, or where the spread stays, in
    the speed's logarithm.

    Args: the cover; how many speeds; whether the wander of an hour widens the doubt.
    """

    def __init__(self, cover: str, n_speeds: int, *, strays: bool) -> None:
        self.cover_deg = COVER_SPREAD_DEG[cover]
        self.speed_mps = np.geomspace(LEAST_EFFECTIVE_MPS, STEADY_MPS, n_speeds)
        ways_deg = np.arange(N_WAYS) * STEP_DEG
        half, wanders = np.array([HALF_WIDTH_DEG]), np.array([strays])
        self.cells = Cells(self.cover_deg, self.speed_mps, ways_deg, True, half, wanders)
        self.size = self.cells.n_states * N_WAYS
        every = np.arange(N_CLASSES)[:, None]
        inverse = spread_rad(every, self.speed_mps, self.cover_deg) ** -2
        self._below = inverse.ravel()  # (class x speed,), and what lies on to the next speed
        self._onward = np.append(self._below[1:], 0.0) - self._below

    def tables(self, points: Sequence[Points], height_m: float) -> Halves:
        """Tables of some places, one behind another. Args: their points; the source's height
        [m]. Shape (place x cell,)."""
        every = np.arange(self.cells.n_states)
        made = np.full((len(points), self.size), math.log(NO_STRENGTH), np.float16)
        for i, each in enumerate(points):
            if len(each[0]):
                made[i] = self.cells.strongest(each, height_m, every).ravel()
        return made.ravel()

    def of(self, stability, effective_mps, air_to_deg) -> "HourCells":
        """Where some hours lie. Args: class; wind that steadies [m/s]; where air goes [deg];
        shapes (row,), all known."""
        n = len(self.speed_mps)
        speed = np.minimum(np.maximum(effective_mps, self.speed_mps[0]), STEADY_MPS)
        steps = np.log(speed / self.speed_mps[0]) * (
            (n - 1) / math.log(STEADY_MPS / self.speed_mps[0])
        )
        at = np.minimum(steps.astype(np.int64), n - 2)
        state = stability * n + at
        onward = self._onward[state]
        own = spread_rad(stability, effective_mps, self.cover_deg)
        with np.errstate(invalid="ignore", divide="ignore"):
            share = (1.0 / (own * own) - self._below[state]) / onward
        np.copyto(share, steps - at, where=onward <= 0.0)
        way = np.rint(np.asarray(air_to_deg) * (1.0 / STEP_DEG)).astype(np.int64) % N_WAYS
        return HourCells(
            state * N_WAYS + way,
            np.minimum(np.maximum(share, 0.0), 1.0).astype(np.float32),
            np.log(own).astype(np.float32),
        )


@dataclass(frozen=True, eq=False)
class HourCells:
    """Where some hours lie in a table; shapes (row,). `low`: the cell of the speed below;
    `share`: how far on to the next; `log_spread`: taken off again."""

    low: Ints
    share: Singles
    log_spread: Singles

    def log_strength(self, tables: Halves, base: Any = 0, rows: Any = slice(None)) -> Singles:
        """log(strength x speed) of some hours. Args: tables; where that of each begins; which
        hours. Shape as base and hours together."""
        low, share = self.low[rows] + base, self.share[rows]
        here = tables[low].astype(np.float32)
        here += (tables[low + N_WAYS] - here) * share
        return here - self.log_spread[rows]


class ByKeptTable:
    """As `core.sit.tables.by_table.ByTable`, from tables that are kept with the ground.

    Args: the scene; the hours of the sits, their half-widths those of a station's report.
    """

    def __init__(self, scene: Scene, found: Blocks) -> None:
        self.scene, self.found = scene, found
        self.places = Places(scene.areas, together=True)
        self._walkers: dict[str, tuple[HourCells, Singles]] = {}

    def some_rows(self, asked, inside) -> Ints:
        """Those inside. Args: truths of shape (row,)."""
        return np.flatnonzero(asked & inside)

    def at_stand(self, stand: Stand, air: StandAir, ends: Ints) -> LogStrengths:
        """See `core.sit.strength.Source.at_stand`."""
        trails = trails_in_range(self.scene, stand, stand.range_yd)
        n, n_trails = len(self.places), len(trails.approaches)
        found = np.full((n + n_trails, len(ends)), math.log(NO_STRENGTH), np.float32)
        walked = trails.walked(ends).T
        for strays in (True, False):
            at = np.flatnonzero(air.strays == strays)
            if not len(at):
                continue
            rows = slice(None) if len(at) == len(ends) else at
            cells = _seat_states(self.scene, stand, strays).of(
                air.stability[rows], air.effective_mps[rows], air.air_to_deg[rows]
            )
            tables, size = self._seat_tables(stand, n, n_trails, strays)
            base = np.arange(n + n_trails)[:, None] * size
            if walked.all():
                found[:, rows] = cells.log_strength(tables, base)
                continue
            found[:n, rows] = cells.log_strength(tables, base[:n])
            which, some = np.nonzero(walked[:, rows])
            found[n + which, at[some]] = cells.log_strength(tables, base[n + which, 0], some)
        found -= np.log(np.maximum(air.carried_mps, LEAST_CARRY_MPS)).astype(np.float32)
        return LogStrengths(found.T)

    def on_walk(self, way: Way, hour: Ints, sure):
        """See `core.sit.strength.Source.on_walk`."""
        c = np.zeros((len(self.places), *hour.shape))  # place after place
        cells, log_carried = self._walker(way.lane.cover)
        minute = np.arange(way.minutes)
        if way.there is not None:  # the way back is the way there, last minute first
            minute = minute[::-1]
        tables, size, some = self._walk_tables(way.there or way)
        n_tables = -(-way.minutes // WALK_STEP)
        for i, place in enumerate(some):
            base = (i * n_tables + minute // WALK_STEP) * size
            log_c = cells.log_strength(tables, base, hour) - log_carried[hour]
            c[place] = np.where(sure, np.exp(log_c), 0.0)
        return np.moveaxis(c, 0, -1)

    def joined(self, values):
        """The strongest of the areas of each place, and the approaches as they are."""
        n_areas = len(self.scene.areas)
        areas = self.places.strongest(values[..., :n_areas])
        return np.concatenate([areas, values[..., n_areas:]], axis=-1)

    def _seat_tables(self, stand: Stand, n: int, n_trails: int, strays: bool):
        """Tables of the places and approaches of a seat, one behind another; cells of each."""
        states = _seat_states(self.scene, stand, strays)

        def made() -> Halves:
            areas = merged(self.scene.area_receptors(stand), self.places.of_area, n)[0]
            every = np.arange(n_trails)
            walked = merged(self.scene.approach_receptors(stand), every, n_trails)[0]
            return states.tables([*areas, *walked], stand.height_ft * M_PER_FT)

        key = ("kept seat table", stand.id, stand.range_yd, strays)
        return self.scene.kept(key, made), states.size

    def _walker(self, cover: str) -> tuple[HourCells, Singles]:
        """The air of everyone who walks under a cover, hour by hour."""
        if cover not in self._walkers:
            hours = self.found.hours
            speed = hours.speed_mps
            carried = wind_at_hunter_mps(speed, LOWEST_M, hours.stability, cover)
            cells = _states(self.scene, cover, FEW_SPEEDS, True).of(
                hours.stability,
                np.maximum(speed, LEAST_EFFECTIVE_MPS),
                np.nan_to_num(hours.weather.wind_from_deg) + 180.0,
            )
            log_carried = np.log(np.maximum(carried, LEAST_CARRY_MPS)).astype(np.float32)
            self._walkers[cover] = cells, log_carried
        return self._walkers[cover]

    def _walk_tables(self, way: Way) -> tuple[Halves, int, Ints]:
        """Of each place that a way passes, tables of every other minute one behind another;
        the cells of each; and which places those are."""
        states, n = _states(self.scene, way.lane.cover, FEW_SPEEDS, True), len(self.places)

        def made() -> tuple[Halves, Ints]:
            minutes = merged(way.receptors, self.places.of_area, n)[::WALK_STEP]
            some = [i for i in range(n) if any(len(source[i][0]) for source in minutes)]
            points = [_thinned(source[i]) for i in some for source in minutes]
            return states.tables(points, 0.0), np.array(some, int)

        tables, some = self.scene.kept(("kept walk table", way), made)
        return tables, states.size, some


def _seat_states(scene: Scene, stand: Stand, strays: bool) -> States:
    return _states(scene, stand.cover, SEAT_SPEEDS if strays else FEW_SPEEDS, strays)


def _states(scene: Scene, cover: str, n_speeds: int, strays: bool) -> States:
    key = ("kept states", cover, n_speeds, strays)
    return scene.kept(key, lambda: States(cover, n_speeds, strays=strays))


def _thinned(points: Points) -> Points:
    """The nearest point of each two degrees. Args, returns: bearings [deg], distances [m]."""
    bearing, distance = points
    slot = (bearing / WALK_POINT_DEG).astype(np.int64)
    order = np.lexsort((distance, slot))
    first = np.ones(len(order), bool)
    first[1:] = slot[order][1:] != slot[order][:-1]
    picked = order[first]
    return bearing[picked], distance[picked]
