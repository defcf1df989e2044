"""Sits made ready: their clocks, their hours, their hunter; one sit is the case of one."""

import dataclasses
import datetime
import functools
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from core.angles import mean_direction_deg
from core.errors import NoForecast
from core.ground.hunters import person_called, range_yd, stand_range_yd
from core.ground.layout import Person, Property, Stand
from core.keep.entries import Entry
from core.sit.before import ENDS, FROM_BEDDING, FROM_BOTH, FROM_FOOD
from core.sit.clock import Clock, SitClock, clocks
from core.sit.dates import check_weapon, dates_on
from core.sit.minutes import ALL_DAY, MORNING
from core.sit.rows import Blocks, JudgedRows, Rows, Weather, blocks, judged_rows, origin_s
from core.sit.scene import Scene, longest_walk_min
from core.sit.strength import ByFormula, Source
from core.sit.tables.by_kept_table import ByKeptTable
from core.sit.tables.by_table import ByTable
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE
from core.weather.hours import Hours

Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

Log = tuple[Entry, ...]

FORMULA, TABLE, COARSE_TABLE, KEPT_TABLE = range(4)
LOOKED_BEYOND_S = SECONDS_PER_HOUR  # turns of slope air so far outside a window are looked for


@dataclass(frozen=True, eq=False)
class Sits:
    """What all stands of some sits of one kind share.

    `found`: the hours of the sits. `strengths`: where strength comes from, by formula with
    the distance to each place, or from tables: fine, coarse, or kept with the ground. `log`:
    what happened before them, None without a log. What is worked out of them is kept, apart
    what is so for any hunter; arrays of rows are flat, as in `core.sit.rows.JudgedRows`.
    """

    scene: Scene
    clock: Clock
    weather: Weather
    found: Blocks
    strengths: int = FORMULA
    hunter: Person | None = None
    log: Log | None = None
    worked_out: dict[Any, Any] = dataclasses.field(default_factory=dict)
    of_anyone: dict[Any, Any] = dataclasses.field(default_factory=dict)

    def __len__(self) -> int:
        return len(self.clock)

    @property
    def ground(self) -> Property:
        return self.scene.ground

    def range_yd(self, stand: Stand) -> float:
        """The smallest range of stand, hunter and weapon. Args: the stand.

        Sits of several weapons have one range, the smallest of theirs.
        """
        return min(range_yd(self.ground, stand, self.hunter, w) for w in self._weapons)

    def armed(self, stand: Stand) -> Stand:
        """A stand whose own range is that with the weapon of the sits. Args: the stand."""
        own_yd = min(stand_range_yd(stand, weapon) for weapon in self._weapons)
        if not stand.ranges_yd and stand.range_yd == own_yd:
            return stand
        return dataclasses.replace(stand, range_yd=own_yd, ranges_yd=())

    @functools.cached_property
    def _weapons(self):
        return self.clock.dates.weapons(self.clock.at) or (None,)

    @functools.cached_property
    def judged(self) -> JudgedRows:
        """The rows that stands are judged on."""
        return judged_rows(self.clock, self.found)

    @functools.cached_property
    def source(self) -> Source:
        """Where strengths come from."""
        if self.strengths == FORMULA:
            return ByFormula(self.scene, self.found.hours)
        if self.strengths == KEPT_TABLE:
            return ByKeptTable(self.scene, self.found)
        return ByTable(self.scene, self.found, self.strengths == COARSE_TABLE)

    @functools.cached_property
    def hour_counts(self) -> Bools:
        """Whether each place counts in each of the hours `found`. (hour, place)"""
        hours = self.found.hours
        wind = hours.weather
        return self.source.places.counts(hours.month, wind.wind_from_deg, wind.half_width_deg)

    def ends_at(self, time_s, sit) -> Ints:
        """Which of `ENDS` deer come from at instants of some sits. Args: [epoch s]; the sits."""
        clock = self.clock
        if clock.sit == ALL_DAY:
            late = np.asarray(time_s) >= clock.noon_s[sit]
            usual = np.where(late, FROM_BEDDING, FROM_FOOD)
        else:
            usual = np.full(
                np.shape(time_s), FROM_FOOD if clock.sit == MORNING else FROM_BEDDING, np.int64
            )
        return np.where(clock.all_day_part[sit], FROM_BOTH, usual)

    def kept(self, key: Any, make) -> Any:
        """Something worked out once for all stands. Args: its key; what makes it."""
        if key not in self.worked_out:
            self.worked_out[key] = make()
        return self.worked_out[key]

    def kept_for_anyone(self, key: Any, make) -> Any:
        """Something of a stand that is so for any hunter, worked out once where there is a
        single sit; that of years of sits is too much to keep. Args: as `kept`."""
        if len(self) > 1:
            return make()
        if key not in self.of_anyone:
            self.of_anyone[key] = make()
        return self.of_anyone[key]

    def for_hunter(self, hunter: Person | None) -> "Sits":
        """The same sits of another hunter. Args: who; None for anyone."""
        return dataclasses.replace(self, hunter=hunter, worked_out={})

    def take(self, which: Bools) -> "Sits":
        """Some of the sits. Args: a mask."""
        n = self.found.length
        at = np.flatnonzero(np.repeat(which, n))
        found = dataclasses.replace(
            self.found, hours=self.found.hours.take(at), sun_at=self.found.sun_at[at]
        )
        some = self._with(self.clock.take(which), found)
        if isinstance(self.weather, Hours):
            return some
        weather = [self.weather[i] for i in np.flatnonzero(which).tolist()]
        return dataclasses.replace(some, weather=weather)

    def swept(self, sit: int, wind_from_deg) -> "Sits":
        """One of the sits in other winds: one direction in every directed hour of each.

        Speeds, states and half-widths stay. Args: the sit; directions [deg], (case,).
        """
        n = len(wind_from_deg)
        found = self.found.repeated(sit, n)
        turned = found.hours.turned(np.repeat(wind_from_deg, self.found.length))
        return self._with(
            self.clock.take(np.full(n, sit)), dataclasses.replace(found, hours=turned)
        )

    def _with(self, clock: Clock, found: Blocks) -> "Sits":
        """Sits of another clock and other hours, all else as here."""
        return dataclasses.replace(self, clock=clock, found=found, worked_out={}, of_anyone={})

    def one(self, i: int) -> "Sit":
        """One of the sits, read out. Args: its place."""
        weather = self.weather if isinstance(self.weather, Hours) else self.weather[i]
        first = i * self.found.length
        hours = self.found.hours
        if len(self) > 1:
            hours = hours.take(np.arange(first, first + self.found.length))
        clock = self.clock.one(i)
        at = int(self.judged.at[i]) - first if len(clock.row_start_s) else 0
        window = slice(at, at + len(clock.row_start_s))
        return Sit(self.scene, clock, hours, window, self.hunter, weather, self, i)


