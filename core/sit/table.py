"""How strongly air reaches places, for many sits at once: looked up in small tables.

The second source of strength, see `core.sit.strength`.
"""

import math
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air.shelter import LOWEST_M, wind_at_hunter_mps
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG
from core.ground.layout import Stand
from core.sit.grid import NO_STRENGTH, Grid, merged
from core.sit.held import Places
from core.sit.rows import Blocks, StandAir
from core.sit.scene import Scene, Way
from core.sit.strength import LogStrengths
from core.sit.trails import trails_in_range

Ints = npt.NDArray[np.int64]

WALK_SPEED_STEP = 1.3  # a dose of many minutes is not told so closely
KEPT_WAYS = 8  # the tables of so many ways: those of a stand at hand


class Walkers:
    """The air of everyone who walks under one cover: its grid, and each hour in it.

    Args: the hours of the sits; the cover; whether coarse tables are enough.
    """

    def __init__(self, found: Blocks, cover: str, coarse: bool):
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
        self._walkers: dict[str, Walkers] = {}
        self._tables: dict[Way, dict[int, Any]] = {}

    def some_rows(self, asked, inside) -> Ints:
        """Those inside. Args: truths of shape (row,)."""
        return np.flatnonzero(asked & inside)

    def at_stand(self, stand: Stand, air: StandAir, ends: Ints) -> LogStrengths:
        """See `core.sit.strength.Source.at_stand`."""
        trails = trails_in_range(self.scene, stand, stand.range_yd)
        n, n_trails = len(self.places), len(trails.approaches)
        found = np.full((n + n_trails, len(ends)), math.log(NO_STRENGTH))  # place after place
        if not len(ends):
            return LogStrengths(found.T)
        grid = Grid(
            air.stability,
            air.effective_mps,
            air.air_to_deg,
            air.half_width_deg,
            cover_deg=COVER_SPREAD_DEG[stand.cover],
            coarse=self.coarse,
            strays=air.strays,
        )
        every = np.arange(len(ends))
        areas = merged(self.scene.area_receptors(stand), self.places.of_area, max(1, n))[0]
        for i in range(n):
            if len(areas[i][0]):
                found[i] = grid.log_strength(grid.table(areas[i], air.height_m), every)
        walked = trails.walked(ends)
        points = merged(
            self.scene.approach_receptors(stand), np.arange(max(1, n_trails)), max(1, n_trails)
        )[0]
        for i in range(n_trails):
            rows = np.flatnonzero(walked[:, i])
            if len(rows):
                found[n + i, rows] = grid.log_strength(grid.table(points[i], air.height_m), rows)
        found -= np.log(np.maximum(air.carried_mps, LEAST_CARRY_MPS))
        return LogStrengths(found.T)

    def on_walk(self, way: Way, hour: Ints, sure):
        """See `core.sit.strength.Source.on_walk`."""
        c = np.zeros((len(self.places), *hour.shape))  # place after place
        cover = way.lane.cover
        if cover not in self._walkers:
            self._walkers[cover] = Walkers(self.found, cover, self.coarse)
        air = self._walkers[cover]
        if air.grid is not None:
            at, minute = air.at[hour], np.arange(way.minutes)
            if way.there is not None:  # the way back is the way there, last minute first
                minute = minute[::-1]
            for i, table in self._minute_tables(way.there or way, air.grid).items():
                log_c = air.grid.log_strength(table, at, minute * air.grid.size)
                c[i] = np.where(sure, np.exp(log_c - air.log_carried[at]), 0.0)
        return np.moveaxis(c, 0, -1)

    def _minute_tables(self, way: Way, grid: Grid) -> dict[int, Any]:
        """Of each place that a way passes, the tables of its minutes one behind another."""
        if way not in self._tables:
            if len(self._tables) >= KEPT_WAYS:
                self._tables.clear()
            n = max(1, len(self.places))
            points = merged(way.receptors, self.places.of_area, n)
            self._tables[way] = {
                i: np.concatenate([grid.table(source[i], 0.0) for source in points])
                for i in range(n)
                if any(len(source[i][0]) for source in points)
            }
        return self._tables[way]

    def joined(self, values):
        """The strongest of the areas of each place, and the approaches as they are."""
        n_areas = len(self.scene.areas)
        areas = self.places.strongest(values[..., :n_areas])
        return np.concatenate([areas, values[..., n_areas:]], axis=-1)
