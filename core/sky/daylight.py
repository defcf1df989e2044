"""Sunrise, noon, sunset, civil twilight, the sun's place and a clear sky's light.

Answers for one place: the property's centre. The horizon is level and open; a
hill or a tree on it makes the true times later and earlier. Legal hours are not
here: they are the user's rule (core.sit.clock).
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from core.sky.lately import for_all, kept_lately
from core.sky.sunpath import DAY_S, DELTA_T_S, SunPath

Floats = npt.NDArray[np.float64]

RISE_SET_ALTITUDE_DEG = -0.8333  # SPA A.2: 34' refraction and 16' of the sun's disc
CIVIL_ALTITUDE_DEG = -6.0
SUN_PARALLAX_DEG = 8.794 / 3600.0  # SPA eq. 34 at one astronomical unit
REFRACTION_DEG = 0.5667  # pvlib's default at the horizon
AIR_TEMPERATURE_C = 12.0  # pvlib's default
CLOUD_UNKNOWN_FRAC = 0.5


@dataclass(frozen=True, slots=True)
class Day:
    """The sun's events of one local date; epoch seconds UTC, NaN where none."""

    date: datetime.date
    timezone: str
    civil_dawn_s: float
    sunrise_s: float
    noon_s: float
    sunset_s: float
    civil_dusk_s: float


@dataclass(frozen=True, eq=False)
class Days:
    """The same for many dates; arrays of shape (day,)."""

    date: npt.NDArray[np.datetime64]
    timezone: str
    civil_dawn_s: Floats
    sunrise_s: Floats
    noon_s: Floats
    sunset_s: Floats
    civil_dusk_s: Floats


@dataclass(frozen=True, eq=False)
class Sun:
    """The sun's place and the light of a cloudless sky; arrays of one shape.

    `apparent_zenith_deg` with refraction; `azimuth_deg` clockwise from true
    north; global horizontal, direct normal and diffuse irradiance in W/m2.
    """

    apparent_zenith_deg: Floats
    azimuth_deg: Floats
    ghi_wm2: Floats
    dni_wm2: Floats
    dhi_wm2: Floats


def sun_day(lat_deg: float, lon_deg: float, timezone: str, date: datetime.date) -> Day:
    """The sun's events of one local date.

    Args:
        lat_deg, lon_deg: the place; north and east positive. [deg]
        timezone: IANA name of the local calendar.
        date: the local calendar date.

    Returns: the events of the solar day whose noon lies in that date. In high
        summer in the far north its sunset may fall after local midnight.
    Missing: an event that does not happen (polar day or night) is NaN.
    Raises: zoneinfo.ZoneInfoNotFoundError for an unknown zone.
    Source: [spa2004] as in pvlib.spa; [usno-definitions].
    """
    days = sun_days(lat_deg, lon_deg, timezone, [date])
    return Day(
        date,
        timezone,
        float(days.civil_dawn_s[0]),
        float(days.sunrise_s[0]),
        float(days.noon_s[0]),
        float(days.sunset_s[0]),
        float(days.civil_dusk_s[0]),
    )


def sun_days(
    lat_deg: float,
    lon_deg: float,
    timezone: str,
    dates: Sequence[datetime.date] | npt.NDArray[np.datetime64],
) -> Days:
    """The sun's events of many local dates, as `sun_day`, in one go.

    pvlib's own rise and set are not used: for an event that falls on another
    UTC day than its date they give that of a day later or earlier, minutes off
    at 50 degrees. Here the event itself is looked for: the SPA altitude is
    followed from midnight to noon and from noon to midnight.

    Args:
        lat_deg, lon_deg: the place. [deg]
        timezone: IANA name.
        dates: local calendar dates, any order. Shape (day,).

    Returns: arrays of shape (day,), epoch seconds UTC.
    Missing: NaN where an event does not happen.
    Raises: zoneinfo.ZoneInfoNotFoundError for an unknown zone.
    Source: [spa2004] as in pvlib.spa; rise and set at -0.8333 deg geocentric
        (its A.2), civil twilight at -6 deg topocentric, unrefracted.
    """
    return _sun_days(lat_deg, lon_deg, timezone, np.asarray(dates, "datetime64[D]").tobytes())


@kept_lately
def _sun_days(lat_deg: float, lon_deg: float, timezone: str, dates: bytes) -> Days:
    days = np.frombuffer(dates, "datetime64[D]")
    path = SunPath(lat_deg, lon_deg, _mean_noon_s(lon_deg, timezone, days))
    noon_s = path.noon_s()
    civil_deg = CIVIL_ALTITUDE_DEG + SUN_PARALLAX_DEG * np.cos(np.radians(CIVIL_ALTITUDE_DEG))
    events = (
        path.crossing_s(noon_s, -DAY_S / 2, civil_deg),
        path.crossing_s(noon_s, -DAY_S / 2, RISE_SET_ALTITUDE_DEG),
        noon_s,
        path.crossing_s(noon_s, DAY_S / 2, RISE_SET_ALTITUDE_DEG),
        path.crossing_s(noon_s, DAY_S / 2, civil_deg),
    )
    return Days(days, timezone, *for_all(events))


def _mean_noon_s(lon_deg: float, timezone: str, days) -> Floats:
    """Mean solar noon in each local date, whatever the zone's offset."""
    zone = ZoneInfo(timezone)
    midnight_s = np.array(
        [datetime.datetime(d.year, d.month, d.day, tzinfo=zone).timestamp() for d in days.tolist()],
        float,
    )
    noon_s = days.astype("datetime64[s]").astype(float) + DAY_S / 2 - lon_deg / 360.0 * DAY_S
    return noon_s - DAY_S * np.floor((noon_s - midnight_s) / DAY_S)


