"""The downwind edge of a bed, by arithmetic on a square of forty yards about (0, 0)."""

import dataclasses

import numpy as np
import pytest
import shapely

from core.chores.lee import downwind_edge, lee_trails
from core.ground.yearly.work_rules import WorkRules
from core.sit.scene import Scene
from core.units import M_PER_YD
from tests import grounds

HERE = grounds.PIEDMONT
NOV = 11


def scene(*trails, work=None, **bed):
    corridors = tuple(grounds.corridor(HERE, *steps, id_=f"t{i}") for i, steps in enumerate(trails))
    area = grounds.bed(HERE, 0, 0, half_yd=20.0, **bed)
    return Scene(
        grounds.ground(
            stands=(), lanes=(), corridors=corridors, areas=(area,), work=work or WorkRules()
        )
    )


def found(ground, wind_from_deg, month=NOV):
    return lee_trails(ground, list(ground.corridor_lines), wind_from_deg, month)


# north to south, so many yards east of the middle: from (bearing, yards) of either end
def line_east(yards, half=20.0):
    far = float(np.hypot(yards, half))
    angle = float(np.degrees(np.arctan2(yards, half)))
    return (angle % 360, far), ((180 - angle) % 360, far)


def test_the_sides_that_face_where_the_air_goes():
    square = shapely.box(0, 0, 10, 10)
    assert downwind_edge(square, np.array([1.0, 0.0])).length == 10
    corner = downwind_edge(square, np.array([0.5**0.5, 0.5**0.5]))
    assert corner.length == 20 and corner.bounds == (0, 0, 10, 10)
    assert not corner.intersects(shapely.Point(5, 0))


@pytest.mark.parametrize("yards, runs", [(119, True), (121, False)])  # its edge is 20 yd nearer
def test_within_a_hundred_yards_of_it(yards, runs):
    told = found(scene(line_east(yards)), 270.0)
    assert [lee.bed for lee in told] == (["cane"] if runs else [])
    if runs:
        assert told[0].distance_m == pytest.approx((yards - 20) * M_PER_YD, rel=2e-3)


def test_the_upwind_side_and_the_flanks_are_no_lee():
    west, east = line_east(-60, half=40.0), line_east(60, half=40.0)
    assert [lee.trail for lee in found(scene(west, east), 270.0)] == ["t1"]
    assert [lee.trail for lee in found(scene(west, east), 90.0)] == ["t0"]
    assert found(scene(west, east), 0.0) == []  # both lie abreast of the bed


def test_a_trail_inside_the_bed_is_not_along_it():
    assert found(scene(line_east(10, half=15)), 270.0) == []


def test_only_beds_that_are_held_then_and_winds_with_a_direction():
    trail = line_east(60)
    assert found(scene(trail, months=(1, 2)), 270.0) == []
    assert found(scene(trail, held="never"), 270.0) == []
    assert found(scene(trail), float("nan")) == []


def test_the_distance_is_a_setting():
    near = dataclasses.replace(WorkRules(), lee_within_yd=30.0)
    assert found(scene(line_east(60), work=near), 270.0) == []
