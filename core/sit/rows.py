"""The hours of sits with their air: weather, sun and class; and the rows judged in them.

A block of hours for each sit, from before its longest walk in to after its longest walk
out, all blocks of one length and one behind another. One sit is one block.
"""

import dataclasses
import functools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.air.stability import stability_class
from core.ground.layout import Property
from core.sit.clock import Clock
from core.sit.dates import later_s
from core.sit.minutes import WindowRows
from core.sky.daylight import Sun, clear_sky, cloud_factor
from core.units import SECONDS_PER_HOUR
from core.weather.hours import DIRECTED, Hours, end_to_end

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
HALF_ROW_S = SECONDS_PER_HOUR // 2
Weather = Hours | Sequence[Hours]  # one for all sits, or one for each


@dataclass(frozen=True, eq=False)
class SunTimes:
    """Sunrise and sunset of the day of each of some rows. [epoch s]"""

    sunrise_s: Any
    sunset_s: Any

    def take(self, at) -> "SunTimes":
        """Those of some rows. Args: their places, any shape."""
        return SunTimes(self.sunrise_s[at], self.sunset_s[at])


@dataclass(frozen=True, eq=False)
class Rows:
    """Hours, or parts of hours, with their air; shapes (row,). `weather` has the same rows."""

    start_s: Ints
    end_s: Ints
    day: SunTimes
    month: Ints
    weather: Hours
    stability: Ints
    still_class: Ints  # as if there were no wind
    ground: Property

    @property
    def middle_s(self) -> Ints:
        return (self.start_s + self.end_s) // 2

    @functools.cached_property
    def speed_mps(self) -> Floats:
        """10 m wind with missing as 0, for sums that a state later overrules."""
        return np.nan_to_num(self.weather.speed_mps)

    @functools.cached_property
    def directed(self) -> npt.NDArray[np.bool_]:
        return self.weather.state == DIRECTED

    @functools.cached_property
    def toward(self) -> tuple[Floats, Floats]:
        """East and north of where the wind goes, see `core.air.slopes.toward`."""
        return slopes.toward(self.weather.wind_from_deg)

    def take(self, at) -> "Rows":
        """Some of the rows. Args: their places, any order."""
        return Rows(
            start_s=self.start_s[at],
            end_s=self.end_s[at],
            day=self.day.take(at),
            month=self.month[at],
            weather=self.weather.take(at),
            stability=self.stability[at],
            still_class=self.still_class[at],
            ground=self.ground,
        )

    def turned(self, wind_from_deg) -> "Rows":
        """The same with other directions where there is one. Args: directions [deg], (row,)."""
        wind = np.where(self.directed, np.mod(wind_from_deg, 360.0), np.nan)
        return dataclasses.replace(
            self, weather=dataclasses.replace(self.weather, wind_from_deg=wind)
        )


@dataclass(frozen=True, eq=False)
class Blocks:
    """The hours of some sits, a block of `length` for each; and the sun that they have.

    `hours`: all blocks, flat. `sun_at`: which of the hours of `sun` each has; `sun` at
    their start, middle and end, shape (3, hour of sun).
    """

    hours: Rows
    length: int
    sun_at: Ints
    sun: Sun

    def index_of(self, time_s, sit) -> Ints:
        """Place in `hours` of instants of some sits, kept inside their blocks."""
        first = np.asarray(sit) * self.length
        step = (np.asarray(time_s) - self.hours.start_s[first]) * (1.0 / SECONDS_PER_HOUR)
        return np.minimum(np.maximum(step, 0), self.length - 1).astype(np.int64) + first

    def repeated(self, sit: int, times: int) -> "Blocks":
        """The block of one sit, some times over. Args: the sit; how many times."""
        at = np.tile(np.arange(sit * self.length, (sit + 1) * self.length), times)
        return dataclasses.replace(self, hours=self.hours.take(at), sun_at=self.sun_at[at])


@dataclass(frozen=True, eq=False)
class JudgedRows:
    """What a stand is judged on, row by row: the rows of the windows and their air.

    `rows`, shapes (sit, row); the rest flat, the first row of every sit first, shapes
    (row x sit,): `at`, the hour of `Blocks.hours` that each is, or is part of; `hours`, its air.
    """

    rows: WindowRows
    at: Ints
    hours: Rows

    def by_sit(self, values):
        """Flat values as (sit, row), kept row after row: quick to sum over rows."""
        return values.reshape(self.rows.minutes.shape[::-1]).T

    def of_sit(self, i: int):
        """Places of the flat rows of one sit that have minutes. Args: the sit's place."""
        n_sits = len(self.rows.minutes)
        return np.flatnonzero(self.rows.inside[i]) * n_sits + i


