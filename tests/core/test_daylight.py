"""Daylight and clear-sky light: own behaviour (published values: tests/reference)."""

import datetime
import itertools
import zoneinfo

import numpy as np
import pandas as pd
import pytest
from pvlib import irradiance
from pvlib.location import Location

from core.sky import daylight

PLACE = (36.2, -79.8, 240.0)
NOV_10 = datetime.date(2026, 11, 10)


@pytest.fixture(scope="module")
def hours_s():
    start = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC).timestamp()
    return start + 3607.0 * np.arange(0, 8700, 7)


def stamps(times_s):
    return pd.to_datetime(times_s.astype("int64"), unit="s", utc=True)


def test_clear_sky_is_the_library_s_own(hours_s):
    sun = daylight.clear_sky(*PLACE, hours_s)
    place = Location(PLACE[0], PLACE[1], "UTC", PLACE[2])
    sky = place.get_clearsky(stamps(hours_s))
    position = place.get_solarposition(stamps(hours_s))
    for ours, theirs in (
        (sun.ghi_wm2, sky["ghi"]),
        (sun.dni_wm2, sky["dni"]),
        (sun.dhi_wm2, sky["dhi"]),
        (sun.apparent_zenith_deg, position["apparent_zenith"]),
        (sun.azimuth_deg, position["azimuth"]),
    ):
        np.testing.assert_array_equal(ours, theirs.to_numpy())
    assert sun.ghi_wm2.max() > 900 and (sun.ghi_wm2 == 0).sum() > 400


def test_sun_position_is_that_of_clear_sky(hours_s):
    sun = daylight.clear_sky(*PLACE, hours_s)
    zenith, azimuth = daylight.sun_position(*PLACE, hours_s)
    np.testing.assert_array_equal(zenith, sun.apparent_zenith_deg)
    np.testing.assert_array_equal(azimuth, sun.azimuth_deg)


def test_what_is_kept_of_the_sun_is_of_that_place_and_time_and_nobody_s_to_change():
    """The last few answers are given again; one that differs in anything is another."""
    zone, times_s = "America/New_York", 1.7944e9 + 600.0 * np.arange(9)
    sun = daylight.clear_sky(*PLACE, times_s)
    days = daylight.sun_days(PLACE[0], PLACE[1], zone, [NOV_10])
    times_s += 60.0  # the caller's own array, changed after it was asked about
    later = daylight.clear_sky(*PLACE, times_s)
    elsewhere = [daylight.clear_sky(*(np.array(PLACE) + d), times_s) for d in 40.0 * np.eye(3)]
    for one, other in itertools.combinations([sun, later, *elsewhere], 2):
        assert (one.ghi_wm2 != other.ghi_wm2).any()
    following = daylight.sun_days(PLACE[0], PLACE[1], zone, [NOV_10 + datetime.timedelta(days=1)])
    assert (following.noon_s - days.noon_s)[0] == pytest.approx(86400, abs=30)
    for array in (*vars(sun).values(), days.date, days.sunset_s, *daylight.sun_position(*PLACE, 0)):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 1


def test_the_sun_of_a_day_is_kept_and_that_of_a_season_is_not():
    day, season = (1.79e9 + 600.0 * np.arange(n) for n in (144, 9000))
    for times_s, is_kept in ((day, True), (season, False)):
        one, again = (daylight.clear_sky(*PLACE, times_s) for _ in range(2))
        assert (again is one) == is_kept
        np.testing.assert_array_equal(again.ghi_wm2, one.ghi_wm2)


def test_one_instant_may_be_a_plain_number():
    zenith, azimuth = daylight.sun_position(*PLACE, 1.7944e9)
    assert zenith.shape == azimuth.shape == (1,)
    assert daylight.clear_sky(*PLACE, 1.7944e9).ghi_wm2.shape == (1,)


def test_the_sun_stands_south_at_noon_and_low_at_sunset():
    day = daylight.sun_day(PLACE[0], PLACE[1], "America/New_York", NOV_10)
    zenith, azimuth = daylight.sun_position(
        *PLACE, [day.sunrise_s + 60, day.noon_s, day.sunset_s - 60]
    )
    assert azimuth[1] == pytest.approx(180.0, abs=0.01)
    assert azimuth[0] < 120 and azimuth[2] > 240
    # the upper limb just above the horizon: the centre about half a sun lower
    assert zenith[[0, 2]] == pytest.approx(90.27, abs=0.2)


