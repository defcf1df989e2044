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
from core.sit.before import ENDS
from core.sit.clock import Clock
from core.sit.grid import NO_STRENGTH, Grid, merged
from core.sit.held import Places
from core.sit.minutes import EVENING
from core.sit.rows import Blocks, StandAir
from core.sit.scene import OUT, Scene, Way
from core.sit.strength import LogStrengths
from core.units import SECONDS_PER_HOUR

Ints = npt.NDArray[np.int64]


class Walkers:
    """The air of everyone who walks one way under one cover: its grid, and each hour in it.

    Args: the clock; the hours of its sits; least wind that can be called [m/s]; the cover;
    in or out; whether coarse tables are enough.
    """

    def __init__(self, clock: Clock, found: Blocks, cover: str, direction: str, coarse: bool):
        hours = found.hours
        speed = np.maximum(hours.speed_mps, LEAST_EFFECTIVE_MPS)
        asked = hours.directed & (speed >= hours.ground.air.cant_call_below_mps)
        if direction != OUT and clock.sit != EVENING:
            seated = np.repeat(clock.seated_s, found.length)
            asked &= hours.start_s < seated + SECONDS_PER_HOUR
        some = np.flatnonzero(asked)
        stability = hours.stability[some]
        carried = wind_at_hunter_mps(hours.speed_mps[some], LOWEST_M, stability, cover)
        self.log_carried = np.log(np.maximum(carried, LEAST_CARRY_MPS))
        self.at = np.zeros(len(asked), np.int64)  # 0 for hours in which nobody walks
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
            )


class ByTable:
    """Areas that count alike and all trails taken together, looked up in tables.

    Args: the scene; the clock of the sits; their hours; whether coarse tables are enough.
    """

    def __init__(self, scene: Scene, clock: Clock, found: Blocks, coarse: bool = False) -> None:
        self.scene, self.clock, self.found, self.coarse = scene, clock, found, coarse
        self.places = Places(scene.areas, together=True)
        self._walkers: dict[tuple[str, str], Walkers] = {}

    def some_rows(self, can_call, inside) -> Ints:
        """Those inside that can be called. Args: truths of shape (row,)."""
        return np.flatnonzero(can_call & inside)

    def at_stand(self, stand: Stand, range_yd: float, air: StandAir, ends: Ints) -> LogStrengths:
        """See `core.sit.strength.Source.at_stand`."""
        n, n_areas = len(self.places), len(self.scene.areas)
        found = np.full((n + 1, len(ends)), math.log(NO_STRENGTH))  # place after place
        if not len(ends):
            return LogStrengths(found.T)
        grid = Grid(
            air.stability,
            air.effective_mps,
            air.air_to_deg,
            air.half_width_deg,
            cover_deg=COVER_SPREAD_DEG[stand.cover],
            coarse=self.coarse,
        )
        every = np.arange(len(ends))
        for end in np.unique(ends):
            names, points = self.scene.stand_receptors(stand, range_yd, ENDS[end])
            place_of = np.full(max(points.n_zones, 1), -1)
            place_of[:n_areas] = self.places.of_area
            place_of[n_areas : n_areas + len(names)] = n
            *areas, trail = merged(points, place_of, n + 1)[0]
            rows = np.flatnonzero(ends == end)
            if len(trail[0]):
                found[n, rows] = grid.log_strength(grid.table(trail, air.height_m), rows)
        for i, area in enumerate(areas):  # the same from whichever end deer come
            if len(area[0]):
                found[i] = grid.log_strength(grid.table(area, air.height_m), every)
        found -= np.log(np.maximum(air.carried_mps, LEAST_CARRY_MPS))
        return LogStrengths(found.T)

    def on_walk(self, way: Way, hour: Ints, sure):
        """See `core.sit.strength.Source.on_walk`."""
        n = len(self.places)
        c = np.zeros((n, *hour.shape))  # place after place
        air = self._walkers_of(way.lane.cover, way.direction)
        if air.grid is not None:
            at = air.at[hour]
            minute = np.arange(way.minutes) * air.grid.size
            points = merged(way.receptors, self.places.of_area, max(1, n))
            for i in range(n):
                if any(len(source[i][0]) for source in points):
                    table = np.concatenate([air.grid.table(source[i], 0.0) for source in points])
                    log_c = air.grid.log_strength(table, at, minute) - air.log_carried[at]
                    c[i] = np.where(sure, np.exp(log_c), 0.0)
        return np.moveaxis(c, 0, -1)

    def _walkers_of(self, cover: str, direction: str) -> Walkers:
        key = (cover, direction)
        if key not in self._walkers:
            self._walkers[key] = Walkers(self.clock, self.found, cover, direction, self.coarse)
        return self._walkers[key]

    def joined(self, values):
        """The strongest of the areas of each place, and of all trails."""
        n_areas = len(self.scene.areas)
        trail = values[..., n_areas:].max(axis=-1, initial=0.0, keepdims=True)
        return np.concatenate([self.places.strongest(values[..., :n_areas]), trail], axis=-1)
