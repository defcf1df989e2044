"""The hours round a sit with their air: weather, class, sun, and slope wind.

One table for a sit, shared by all stands: the rows of the window and those of
the walks. A stand's own air is worked out from it.
"""

import functools
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.air.shelter import wind_at_hunter_mps
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.air.stability import stability_class
from core.ground.layout import AirRules, Property, Stand
from core.sky.daylight import (
    Day,
    Sun,
    beam_cos,
    clear_sky,
    cloud_factor,
    slope_irradiance_wm2,
    sun_position,
)
from core.units import M_PER_FT, SECONDS_PER_HOUR, SECONDS_PER_MINUTE
from core.weather.hours import DIRECTED, Hours

Floats = npt.NDArray[np.float64]
HALF_ROW_S = SECONDS_PER_HOUR // 2


@dataclass(frozen=True, eq=False)
class Rows:
    """Hours in order without gaps; shapes (row,). `weather` has the same rows."""

    start_s: npt.NDArray[np.int64]
    day: Day
    month: int
    weather: Hours
    stability: npt.NDArray[np.int64]
    still_class: npt.NDArray[np.int64]  # as if there were no wind
    sun: Sun  # shape (3, row): start, middle and end of each row
    ground: Property

    @property
    def middle_s(self) -> npt.NDArray[np.int64]:
        return self.start_s + HALF_ROW_S

    @functools.cached_property
    def speed_mps(self) -> Floats:
        """10 m wind with missing as 0, for sums that a state later overrules."""
        return np.nan_to_num(self.weather.speed_mps)

    @property
    def directed(self) -> npt.NDArray[np.bool_]:
        return self.weather.state == DIRECTED

    def index_of(self, time_s) -> npt.NDArray[np.int64]:
        """Row that holds each instant, kept inside the table."""
        row = (np.asarray(time_s) - self.start_s[0]) // SECONDS_PER_HOUR
        return np.clip(row, 0, len(self.start_s) - 1).astype(np.int64)


def make_rows(ground: Property, day: Day, weather: Hours, first_s: float, last_s: float) -> Rows:
    """The hours from the one that holds `first_s` to the one that holds `last_s`.

    Args: the property; the sun's day; the weather; two instants [epoch s].

    Hours that the weather lacks are missing rows.
    """
    first = math.floor(first_s / SECONDS_PER_HOUR)
    last = math.ceil(last_s / SECONDS_PER_HOUR)
    start_s = np.arange(first, max(last, first + 1)) * SECONDS_PER_HOUR
    table = weather.at_rows(start_s)
    middle_s = start_s + HALF_ROW_S
    lon, lat = ground.center
    # starts, middles and ends in one call: the ends are the starts of the next
    instants = np.concatenate([start_s, middle_s, start_s[-1:] + SECONDS_PER_HOUR])
    sky = clear_sky(lat, lon, ground.elevation_m, instants)
    n = len(start_s)
    pick = np.stack([np.arange(n), n + np.arange(n), np.append(np.arange(1, n), 2 * n)])
    sun = Sun(*(np.asarray(getattr(sky, name))[pick] for name in Sun.__dataclass_fields__))
    radiation = sun.ghi_wm2[1] * cloud_factor(table.cloud_frac)

    def classed(speed_mps):
        return stability_class(
            time_s=middle_s,
            sunrise_s=day.sunrise_s,
            sunset_s=day.sunset_s,
            speed_mps=speed_mps,
            cloud_frac=table.cloud_frac,
            radiation_wm2=radiation,
        )

    return Rows(
        start_s=start_s,
        day=day,
        month=day.date.month,
        weather=table,
        stability=classed(table.speed_mps),
        still_class=classed(np.zeros(n)),
        sun=sun,
        ground=ground,
    )


@dataclass(frozen=True, eq=False)
class SlopeRows:
    """Slope wind of one stand, uphill positive. Shapes (row,)."""

    still_mps: Floats  # before the general wind fades it, at the middle
    faded_mps: Floats
    full_mps: Floats  # the most it could be in this wind
    turning: npt.NDArray[np.bool_]


