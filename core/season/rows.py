"""The hours of many sits: weather, sun and class.

A block of hours for each sit, from before its longest walk in to after its longest
walk out.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.air.stability import stability_class
from core.ground.layout import Property
from core.season.slope_wind import Alike, alike_hours
from core.sit.clock import Clock
from core.sit.dates import Dates, later_s
from core.sit.rows import HALF_ROW_S, Rows
from core.sky.daylight import Sun, clear_sky, cloud_factor
from core.units import SECONDS_PER_HOUR
from core.weather.hours import Hours

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class SeasonRows:
    """The hours of one kind of sit, a block of equal length for each sit.

    `hours` holds the blocks one after another, flat, shape (sit x block,); its
    `day` and `month` are arrays of that shape. `window` are the places of the
    window's rows in it, shape (sit, row), those of no minutes kept inside the
    block. `own` are those rows alone, flat, the first of every sit first.
    """

    clock: Clock
    hours: Rows
    block: int
    window: Ints
    own: Rows
    toward: tuple[Floats, Floats]  # of the wind of `own`, as `slopes.toward`
    alike: Alike

    def index_of(self, time_s, sit) -> Ints:
        """Place in `hours` of instants of some sits, kept inside their blocks."""
        first = np.asarray(sit) * self.block
        step = (np.asarray(time_s) - self.hours.start_s[first]) * (1.0 / SECONDS_PER_HOUR)
        return np.clip(step, 0, self.block - 1).astype(np.int64) + first

    def by_sit(self, values):
        """Values of the windows' rows, flat, as (sit, row); quick to sum over rows."""
        return values.reshape(self.window.shape[::-1]).T


@dataclass(frozen=True, eq=False)
class _Days:
    sunrise_s: Floats
    sunset_s: Floats


def season_rows(
    ground: Property, dates: Dates, clock: Clock, weather: Hours, walk_s: float
) -> SeasonRows:
    """The hours of one kind of sit with their air and sun.

    Args: the property; its dates; the clock; the hourly table; the longest a walk,
    with settling and setting up, can take before or after the seat. [s]
    """
    n_sits = len(clock)
    first_s = np.minimum(clock.start_s, clock.seated_s) - walk_s
    first_hour = np.floor(first_s / SECONDS_PER_HOUR).astype(np.int64)
    last_hour = np.ceil((clock.end_s + walk_s) / SECONDS_PER_HOUR).astype(np.int64)
    block = int((last_hour - first_hour).max(initial=1))
    hour = first_hour[:, None] + np.arange(block)
    start_s = (hour * SECONDS_PER_HOUR).ravel()
    step = clock.rows.start_s // SECONDS_PER_HOUR - first_hour[:, None]
    window = np.arange(n_sits)[:, None] * block + np.clip(step, 0, block - 1)
    sun_s, sun_at = np.unique(start_s - later_s(start_s, dates.date), return_inverse=True)
    sun = _sun(ground, sun_s)
    sit = np.repeat(np.arange(n_sits), block)
    day = _Days(clock.sunrise_s[sit], clock.sunset_s[sit])
    month = dates.month[clock.at][sit]
    hours = _rows(ground, weather.at_rows(start_s), day, month, sun.ghi_wm2[1][sun_at])
    at = window.T.ravel()
    own = taken(hours, at)
    return SeasonRows(
        clock=clock,
        hours=hours,
        block=block,
        window=window,
        own=own,
        toward=slopes.toward(own.weather.wind_from_deg),
        alike=alike_hours(ground, dates, clock, own.weather.cloud_frac, sun_s, sun, sun_at[at]),
    )


def _rows(ground: Property, table: Hours, day, month, ghi_wm2) -> Rows:
    middle_s = table.start_s + HALF_ROW_S
    light = ghi_wm2 * cloud_factor(table.cloud_frac)

    def classed(speed_mps):
        return stability_class(
            time_s=middle_s,
            sunrise_s=day.sunrise_s,
            sunset_s=day.sunset_s,
            speed_mps=speed_mps,
            cloud_frac=table.cloud_frac,
            radiation_wm2=light,
        )

    nothing = Sun(*(np.zeros((3, 0)),) * 5)
    return Rows(
        start_s=table.start_s,
        day=day,
        month=month,
        weather=table,
        stability=classed(table.speed_mps),
        still_class=classed(np.zeros(len(table))),
        sun=nothing,
        ground=ground,
    )


def taken(rows: Rows, index) -> Rows:
    """Some of the rows. Args: the rows with arrays for day and month; places, any order."""
    day = rows.day
    return dataclasses.replace(
        rows,
        start_s=rows.start_s[index],
        day=_Days(day.sunrise_s[index], day.sunset_s[index]),  # type: ignore[index,arg-type]
        month=rows.month[index],  # type: ignore[index]
        weather=rows.weather.take(index),
        stability=rows.stability[index],
        still_class=rows.still_class[index],
    )


def _sun(ground: Property, hour_s: Ints) -> Sun:
    """The sun at start, middle and end of hours; shape (3, hour)."""
    instants = np.unique(np.concatenate([hour_s, hour_s + HALF_ROW_S, hour_s + SECONDS_PER_HOUR]))
    lon, lat = ground.center
    sky = clear_sky(lat, lon, ground.elevation_m, instants)
    pick = np.searchsorted(
        instants, np.stack([hour_s, hour_s + HALF_ROW_S, hour_s + SECONDS_PER_HOUR])
    )
    names = Sun.__dataclass_fields__
    return Sun(*(np.asarray(getattr(sky, name))[pick] for name in names))


def sun_of(clock: Clock, sit):
    """Sunrise and sunset of some sits. Args: the clock; their places, any shape."""
    return _Days(clock.sunrise_s[sit], clock.sunset_s[sit])
