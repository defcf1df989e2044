"""When the slope wind turns, by hand from the rules (common practice, no source)."""

import numpy as np
import pytest

from core.air.turning import light_within, minute_slope_mps, sign_of, turning_spans, turns

MINUTE = 60


@pytest.mark.parametrize(
    ("share", "light"), [(0, 100), (0.25, 150), (0.5, 200), (0.75, 120), (1, 40)]
)
def test_light_runs_straight_from_start_to_middle_to_end(share, light):
    assert light_within(share, np.array([100.0, 200.0, 40.0])) == pytest.approx(light)


def test_light_of_many_hours_at_once():
    light = np.array([[100.0, 0.0], [200.0, 10.0], [40.0, 20.0]])
    assert light_within([0.25, 0.75], light) == pytest.approx([150.0, 15.0])


def test_the_slope_wind_of_a_minute():
    # (1 - 0.25) x 300 x k / 600 - 0.25 x (1 - 0.5), k = 1 - 0.75 x 0.5^3.4 = 0.928954
    found = minute_slope_mps(
        downward=0.25,
        share=0.5,
        light_wm2=np.array([0.0, 300.0, 0.0]),
        cloud_frac=0.5,
        grade_pct=10.0,
        full_mps=0.7,
    )
    assert found == pytest.approx((0.75 * 0.5 * 0.928954 - 0.125) * 0.7 * 0.5, rel=1e-5)


@pytest.mark.parametrize(
    ("slope", "turned"),
    [
        ([0.5, 0.2, -0.1, -0.3], [2]),
        ([0.5, 0.0, 0.0, -0.3], [3]),  # stillness between is no turn
        ([0.0, 0.0, 0.4, 0.3], []),  # nor is the first that blows
        ([-0.5, 0.0, -0.3, 0.1], [3]),
        ([0.3, -1e-10, 0.3], []),  # a rounding crumb has no sign
        ([0.3, -0.1, 0.2, 0.2], [1, 2]),
        ([0.3, np.nan, -0.2], [2]),
        ([0.0], []),
        ([], []),
    ],
)
def test_a_turn_is_the_first_minute_with_another_sign(slope, turned):
    found = turns(sign_of(np.array([slope, slope])))
    assert [np.flatnonzero(row).tolist() for row in found] == [turned, turned]


def spans(minutes, turn_min):
    """Spans of one day whose turns are at some minutes. [min]"""
    at = np.array(minutes, int)
    _, start, end = turning_spans(np.zeros(len(at), int), at * MINUTE, turn_min)
    return [(a // MINUTE, b // MINUTE) for a, b in zip(start, end, strict=True)]


@pytest.mark.parametrize(
    ("minutes", "turn_min", "wanted"),
    [
        ([100], 20, [(80, 120)]),
        ([100, 130], 20, [(80, 150)]),  # they overlap
        ([100, 140], 20, [(80, 160)]),  # they meet
        ([100, 141], 20, [(80, 120), (121, 161)]),
        ([100, 130, 165], 20, [(80, 185)]),  # a chain
        ([100], 0, [(100, 100)]),
        ([], 20, []),
    ],
)
def test_turning_lasts_some_minutes_before_and_after(minutes, turn_min, wanted):
    assert spans(minutes, turn_min) == wanted


def test_days_do_not_run_together():
    day, turn_s = np.array([3, 4, 4, 9]), np.array([60, 120, 180, 190])
    first, start, end = turning_spans(day, turn_s, 1)
    assert first.tolist() == [0, 1, 3]
    assert (start.tolist(), end.tolist()) == ([0, 60, 130], [120, 240, 250])
