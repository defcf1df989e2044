"""From hours to a sit, by made hours: stretch, shares, group, verdict and order."""

import numpy as np
import pytest

from core.judge.order import in_order
from core.sit.clock import NEVER_S
from core.sit.minutes import WindowRows
from core.sit.rank import hour_value, judge_sit, leave_by_s, opens_s
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG, grade, milder

OK, OFF, UNSURE, BAD = CLEAN, JUST_OFF, CANT_CALL, WRONG
HOUR = 3600


def made(sit, verdicts, *, first=(), last=(), minutes=None, weight=None):
    """A sit of whole hours; `first` and `last` are the rows of its prime blocks."""
    n = len(verdicts)
    minutes = np.array([60.0] * n if minutes is None else minutes)
    blocks = [np.where(np.isin(np.arange(n), rows), minutes, 0.0) for rows in (first, last)]
    weights = minutes if weight is None else np.array(weight, float)
    starts = np.arange(n) * HOUR
    columns = (starts, starts + HOUR, minutes, weights, *blocks)
    rows = WindowRows(*(column[None, :] for column in columns))
    verdict = np.array([verdicts])
    value = hour_value(verdict, np.full(verdict.shape, -1), False)
    judged = judge_sit(sit, rows, verdict, value)
    return (sit, rows), judged


def told(judged):
    return int(judged.air_group[0]), int(judged.air_verdict[0])


# --- stretch, leave by, not before ---


def test_a_morning_runs_up_to_the_first_wrong_hour():
    clock, judged = made("morning", [OK, OK, BAD, OK], first=(0, 1))
    assert judged.stretch[0].tolist() == [True, True, False, False]
    assert leave_by_s(*clock, judged) == 2 * HOUR - 15 * 60
    assert judged.air_share[0] == pytest.approx(0.5)  # two hours of four
    assert judged.window_share[0] == pytest.approx(0.75)
    assert told(judged) == (GO, CLEAN)


def test_an_evening_runs_from_the_last_wrong_hour():
    clock, judged = made("evening", [BAD, OK, BAD, OK, OK], last=(3, 4))
    assert judged.stretch[0].tolist() == [False, False, False, True, True]
    assert opens_s(*clock, judged) == 3 * HOUR
    assert leave_by_s(*clock, judged) == NEVER_S
    assert told(judged) == (GO, CLEAN)


def test_an_hour_with_under_fifteen_minutes_decides_nothing():
    for minutes, wrong in ((14.0, False), (15.0, True)):
        clock, judged = made("morning", [OK, OK, BAD], first=(0, 1), minutes=[60, 60, minutes])
        assert (judged.first_wrong[0] == 2) == wrong
        assert (leave_by_s(*clock, judged) != NEVER_S) == wrong


def test_a_sit_that_starts_wrong_has_no_stretch():
    clock, judged = made("morning", [BAD, OK, OK], first=(0, 1))
    assert judged.empty[0] and judged.air_share[0] == 0
    assert leave_by_s(*clock, judged) == NEVER_S
    clock, judged = made("evening", [OK, OK, BAD], last=(1, 2))
    assert judged.empty[0] and opens_s(*clock, judged) == NEVER_S


# --- with a prime block ---


@pytest.mark.parametrize(
    ("verdicts", "group", "verdict"),
    [
        ([OK, OK, OFF, UNSURE], GO, CLEAN),  # what lies outside the block does not matter
        ([OK, OFF, OK, OK], GO, JUST_OFF),
        ([OK, UNSURE, OK, OK], CANT, CANT_CALL),
        ([UNSURE, BAD, OK, OK], STAY, WRONG),
    ],
)
def test_the_prime_block_decides_a_morning(verdicts, group, verdict):
    _, judged = made("morning", verdicts, first=(0, 1))
    assert told(judged) == (group, verdict)


def test_a_prime_block_of_short_rows_is_none():
    _, judged = made("morning", [BAD, OK, OK, OK], first=(0,), minutes=[14, 60, 60, 60])
    assert not judged.has_prime[0]
    assert told(judged)[0] == GO


def test_a_whole_day_that_must_end_before_last_light_is_just_off():
    verdicts = [OK, OK, OK, OK, BAD, OK, OK]
    _, judged = made("all-day", verdicts, first=(0, 1), last=(5, 6))
    assert judged.left_out[0]
    assert told(judged) == (GO, JUST_OFF)
    _, judged = made("all-day", [OK] * 7, first=(0, 1), last=(5, 6))
    assert told(judged) == (GO, CLEAN)


