"""Walks over a net of paths: lengths by arithmetic on small nets, and by brute force on random."""

import itertools

import numpy as np
import pytest
import shapely

from core.chores.walking import JOIN_M, PathNet, paths_of
from tests import grounds


def line(*points):
    return shapely.LineString(points)


def test_crossing_paths_are_one_net():
    """A cross of two paths: 30 m to its middle, and 40 m up."""
    paths = {"across": line((-50, 0), (50, 0)), "up": line((0, -60), (0, 60))}
    walks = PathNet(paths, [(-30, 0), (0, 40)])
    leg = walks.leg(0, 1)
    assert leg.length_m == pytest.approx(70) == walks.lengths_m[0, 1]
    assert leg.straight_m == pytest.approx(0, abs=1e-3)
    assert leg.along == ("across", "up")


@pytest.mark.parametrize("gap_m, straight_m", [(JOIN_M - 0.1, 0), (JOIN_M + 0.1, JOIN_M + 0.1)])
def test_an_end_within_ten_yards_meets_the_other_path(gap_m, straight_m):
    paths = {"across": line((-50, 0), (50, 0)), "up": line((0, gap_m), (0, 100))}
    leg = PathNet(paths, [(-20, 0), (0, 100)]).leg(0, 1)
    assert leg.length_m == pytest.approx(20 + 100)
    assert leg.straight_m == pytest.approx(straight_m, abs=1e-3)


def test_paths_that_run_close_by_meet_where_they_are_closest():
    """No end is near the other path; the bend comes within 5 m of it, 50 m along each."""
    paths = {"across": line((-50, 0), (50, 0)), "bent": line((-50, 60), (0, 5), (50, 60))}
    leg = PathNet(paths, [(-50, 0), (50, 60)]).leg(0, 1)
    assert leg.length_m == pytest.approx(50 + 5 + np.hypot(50, 55))


def test_a_spot_off_the_paths_is_reached_straight():
    walks = PathNet({"across": line((0, 0), (100, 0))}, [(0, 0), (60, 80), (60, 100)])
    assert (walks.leg(0, 1).length_m, walks.leg(0, 1).straight_m) == pytest.approx((140, 80))
    # the third lies nearer to the second than to the path
    assert walks.leg(1, 2).length_m == pytest.approx(20) == walks.leg(1, 2).straight_m
    # but two spots by a path go along it, though straight would be nearer
    walks = PathNet({"round": line((0, 0), (0, 100), (100, 100), (100, 0))}, [(0, 0), (100, 0)])
    assert walks.leg(0, 1).length_m == pytest.approx(300)


def test_without_paths_all_is_straight():
    leg = PathNet({}, [(0, 0), (30, 40), (300, 400)]).leg(0, 2)
    assert leg.length_m == pytest.approx(500) == leg.straight_m
    assert leg.along == ()


def test_parts_that_do_not_meet_are_joined_by_the_shortest_lines():
    """Three parts in a row, 20 m and 30 m apart: nobody walks 70 m past the middle one."""
    paths = {
        "a": line((0, 0), (0, 10)),
        "b": line((20, 10), (22, 10)),
        "c": line((52, 10), (52, 0)),
    }
    leg = PathNet(paths, [(0, 10), (52, 10)]).leg(0, 1)
    assert leg.straight_m == pytest.approx(50)
    assert leg.length_m == pytest.approx(52)


def test_lengths_are_those_of_a_search_by_hand():
    """A grid of streets: the shortest walk between corners is the sum of both differences."""
    paths = {f"v{x}": line((x, 0), (x, 90)) for x in range(0, 120, 30)}
    paths |= {f"h{y}": line((0, y), (90, y)) for y in range(0, 120, 30)}
    corners = [(x, y) for x in (0, 30, 90) for y in (0, 60, 90)]
    walks = PathNet(paths, corners)
    for a, b in itertools.combinations(range(len(corners)), 2):
        (x, y), (u, v) = corners[a], corners[b]
        assert walks.lengths_m[a, b] == pytest.approx(abs(x - u) + abs(y - v), abs=1e-3)
        assert walks.leg(a, b).length_m == pytest.approx(walks.lengths_m[a, b])


def test_a_way_by_boat_is_not_walked():
    center = grounds.PIEDMONT
    boat = grounds.lane(center, (90, 10), (90, 300), id_="boat", by="boat")
    ground = grounds.ground(
        lanes=(boat, grounds.lane(center, (0, 9), (0, 99))),
        corridors=(grounds.corridor(center, (180, 10), (180, 90)),),
    )
    assert list(paths_of(ground)) == ["lane", "trail"]
