"""All mornings, or all evenings, of some dates, made ready: what their stands share."""

from collections.abc import Callable
from typing import Any

import numpy as np

from core.air.drift import reference_strength
from core.season.rows import season_rows
from core.season.strength_table import Kinds
from core.sit.clock import clocks
from core.sit.dates import Dates
from core.sit.minutes import MORNING
from core.sit.scene import IN, OUT, Scene
from core.units import M_PER_YD, SECONDS_PER_MINUTE
from core.weather.hours import MISSING, Hours


class Half:
    """The clocks, hours and places of one kind of sit.

    Args: scene; dates; morning or evening; the hourly table; which of the dates,
    all by default; whether coarse tables are enough. Sits that the table has no
    hour of are left out; `unknown` counts them.
    """

    def __init__(
        self,
        scene: Scene,
        dates: Dates,
        sit: str,
        weather: Hours,
        at=None,
        coarse: bool = False,
    ) -> None:
        ground = scene.ground
        self.scene, self.dates, self.coarse = scene, dates, coarse
        longest_min = longest_walk_min(scene)
        clock = clocks(ground, dates, sit, at)
        if not weather.held:
            touched = weather.holds(clock.rows.start_s) & clock.rows.inside
            known = touched.any(axis=1) | ~clock.open
            self.unknown = int((~known).sum())
            clock = clock.take(known) if self.unknown else clock
        else:
            self.unknown = 0
        self.clock = clock
        set_up = max((s.set_up_min for s in ground.stands), default=0.0)
        before_min = ground.sit.settle_min + longest_min + set_up
        self.rows = season_rows(ground, dates, clock, weather, before_min * SECONDS_PER_MINUTE)
        self.kinds = Kinds(scene.areas)
        hours = self.rows.hours
        wind = hours.weather
        self.counts = self.kinds.counts(hours.month, wind.wind_from_deg, wind.half_width_deg)
        own = self.rows.window.T.ravel()
        self.own_counts = [c[own] for c in self.counts]
        self.own_held = self.kinds.held(self.rows.own.middle_s, self.rows.own.day)
        self.used = clock.rows.inside.T.ravel()
        self.all_day = np.tile(clock.all_day_part, self.rows.window.shape[1])
        rules = ground.air
        self.log_wrong = float(np.log(reference_strength(rules.wrong_within_yd * M_PER_YD)))
        self.log_clean = float(np.log(reference_strength(rules.clean_beyond_yd * M_PER_YD)))
        self._kept: dict = {}

    def __len__(self) -> int:
        return len(self.clock)

    @property
    def morning(self) -> bool:
        return self.clock.sit == MORNING

    @property
    def missing(self):
        """Whether all of a sit's wind is missing. Shape (sit,)."""
        state = self.rows.by_sit(self.rows.own.weather.state)
        return ((state == MISSING) | ~self.clock.rows.inside).all(axis=1)

    def kept(self, key: Any, make: Callable[[], Any]) -> Any:
        """Something worked out once. Args: its key; what makes it."""
        if key not in self._kept:
            self._kept[key] = make()
        return self._kept[key]


def longest_walk_min(scene: Scene) -> float:
    """Minutes of the longest way in or out of any stand. Args: the scene."""
    ways = (w for s in scene.ground.stands for d in (IN, OUT) for w in scene.ways(s, d))
    return float(max((w.minutes for w in ways), default=0))
