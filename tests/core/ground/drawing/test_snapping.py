"""Ends that are meant to touch: joined within reach, left alone beyond it."""

import math

import pytest

from core.ground.drawing.snapping import snapped
from core.ground.plan import Plane
from core.units import M_PER_YD
from tests import ground_files as g

GROUND = g.document(
    g.stand("oak", 0, 0),
    g.stand("gum", 30, 0),
    g.feature("gate", "truck", "Point", g.lonlat(0, 400)),
    g.corridor("main", [(-200, 100), (200, 100)]),
    g.bed("cane", g.square(-240, -100, 60)),
    g.food("clover", g.square(240, -100, 60)),
)


def ends_yd(kind, *places, within_yd=12, own_id=""):
    geometry = {"type": "LineString", "coordinates": [g.lonlat(*p) for p in places]}
    found = snapped(GROUND, kind, geometry, within_yd * M_PER_YD, own_id)
    local = Plane(g.CENTER).points(found.geometry["coordinates"]) / M_PER_YD
    return [tuple(map(float, local[0])), tuple(map(float, local[-1]))], found.joins


def near(a, b):
    return math.dist(a, b) < 0.05


def test_a_lane_starts_at_the_truck_and_ends_at_the_nearest_stand():
    ends, said = ends_yd("lane", (5, 396), (20, 200), (22, 3))
    assert near(ends[0], (0, 400))
    assert near(ends[1], (30, 0))
    assert said == ("start joined to Gate (truck)", "end joined to Gum (stand)")


def test_a_lane_drawn_the_other_way_round_is_left_as_it_is():
    ends, said = ends_yd("lane", (3, 3), (3, 396))
    assert near(ends[0], (3, 3))
    assert near(ends[1], (3, 396))
    assert said == ()


@pytest.mark.parametrize(("off_yd", "is_joined"), [(11, True), (13, False)])
def test_within_reach_and_beyond_it(off_yd, is_joined):
    ends, said = ends_yd("lane", (200, 200), (0, off_yd))
    assert near(ends[1], (0, 0)) is is_joined
    assert bool(said) is is_joined


def test_a_corridor_goes_to_the_edge_of_a_bed_and_to_another_corridor():
    ends, said = ends_yd("corridor", (-204, -100), (-100, 0), (50, 93))
    assert near(ends[0], (-210, -100))
    assert near(ends[1], (50, 100))
    assert len(said) == 2


def test_a_corridor_goes_to_food_too_and_stays_where_it_ends_inside():
    ends, _ = ends_yd("corridor", (-240, -100), (0, -50), (205, -95))
    assert near(ends[0], (-240, -100))  # well inside the bed already
    assert near(ends[1], (210, -95))
    ends, said = ends_yd("corridor", (-214, -100), (-100, 0), (0, 50))
    assert near(ends[0], (-214, -100))  # 4 yd inside its edge: meant to lie in it
    assert said == ()


def test_a_corridor_is_not_joined_to_itself():
    ends, said = ends_yd("corridor", (-200, 104), (0, 50), own_id="main")
    assert near(ends[0], (-200, 104))
    assert said == ()


@pytest.mark.parametrize("kind", ["draw", "boundary"])
def test_other_lines_stay(kind):
    ends, said = ends_yd(kind, (5, 396), (2, 2))
    assert near(ends[1], (2, 2))
    assert said == ()


def test_a_line_is_never_joined_down_to_nothing():
    geometry = {"type": "LineString", "coordinates": [g.lonlat(-4, 97), g.lonlat(-4, 103)]}
    assert snapped(GROUND, "corridor", geometry, 20.0).geometry == geometry
