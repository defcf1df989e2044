"""How strongly air reaches places, for many sits at once: looked up in small tables.

The second source of strength, see `core.sit.strength`.
"""

import math

import numpy as np
import numpy.typing as npt

from core.air.shelter import LOWEST_M, wind_at_hunter_mps
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG
from core.ground.layout import Stand
from core.sit.held import Places
from core.sit.lately import Lately
from core.sit.rows import Blocks
from core.sit.scene import Scene, Way
from core.sit.stand_air import StandAir
from core.sit.strength import LogStrengths
from core.sit.tables.cells import NO_STRENGTH, Cells, Points, Tables
from core.sit.tables.grid import Grid, cells_of, merged
from core.sit.trails import trails_in_range

Ints = npt.NDArray[np.int64]

WALK_SPEED_STEP = 1.3  # a dose of many minutes is not told so closely


class Walkers:
    """The air of everyone who walks under one cover: its grid, and each hour in it.

    Args: the hours of the sits; the cells of the scene; the cover; whether coarse tables are
    enough.
    """

    def __init__(self, found: Blocks, kept: Lately, cover: str, coarse: bool):
        hours = found.hours
        speed = np.maximum(hours.speed_mps, LEAST_EFFECTIVE_MPS)
        some = np.flatnonzero(hours.directed & (speed >= hours.ground.air.cant_call_below_mps))
        stability = hours.stability[some]
        carried = wind_at_hunter_mps(hours.speed_mps[some], LOWEST_M, stability, cover)
        self.log_carried = np.log(np.maximum(carried, LEAST_CARRY_MPS))
        self.at = np.zeros(len(speed), np.int64)  # 0 for hours that can't be called
        self.at[some] = np.arange(len(some))
        self.grid = None
        if len(some):
            weather = hours.weather
            self.grid = Grid(
                stability,
                speed[some],
                np.mod(weather.wind_from_deg[some] + 180.0, 360.0),
                weather.half_width_deg[some],
                kept=kept,
                cover_deg=COVER_SPREAD_DEG[cover],
                coarse=coarse,
                speed_step=WALK_SPEED_STEP,
            )


class ByTable:
    """Areas that count alike taken together, and each approach, looked up in tables.

    Args: the scene; the hours of the sits; whether coarse tables are enough.
    """

    def __init__(self, scene: Scene, found: Blocks, coarse: bool = False) -> None:
        self.scene, self.found, self.coarse = scene, found, coarse
        self.places = Places(scene.areas, together=True)
        self._cells = cells_of(scene)
        self._walkers: dict[str, Walkers] = {}

    def some_rows(self, asked, inside) -> Ints:
        """Those inside. Args: truths of shape (row,)."""
        return np.flatnonzero(asked & inside)

    def at_stand(self, stand: Stand, air: StandAir, ends: Ints) -> LogStrengths:
        """See `core.sit.strength.Source.at_stand`."""
        trails = trails_in_range(self.scene, stand, stand.range_yd)
        n = len(self.places)
        found = np.full((n + len(trails.approaches), len(ends)), math.log(NO_STRENGTH))
        if not len(ends):
            return LogStrengths(found.T)  # kept place after place
        grid = Grid(
            air.stability,
            air.effective_mps,
            air.air_to_deg,
            air.half_width_deg,
            kept=self._cells,
            cover_deg=COVER_SPREAD_DEG[stand.cover],
            coarse=self.coarse,
            strays=air.strays,
        )
        asked = [np.arange(len(ends))] * n + [np.flatnonzero(w) for w in trails.walked(ends).T]
        for i, tables in self._stand_tables(stand, grid.cells, air.height_m).items():
            if len(asked[i]):
                found[i, asked[i]] = grid.log_strength(tables, asked[i])
        found -= np.log(np.maximum(air.carried_mps, LEAST_CARRY_MPS))
        return LogStrengths(found.T)

    def on_walk(self, way: Way, hour: Ints, sure):
        """See `core.sit.strength.Source.on_walk`."""
        c = np.zeros((len(self.places), *hour.shape))  # place after place
        cover = way.lane.cover
        if cover not in self._walkers:
            self._walkers[cover] = Walkers(self.found, self._cells, cover, self.coarse)
        air = self._walkers[cover]
        if air.grid is not None:
            at, minute = air.at[hour], np.arange(way.minutes)
            if way.there is not None:  # the way back is the way there, last minute first
                minute = minute[::-1]
            for i, tables in self._minute_tables(way.there or way, air.grid.cells).items():
                log_c = air.grid.log_strength(tables, at, minute)
                c[i] = np.where(sure, np.exp(log_c - air.log_carried[at]), 0.0)
        return np.moveaxis(c, 0, -1)

    def _stand_tables(self, stand: Stand, cells: Cells, height_m: float) -> dict[int, Tables]:
        """Of each place that the air of a seat may reach, its table: areas, then approaches."""
        n, n_trails = len(self.places), len(self.scene.approaches(stand))

        def made():
            areas = merged(self.scene.area_receptors(stand), self.places.of_area, n)
            approaches = merged(self.scene.approach_receptors(stand), np.arange(n_trails), n_trails)
            return _tables(cells, [areas[0] + approaches[0]], height_m)

        return cells.tables.get((stand.id, stand.range_yd, height_m), made)

    def _minute_tables(self, way: Way, cells: Cells) -> dict[int, Tables]:
        """Of each place that a way passes, the tables of its minutes."""

        def made():
            return _tables(cells, merged(way.receptors, self.places.of_area, len(self.places)), 0.0)

        return cells.tables.get(way, made)

    def joined(self, values):
        """The strongest of the areas of each place, and the approaches as they are."""
        n_areas = len(self.scene.areas)
        areas = self.places.strongest(values[..., :n_areas])
        return np.concatenate([areas, values[..., n_areas:]], axis=-1)


def _tables(cells: Cells, sources: list[list[Points]], height_m: float) -> dict[int, Tables]:
    """Of each place with a point, its tables. Args: the cells; the points of each place, from
    each source; the height of the sources [m]."""
    every = [[source[i] for source in sources] for i in range(len(sources[0]))]
    return {
        i: Tables(cells, points, height_m)
        for i, points in enumerate(every)
        if any(len(bearing) for bearing, _ in points)
    }
