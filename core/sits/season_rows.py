"""The hours of many sits: weather, sun and class, and the slope wind of a stand.

A block of hours for each sit, from before its longest walk in to after its longest
walk out. Sun and light repeat every four years but for a trifle, so for longer
histories they are worked out for four years in the middle.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.air.stability import stability_class
from core.ground.layout import Property, Stand
from core.sits.rows import HALF_ROW_S, Rows, SlopeRows, slope_wind
from core.sits.season_clock import Dates, SeasonClock
from core.sky.daylight import (
    Sun,
    beam_cos,
    clear_sky,
    cloud_factor,
    slope_irradiance_wm2,
    sun_position,
)
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE
from core.weather.hours import Hours

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

CYCLE_S = 1461 * 24 * SECONDS_PER_HOUR  # four years
CYCLE_YEARS = 4
# steps between sunrise and sunset as shares of the day: closer where the sun is low, for
# there refraction bends its path
BEAM_SHARES = np.concatenate(
    [np.linspace(0.0, 0.05, 16), np.linspace(0.05, 0.95, 32)[1:-1], np.linspace(0.95, 1.0, 16)]
)


@dataclass(frozen=True, eq=False)
class SeasonRows:
    """The hours of one kind of sit, a block of equal length for each sit.

    `hours` holds the blocks one after another, flat, shape (sit x block,); its
    `day` and `month` are arrays of that shape. `window` are the places of the
    window's rows in it, shape (sit, row), those of no minutes kept inside the
    block. `own` are those rows alone.
    """

    clock: SeasonClock
    hours: Rows
    block: int
    window: Ints
    own: Rows
    sun_at: Ints  # for each row of `own`, its sun in `sun`
    sun: Sun  # shape (3, hour): start, middle and end of each hour of four years
    beams: "Beams"

    def index_of(self, time_s, sit) -> Ints:
        """Place in `hours` of instants of some sits, kept inside their blocks."""
        sit = np.asarray(sit)
        first_s = self.hours.start_s[sit * self.block]
        step = (np.asarray(time_s) - first_s) // SECONDS_PER_HOUR
        return (sit * self.block + np.clip(step, 0, self.block - 1)).astype(np.int64)


@dataclass(frozen=True, eq=False)
class Beams:
    """The sun between the rises and sets of some dates, to find beams on slopes.

    `of_sit`: which of the dates a sit has; `shift_s`: by how much its own sun is
    later. Shapes (sit,), (date, step).
    """

    of_sit: Ints
    shift_s: Ints
    time_s: Floats
    zenith_deg: Floats
    azimuth_deg: Floats


@dataclass(frozen=True, eq=False)
class _Days:
    sunrise_s: Floats
    sunset_s: Floats


def season_rows(
    ground: Property, dates: Dates, clock: SeasonClock, weather: Hours, walk_s: float
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
    step = clock.row_start_s // SECONDS_PER_HOUR - first_hour[:, None]
    window = np.arange(n_sits)[:, None] * block + np.clip(step, 0, block - 1)
    sun, sun_at = _sun(ground, start_s, dates)
    sit = np.repeat(np.arange(n_sits), block)
    day = _Days(clock.sunrise_s[sit], clock.sunset_s[sit])
    month = _months(dates)[clock.at][sit]
    hours = _rows(ground, weather.at_rows(start_s), day, month, sun.ghi_wm2[1][sun_at])
    own = window.ravel()
    return SeasonRows(
        clock=clock, hours=hours, block=block, window=window, own=taken(hours, own),
        sun_at=sun_at[own], sun=sun, beams=_beams(ground, dates, clock),
    )  # fmt: skip


def _months(dates: Dates) -> Ints:
    return dates.date.astype("datetime64[M]").astype(np.int64) % 12 + 1


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
        start_s=table.start_s, day=day, month=month, weather=table,
        stability=classed(table.speed_mps), still_class=classed(np.zeros(len(table))),
        sun=nothing, ground=ground,
    )  # fmt: skip


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


def _cycles(years, middle_year: int):
    """How many times four years lie between a year and the four in the middle."""
    return np.floor_divide(np.asarray(years) - middle_year, CYCLE_YEARS)


def _middle_year(years) -> int:
    """The first of four years in the middle; the first of all where they are few."""
    first, last = int(years.min()), int(years.max())
    return first if last - first < CYCLE_YEARS else (first + last) // 2 - 1


def _years(dates: Dates) -> Ints:
    return dates.date.astype("datetime64[Y]").astype(np.int64) + 1970


def _sun(ground: Property, start_s: Ints, dates: Dates) -> tuple[Sun, Ints]:
    """The sun of every hour of day and season in four years, and that of each row."""
    years = start_s.astype("datetime64[s]").astype("datetime64[Y]").astype(np.int64) + 1970
    usual_s = start_s - _cycles(years, _middle_year(_years(dates))) * CYCLE_S
    hour_s, at = np.unique(usual_s, return_inverse=True)
    instants = np.unique(np.concatenate([hour_s, hour_s + HALF_ROW_S, hour_s + SECONDS_PER_HOUR]))
    lon, lat = ground.center
    sky = clear_sky(lat, lon, ground.elevation_m, instants)
    pick = np.searchsorted(
        instants, np.stack([hour_s, hour_s + HALF_ROW_S, hour_s + SECONDS_PER_HOUR])
    )
    names = Sun.__dataclass_fields__
    return Sun(*(np.asarray(getattr(sky, name))[pick] for name in names)), at


def _beams(ground: Property, dates: Dates, clock: SeasonClock) -> Beams:
    if "beams" not in dates.kept:  # mornings and evenings share them
        dates.kept["beams"] = _day_beams(ground, dates)
    of_date, shift_s, *suns = dates.kept["beams"]
    return Beams(of_date[clock.at], shift_s[clock.at], *suns)


def _day_beams(ground: Property, dates: Dates):
    """The sun's steps of each date of four years; and of each date, which they are."""
    years = _years(dates)
    cycles = _cycles(years, _middle_year(years))
    usual = (dates.date - cycles * (CYCLE_S // 86400)).astype("datetime64[D]")
    _, first, of_date = np.unique(usual, return_index=True, return_inverse=True)
    rise_s = dates.days.sunrise_s[first] - cycles[first] * CYCLE_S
    set_s = dates.days.sunset_s[first] - cycles[first] * CYCLE_S
    time_s = rise_s[:, None] + (set_s - rise_s)[:, None] * BEAM_SHARES
    lon, lat = ground.center
    zenith, azimuth = sun_position(lat, lon, ground.elevation_m, time_s.ravel())
    shape = time_s.shape
    return (
        of_date, cycles * CYCLE_S, time_s,
        np.asarray(zenith).reshape(shape), np.asarray(azimuth).reshape(shape),
    )  # fmt: skip


def beam_times_s(beams: Beams, tilt_deg: float, facing_deg: float) -> tuple[Floats, Floats]:
    """First and last minute of sun on a slope in each sit's day; NaN for never.

    Args: the sun of the days; the slope's tilt and the way it faces. [deg]
    Returns: epoch seconds, shapes (sit,), (sit,).
    """
    cos = beam_cos(tilt_deg, facing_deg, beams.zenith_deg, beams.azimuth_deg)
    minute = SECONDS_PER_MINUTE
    first_s = np.ceil(_crossing_s(beams.time_s, cos) / minute) * minute
    last_s = np.floor(-_crossing_s(-beams.time_s[:, ::-1], cos[:, ::-1]) / minute) * minute
    return (
        first_s[beams.of_sit] + beams.shift_s,
        last_s[beams.of_sit] + beams.shift_s,
    )


def _crossing_s(time_s: Floats, cos: Floats) -> Floats:
    """When each row of cosines first rises above nothing; NaN where it never does."""
    lit = cos > 0
    at = lit.argmax(axis=1)
    day = np.arange(len(cos))
    before = np.maximum(at - 1, 0)
    low, high = cos[day, before], cos[day, at]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(at > 0, -low / (high - low), 0.0)
    found = time_s[day, before] + share * (time_s[day, at] - time_s[day, before])
    return np.where(lit.any(axis=1), found, np.nan)


def season_slope(rows: SeasonRows, stand: Stand) -> SlopeRows | None:
    """The slope wind at a stand in the windows' rows; None without a slope.

    Args: the rows of the sits; the stand. As `core.sits.rows.slope_rows`.
    """
    if stand.downhill_deg is None or stand.grade_pct is None:
        return None
    own, rules = rows.own, rows.own.ground.air
    tilt = slopes.tilt_deg(stand.grade_pct)
    down = _downward(rows, tilt, stand.downhill_deg)
    light = slope_irradiance_wm2(tilt, stand.downhill_deg, rows.sun)[:, rows.sun_at]
    cloud = own.weather.cloud_frac
    light = light * cloud_factor(cloud)
    return slope_wind(stand, rules, down, light, cloud, own.speed_mps)


def _downward(rows: SeasonRows, tilt_deg: float, facing_deg: float) -> Floats:
    """d at start, middle and end of each row of the windows; shape (3, row)."""
    first_s, last_s = beam_times_s(rows.beams, tilt_deg, facing_deg)
    sit = np.repeat(np.arange(len(rows.clock)), rows.window.shape[1])
    own = rows.own
    times = np.stack([own.start_s, own.middle_s, own.start_s + SECONDS_PER_HOUR])
    evening_s = np.minimum(last_s[sit], own.day.sunset_s)
    # the two ramps one at a time, with the other one moved out of reach
    falling = slopes.downward_share(times - first_s[sit], 0.0, np.inf, np.nan)
    rising = slopes.downward_share(times - evening_s, -np.inf, 0.0, np.nan)
    return np.where(np.isnan(first_s[sit]), 1.0, np.maximum(falling, rising))


def sun_of(clock: SeasonClock, sit):
    """Sunrise and sunset of some sits. Args: the clock; their places, any shape."""
    return _Days(clock.sunrise_s[sit], clock.sunset_s[sit])
