"""Sun on a slope: worked examples of a textbook on solar heat.

Source: Duffie J.A., Beckman W.A., Solar Engineering of Thermal Processes (3rd ed. 2006),
from memory. Example 1.6.1: 43 degrees north, 13 February (declination -14, rounded), half
past ten solar time, tilted 45 degrees and facing 15 west of south: the cosine of incidence
is 0.817. Example 1.6.2, the same day at half past nine: zenith 66.5, 40.0 degrees east of
south. Example 2.15.1: 40 degrees north, 20 February (-11.6), 9 to 10, tilted 60 degrees to
the south: of 1.04 MJ/m2 on the level 0.796 from the sky and 0.244 direct; the ratio of the
beam is 1.71. The ground there reflects 0.6, here a quarter, pvlib's. Tolerance: the digits
printed, and a tenth of a degree for the rounded declination.
"""

import math

import numpy as np
import pytest

from core.sky.daylight import Sun, beam_cos, slope_irradiance_wm2


def place_of_sun(lat_deg, declination_deg, hour_angle_deg):
    """Zenith and azimuth clockwise from north, of a morning or afternoon sun. [deg]"""
    lat, dec, hour = (math.radians(x) for x in (lat_deg, declination_deg, hour_angle_deg))
    east = -math.cos(dec) * math.sin(hour)
    north = math.cos(lat) * math.sin(dec) - math.sin(lat) * math.cos(dec) * math.cos(hour)
    up = math.sin(lat) * math.sin(dec) + math.cos(lat) * math.cos(dec) * math.cos(hour)
    return math.degrees(math.acos(up)), math.degrees(math.atan2(east, north)) % 360.0


def test_the_sun_at_half_past_nine():
    zenith, azimuth = place_of_sun(43.0, -14.0, -37.5)
    assert (zenith, azimuth) == pytest.approx((66.5, 180.0 - 40.0), abs=0.1)


def test_incidence_on_the_tilted_surface():
    cos = beam_cos(45.0, 180.0 + 15.0, *place_of_sun(43.0, -14.0, -22.5))
    assert cos == pytest.approx(0.817, abs=6e-4)


def test_light_of_an_hour_on_a_steep_slope():
    zenith, azimuth = place_of_sun(40.0, -11.6, -37.5)
    level, sky, direct = (mj * 1e6 / 3600.0 for mj in (1.04, 0.796, 0.244))  # to W/m2
    normal = direct / math.cos(math.radians(zenith))
    sun = Sun(*(np.array([x]) for x in (zenith, azimuth, level, normal, sky)))
    share_of_sky, share_of_ground = 0.75, 0.25  # (1 + cos 60) / 2 and (1 - cos 60) / 2
    worked = 1.71 * direct + share_of_sky * sky + 0.25 * share_of_ground * level
    assert slope_irradiance_wm2(60.0, 180.0, sun)[0] == pytest.approx(worked, rel=3e-3)
    assert slope_irradiance_wm2(0.0, 180.0, sun)[0] == pytest.approx(level, rel=1e-3)
