"""First and last beam on a slope against an independent ephemeris and plane geometry.

Source: PyEphem 4.2.1 for the sun's apparent place (VSOP87, its own refraction for 1010 hPa
and 12 degrees) and for rise and set (upper limb, horizon -0:34); the angle between the sun
and the slope's normal by the law of cosines of the sphere. Fifty slopes by lot, 25 to 50
degrees north, September to January. Tolerance: both tell whole minutes, and a minute more
for the two refractions where the sun grazes the slope.
"""

import datetime
import math

import ephem
import numpy as np

from core.air.slopes import tilt_deg
from core.ground.layout import Property
from core.sit.dates import dates_on
from core.sit.slope import beam_times_s, beams_of

SLOPES = 50
TOLERANCE_S = 120.0


def slopes():
    lot = np.random.default_rng(1701)
    for _ in range(SLOPES):
        date = datetime.date(2026, 9, 1) + datetime.timedelta(int(lot.integers(0, 150)))
        yield (
            float(lot.uniform(25, 50)),
            float(lot.uniform(-100, -70)),
            date,
            float(lot.uniform(5, 60)),
            float(lot.uniform(0, 360)),
        )


def observer(lat_deg, lon_deg):
    here = ephem.Observer()
    here.lat, here.lon, here.elevation = str(lat_deg), str(lon_deg), 200
    here.temp = 12
    return here


def ephem_date(time_s):
    return ephem.Date(datetime.datetime.fromtimestamp(time_s, datetime.UTC).replace(tzinfo=None))


def sun_from_ephem(here, time_s):
    """Zenith and azimuth of the sun as it is seen. [rad]"""
    here.pressure, here.horizon, here.date = 1010, "0", ephem_date(time_s)
    sun = ephem.Sun(here)
    return math.pi / 2 - float(sun.alt), float(sun.az)


def rise_and_set_s(here, noon_s):
    here.pressure, here.horizon = 0, "-0:34"
    found = []
    for look in ("previous_rising", "next_setting"):
        here.date = ephem_date(noon_s)
        event = getattr(here, look)(ephem.Sun()).datetime()
        found.append(event.replace(tzinfo=datetime.UTC).timestamp())
    return found


def beams_by_ephem(lat_deg, lon_deg, noon_s, tilt, facing_deg):
    """First and last whole minute between rise and set with the sun before the slope. [s]"""
    here = observer(lat_deg, lon_deg)
    rise_s, set_s = rise_and_set_s(here, noon_s)
    lit = []
    for time_s in range(math.ceil(rise_s / 60) * 60, math.ceil(set_s), 60):
        zenith, azimuth = sun_from_ephem(here, time_s)
        beta, turn = math.radians(tilt), azimuth - math.radians(facing_deg)
        cos = math.cos(zenith) * math.cos(beta) + (
            math.sin(zenith) * math.sin(beta) * math.cos(turn)
        )
        if cos > 0:
            lit.append(time_s)
    return (lit[0], lit[-1]) if lit else (math.nan, math.nan)


def test_first_and_last_beam_on_fifty_slopes():
    sooner_than_sunset = 0
    for lat_deg, lon_deg, date, grade_pct, facing_deg in slopes():
        ground = Property("u", "Slope", "Etc/GMT+6", (lon_deg, lat_deg), 200.0)
        dates = dates_on(ground, [date])
        day = dates.day(0)
        tilt = tilt_deg(grade_pct)
        _, beams = beams_of(ground, dates)
        ours = [float(times[0]) for times in beam_times_s(beams, tilt, facing_deg)]
        theirs = beams_by_ephem(lat_deg, lon_deg, day.noon_s, tilt, facing_deg)
        where = (lat_deg, lon_deg, date, grade_pct, facing_deg)
        assert np.isnan(ours).tolist() == np.isnan(theirs).tolist(), where
        assert np.nanmax(np.abs(np.subtract(ours, theirs)), initial=0.0) <= TOLERANCE_S, where
        sooner_than_sunset += theirs[1] < day.sunset_s - 600
    assert sooner_than_sunset >= 15  # else the slopes would not be asked at all
