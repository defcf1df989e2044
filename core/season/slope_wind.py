"""The slope wind of a stand in the hours of many sits.

Hours of four years stand for those of all, and those alike in sun and cloud are
worked out once for a stand.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.ground.layout import Property, Stand
from core.sit.clock import Clock
from core.sit.dates import Dates, later_s
from core.sit.rows import HALF_ROW_S, Rows, SlopeRows, faded, still_slope
from core.sky.daylight import Sun, beam_cos, cloud_factor, slope_irradiance_wm2, sun_position
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

# steps between sunrise and sunset as shares of the day: closer where the sun is low, for
# there refraction bends its path
BEAM_SHARES = np.concatenate(
    [np.linspace(0.0, 0.05, 16), np.linspace(0.05, 0.95, 32)[1:-1], np.linspace(0.95, 1.0, 16)]
)


@dataclass(frozen=True, eq=False)
class Alike:
    """The windows' hours by sun and cloud: those of many years that are alike, once.

    `at`: for each row of `own`, which pair of sun and cloud it has; `sun_at` and
    `cloud_frac`: of each pair. `sun`: at start, middle and end of each of its hours,
    shape (3, hour); `start_s` and `date` of those hours, the date one of `beams`.
    """

    at: Ints
    sun_at: Ints
    cloud_frac: Floats
    start_s: Ints
    date: Ints
    sun: Sun
    beams: "Beams"


@dataclass(frozen=True, eq=False)
class Beams:
    """The sun from rise to set of some dates, to find beams on slopes; (date, step)."""

    time_s: Floats
    zenith_deg: Floats
    azimuth_deg: Floats


def alike_hours(ground: Property, dates: Dates, clock: Clock, cloud_frac, sun_s, sun, sun_at):
    """The pairs of sun and cloud among some rows. Args: as in `Alike`, of those rows."""
    of_date, beams = _beams(ground, dates)
    suns, first, row_sun = np.unique(sun_at, return_index=True, return_inverse=True)
    clouds, row_cloud = np.unique(cloud_frac, return_inverse=True)
    pairs, at = np.unique(row_sun * len(clouds) + row_cloud, return_inverse=True)
    names = Sun.__dataclass_fields__
    return Alike(
        at=at,
        sun_at=pairs // len(clouds),
        cloud_frac=clouds[pairs % len(clouds)],
        start_s=sun_s[suns],
        date=of_date[clock.at[first % len(clock)]],
        sun=Sun(*(getattr(sun, name)[:, suns] for name in names)),
        beams=beams,
    )


def _beams(ground: Property, dates: Dates) -> tuple[Ints, Beams]:
    """The sun's steps of each date of four years; and of each date, which they are."""
    if "beams" not in dates.worked_out:  # mornings and evenings share them
        dates.worked_out["beams"] = _day_beams(ground, dates)
    return dates.worked_out["beams"]


def _day_beams(ground: Property, dates: Dates) -> tuple[Ints, Beams]:
    date_s = dates.date.astype("datetime64[s]").astype(np.int64)
    later = later_s(date_s, dates.date)
    _, first, of_date = np.unique(date_s - later, return_index=True, return_inverse=True)
    rise_s = dates.days.sunrise_s[first] - later[first]
    set_s = dates.days.sunset_s[first] - later[first]
    time_s = rise_s[:, None] + (set_s - rise_s)[:, None] * BEAM_SHARES
    lon, lat = ground.center
    found = sun_position(lat, lon, ground.elevation_m, time_s.ravel())
    zenith, azimuth = (np.asarray(x).reshape(time_s.shape) for x in found)
    return of_date, Beams(time_s, zenith, azimuth)


def beam_times_s(beams: Beams, tilt_deg: float, facing_deg: float) -> tuple[Floats, Floats]:
    """First and last minute of sun on a slope in each date; NaN for never.

    Args: the sun of the dates; the slope's tilt and the way it faces. [deg]
    Returns: epoch seconds, shapes (date,), (date,).
    """
    cos = beam_cos(tilt_deg, facing_deg, beams.zenith_deg, beams.azimuth_deg)
    minute = SECONDS_PER_MINUTE
    first_s = np.ceil(_crossing_s(beams.time_s, cos) / minute) * minute
    last_s = np.floor(-_crossing_s(-beams.time_s[:, ::-1], cos[:, ::-1]) / minute) * minute
    return first_s, last_s


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


def season_slope(alike: Alike, own: Rows, stand: Stand) -> SlopeRows | None:
    """The slope wind at a stand in the windows' rows; None without a slope.

    Args: what of their sun and cloud is alike; the rows; the stand. As
    `core.sit.rows.slope_rows`.
    """
    if stand.downhill_deg is None or stand.grade_pct is None:
        return None
    rules, tilt = own.ground.air, slopes.tilt_deg(stand.grade_pct)
    down = _downward(alike, tilt, stand.downhill_deg)[:, alike.sun_at]
    light = slope_irradiance_wm2(tilt, stand.downhill_deg, alike.sun)[:, alike.sun_at]
    light = light * cloud_factor(alike.cloud_frac)
    still, turning = still_slope(stand, rules, down, light, alike.cloud_frac)
    return faded(stand, rules, still[alike.at], turning[alike.at], own.speed_mps)


def _downward(alike: Alike, tilt_deg: float, facing_deg: float) -> Floats:
    """d at start, middle and end of each hour of sun; shape (3, hour)."""
    first_s, last_s = beam_times_s(alike.beams, tilt_deg, facing_deg)
    start_s, date = alike.start_s, alike.date
    times = np.stack([start_s, start_s + HALF_ROW_S, start_s + SECONDS_PER_HOUR])
    evening_s = np.minimum(last_s, alike.beams.time_s[:, -1])[date]
    # the two ramps one at a time, with the other one moved out of reach
    falling = slopes.downward_share(times - first_s[date], 0.0, np.inf, np.nan)
    rising = slopes.downward_share(times - evening_s, -np.inf, 0.0, np.nan)
    return np.where(np.isnan(first_s[date]), 1.0, np.maximum(falling, rising))
