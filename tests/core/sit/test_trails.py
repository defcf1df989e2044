"""Air on a trail, by hand from the rules (common practice, no source)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.ground.layout import AirRules
from core.sit.trails import approach_verdict, counting, trails_verdict
from core.sit.verdicts import CLEAN, JUST_OFF, WRONG

RULES = AirRules()


def trails(verdicts, counts):
    """Of approaches that deer come by, all of them."""
    verdicts = np.array([verdicts], int)
    walked = np.ones(verdicts.shape, bool)
    return trails_verdict(verdicts, walked, np.array(counts, bool))[0]


@pytest.mark.parametrize(
    ("like_yd", "away_yd", "verdict"),
    [
        (74.9, 15, WRONG),  # under 75
        (75.0, 15, JUST_OFF),
        (104.9, 30, WRONG),  # 3.5 x 30
        (105.0, 30, JUST_OFF),
        (249.9, 30, JUST_OFF),
        (250.1, 30, CLEAN),
        (249.9, 90, WRONG),  # 315, but 250 at the most
        (250.1, 90, CLEAN),
        (np.nan, 20, CLEAN),
    ],
)
def test_on_a_trail_beside_it_or_clear(like_yd, away_yd, verdict):
    assert approach_verdict(like_yd, away_yd, RULES) == verdict


def test_the_settings_decide():
    strict = AirRules(trail_within_yd=200.0)
    assert approach_verdict(150.0, 10, strict) == WRONG
    assert approach_verdict(150.0, 30, AirRules(trail_shot_times=6.0)) == WRONG
    never = AirRules(trail_within_yd=0.0, trail_shot_times=0.0)
    assert approach_verdict(20.0, 10, never) == JUST_OFF


@pytest.mark.parametrize(
    ("approaches", "counts", "verdict"),
    [
        ([WRONG], [True], WRONG),
        ([WRONG, WRONG], [True, True], WRONG),
        ([WRONG, CLEAN], [True, True], JUST_OFF),  # another is free
        ([WRONG, JUST_OFF], [True, True], JUST_OFF),
        ([JUST_OFF], [True], JUST_OFF),
        ([CLEAN, CLEAN], [True, True], CLEAN),
        # only the first can be shot to by this hunter
        ([WRONG, CLEAN], [True, False], WRONG),
        ([CLEAN, WRONG], [True, False], JUST_OFF),
        ([], [], CLEAN),
    ],
)
def test_what_the_trails_make_of_an_hour(approaches, counts, verdict):
    assert trails(approaches, counts) == verdict


def test_approaches_that_nobody_comes_by_make_nothing():
    verdicts, counts = np.array([[WRONG, CLEAN], [WRONG, CLEAN]]), np.array([True, True])
    walked = np.array([[False, True], [True, False]])
    assert trails_verdict(verdicts, walked, counts).tolist() == [CLEAN, WRONG]


@pytest.mark.parametrize(
    ("away_yd", "range_yd", "counts"),
    [
        ([12, 20, 28], 30, [True, True, True]),
        ([12, 20.4, 28], 20, [True, True, False]),  # to the whole yard
        ([12, 20.6, 28], 20, [True, False, False]),
        ([22, 25, 22], 15, [True, False, True]),  # out of reach: the nearest
        ([], 20, []),
    ],
)
def test_which_trails_count_for_a_hunter(away_yd, range_yd, counts):
    assert counting(np.array(away_yd, float), range_yd).tolist() == counts


approaches = st.lists(
    st.tuples(st.sampled_from([CLEAN, JUST_OFF, WRONG]), st.floats(5, 40)), min_size=1, max_size=5
)


@given(approaches, st.floats(1, 45), st.floats(0, 45))
def test_a_shorter_range_is_never_cleaner(some, range_yd, less_yd):
    verdict, away_yd = np.array(some).T
    far, near = (counting(away_yd, r) for r in (range_yd, max(1.0, range_yd - less_yd)))
    assert trails(verdict, near) >= trails(verdict, far)


@given(approaches, st.floats(1, 45), st.data())
def test_more_air_on_a_trail_is_never_cleaner(some, range_yd, data):
    verdict, away_yd = np.array(some).T
    counts = counting(away_yd, range_yd)
    worse = verdict.copy()
    worse[data.draw(st.integers(0, len(some) - 1))] = WRONG
    assert trails(worse, counts) >= trails(verdict, counts)
