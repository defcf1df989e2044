"""Where air and water go over a ground, against shapes with known answers.

Sources: geometry. On planes the way follows the fall exactly; on an inward cone it comes to the
middle; on a saddle z = x^2 - y^2 the line from (x0, y0) obeys x y = x0 y0; horizon of a wall by
arctan of height over distance. Tolerances: cells of 10 m.
"""

import numpy as np
import pytest

from core.land.air_ways import by_range
from core.land.horizon import horizon_deg, places_about
from core.land.lee import LEE_DEG, lee_slope, rolls_back
from core.land.pools import pools, rank, saddles
from core.land.relief import Relief, filled, gradient, smoothed
from core.land.still_way import EDGE, FLAT, POOL, slopes_of, still_way

AT = np.arange(-600.0, 601.0, 10.0)
X, Y = AT[None, :], AT[:, None]


def relief(height) -> Relief:
    return Relief(np.broadcast_to(height, (121, 121)).copy(), -600.0, -600.0, 10.0)


def plane(to_deg: float, grade: float = 0.08) -> Relief:
    turn = np.radians(to_deg)
    return relief(200.0 - grade * (np.sin(turn) * X + np.cos(turn) * Y))


@pytest.mark.parametrize("to_deg", [0.0, 30.0, 77.0, 200.0, 311.0])
def test_planes(to_deg):
    land = plane(to_deg)
    east, north = gradient(smoothed(land, 30.0))
    assert np.degrees(np.arctan2(-east, -north)) % 360 == pytest.approx(to_deg, abs=1e-6)
    assert np.hypot(east, north) == pytest.approx(0.08, abs=1e-9)
    way = still_way(slopes_of(land), (0.0, 0.0))
    bearing, along = by_range(way, [50.0, 300.0, 900.0])
    assert bearing % 360 == pytest.approx(to_deg, abs=1e-6)
    assert along == pytest.approx([50.0, 300.0, 900.0], abs=1e-6)
    assert by_range(still_way(slopes_of(land), (0.0, 0.0), up=True), [100.0])[0] % 360 == (
        pytest.approx((to_deg + 180.0) % 360, abs=1e-6)
    )


def test_on_an_inward_cone_the_way_goes_to_the_middle():
    land = relief(100.0 + 0.1 * np.hypot(X, Y))
    way = still_way(slopes_of(land), (300.0, 400.0))
    bearing, _ = by_range(way, [250.0])
    assert bearing[0] % 360 == pytest.approx(np.degrees(np.arctan2(-300, -400)) % 360, abs=0.2)


def test_filling_raises_pits_and_nothing_else():
    height = 100.0 + 0.05 * X + 0.0 * Y
    height = np.broadcast_to(height, (121, 121)).copy()
    height[60, 60] -= 8.0
    land = relief(height)
    full = filled(land)
    assert full.height_m[60, 60] == pytest.approx(height[59:62, 59].max())
    assert (
        np.delete(full.height_m.ravel(), 60 * 121 + 60) == np.delete(height.ravel(), 60 * 121 + 60)
    ).all()


def test_the_way_on_a_saddle_and_half_the_step():
    """z = (x^2 - y^2) / 5000: steepest lines are hyperbolas x y = const."""
    land = relief((X**2 - Y**2) / 5000.0)
    way = still_way(slopes_of(land), (300.0, 40.0))
    x, y = way.points_m.T
    assert x * y == pytest.approx(300.0 * 40.0, rel=0.01)
    half = still_way(slopes_of(land), (300.0, 40.0), step_m=5.0)
    assert by_range(half, [200.0])[0] == pytest.approx(by_range(way, [200.0])[0], abs=0.2)


def test_a_bent_way_is_longer_than_it_reaches():
    # down to the east, then a ravine that leads north
    land = relief(200.0 + 0.1 * np.abs(X - 200.0) - 0.03 * Y)
    way = still_way(slopes_of(smoothed(land, 15.0)), (0.0, 0.0))
    bearing, along = by_range(way, [100.0, 400.0])
    assert bearing[0] > bearing[1] > 20.0
    assert along[1] > 420.0


def test_ways_end_where_the_ground_is_flat_or_unknown():
    level = still_way(slopes_of(relief(100.0 + 0.0 * X * Y)), (0.0, 0.0))
    assert (level.ends, len(level.points_m)) == (FLAT, 1)
    assert np.isnan(by_range(level, [100.0])[0]).all()
    assert still_way(slopes_of(plane(90.0)), (500.0, 0.0)).ends == EDGE
    assert still_way(slopes_of(plane(90.0)), (5000.0, 0.0)).ends == EDGE


def test_pools_are_low_level_and_hollow():
    bowl = relief(100.0 + 0.0002 * np.minimum(np.hypot(X, Y), 400.0) ** 2)
    number, count = pools(bowl)
    assert count == 1
    assert number[60, 60] == 1
    assert number[60, 60 + 30] == 0
    way = still_way(slopes_of(bowl), (300.0, 0.0), pool=number > 0)
    assert way.ends == POOL
    assert pools(relief(200.0 - 0.0002 * np.hypot(X, Y) ** 2))[1] == 0
    assert pools(plane(10.0))[1] == 0
    assert rank(bowl)[60, 60] == 0.0


def test_a_saddle_is_found():
    there = saddles(relief((X**2 - Y**2) / 5000.0))
    assert there[60, 60]
    assert not saddles(relief((X**2 + Y**2) / 5000.0)).any()


def test_horizon_of_a_wall():
    wide = np.arange(-1500.0, 1501.0, 10.0)
    wall = np.where(wide[:, None] >= 510.0, 100.0, 0.0) + 0.0 * wide[None, :]
    land = Relief(wall, -1500.0, -1500.0, 10.0)
    horizon = horizon_deg(land, 0.0, 0.0)[0]
    assert horizon[0] == pytest.approx(np.degrees(np.arctan(100.0 / 510.0)), abs=0.2)
    assert horizon[6] == pytest.approx(
        np.degrees(np.arctan(100.0 * np.cos(np.radians(30.0)) / 510.0)), abs=0.2
    )
    assert horizon[36] == 0.0


def test_thirteen_places():
    east, north = places_about(5.0, 7.0)
    away = np.hypot(east - 5.0, north - 7.0)
    assert sorted(np.round(away)) == [0.0] + 6 * [30.0] + 6 * [60.0]


def test_behind_a_steep_ridge_only():
    """Ridges H / (1 + (x/a)^2) part at a/H = 3 and not at 8: their steepest fall is
    3 sqrt(3)/8 H/a, 12.2 and 4.6 degrees over a point; the tunnel's are steeper [memory], so
    here plain ramps of 20 and 10 degrees are used."""
    for degrees, parts in ((20.0, True), (10.0, False)):
        fall = np.tan(np.radians(degrees))
        ramp = relief(100.0 - np.clip(X + 150.0, 0.0, 150.0) * fall + 0.0 * Y)
        lee = lee_slope(ramp, 40.0, 0.0)
        assert bool(lee.parted()[54]) is parts  # wind from 270
        assert not lee.parted()[18]  # from the level side
        assert lee.steepest_deg[54] == pytest.approx(degrees, abs=0.1)
    assert LEE_DEG == 15.0
    assert rolls_back([True, True, True, False], [3, 4, 3, 3], [2.0, 5.0, 1.9, 5.0]).tolist() == [
        True,
        False,
        False,
        False,
    ]
