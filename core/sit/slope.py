"""The slope wind of a stand in the rows of many sits.

Rows alike in sun and cloud are worked out once for a stand; hours of four years stand
for those of all.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.ground.layout import AirRules, Property, Stand
from core.sit.clock import Clock
from core.sit.dates import Dates, later_s
from core.sit.rows import HALF_ROW_S, Blocks, JudgedRows
from core.sky.daylight import Sun, beam_cos, cloud_factor, slope_irradiance_wm2, sun_position
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

# steps between sunrise and sunset as shares of the day: closer where the sun is low, for
# there refraction bends its path
BEAM_SHARES = np.concatenate(
    [np.linspace(0.0, 0.05, 16), np.linspace(0.05, 0.95, 32)[1:-1], np.linspace(0.95, 1.0, 16)]
)
CLOSER = 4  # times that a crossing is looked for between two steps
RISEN_S = 5.0  # at sunrise itself the numbers of the sun jump: refraction sets in


@dataclass(frozen=True, eq=False)
class SlopeRows:
    """Slope wind of one stand, uphill positive. Shapes (row,)."""

    still_mps: Floats  # before the general wind fades it, at the middle
    faded_mps: Floats
    full_mps: Floats  # the most it could be in this wind
    turning: npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Beams:
    """The sun of some dates, to find beams on slopes: rise and set, shapes (date,), and its
    way from just after the one to just before the other, shapes (date, step).
    """

    rise_s: Floats
    set_s: Floats
    time_s: Floats
    zenith_deg: Floats
    azimuth_deg: Floats


@dataclass(frozen=True, eq=False)
class Alike:
    """Some rows by sun and cloud: those of many years that are alike, once.

    `at`: for each row, which pair of sun and cloud it has; `sun_at` and `cloud_frac`: of
    each pair. `sun`: at start, middle and end of each of its hours, shape (3, hour);
    `start_s` and `date` of those hours, the date one of `beams`.
    """

    at: Ints
    sun_at: Ints
    cloud_frac: Floats
    start_s: Ints
    date: Ints
    sun: Sun
    beams: Beams


def alike_rows(clock: Clock, found: Blocks, judged: JudgedRows) -> Alike:
    """The pairs of sun and cloud among the rows of the windows.

    Args: the clock; the hours of its sits; the rows judged in them.
    """
    of_date, beams = beams_of(clock.ground, clock.dates)
    sun_at = found.sun_at[judged.at]
    suns, first, row_sun = np.unique(sun_at, return_index=True, return_inverse=True)
    clouds, row_cloud = np.unique(judged.hours.weather.cloud_frac, return_inverse=True)
    pairs, at = np.unique(row_sun * len(clouds) + row_cloud, return_inverse=True)
    names = Sun.__dataclass_fields__
    return Alike(
        at=at,
        sun_at=pairs // len(clouds),
        cloud_frac=clouds[pairs % len(clouds)],
        start_s=found.sun_start_s[suns],
        date=of_date[clock.at[first % len(clock)]],
        sun=Sun(*(getattr(found.sun, name)[:, suns] for name in names)),
        beams=beams,
    )


def slope_rows(alike: Alike, judged: JudgedRows, stand: Stand) -> SlopeRows | None:
    """The slope wind at a stand in the rows of the windows; None without a slope.

    Args: what of their sun and cloud is alike; the rows; the stand.
    """
    if stand.downhill_deg is None or stand.grade_pct is None:
        return None
    rules, tilt = judged.hours.ground.air, slopes.tilt_deg(stand.grade_pct)
    down = _downward(alike, tilt, stand.downhill_deg)[:, alike.sun_at]
    light = slope_irradiance_wm2(tilt, stand.downhill_deg, alike.sun)[:, alike.sun_at]
    light = light * cloud_factor(alike.cloud_frac)
    still, turning = still_slope(stand, rules, down, light, alike.cloud_frac)
    still, turning = still[alike.at], turning[alike.at]
    fade = slopes.fade(judged.hours.speed_mps, rules.slope_fades_at_mps)
    full = rules.slope_wind_mps * min(1.0, stand.grade_pct / slopes.FULL_GRADE_PCT)
    return SlopeRows(still, still * fade, full * fade, turning)


def still_slope(stand: Stand, rules: AirRules, down, light_wm2, cloud_frac):
    """The slope wind of a stand in still air, and whether it is turning; shapes (row,).

    Args: a stand with a slope; the property's rules of the air; share of downward wind
    and light on the slope [W/m2] at start, middle and end of each row, shapes (3, row);
    cloud, 0 to 1, shape (row,).
    """
    speed = slopes.slope_speed_mps(
        downward=down,
        irradiance_wm2=light_wm2,
        cloud_frac=cloud_frac,
        grade_pct=stand.grade_pct or 0.0,
        full_mps=rules.slope_wind_mps,
    )
    slow = (np.abs(speed[1]) < slopes.TURNING_UNDER_MPS) & (down[1] > 0) & (down[1] < 1)
    return speed[1], (speed[0] * speed[2] < 0) | slow


def _downward(alike: Alike, tilt_deg: float, facing_deg: float) -> Floats:
    """d at start, middle and end of each hour of sun; shape (3, hour)."""
    first_s, last_s = beam_times_s(alike.beams, tilt_deg, facing_deg)
    start_s, date = alike.start_s, alike.date
    times = np.stack([start_s, start_s + HALF_ROW_S, start_s + SECONDS_PER_HOUR])
    evening_s = np.minimum(last_s, alike.beams.set_s)[date]
    # the two ramps one at a time, with the other one moved out of reach
    falling = slopes.downward_share(times - first_s[date], 0.0, np.inf, np.nan)
    rising = slopes.downward_share(times - evening_s, -np.inf, 0.0, np.nan)
    return np.where(np.isnan(first_s[date]), 1.0, np.maximum(falling, rising))


# --- when the sun comes onto a slope and leaves it ---


def beams_of(ground: Property, dates: Dates) -> tuple[Ints, Beams]:
    """Of each date which of the beams it has, shape (day,); and the beams, kept for the dates.

    Args: the property; its dates. Four years stand for many.
    """
    if "beams" not in dates.worked_out:  # mornings and evenings share them
        dates.worked_out["beams"] = _day_beams(ground, dates)
    return dates.worked_out["beams"]


def _day_beams(ground: Property, dates: Dates) -> tuple[Ints, Beams]:
    date_s = dates.date.astype("datetime64[s]").astype(np.int64)
    later = later_s(date_s, dates.date)
    _, first, of_date = np.unique(date_s - later, return_index=True, return_inverse=True)
    rise_s = dates.days.sunrise_s[first] - later[first]
    set_s = dates.days.sunset_s[first] - later[first]
    up_s = set_s - rise_s - 2 * RISEN_S
    time_s = rise_s[:, None] + RISEN_S + up_s[:, None] * BEAM_SHARES
    lon, lat = ground.center
    found = sun_position(lat, lon, ground.elevation_m, time_s.ravel())
    zenith, azimuth = (np.asarray(x).reshape(time_s.shape) for x in found)
    return of_date, Beams(rise_s, set_s, time_s, zenith, azimuth)


def beam_times_s(beams: Beams, tilt_deg: float, facing_deg: float) -> tuple[Floats, Floats]:
    """First and last minute of sun on a slope in each date; NaN for never.

    Args: the sun of the dates; the slope's tilt and the way it faces. [deg]
    Returns: epoch seconds, shapes (date,), (date,).
    """
    cos = beam_cos(tilt_deg, facing_deg, beams.zenith_deg, beams.azimuth_deg)
    minute = SECONDS_PER_MINUTE
    first_s = np.ceil(_crossing_s(beams.time_s, cos, beams.rise_s) / minute) * minute
    back_s = _crossing_s(-beams.time_s[:, ::-1], cos[:, ::-1], -beams.set_s)
    last_s = np.floor(-back_s / minute) * minute
    never = first_s > last_s
    return np.where(never, np.nan, first_s), np.where(never, np.nan, last_s)


def _crossing_s(time_s: Floats, cos: Floats, rise_s: Floats) -> Floats:
    """When each row of cosines first rises above nothing, at the sun's rise where it does so
    from the first step on; NaN where it never does.

    Between two steps the sun's path is taken for the cubic through the four around them.
    """
    lit = cos > 0
    at = lit.argmax(axis=1)
    day = np.arange(len(cos))
    start = np.clip(at - 2, 0, time_s.shape[1] - 4)
    four = start[:, None] + np.arange(4)
    begin_s = time_s[day, np.maximum(at - 1, 0)]
    t, y = time_s[day[:, None], four] - begin_s[:, None], cos[day[:, None], four]
    low, high = np.zeros(len(cos)), time_s[day, at] - begin_s
    y_low, y_high = cos[day, np.maximum(at - 1, 0)], cos[day, at]
    with np.errstate(invalid="ignore", divide="ignore"):
        for _ in range(CLOSER):  # regula falsi: the root stays between low and high
            guess = low - y_low * (high - low) / (y_high - y_low)
            found = _cubic(guess, t, y)
            under = found <= 0
            low, y_low = np.where(under, guess, low), np.where(under, found, y_low)
            high, y_high = np.where(under, high, guess), np.where(under, y_high, found)
        guess = low - y_low * (high - low) / (y_high - y_low)
    found = np.where(at > 0, begin_s + guess, rise_s)
    return np.where(lit.any(axis=1), found, np.nan)


def _cubic(at, t: Floats, y: Floats) -> Floats:
    """The cubic through four points of each row. Args: where, (row,); the points, (row, 4)."""
    total = np.zeros(len(t))
    for i in range(4):
        share = y[:, i].copy()
        for j in range(4):
            if j != i:
                share *= (at - t[:, j]) / (t[:, i] - t[:, j])
        total += share
    return total
