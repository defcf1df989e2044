"""The directions air swings over, by vectors on paper and by small steps."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.air.arc import ALL_ROUND_DEG, swept_arc
from core.angles import separation_deg


def arc(from_deg, mps, slope, downhill_deg=180.0, half=11.25, speed_10m=None):
    """One case: wind at the hunter, and the slope wind from and to."""
    return swept_arc(
        wind_mps=np.array([mps]),
        wind_from_deg=np.array([from_deg]),
        speed_10m_mps=np.array([mps if speed_10m is None else speed_10m]),
        slope_from_mps=np.array([slope[0]]),
        slope_to_mps=np.array([slope[1]]),
        downhill_deg=downhill_deg,
        half_width_deg=np.array([half]),
    )


def test_a_wind_across_the_slope_swings_from_uphill_to_downhill():
    # from the west at 1, uphill is north: 1 up is atan2(1, 1) = NE, 1 down is SE
    found = arc(270.0, 1.0, (1.0, -1.0))
    assert found.air_to_deg[[0, -1]] == pytest.approx([45.0, 135.0])
    assert found.carried_mps[[0, -1]] == pytest.approx([math.sqrt(2)] * 2)
    assert found.swing_deg == pytest.approx([90.0])
    assert np.diff(found.air_to_deg) == pytest.approx([10.0] * 9)
    middle = np.abs(found.air_to_deg - 90.0).argmin()  # 85 degrees: 1 / cos 5
    assert found.carried_mps[middle] == pytest.approx(1 / math.cos(math.radians(5)), rel=1e-6)
    assert (found.half_width_deg == 11.25).all()


def test_a_small_swing_is_its_two_ends():
    found = arc(270.0, 4.0, (0.2, -0.2))
    assert found.air_to_deg == pytest.approx(
        [90 - math.degrees(math.atan(0.05)), 90 + math.degrees(math.atan(0.05))]
    )


def test_opposing_winds_cancel_and_doubt_grows():
    # from the south at 0.5 up a slope whose wind turns from +0.5 to -0.4: 1.0 to 0.1 north
    found = arc(180.0, 0.5, (0.5, -0.4), speed_10m=3.0, half=0.0)
    assert found.air_to_deg == pytest.approx([0.0, 0.0], abs=1e-9)
    assert found.carried_mps == pytest.approx([1.0, 0.1])
    assert found.effective_mps == pytest.approx([3.0, 0.75])  # 3 x 0.1 / 0.5 is 0.6
    assert (found.half_width_deg == 5.0).all()


def test_air_that_turns_right_round_may_go_either_way():
    # across only sin 3 x 0.5, less than sin 11.25 x 0.5: both sides
    found = arc(183.0, 0.5, (0.6, -0.6))
    up, down = found.air_to_deg.min(), separation_deg(found.air_to_deg, 180.0).min()
    assert up < 3.0 and down < 30.0
    for side in (90.0, 270.0):
        assert separation_deg(found.air_to_deg, side).min() <= 5.0
    surer = arc(183.0, 0.5, (0.6, -0.6), half=2.0)  # sin 3 is more than sin 2: one side
    assert separation_deg(surer.air_to_deg, 90.0).min() > 60.0 or (
        separation_deg(surer.air_to_deg, 270.0).min() > 60.0
    )


def test_straight_up_and_straight_down_with_nothing_across():
    found = arc(180.0, 0.3, (0.6, -0.6))
    assert found.swing_deg == pytest.approx([180.0])
    for direction in ALL_ROUND_DEG:
        assert separation_deg(found.air_to_deg, direction).min() <= 5.0 + 1e-9
    still = separation_deg(found.air_to_deg, 90.0).argmin()
    assert found.carried_mps[still] == 0.0
    assert found.effective_mps[still] == 0.75


def test_a_wind_without_direction_has_no_arc():
    found = swept_arc(
        wind_mps=np.array([1.0, 1.0]),
        wind_from_deg=np.array([math.nan, 270.0]),
        speed_10m_mps=np.array([1.0, 1.0]),
        slope_from_mps=np.array([0.5, 0.5]),
        slope_to_mps=np.array([-0.5, -0.5]),
        downhill_deg=180.0,
        half_width_deg=np.array([5.0, 5.0]),
    )
    assert set(found.case.tolist()) == {1}
    assert np.isnan(found.swing_deg[0])


def small_steps(from_deg, mps, slope, downhill_deg, mirrored):
    """Every direction and speed by 2000 steps of the slope wind, one vector each."""
    up = math.radians(downhill_deg + 180.0)
    to = math.radians(from_deg + 180.0)
    found = []
    for i in range(2001):
        s = slope[0] + (slope[1] - slope[0]) * i / 2000
        east = mps * math.sin(to) + s * math.sin(up)
        north = mps * math.cos(to) + s * math.cos(up)
        bearing = math.degrees(math.atan2(east, north)) % 360.0
        found.append((bearing, math.hypot(east, north)))
        if mirrored:
            found.append(((2 * math.degrees(up) - bearing) % 360.0, found[-1][1]))
    return found


@settings(max_examples=150, deadline=None)
@given(
    st.floats(0, 359),
    st.floats(0.1, 6),
    st.floats(-0.7, 0.7),
    st.floats(-0.7, 0.7),
    st.floats(0, 359),
    st.floats(0, 30),
)
def test_every_direction_on_the_way_is_near_one_of_the_arc(
    from_deg, mps, slope_from, slope_to, downhill_deg, half
):
    found = arc(from_deg, mps, (slope_from, slope_to), downhill_deg, half)
    turn = math.radians(from_deg - downhill_deg)  # wind from uphill is 180 of that
    ends = [mps * math.cos(turn) + s for s in (slope_from, slope_to)]
    across = abs(mps * math.sin(turn))
    mirrored = ends[0] * ends[1] < 0 and across < mps * math.sin(math.radians(half))
    steps = small_steps(from_deg, mps, (slope_from, slope_to), downhill_deg, mirrored)
    for bearing, speed in steps[::40]:
        if across < 1e-6 and speed < 1e-3:
            continue  # the air stands still: it has no direction
        assert separation_deg(found.air_to_deg, bearing).min() <= 5.0 + 1e-6
    bearings, speeds = (np.array(x) for x in zip(*steps, strict=True))
    for to, carried in zip(found.air_to_deg, found.carried_mps, strict=True):
        near = separation_deg(bearings, to) <= 1.0
        if across > 0.05:
            assert near.any()
            assert speeds[near].min() - 0.05 <= carried <= speeds[near].max() + 0.05
    assert (found.half_width_deg == max(half, 5.0)).all()
