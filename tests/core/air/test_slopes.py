"""Slope wind and its ramps, by hand from the rules (common practice, no source)."""

import math

import numpy as np
import pytest

from core.air.doubt import LIKELY, likely_factor
from core.air.shelter import wind_at_hunter_mps
from core.air.slopes import (
    carried,
    downward_share,
    effective_speed_mps,
    fade,
    slope_speed_mps,
    tilt_deg,
    toward,
)
from core.air.stability import A, D, F

H = 3600.0


@pytest.mark.parametrize(
    ("hour", "share"),
    # first beam at 8, last at 16, sunset at 17
    [(3, 1), (8, 1), (8.5, 0.5), (9, 0), (12, 0), (15, 0), (15.25, 0.25), (16, 1), (20, 1)],
)
def test_air_slides_until_the_first_beam_and_after_the_last(hour, share):
    found = downward_share(np.array([hour * H]), 8 * H, 16 * H, 17 * H)
    assert found == pytest.approx([share])


@pytest.mark.parametrize(("hour", "share"), [(15.5, 0.0), (16.0, 0.5), (16.5, 1.0)])
def test_sunset_ends_the_beam_where_it_comes_sooner(hour, share):
    assert downward_share(hour * H, 8 * H, 18 * H, 16.5 * H) == pytest.approx(share)
    assert downward_share(hour * H, 8 * H, 16.5 * H, math.nan) == pytest.approx(share)


@pytest.mark.parametrize(("minute", "share"), [(0, 1.0), (5, 55 / 60), (20, 50 / 60), (30, 1.0)])
def test_the_larger_of_two_ramps_that_overlap(minute, share):
    # half an hour of sun: falling 1 - m/60, rising 1 + (m - 30)/60
    assert downward_share(minute * 60.0, 0.0, 1800.0, 9 * H) == pytest.approx(share)


def test_a_slope_without_sun_slides_all_day():
    hours = np.array([[0.0], [12.0], [20.0]]) * H
    assert (downward_share(hours, math.nan, math.nan, 17 * H) == np.ones((3, 1))).all()


@pytest.mark.parametrize(
    ("down", "light", "cloud", "grade", "speed"),
    [
        (0.0, 300.0, 0.3, 10.0, 0.5 * 0.7 * 0.5),  # half of full sun, half of a full grade
        (0.0, 900.0, 0.3, 20.0, 0.7),  # never more than full sun
        (1.0, 900.0, 0.25, 20.0, -0.75 * 0.7),  # what cloud leaves of a clear sky
        (1.0, 0.0, 0.0, 60.0, -0.7),  # never more than a full grade
        (1.0, 0.0, 1.0, 20.0, 0.0),
        (1.0, 0.0, math.nan, 20.0, -0.5 * 0.7),  # cloud not given: half
        (0.5, 600.0, 0.0, 20.0, 0.0),  # sun and shade in balance
    ],
)
def test_slope_speed(down, light, cloud, grade, speed):
    found = slope_speed_mps(
        downward=down, irradiance_wm2=light, cloud_frac=cloud, grade_pct=grade, full_mps=0.7
    )
    assert found == pytest.approx(speed)


@pytest.mark.parametrize(("speed_mps", "left"), [(0.0, 1.0), (2.7, 0.5), (5.4, 0.0), (9.0, 0.0)])
def test_the_general_wind_fades_it(speed_mps, left):
    assert fade(speed_mps, 5.4) == pytest.approx(left)


@pytest.mark.parametrize(
    ("speed_10m", "carried_mps", "at_hunter", "effective"),
    [
        (4.0, 0.5, 1.0, 2.0),  # half of it cancelled
        (4.0, 2.0, 1.0, 4.0),  # a slope that helps steadies nothing
        (4.0, 0.0, 1.0, 0.75),
        (1.0, 0.4, 1.0, 0.75),
        (0.0, 0.6, 0.0, 0.75),
    ],
)
def test_the_wind_that_steadies_the_air(speed_10m, carried_mps, at_hunter, effective):
    found = effective_speed_mps(speed_10m, carried_mps, np.array([at_hunter]))
    assert found == pytest.approx([effective])


def test_wind_and_slope_add_as_arrows():
    # 3 m/s from the west and 4 m/s down to the south: 5 m/s, atan(3/4) east of south
    to_deg, speed = carried(wind_mps=3.0, toward=toward(270.0), slope_mps=-4.0, downhill_deg=180.0)
    assert speed == pytest.approx(5.0)
    assert to_deg == pytest.approx(180.0 - math.degrees(math.atan2(3.0, 4.0)))


def test_a_grade_of_a_hundred_percent_is_forty_five_degrees():
    assert tilt_deg(100.0) == pytest.approx(45.0)
    assert tilt_deg(0.0) == 0.0


@pytest.mark.parametrize(("cover", "share"), [("open", 1.0), ("edge", 0.6), ("timber", 0.3)])
def test_wind_at_the_hunter_is_never_taken_lower_than_two_metres(cover, share):
    # class D: (2/10)^0.15 = 0.78553, (5/10)^0.15 = 0.90125
    for height_m, ratio in ((0.0, 0.78553), (2.0, 0.78553), (5.0, 0.90125)):
        found = wind_at_hunter_mps(4.0, height_m, D, cover)
        assert found == pytest.approx(4.0 * ratio * share, rel=1e-4)


@pytest.mark.parametrize(
    ("yards", "step"),
    # arcs at 50 and 100 m, 200 m, 400 m: to 150 m = 164.04 yd, to 300 m = 328.08 yd
    [(10, 0), (164, 0), (165, 1), (328, 1), (329, 2), (3000, 2)],
)
def test_how_far_off_a_distance_may_be_goes_by_its_arc(yards, step):
    assert likely_factor(yards, A) == LIKELY["sunny"][step]
    assert likely_factor(yards, D) == LIKELY["even"][step]
    assert likely_factor(yards, F) == LIKELY["still night"][step]