def blocks(clock: Clock, weather: Weather, before_s, after_s) -> Blocks:
    """The hours of some sits with their air and sun.

    Args: the clock; the hourly table, or one for each sit; how long before the seat and
    after the window hours are wanted [s].

    Hours that the weather lacks are missing rows.
    """
    ground, n_sits = clock.ground, len(clock)
    # a sit without a minute is told of by legal light; among others it decides nothing
    first_s, last_s, asked = clock.start_s, clock.end_s, clock.open
    if not asked.any():
        first_s, last_s, asked = clock.legal_start_s, clock.legal_end_s, ~asked
    start_s = np.minimum(first_s, clock.seated_s) - before_s
    hour, origin = SECONDS_PER_HOUR, origin_s(weather)
    first = np.floor((start_s - origin) / hour).astype(np.int64)
    last = np.ceil((last_s + after_s - origin) / hour).astype(np.int64)
    length = max(1, int((last - first)[asked].max(initial=1)))
    hour_s = ((first[:, None] + np.arange(length)) * hour + origin).ravel()
    sun_s, sun_at = np.unique(hour_s - later_s(hour_s, clock.dates.date), return_inverse=True)
    sun = _sun(ground, sun_s)
    sit = np.repeat(np.arange(n_sits), length)
    day = SunTimes(clock.sunrise_s[sit], clock.sunset_s[sit])
    month = clock.dates.month[clock.at][sit]
    table = _table(weather, hour_s, length)
    return Blocks(rows_in(ground, table, day, month, sun.ghi_wm2[1][sun_at]), length, sun_at, sun)


def judged_rows(clock: Clock, found: Blocks) -> JudgedRows:
    """The rows of the windows with their air. Args: the clock; the hours of its sits."""
    sit = np.arange(len(clock))[:, None]
    rows = clock.rows
    at = found.index_of(rows.start_s, sit).T.ravel()
    hours = dataclasses.replace(
        found.hours.take(at), start_s=rows.start_s.T.ravel(), end_s=rows.end_s.T.ravel()
    )
    return JudgedRows(rows, at, hours)


def origin_s(weather: Weather) -> int:
    """Seconds past a whole hour UTC at which the hours of a table begin. [s]

    Args: the table, or one for each sit, all alike.
    """
    first = weather if isinstance(weather, Hours) else weather[0]
    return 0 if first.held else first.phase_s


def _table(weather: Weather, hour_s: Ints, length: int) -> Hours:
    if isinstance(weather, Hours):
        return weather.at_rows(hour_s)
    each = (w.at_rows(hour_s[i * length : (i + 1) * length]) for i, w in enumerate(weather))
    return end_to_end(list(each))


def rows_in(ground: Property, table: Hours, day: SunTimes, month, ghi_wm2) -> Rows:
    """Hours with their classes. Args: weather; its rows' sun, month, light of a clear sky."""
    light = ghi_wm2 * cloud_factor(table.cloud_frac)

    def classed(speed_mps):
        return stability_class(
            time_s=table.start_s + HALF_ROW_S,
            sunrise_s=day.sunrise_s,
            sunset_s=day.sunset_s,
            speed_mps=speed_mps,
            cloud_frac=table.cloud_frac,
            radiation_wm2=light,
        )

    return Rows(
        start_s=table.start_s,
        end_s=table.start_s + SECONDS_PER_HOUR,
        day=day,
        month=month,
        weather=table,
        stability=classed(table.speed_mps),
        still_class=classed(np.zeros(len(table))),
        ground=ground,
    )


def _sun(ground: Property, hour_s: Ints) -> Sun:
    """The sun at start, middle and end of hours; shape (3, hour)."""
    instants = np.stack([hour_s, hour_s + HALF_ROW_S, hour_s + SECONDS_PER_HOUR])
    known, pick = np.unique(instants, return_inverse=True)
    lon, lat = ground.center
    sky = clear_sky(lat, lon, ground.elevation_m, known)
    pick = pick.reshape(instants.shape)
    return Sun(*(np.asarray(getattr(sky, name))[pick] for name in Sun.__dataclass_fields__))