def sun_position(lat_deg: float, lon_deg: float, elevation_m: float, times_s):
    """Where the sun stands, with refraction.

    Args:
        lat_deg, lon_deg: the place. [deg]
        elevation_m: above sea level. [m]
        times_s: instants, epoch seconds UTC. Shape (time,) or a scalar.

    Returns: apparent zenith and azimuth (clockwise from true north). [deg], (time,)
    Missing: NaN instants give NaN.
    Source: [spa2004]; the numbers of pvlib.location.Location.get_solarposition.
    """
    place = _spa(lat_deg, lon_deg, elevation_m, times_s)
    return place[0], place[4]


def _spa(lat_deg: float, lon_deg: float, elevation_m: float, times_s):
    """pvlib's SPA without its table around it: the same numbers, sooner."""
    seconds = np.atleast_1d(np.asarray(times_s, float))
    return _spa_of(lat_deg, lon_deg, elevation_m, seconds.tobytes())


@kept_lately
def _spa_of(lat_deg: float, lon_deg: float, elevation_m: float, times: bytes):
    from pvlib import atmosphere, spa

    pressure_hpa = atmosphere.alt2pres(elevation_m) / 100.0
    return for_all(
        spa.solar_position(
            np.frombuffer(times),
            lat_deg,
            lon_deg,
            elevation_m,
            pressure_hpa,
            AIR_TEMPERATURE_C,
            DELTA_T_S,
            REFRACTION_DEG,
            1,
        )
    )


def clear_sky(lat_deg: float, lon_deg: float, elevation_m: float, times_s) -> Sun:
    """The sun's place and the light under a cloudless sky.

    Args:
        lat_deg, lon_deg: the place. [deg]
        elevation_m: above sea level. [m]
        times_s: instants, epoch seconds UTC. Shape (time,) or a scalar.

    Returns: a `Sun` of arrays of shape (time,); no light while the sun is down.
    Missing: instants may not be NaN.
    Source: [ineichen2002] as in pvlib.location.Location.get_clearsky, with the
        monthly Linke turbidity that pvlib carries.
    """
    seconds = np.atleast_1d(np.asarray(times_s, float))
    return _clear_sky(lat_deg, lon_deg, elevation_m, seconds.tobytes())


@kept_lately
def _clear_sky(lat_deg: float, lon_deg: float, elevation_m: float, instants: bytes) -> Sun:
    import pandas as pd
    from pvlib.location import Location

    seconds = np.frombuffer(instants)
    zenith, true_zenith, elevation, _, azimuth, _ = _spa(lat_deg, lon_deg, elevation_m, seconds)
    times = pd.to_datetime(np.round(seconds * 1e3).astype("int64"), unit="ms", utc=True)
    position = pd.DataFrame(
        {"apparent_zenith": zenith, "zenith": true_zenith, "apparent_elevation": elevation},
        index=times,
    )
    sky = Location(lat_deg, lon_deg, "UTC", elevation_m).get_clearsky(
        times, solar_position=position
    )
    light = (sky[name].to_numpy(float, copy=True) for name in ("ghi", "dni", "dhi"))
    return Sun(zenith, azimuth, *for_all(light))


def cloud_factor(cloud_frac):
    """Share of a clear sky's light that comes through cloud.

    Args:
        cloud_frac: sky covered, 0 to 1. Any shape.

    Returns: k = 1 - 0.75 N^3.4, 0.25 to 1. Same shape.
    Missing: NaN counts as half covered.
    Source: [kasten1980].
    """
    cloud = np.asarray(cloud_frac, float)
    cloud = np.where(np.isnan(cloud), CLOUD_UNKNOWN_FRAC, cloud)
    return 1.0 - 0.75 * cloud**3.4


def slope_irradiance_wm2(tilt_deg, facing_deg, sun: Sun):
    """Light that falls on a slope under a cloudless sky.

    Args:
        tilt_deg: slope against the level. [deg]
        facing_deg: direction downhill, clockwise from true north. [deg]
        sun: from `clear_sky`; all arrays broadcast together.

    Returns: plane-of-array irradiance, direct, sky and ground. [W/m2]
    Missing: NaN gives NaN.
    Source: pvlib.irradiance.get_total_irradiance, its defaults (isotropic sky,
        albedo 0.25), apparent zenith.
    """
    from pvlib import irradiance

    light = irradiance.get_total_irradiance(
        tilt_deg,
        facing_deg,
        sun.apparent_zenith_deg,
        sun.azimuth_deg,
        sun.dni_wm2,
        sun.ghi_wm2,
        sun.dhi_wm2,
    )
    return light["poa_global"]


def beam_cos(tilt_deg, facing_deg, apparent_zenith_deg, azimuth_deg):
    """Cosine of the angle between the sun and a slope's normal.

    Args:
        tilt_deg, facing_deg: the slope, as in `slope_irradiance_wm2`. [deg]
        apparent_zenith_deg, azimuth_deg: the sun. [deg]; all broadcast.

    Returns: -1 to 1; above 0 the beam reaches the slope if the sun is up.
    Missing: NaN gives NaN.
    Source: pvlib.irradiance.aoi_projection.
    """
    from pvlib import irradiance

    return irradiance.aoi_projection(tilt_deg, facing_deg, apparent_zenith_deg, azimuth_deg)
