"""A guest's way to the tree: legs of the walk, worked out by hand."""

import datetime

import numpy as np

from core.answer.one_sit import stand_sit
from core.ground.layout import Stand
from core.say.find_the_tree import finding_lines, walk_legs
from tests.grounds import PIEDMONT, bed, ground, hourly, lane, sit_of, wind

YD = 0.9144


def test_a_walk_is_told_in_straight_legs():
    path = np.array([[0, 0], [0, -100], [3, -200], [150, -200]]) * YD
    assert walk_legs(path) == [("S", 200), ("E", 150)]


def test_a_short_or_empty_walk_does_not_fail():
    assert walk_legs([[0.0, 0.0], [1.0, 0.0]]) == [("E", 10)]
    assert walk_legs([[0.0, 0.0]]) == []


def test_the_seat_the_walk_and_the_place_are_told():
    oak = Stand("oak", "Oak", PIEDMONT, seat="ladder", height_ft=14.0, notes="red tape")
    walk = lane(PIEDMONT, (0, 440), (0, 5), footing="leaves")
    place = ground(stand=oak, lanes=(walk,))
    sit = sit_of(place, wind(90.0))
    assert finding_lines(sit, stand_sit(sit, oak)) == [
        "Oak: ladder stand, 14 ft up, in timber.",
        # 440 yd are 402.3 m; a degree of latitude at 36.1 is 110,960 m: 0.00363 to the north
        "From the truck (36.10363, -79.90000) by Lane: S 440 yd. Underfoot: leaves.",
        "Latitude 36.10000, longitude -79.90000.",
        "The owner notes: red tape",
        # 435 yd at 1.5 mph, which is 44 yd a minute
        "Stay until 10:30 am. Way out: Lane, 10 minutes, clean.",
    ]


def test_a_sit_that_must_end_early_says_so_with_the_way_out():
    # 9 am local is 14 UTC: from then on the air goes over the bed
    midnight = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
    place = ground(areas=(bed(PIEDMONT, 135, 150),))
    sit = sit_of(place, hourly(midnight, [135.0] * 9 + [315.0] * 8))
    assert finding_lines(sit, stand_sit(sit, place.stands[0]))[-1].startswith("Stay until 8:45 am")


def test_without_a_way_in_the_seat_and_its_place_alone():
    place = ground(lanes=())
    sit = sit_of(place, wind(90.0))
    assert len(finding_lines(sit, stand_sit(sit, place.stands[0]))) == 2
