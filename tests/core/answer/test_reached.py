"""The lines of a map: a bed that lies on one is reached as the line says."""

import math

import numpy as np
import pytest

from core.answer.reached import reach_line_m
from core.ground.plan import Plane
from core.units import M_PER_YD
from tests.grounds import PIEDMONT, bed, ground, judged, wind

LIKE_YD = 250.0


def lines(from_deg=315.0, half_width_deg=11.25):
    weather = wind(from_deg, half_width_deg=half_width_deg)
    own = judged(ground(), weather)
    return weather, reach_line_m(own.hours.air, 0, LIKE_YD)


def aside_deg(point, air_to_deg):
    turn = math.degrees(math.atan2(*point)) - air_to_deg
    return (turn + 180.0) % 360.0 - 180.0


@pytest.mark.parametrize("aside", [-35.0, -9.0, 0.0, 9.0, 35.0])
def test_a_bed_on_the_line_is_like_its_distance(aside):
    weather, line_m = lines()
    at_m = min(line_m, key=lambda p: abs(aside_deg(p, 135.0) - aside))
    lon, lat = Plane(PIEDMONT).to_lonlat(*at_m)
    small = bed((float(lon), float(lat)), 0, 0, half_yd=0.2)
    own = judged(ground(areas=(small,)), weather)
    assert own.hours.equivalent_yd[0, 0] == pytest.approx(LIKE_YD, rel=0.01)


def test_within_the_report_s_span_the_line_is_as_far_as_straight_on():
    _, line_m = lines()
    far_yd = np.hypot(*line_m.T) / M_PER_YD
    off = np.array([abs(aside_deg(p, 135.0)) for p in line_m])
    # 8 mph on a fall morning, class D: 0.5 m/s of side gusts in an hour over 3.58 m/s,
    # against the curve of ten minutes, 0.136 / 100^0.1
    strays_deg = math.degrees(math.sqrt((0.5 / 3.576) ** 2 - 0.0858**2))
    span_deg = math.hypot(11.25, strays_deg)
    assert far_yd[off <= span_deg - 1] == pytest.approx(far_yd.max())
    assert (far_yd[off > span_deg + 1] < far_yd.max()).all()


def test_the_line_runs_from_the_left_of_the_air_s_way_to_its_right():
    _, line_m = lines()
    assert aside_deg(line_m[0], 135.0) < 0 < aside_deg(line_m[-1], 135.0)