def slope_rows(rows: Rows, stand: Stand) -> SlopeRows | None:
    """The slope wind at a stand through the rows; None without a slope."""
    if stand.downhill_deg is None or stand.grade_pct is None:
        return None
    rules = rows.ground.air
    tilt = slopes.tilt_deg(stand.grade_pct)
    first_s, last_s = beam_times_s(rows, tilt, stand.downhill_deg)
    cloud = rows.weather.cloud_frac
    times = np.stack([rows.start_s, rows.middle_s, rows.start_s + SECONDS_PER_HOUR])
    down = slopes.downward_share(times, first_s, last_s, rows.day.sunset_s)
    light = slope_irradiance_wm2(tilt, stand.downhill_deg, rows.sun) * cloud_factor(cloud)
    still, turning = still_slope(stand, rules, down, light, cloud)
    return faded(stand, rules, still, turning, rows.speed_mps)


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


def faded(stand: Stand, rules: AirRules, still_mps, turning, wind_mps) -> SlopeRows:
    """What the general wind leaves of a slope wind.

    Args: the stand; the rules; the two of `still_slope`; the wind at 10 m [m/s]. (row,)
    """
    fade = slopes.fade(wind_mps, rules.slope_fades_at_mps)
    full = rules.slope_wind_mps * min(1.0, (stand.grade_pct or 0.0) / slopes.FULL_GRADE_PCT)
    return SlopeRows(still_mps, still_mps * fade, full * fade, turning)


def beam_times_s(rows: Rows, tilt_deg: float, facing_deg: float) -> tuple[float, float]:
    """First and last minute that the sun shines on a slope; NaN for never. [epoch s]"""
    day, ground = rows.day, rows.ground
    times_s, zenith, azimuth = minute_sun(
        *ground.center, ground.elevation_m, day.sunrise_s, day.sunset_s
    )
    lit = times_s[beam_cos(tilt_deg, facing_deg, zenith, azimuth) > 0]
    return (float(lit[0]), float(lit[-1])) if len(lit) else (math.nan, math.nan)


@functools.lru_cache(maxsize=32)
def minute_sun(lon_deg: float, lat_deg: float, elevation_m: float, rise_s: float, set_s: float):
    """The sun at each whole minute between sunrise and sunset, kept for a few days.

    Args: the place [deg], [deg], [m]; sunrise and sunset [epoch s].

    Returns: instants [epoch s], apparent zenith and azimuth [deg]; shapes (minute,).
    """
    first_s = math.ceil(rise_s / SECONDS_PER_MINUTE) * SECONDS_PER_MINUTE
    times_s = np.arange(first_s, set_s, SECONDS_PER_MINUTE, dtype=np.int64)
    return times_s, *sun_position(lat_deg, lon_deg, elevation_m, times_s)


@dataclass(frozen=True, eq=False)
class StandAir:
    """The hunter's air in some cases: row x direction. Shapes (case,)."""

    row: npt.NDArray[np.int64]
    wind_from_deg: Floats
    half_width_deg: Floats
    stability: npt.NDArray[np.int64]
    air_to_deg: Floats
    carried_mps: Floats  # before the floor
    effective_mps: Floats
    sigma_rad: Floats
    height_m: float


def stand_air(
    rows: Rows, stand: Stand, slope: SlopeRows | None, row, wind_from_deg, toward=None
) -> StandAir:
    """The air at a stand in each case.

    Args: row of each case; its wind direction, NaN without one; that direction as
    `slopes.toward`, where it is known already. Shapes (case,).
    """
    speed = rows.speed_mps[row]
    stability = rows.stability[row]
    height_m = stand.height_ft * M_PER_FT
    wind = wind_at_hunter_mps(speed, height_m, stability, stand.cover)
    slope_mps = np.zeros(len(row)) if slope is None else slope.faded_mps[row]
    air_to, carried = slopes.carried(
        wind_mps=wind,
        toward=slopes.toward(wind_from_deg) if toward is None else toward,
        slope_mps=slope_mps,
        downhill_deg=stand.downhill_deg or 0.0,
    )
    effective = slopes.effective_speed_mps(speed, carried, wind)
    return StandAir(
        row=row,
        wind_from_deg=wind_from_deg,
        half_width_deg=rows.weather.half_width_deg[row],
        stability=stability,
        air_to_deg=air_to,
        carried_mps=carried,
        effective_mps=effective,
        sigma_rad=spread_rad(stability, effective, COVER_SPREAD_DEG[stand.cover]),
        height_m=height_m,
    )
