"""The trail that deer walk before the shot: how far, over which joins, in any order."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.sit.before import Trails, passes, reach_m
from core.units import M_PER_YD

FOLLOWED_M = 150 * M_PER_YD  # common practice, no source
RANGE_M = reach_m(30.0)


def lines(**drawn):
    """Trails in metres, each in the order in which deer walk it."""
    return {name: shapely.LineString(points) for name, points in drawn.items()}


def walked(trails, id_, at_m=(0.0, 0.0)):
    """All that is followed from a trail's shot, as one shape."""
    parts = Trails(trails).before_shot(id_, np.array(at_m), RANGE_M)
    return shapely.union_all(
        [shapely.LineString(p) if len(p) > 1 else shapely.Point(p[0]) for p in parts]
    )


def length_on(shape, line) -> float:
    """How much of a trail is followed. [m]"""
    return shape.intersection(line.buffer(0.01)).length


def test_the_shot_is_the_nearest_point_and_150_yards_lead_to_it():
    # due east 10 m off, walked northward: the shot is at y = 0, the part lies south of it
    trail = lines(trail=[(10, -400), (10, 400)])
    shape = walked(trail, "trail")
    assert shape.bounds == pytest.approx((10.0, -FOLLOWED_M, 10.0, 0.0))
    back = lines(trail=[(10, 400), (10, -400)])
    assert walked(back, "trail").bounds == pytest.approx((10.0, 0.0, 10.0, FOLLOWED_M))


def test_only_the_first_stretch_in_range_has_the_shot():
    # past the stand 25 m off, away, and back 5 m off: the first pass is the shot's
    trail = lines(trail=[(25, -400), (25, 90), (5, 90), (5, -400)])
    assert walked(trail, "trail").bounds == pytest.approx((25.0, -FOLLOWED_M, 25.0, 0.0))


def test_a_stretch_goes_on_over_a_bend():
    # in range from the radius on one leg to the radius on the other
    bent = shapely.LineString([(-100, 10), (0, 10), (0, 100)])
    ((low, high, nearest),) = passes(bent, np.zeros(2), RANGE_M)
    assert low == pytest.approx(100 - math.sqrt(RANGE_M**2 - 100))
    assert high == pytest.approx(100 + RANGE_M - 10)
    assert nearest == pytest.approx(100)


def test_a_trail_out_of_range_has_no_part():
    assert walked(lines(trail=[(28.5, -50), (28.5, 50)]), "trail").is_empty
    assert not walked(lines(trail=[(27.5, -50), (27.5, 50)]), "trail").is_empty


@pytest.mark.parametrize(("gap_m", "joined"), [(0.0, True), (9.0, True), (9.3, False)])
def test_a_trail_that_ends_within_ten_yards_is_followed_for_the_rest(gap_m, joined):
    # 10 yards are 9.144 m; the join is 60 m before the shot, and the gap costs nothing
    trails = lines(trail=[(10, -400), (10, 400)], side=[(500, -60), (10 + gap_m, -60)])
    followed = length_on(walked(trails, "trail"), trails["side"])
    assert followed == pytest.approx(FOLLOWED_M - 60 if joined else 0.0, abs=0.1)


def test_a_trail_that_joins_after_the_shot_or_before_the_150_yards_is_not_followed():
    for y in (12, -140):
        trails = lines(trail=[(10, -400), (10, 400)], side=[(500, y), (10, y)])
        assert length_on(walked(trails, "trail"), trails["side"]) == pytest.approx(0.0, abs=0.1)


def test_the_start_of_a_trail_joins_one_that_goes_on():
    # deer leave the main trail for the one in range: back over its start, 40 m, then the main
    trails = lines(main=[(-300, -40), (300, -40)], trail=[(10, -40), (10, 300)])
    assert length_on(walked(trails, "trail"), trails["main"]) == pytest.approx(
        FOLLOWED_M - 40, abs=0.1
    )


def test_joins_of_joins_share_the_150_yards():
    trails = lines(
        trail=[(10, -50), (10, 300)],
        second=[(90, -50), (10, -50)],
        third=[(90, -500), (90, -50)],
    )
    shape = walked(trails, "trail")
    assert length_on(shape, trails["second"]) == pytest.approx(80.0, abs=0.1)
    assert length_on(shape, trails["third"]) == pytest.approx(FOLLOWED_M - 130, abs=0.1)


def test_a_loop_is_followed_though_both_its_arms_start_at_one_place():
    # at (10, -20) arm ends and loop starts; back over arm to (60, -20), where loop comes in
    trails = lines(
        trail=[(10, -20), (10, 300)],
        arm=[(60, -20), (10, -20)],
        loop=[(10, -20), (10, -45), (60, -45), (60, -20)],
    )
    # 20 m of trail and 50 m of arm leave 67.16 m for the 100 m of the loop
    for names in (("trail", "arm", "loop"), ("loop", "arm", "trail")):
        shape = walked({n: trails[n] for n in names}, "trail")
        on_loop = length_on(shape, trails["loop"])
        assert on_loop == pytest.approx(FOLLOWED_M - 70, abs=0.1)


def test_a_place_reached_two_ways_is_followed_with_the_most_trail_left():
    # both arms start where deep ends; back over near 20 + 50 m are used, over far 60 + 64
    trails = lines(
        trail=[(10, -400), (10, 300)],
        near=[(60, -20), (10, -20)],
        far=[(60, -20), (10, -60)],
        deep=[(500, -20), (60, -20)],
    )
    for names in (("trail", "near", "far", "deep"), ("deep", "far", "near", "trail")):
        shape = walked({n: trails[n] for n in names}, "trail")
        assert length_on(shape, trails["deep"]) == pytest.approx(FOLLOWED_M - 70, abs=0.1)


@settings(max_examples=30)
@given(
    st.lists(
        st.lists(
            st.tuples(st.integers(-3, 3), st.integers(-3, 3)), min_size=2, max_size=3, unique=True
        ),
        min_size=2,
        max_size=6,
    ),
    st.randoms(use_true_random=False),
)
def test_the_order_of_the_trails_does_not_matter(drawn, random):
    # corners on a lattice: many ends at one place, and equal ways round
    trails = lines(**{f"t{i}": np.array(points) * 25.0 for i, points in enumerate(drawn)})
    shuffled = list(trails)
    random.shuffle(shuffled)
    for name in trails:
        one = walked(trails, name, (5.3, 3.1))
        other = walked({n: trails[n] for n in shuffled}, name, (5.3, 3.1))
        assert one.difference(other.buffer(0.01)).length == pytest.approx(0.0, abs=1e-9)
        assert other.difference(one.buffer(0.01)).length == pytest.approx(0.0, abs=1e-9)


def test_a_hundred_trails_that_meet_are_each_followed_once():
    turn = np.radians(np.arange(100) * 3.6)
    star = {
        f"t{i}": shapely.LineString([(400 * np.sin(a) + 10, 400 * np.cos(a)), (10, 0)])
        for i, a in enumerate(turn)
    }
    parts = Trails(star).before_shot("t0", np.zeros(2), RANGE_M)
    assert len(parts) == len(star)
