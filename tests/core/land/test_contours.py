"""Lines of equal height, on shapes whose lines are known, and on the map."""

import dataclasses

import numpy as np
import pytest

from core.cli.shared import scene_at
from core.ground.store import demo_path
from core.land.contours import contours, step_ft
from core.land.pools import outlines_m
from core.land.relief import Relief
from core.show.furniture import barbed
from core.show.map import property_map
from core.units import M_PER_FT

AT = np.arange(-500.0, 501.0, 10.0)
X, Y = AT[None, :], AT[:, None]


def relief(height_ft) -> Relief:
    return Relief(np.broadcast_to(height_ft * M_PER_FT, (101, 101)).copy(), -500.0, -500.0, 10.0)


def test_a_cone_has_rings_of_even_spacing():
    told = contours(relief(600.0 - 0.2 * np.hypot(X, Y)))
    assert [c.height_ft for c in told if c.thick] == [500, 550]
    ring = next(c for c in told if c.height_ft == 530).lines_m[0]
    assert np.hypot(*ring.T) == pytest.approx(350.0, abs=3.0)


@pytest.mark.parametrize(("height_ft", "step"), [(39.0, 5), (41.0, 10), (249.0, 10), (251.0, 20)])
def test_steps(height_ft, step):
    assert step_ft(relief(height_ft * (X + 500.0) / 1000.0 + 0.0 * Y)) == step


def test_holes_are_left_open():
    height = np.broadcast_to(100.0 + 0.2 * X, (101, 101)).copy()
    height[40:60, 40:60] = np.nan
    assert len(contours(relief(height))) > 5


def test_the_map_has_them_only_with_heights():
    scene = scene_at(str(demo_path()))
    with_them = property_map(scene)
    assert "850 ft" in with_them
    scene.heights = None
    without = property_map(scene)
    assert " ft<" not in without
    assert len(with_them) < 2.5 * len(without)
    bare = dataclasses.replace(scene.ground)
    assert property_map(type(scene)(bare)) == without


def test_pools_have_closed_outlines_even_at_the_edge():
    number = np.zeros((101, 101), int)
    number[:10, 20:40] = 1
    number[50:60, 50:70] = 2
    outlines = outlines_m(relief(100.0 + 0.0 * X * Y), number)
    assert len(outlines) == 2
    for line in outlines:
        assert (line[0] == line[-1]).all()
    assert max(line[:, 1].min() for line in outlines) == pytest.approx(-5.0)


def test_barbs_follow_a_bent_way():
    bent = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 60.0]])
    drawn = barbed(bent)
    assert drawn.startswith("M0,0 L100,0 L100,60")
    # one barb of two strokes every 26 units or so, the last at the end of the way
    assert drawn.count(" l") == 2 * 6
    assert drawn.count("M100,60 l") == 2
    assert barbed(bent[:1].repeat(2, axis=0)) == "M0,0"
