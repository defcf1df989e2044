"""Daylight against an independent ephemeris, at 400 random places and dates.

Source: PyEphem 4.2.1 (VSOP87 and own rise and set), horizon -0:34 for the upper
limb without further air (US Naval Observatory: 34' of refraction), -6 deg for
the centre in civil twilight. Tolerance 60 s; the sun's disc is taken at its size
of the day there and at its mean here, which is 5 s at 60 degrees.
"""

import datetime
import math

import ephem
import numpy as np
import pytest

from core.sky.daylight import sun_day

PLACES = 400
TOLERANCE_S = 60.0
HALF_DAY_S = 12.75 * 3600  # a local noon is up to 45 min from 12:00 on these clocks


def places():
    random = np.random.default_rng(20261110)
    for _ in range(PLACES):
        lon_deg = float(random.uniform(-180, 180))
        hours = round(lon_deg / 15.0)
        zone = f"Etc/GMT{-hours:+d}" if hours else "Etc/GMT"  # signs are reversed there
        date = datetime.date(1990, 1, 1) + datetime.timedelta(int(random.integers(0, 18000)))
        yield float(random.uniform(-60, 60)), lon_deg, zone, hours, date


def ephem_event_s(lat_deg, lon_deg, noon_s, rising, horizon, use_center):
    """Epoch seconds of the event before (rising) or after noon; NaN where none."""
    here = ephem.Observer()
    here.lat, here.lon, here.elevation = str(lat_deg), str(lon_deg), 0
    here.pressure, here.horizon = 0, horizon
    here.date = ephem.Date(
        datetime.datetime.fromtimestamp(noon_s, datetime.UTC).replace(tzinfo=None)
    )
    look = here.previous_rising if rising else here.next_setting
    try:
        found = look(ephem.Sun(), use_center=use_center)
    except ephem.CircumpolarError:
        return math.nan
    time_s = found.datetime().replace(tzinfo=datetime.UTC).timestamp()
    return time_s if abs(time_s - noon_s) <= HALF_DAY_S else math.nan


def test_events_of_400_places():
    compared, worst_s = 0, 0.0
    for lat_deg, lon_deg, zone, hours, date in places():
        day = sun_day(lat_deg, lon_deg, zone, date)
        noon = datetime.datetime.combine(date, datetime.time(12), datetime.UTC)
        noon_s = noon.timestamp() - 3600 * hours
        for ours_s, rising, horizon, use_center in (
            (day.sunrise_s, True, "-0:34", False),
            (day.sunset_s, False, "-0:34", False),
            (day.civil_dawn_s, True, "-6", True),
            (day.civil_dusk_s, False, "-6", True),
        ):
            theirs_s = ephem_event_s(lat_deg, lon_deg, noon_s, rising, horizon, use_center)
            assert math.isnan(ours_s) == math.isnan(theirs_s), (lat_deg, lon_deg, date, horizon)
            if not math.isnan(theirs_s):
                compared += 1
                worst_s = max(worst_s, abs(ours_s - theirs_s))
                assert abs(ours_s - theirs_s) <= TOLERANCE_S, (lat_deg, lon_deg, date, horizon)
    assert compared > 3.9 * PLACES


def test_rise_noon_and_set_lie_in_the_local_date():
    for lat_deg, lon_deg, zone, hours, date in places():
        day = sun_day(lat_deg, lon_deg, zone, date)
        midnight = datetime.datetime.combine(date, datetime.time(), datetime.UTC)
        midnight_s = midnight.timestamp() - 3600 * hours
        for time_s in (day.sunrise_s, day.noon_s, day.sunset_s):
            assert midnight_s <= time_s < midnight_s + 86400


@pytest.mark.parametrize(("date", "up"), [("2026-06-20", True), ("2026-12-20", False)])
def test_polar_day_and_night_have_no_events(date, up):
    # Utqiagvik: the sun stays up from May to August, down from November to January
    day = sun_day(71.29, -156.79, "America/Anchorage", datetime.date.fromisoformat(date))
    assert math.isnan(day.sunrise_s) and math.isnan(day.sunset_s)
    assert not math.isnan(day.noon_s)
    assert math.isnan(day.civil_dawn_s) == up  # the polar night there still has twilight
