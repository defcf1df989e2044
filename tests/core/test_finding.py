"""A guest's way to the tree: legs of the walk, worked out by hand."""

import numpy as np

from core.ground.layout import Stand
from core.sits.answer import stand_sit
from core.sits.finding import finding_lines, walk_legs
from tests.grounds import PIEDMONT, ground, lane, sit_of, wind

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
        "From the truck by Lane: S 440 yd. Underfoot: leaves.",
        "Latitude 36.10000, longitude -79.90000.",
        "The owner notes: red tape",
    ]


def test_without_a_way_in_the_seat_and_its_place_alone():
    place = ground(lanes=())
    sit = sit_of(place, wind(90.0))
    assert len(finding_lines(sit, stand_sit(sit, place.stands[0]))) == 2
