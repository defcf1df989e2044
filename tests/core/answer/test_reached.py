"""The way of the air on a map: a bed that lies at its end is reached as the distance says."""

import math

import numpy as np
import pytest

from core.answer.reached import LITTLE, MUCH, SOME, air_way_m, how_much, reached_places
from core.ground.plan import Plane
from tests.grounds import PIEDMONT, bed, ground, judged, sit_of, wind


@pytest.mark.parametrize("like_yd", [250.0, 500.0])
@pytest.mark.parametrize("from_deg", [315.0, 80.0])
def test_a_bed_at_the_end_of_the_way_is_like_the_distance(like_yd, from_deg):
    weather = wind(from_deg)
    own = judged(ground(), weather)
    start, end = air_way_m(own.hours.air, 0, like_yd)
    assert start.tolist() == [0.0, 0.0]
    assert math.degrees(math.atan2(*end)) % 360 == pytest.approx((from_deg + 180) % 360)
    lon, lat = Plane(PIEDMONT).to_lonlat(*end)
    small = bed((float(lon), float(lat)), 0, 0, half_yd=0.2)
    there = judged(ground(areas=(small,)), weather)
    assert there.hours.equivalent_yd[0, 0] == pytest.approx(like_yd, rel=0.01)


def test_calm_air_has_no_way():
    own = judged(ground(), wind(None, 0.0))
    assert len(air_way_m(own.hours.air, 0, 250.0)) == 0


def test_how_much_reaches_a_place_goes_by_the_property_s_own_distances():
    sit = sit_of(ground(), wind(315.0))  # 250 and 500 yd
    assert [how_much(sit, d) for d in (40, 249, 250, 500, 501)] == [MUCH, MUCH, SOME, SOME, LITTLE]


def test_places_of_which_little_is_known_come_only_where_they_are_asked():
    prop = ground(areas=(bed(PIEDMONT, 135, 150, "near"), bed(PIEDMONT, 135, 800, "far")))
    weather = wind(315.0)
    sit, own = sit_of(prop, weather), judged(prop, weather)
    assert [r.id for r in reached_places(sit, own, 0)] == ["near"]
    both = reached_places(sit, own, 0, 3.0)
    assert [r.id for r in both] == ["near", "far"]
    assert np.diff([r.equivalent_yd for r in both]) > 0