def test_last_light_after_leave_by_does_not_send_a_whole_day_home():
    verdicts = [OK, OK, OK, OK, OK, OK, BAD]
    clock, judged = made("all-day", verdicts, first=(0, 1), last=(5, 6))
    assert told(judged) == (GO, JUST_OFF)
    assert leave_by_s(*clock, judged) == 6 * HOUR - 15 * 60
    _, judged = made("all-day", [BAD, OK, OK, OK, OK, OK, OK], first=(0, 1), last=(5, 6))
    assert told(judged) == (STAY, WRONG)


# --- without one ---


@pytest.mark.parametrize(
    ("verdicts", "group", "verdict"),
    [
        ([OK, OK, OK, BAD, BAD, BAD], GO, JUST_OFF),  # a share of one half holds
        ([OK, OK, BAD, BAD, BAD, BAD], STAY, WRONG),
        ([OK, OK, OK, OK, OK, OK], GO, CLEAN),
        ([OK, OK, OK, OK, OK, OFF], GO, JUST_OFF),
        ([OK, OK, OK, OK, UNSURE, UNSURE], CANT, CANT_CALL),  # a third
        ([OK, OK, OK, OK, OK, UNSURE], GO, CLEAN),
        ([OK, BAD, UNSURE, UNSURE, BAD, BAD], CANT, CANT_CALL),  # before the low share
    ],
)
def test_without_a_prime_block_the_shares_decide(verdicts, group, verdict):
    _, judged = made("all-day", verdicts)
    assert told(judged) == (group, verdict)


def test_shares_go_by_weight():
    # one hour of four, with half of the weight
    _, judged = made("all-day", [OK, BAD, OK, OK], weight=[120, 40, 40, 40])
    assert judged.air_share[0] == pytest.approx(0.5)
    assert told(judged) == (GO, JUST_OFF)


# --- what an hour is worth (common practice) ---


@pytest.mark.parametrize(
    ("verdict", "still", "plain", "edge_ok"),
    [
        (OK, -1, 1.0, 1.0),
        (OFF, -1, 0.6, 0.85),
        (BAD, -1, 0.0, 0.0),
        (BAD, OK, 0.0, 0.0),
        (UNSURE, -1, 0.2, 0.2),
        (UNSURE, OK, 0.4, 0.4),
        (UNSURE, OFF, 0.4 * 0.6, 0.4 * 0.85),
        (UNSURE, BAD, 0.0, 0.0),
    ],
)
def test_value_of_an_hour(verdict, still, plain, edge_ok):
    for allowed, value in ((False, plain), (True, edge_ok)):
        assert hour_value(np.array([verdict]), np.array([still]), allowed) == pytest.approx(value)


@pytest.mark.parametrize(
    ("yards", "verdict"),
    [(249.9, BAD), (250.0, OFF), (500.0, OFF), (500.1, OK), (np.nan, OK), (20_000, OK)],
)
def test_grade_of_a_distance(yards, verdict):
    # wrong below the one, clean above the other
    assert grade(yards, 250.0, 500.0) == verdict


def test_one_step_milder():
    assert milder([BAD, OFF, OK]).tolist() == [OFF, OK, OK]


# --- order ---


def ranked(*stands):
    """Names in order. Stands: (score, corridors, rest share, name)."""
    scored = [(s, c, r, name, name.lower(), i) for i, (s, c, r, name) in enumerate(stands)]
    return [stands[i][3] for i in in_order(scored)]


def test_within_five_percent_more_trails_then_rest_then_the_name_decide():
    assert ranked((1.0, 0, 1.0, "Ash"), (0.96, 1, 1.0, "Birch")) == ["Birch", "Ash"]
    assert ranked((1.0, 0, 1.0, "Ash"), (0.94, 1, 1.0, "Birch")) == ["Ash", "Birch"]
    assert ranked((1.0, 1, 0.4, "Ash"), (0.96, 1, 1.0, "Birch")) == ["Birch", "Ash"]
    assert ranked((0.96, 1, 1.0, "Ash"), (1.0, 1, 1.0, "Birch")) == ["Ash", "Birch"]


def test_each_band_is_of_the_best_that_is_left():
    # 0.95 is within 5 % of 1; 0.92 is not, though it is of 0.95
    stands = ((0.92, 9, 1.0, "Cedar"), (0.95, 2, 1.0, "Birch"), (1.0, 1, 1.0, "Ash"))
    assert ranked(*stands) == ["Birch", "Ash", "Cedar"]