@dataclass(frozen=True, eq=False)
class Sit:
    """One sit, read out of `sits` for whatever tells of a single one."""

    scene: Scene
    clock: SitClock
    rows: Rows
    window: slice  # rows of the window
    hunter: Person | None
    weather: Hours
    sits: Sits
    at: int

    @property
    def timezone(self) -> str:
        """The time zone of the property."""
        return self.scene.ground.timezone

    def shown_start_s(self, case: int) -> int:
        """When a row of the window begins as it is shown: not before the window does."""
        start = int(self.clock.row_start_s[case])
        return max(start, self.clock.start_s or start)

    def range_yd(self, stand: Stand) -> float:
        """The smallest range of stand, hunter and weapon."""
        return self.sits.range_yd(stand)

    def for_hunter(self, hunter: Person | None) -> "Sit":
        """The same sit of another hunter. Args: who; None for anyone."""
        return dataclasses.replace(self, hunter=hunter, sits=self.sits.for_hunter(hunter))

    def ends_at(self, time_s: float) -> tuple[str, ...]:
        """The ends of the corridors that deer come from at an instant."""
        return ENDS[int(self.sits.ends_at(time_s, self.at))]

    @property
    def told(self) -> slice:
        """The rows whose wind is told: the window's; all where closed hours leave none."""
        return self.window if self.clock.start_s is not None else slice(None)

    @property
    def mean_wind_deg(self) -> float:
        """Unit-vector mean of the told rows' directed hours; NaN without."""
        return mean_direction_deg(self.rows.weather.wind_from_deg[self.told])


def prepare_sits(
    scene: Scene,
    weather: Weather,
    clock: Clock,
    *,
    hunter: str | None = None,
    strengths: int = FORMULA,
    log: Log | None = None,
) -> Sits:
    """The hours of some sits.

    Args:
        scene: of the property.
        weather: the hourly table, of any source, or one for each sit.
        clock: of the sits, its rows begun where the hours of the weather begin.
        hunter: a name from the property's people; None for nobody's range.
        strengths: where strengths come from.
        log: entries of the log, by which stands are rested; None without one.

    Raises: BadRequest for an unknown hunter.
    """
    ground = scene.ground
    person = person_called(ground, hunter)
    longest_s = longest_walk_min(scene) * SECONDS_PER_MINUTE
    set_up_min = max((s.set_up_min for s in ground.stands), default=0.0)
    before_s = longest_s + (ground.sit.settle_min + set_up_min) * SECONDS_PER_MINUTE
    least_s = LOOKED_BEYOND_S if any(s.downhill_deg is not None for s in ground.stands) else 0.0
    found = blocks(clock, weather, max(before_s, least_s), max(longest_s, least_s))
    return Sits(scene, clock, weather, found, strengths, person, log)


def prepare_sit(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    sit: str,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    log: Log | None = None,
) -> Sit:
    """The clock and the hours of one sit, by formula.

    Args:
        scene, weather, hunter, log: as in `prepare_sits`.
        date, sit: local date; morning, evening or all-day.
        weapon: of a season; None for the first season that covers the date.

    Raises: BadRequest for an unknown hunter, weapon or sit; NoSun; NoForecast where no
    hour of the weather lies in the sit.
    """
    ground = scene.ground
    check_weapon(ground, weapon)
    noon = datetime.datetime.combine(date, datetime.time(12), ZoneInfo(ground.timezone))
    weather = weather.of_one_phase(int(noon.timestamp()))
    clock = clocks(ground, dates_on(ground, [date], weapon), sit, origin_s=origin_s(weather))
    sits = prepare_sits(scene, weather, clock, hunter=hunter, log=log)
    if not has_hours(clock, weather)[0]:
        raise NoForecast(
            f"no hour of the weather lies in the {sit} of {date.isoformat()}",
            weather.source or weather.format,
            "Choose a date inside the forecast, or type the wind.",
        )
    return sits.one(0)


def has_hours(clock: Clock, weather: Hours) -> Bools:
    """Whether the weather has an hour, even one without wind, of each sit. Shape (sit,).

    A sit without a minute needs none. Args: the clock; the hourly table.
    """
    return (weather.holds(clock.rows.start_s) & clock.rows.inside).any(axis=1) | ~clock.open