def test_twilight_is_at_six_degrees_of_the_library():
    days = daylight.sun_days(
        PLACE[0], PLACE[1], "America/New_York", np.arange("2026-01", "2027-01", dtype="M8[D]")
    )
    place = Location(PLACE[0], PLACE[1], "UTC", 0.0)
    for times_s in (days.civil_dawn_s, days.civil_dusk_s):
        whole_s = np.round(times_s)
        before, after = (
            place.get_solarposition(stamps(whole_s + step))["elevation"].to_numpy()
            for step in (-1, 1)
        )
        # to the second: -6 deg lies between the second before and the one after
        assert np.all((before + 6.0) * (after + 6.0) < 0)


def test_many_days_are_the_days_one_by_one():
    dates = [NOV_10 + datetime.timedelta(days=37 * n) for n in range(20)]
    days = daylight.sun_days(PLACE[0], PLACE[1], "America/New_York", dates)
    for i, date in enumerate(dates):
        day = daylight.sun_day(PLACE[0], PLACE[1], "America/New_York", date)
        for name in ("civil_dawn_s", "sunrise_s", "noon_s", "sunset_s", "civil_dusk_s"):
            assert getattr(days, name)[i] == pytest.approx(getattr(day, name), abs=1e-3)


def test_events_are_in_order_and_the_date_is_kept():
    day = daylight.sun_day(PLACE[0], PLACE[1], "America/New_York", NOV_10)
    assert (day.date, day.timezone) == (NOV_10, "America/New_York")
    assert day.civil_dawn_s < day.sunrise_s < day.noon_s < day.sunset_s < day.civil_dusk_s


def test_a_zone_far_from_its_sun_still_gets_its_own_date():
    # Kiritimati keeps UTC+14 at 157 W: its calendar runs a day ahead of its longitude
    day = daylight.sun_day(1.87, -157.4, "Pacific/Kiritimati", NOV_10)
    noon = datetime.datetime.fromtimestamp(day.noon_s, zoneinfo.ZoneInfo("Pacific/Kiritimati"))
    assert noon.date() == NOV_10 and noon.hour == 12


def test_a_late_sunset_belongs_to_its_day():
    # Fairbanks in June: the sun of the 10th sets after local midnight
    day = daylight.sun_day(64.8, -147.7, "America/Anchorage", datetime.date(2026, 6, 10))
    assert day.sunset_s - day.noon_s == pytest.approx(10.7 * 3600, abs=1800)
    assert np.isnan(day.civil_dawn_s) and np.isnan(day.civil_dusk_s)


def test_an_unknown_zone_is_named():
    with pytest.raises(zoneinfo.ZoneInfoNotFoundError, match="Mars/Olympus"):
        daylight.sun_day(0.0, 0.0, "Mars/Olympus", NOV_10)


@pytest.mark.parametrize(
    ("cloud", "share"),
    # by hand: 0.5^3.4 = 0.094732, 0.8^3.4 = 0.468280
    [(0.0, 1.0), (1.0, 0.25), (0.5, 0.928951), (0.8, 0.648790), (float("nan"), 0.928951)],
)
def test_cloud_factor(cloud, share):
    assert daylight.cloud_factor(cloud) == pytest.approx(share, abs=1e-6)


def test_level_ground_gets_the_global_irradiance(hours_s):
    sun = daylight.clear_sky(*PLACE, hours_s)
    np.testing.assert_allclose(daylight.slope_irradiance_wm2(0.0, 180.0, sun), sun.ghi_wm2, atol=15)


def test_slopes_and_hours_broadcast(hours_s):
    sun = daylight.clear_sky(*PLACE, hours_s)
    tilt = np.array([[5.0], [11.3], [20.0]])  # (stand, 1)
    facing = np.array([[90.0], [180.0], [350.0]])
    light = daylight.slope_irradiance_wm2(tilt, facing, sun)
    assert light.shape == (3, len(hours_s))
    for i in range(3):
        alone = irradiance.get_total_irradiance(
            float(tilt[i, 0]),
            float(facing[i, 0]),
            sun.apparent_zenith_deg,
            sun.azimuth_deg,
            sun.dni_wm2,
            sun.ghi_wm2,
            sun.dhi_wm2,
        )["poa_global"]
        np.testing.assert_allclose(light[i], alone, rtol=1e-12)
    cos = daylight.beam_cos(tilt, facing, sun.apparent_zenith_deg, sun.azimuth_deg)
    assert cos.shape == light.shape


def test_the_beam_finds_the_slope_that_faces_it():
    facing = np.array([0.0, 90.0, 180.0, 270.0])
    cos = daylight.beam_cos(30.0, facing, 60.0, 90.0)  # sun in the east, 30 deg up
    assert np.argmax(cos) == 1 and np.argmin(cos) == 3
    assert cos[1] == pytest.approx(np.cos(np.radians(30.0)))  # 60 - 30 off the normal
