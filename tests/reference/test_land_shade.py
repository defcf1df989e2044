"""When the sun leaves a slope behind a wall, against an ephemeris.

Source: PyEphem 4.2 (XEphem's positions of the sun, with its refraction) follows the sun by the
minute; a wall of 100 m, 510 m to the west of level ground, stands as high as arctan of its
height over the distance along the sun's azimuth. Tolerance: two minutes (the horizon is kept
for every fifth degree, steps grow by 1.5 %).
"""

import datetime

import ephem
import numpy as np
import pytest

from core.ground.heights.grid import METERS, HeightGrid
from core.ground.layout import Property
from core.ground.plan import Plane
from core.land.derived import land_on
from core.land.kept import KeptLand
from core.land.shade import light_on, shade_at
from core.sit.dates import dates_on
from core.sit.slope import beam_times_s, beams_of, shaded_beam_times_s
from core.sky.daylight import sun_position

AT = (-79.7, 35.9)


def land_of(height_of):
    plane, n = Plane(AT), 160
    at = (np.arange(2 * n + 1) - n) * 10.0
    height = height_of(at[None, :], -at[:, None]) + np.zeros((2 * n + 1, 2 * n + 1))
    lon, lat = plane.to_lonlat(at[0], at[-1])
    cells = 10.0 / plane.m_per_lon_deg, 10.0 / plane.m_per_lat_deg
    grid = HeightGrid(height, float(lon), float(lat), *cells, METERS)
    sha = f"{abs(hash(height.tobytes())):x}"

    class Ground:
        center = AT

    return land_on(KeptLand(grid, "", "", "ground", "", sha, True), Ground)


def last_light_min(shade, day):
    """The last minute of a UTC day's afternoon with light on the slope."""
    noon = datetime.datetime(*day, 17, tzinfo=datetime.UTC).timestamp()
    times = noon + np.arange(0, 8 * 60) * 60.0
    zenith, azimuth = sun_position(AT[1], AT[0], 0.0, times)
    return times[light_on(shade, zenith, azimuth) > 0].max()


def ephem_last_min(day, hidden, *, edge=True):
    """The last minute at which the ephemeris has the sun's upper edge, or middle, over land."""
    observer = ephem.Observer()
    observer.lon, observer.lat = (str(x) for x in AT)
    observer.elevation, observer.pressure, observer.temp = 0, 1013, 12
    noon = datetime.datetime(*day, 17, tzinfo=datetime.UTC)
    last = None
    for minute in range(8 * 60):
        observer.date = (noon + datetime.timedelta(minutes=minute)).replace(tzinfo=None)
        sun = ephem.Sun(observer)
        altitude, azimuth = np.degrees(float(sun.alt)), np.degrees(float(sun.az))
        if altitude + edge * np.degrees(float(sun.radius)) > hidden(azimuth):
            last = noon + datetime.timedelta(minutes=minute)
    return last.timestamp()


@pytest.mark.parametrize("day", [(2026, 10, 6), (2026, 11, 10), (2026, 12, 21)])
def test_a_wall_to_the_west_ends_the_day_sooner(day):
    wall = land_of(lambda east, north: np.where(east <= -510.0, 100.0, 0.0) + 0.0 * north)
    shade = shade_at(wall, AT)

    def hidden(azimuth):
        # of the thirteen places the middle one stands at the wall's distance of the stand
        toward = np.cos(np.radians(azimuth - 270.0))
        return np.degrees(np.arctan(100.0 * max(toward, 0.0) / 510.0))

    assert last_light_min(shade, day) == pytest.approx(ephem_last_min(day, hidden), abs=121)


def test_level_ground_has_light_until_the_sun_is_down():
    level = land_of(lambda east, north: 0.0 * east * north)
    day = (2026, 11, 10)
    told = last_light_min(shade_at(level, AT), day)
    # light falls on level ground while the sun's middle is up
    assert told == pytest.approx(ephem_last_min(day, lambda _: 0.0, edge=False), abs=61)


def test_a_north_slope_has_none_in_december():
    steep = land_of(lambda east, north: 0.9 * north * -1.0 + 0.0 * east)
    shade = shade_at(steep, AT)
    assert np.cos(np.radians(shade.facing_deg)) == pytest.approx(1.0)
    zenith, azimuth = sun_position(AT[1], AT[0], 0.0, np.array([1797872400.0]))  # 21 Dec, noon
    assert (light_on(shade, zenith, azimuth) < 0).all()


def test_beside_the_heights_nothing_is_known():
    level = land_of(lambda east, north: 0.0 * east * north)
    assert shade_at(level, (AT[0] + 1.0, AT[1])) is None


@pytest.mark.parametrize("day", [(2026, 10, 6), (2026, 11, 10), (2026, 12, 21)])
def test_the_last_beam_behind_a_wall_is_found_between_steps_of_the_sun(day):
    """As the ephemeris has it, on the same wall; and without a wall as without heights."""
    ground = Property("u", "Wall", "Etc/GMT+5", AT, 0.0)
    _, beams = beams_of(ground, dates_on(ground, [datetime.date(*day)]))
    wall = land_of(lambda east, north: np.where(east <= -510.0, 100.0, 0.0) + 0.0 * north)

    def hidden(azimuth):
        toward = np.cos(np.radians(azimuth - 270.0))
        return np.degrees(np.arctan(100.0 * max(toward, 0.0) / 510.0))

    _, last_s = shaded_beam_times_s(beams, shade_at(wall, AT))
    assert float(last_s[0]) == pytest.approx(ephem_last_min(day, hidden), abs=121)
    tilted = land_of(lambda east, north: 0.1 * east + 0.0 * north)
    found = shaded_beam_times_s(beams, shade_at(tilted, AT))
    typed = beam_times_s(beams, float(np.degrees(np.arctan(0.1))), 270.0)
    # a minute for rounding, one for the horizon between two directions
    assert np.abs(np.subtract(found, typed)).max() <= 120.0
