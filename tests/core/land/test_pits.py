"""Small pits are filled, basins deeper than night air flows stay basins."""

import numpy as np
import pytest

from core.land.relief import DEEPEST_PIT_M, Relief, drained, filled, smoothed
from core.land.still_way import POOL, slopes_of, still_way

AT = np.arange(-400.0, 401.0, 10.0)
X, Y = AT[None, :], AT[:, None]


def relief(height) -> Relief:
    return Relief(np.broadcast_to(height, (81, 81)).copy(), -400.0, -400.0, 10.0)


def with_pit(depth_m: float) -> Relief:
    """An even slope down to the west with a pit whose rim lies that high over its bottom."""
    land = relief(300.0 + 0.1 * X + 0.0 * Y)
    land.height_m[38:43, 38:43] = land.height_m[40, 37] - depth_m
    return land


def test_a_small_pit_is_filled():
    land = with_pit(DEEPEST_PIT_M - 0.1)
    assert (drained(land).height_m == filled(land).height_m).all()
    assert drained(land).height_m[40, 40] == pytest.approx(land.height_m[40, 37], abs=1e-9)


def test_a_deep_pit_stays_and_all_in_it_drains_to_its_bottom():
    land = with_pit(DEEPEST_PIT_M + 0.1)
    land.height_m[40, 40] -= 0.5
    land.height_m[42, 42] -= 0.2  # a small one within it
    full = drained(land)
    assert full.height_m[40, 40] == land.height_m[40, 40]
    assert full.height_m[42, 42] == land.height_m[38, 38]
    assert (full.height_m >= land.height_m).all()


def test_two_basins_in_one_are_both_kept():
    """A hollow 20 m deep with a sill of 10 m in its middle."""
    height = 300.0 + np.minimum(20.0, np.abs(np.hypot(X, Y) - 200.0) / 10.0)
    height = np.where(np.abs(X) < 20, np.maximum(height, 310.0), height)
    full = drained(relief(height)).height_m
    # the bottom of each is a ring, whose cells differ by under a meter
    assert full[40, 20] < 301.0 and full[40, 60] < 301.0
    assert filled(relief(height)).height_m[40, 20] > 309.0


def test_air_goes_down_into_a_bowl():
    bowl = relief(300.0 + 0.0005 * np.minimum(np.hypot(X, Y), 300.0) ** 2)
    pool = np.hypot(X, Y) < 40.0
    way = still_way(slopes_of(smoothed(drained(bowl), 30.0)), (250.0, 0.0), pool=pool)
    assert way.ends == POOL
    assert np.hypot(*way.points_m[-1]) < 40.0
