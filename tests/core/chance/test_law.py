"""Winds drawn by the law: their variance, memory and tails against scipy and arithmetic."""

import numpy as np
import pytest
from scipy import stats

from core.chance.law import (
    BIAS_MPS,
    DRAWS,
    QUICK_H,
    QUICK_PART,
    SLOW_H,
    drawn_winds,
    spread_of,
    tails,
    wander,
)
from core.chance.tenths import in_tenths, standing

HOUR_S = 3600.0


def test_the_spread_of_a_calm_and_of_a_day_ahead_by_hand():
    calm, later = spread_of(0.0, 0.0), spread_of(4.0, 24.0)
    assert calm.cross_mps == pytest.approx(0.676)
    # sqrt(0.676^2 + 0.7^2) = 0.97313, times sqrt(1.175)
    assert later.cross_mps == pytest.approx(0.97313 * 1.08397, abs=1e-4)
    # sqrt(0.862^2 + 0.868^2) = 1.22331, times sqrt(1.16)
    assert later.along_mps == pytest.approx(1.22331 * 1.07703, abs=1e-4)


def test_q_scales_and_leads_are_held_to_two_days():
    assert spread_of(3.0, 12.0, 1.2).cross_mps == pytest.approx(
        1.2 * spread_of(3.0, 12.0).cross_mps
    )
    assert spread_of(3.0, 90.0) == spread_of(3.0, 48.0)
    assert spread_of(3.0, -2.0) == spread_of(3.0, 0.0)


def test_errors_have_unit_variance_and_remember():
    hours = wander(np.arange(24) * HOUR_S)
    values = hours.reshape(DRAWS, -1)
    assert values.var() == pytest.approx(1.0, abs=0.05)
    for gap in (1, 3, 6):
        together = np.corrcoef(hours[:, :-gap].ravel(), hours[:, gap:].ravel())[0, 1]
        expected = QUICK_PART * np.exp(-gap / QUICK_H) + (1 - QUICK_PART) * np.exp(-gap / SLOW_H)
        assert together == pytest.approx(expected, abs=0.05)


def test_rows_of_other_lengths_remember_by_the_clock():
    close, far = wander([0.0, 600.0]), wander([0.0, 40 * HOUR_S])
    assert np.corrcoef(close[:, 0, 0], close[:, 1, 0])[0, 1] > 0.9
    assert abs(np.corrcoef(far[:, 0, 0], far[:, 1, 0])[0, 1]) < 0.15


def test_one_hour_follows_student_s_t():
    # a normal over the root of a chi-square of 4 a degree: each of the two, then both together
    assert stats.kstest(4.0 / tails() ** 2, stats.chi2(4).cdf).pvalue > 0.01
    errors = wander([0.0])[:, 0, :] * tails()[:, None]
    for side in (0, 1):
        assert stats.kstest(errors[:, side], stats.t(4).cdf).pvalue > 0.01


def test_every_run_gives_the_same_bytes():
    told = ([0.0, HOUR_S], [3.0, 3.0], [300.0, 310.0], [12.0, 13.0])
    first, second = drawn_winds(*told), drawn_winds(*told)
    assert first.speed_mps.tobytes() == second.speed_mps.tobytes()
    assert first.wind_from_deg.tobytes() == second.wind_from_deg.tobytes()


def test_a_wind_from_the_west_comes_from_about_the_west():
    drawn = drawn_winds([0.0], [8.0], [270.0], [6.0])
    turn = (drawn.wind_from_deg[:, 0] - 270.0 + 180.0) % 360.0 - 180.0
    assert abs(np.median(turn)) < 2.0
    # cross over along: 0.741 of t's scale is the median of its size
    expected = np.degrees(0.741 * float(spread_of(8.0, 6.0).cross_mps) / (8.0 - 0.15 - 0.376))
    assert np.median(np.abs(turn)) == pytest.approx(expected, rel=0.15)
    along = np.median(drawn.speed_mps * np.cos(np.radians(turn)))
    assert along == pytest.approx(8.0 + BIAS_MPS - 0.047 * 8.0, abs=0.3)


def test_a_calm_comes_from_anywhere():
    drawn = drawn_winds([0.0], [0.0], [np.nan], [6.0])
    counts, _ = np.histogram(drawn.wind_from_deg[:, 0], bins=4, range=(0.0, 360.0))
    assert stats.chisquare(counts).pvalue > 0.01


def test_shares_err_as_the_binomial_says():
    # the share of draws under the median of the law, against the exact 95 % of 400 draws
    errors = wander([0.0])[:, 0, 0] * tails()
    low, high = stats.binom(DRAWS, 0.5).interval(0.95)
    assert low <= (errors < 0).sum() <= high


@pytest.mark.parametrize(
    ("shares", "expected"),
    [
        ([0.71, 0.19, 0.10], [7, 2, 1]),
        ([1 / 3, 1 / 3, 1 / 3], [4, 3, 3]),
        ([0.95, 0.05, 0.0], [10, 0, 0]),
        ([0.0, 0.0, 1.0], [0, 0, 10]),
        ([0.349, 0.349, 0.302], [4, 3, 3]),
    ],
)
def test_tenths_add_to_ten(shares, expected):
    assert in_tenths(shares) == expected
    assert sum(in_tenths(shares)) == 10


def test_standing():
    assert [standing(x) for x in (0.75, 0.74, 0.5, 0.49)] == [
        "holds",
        "may hold",
        "may hold",
        "toss-up",
    ]


# --- published figures: the law with q 1 against other models, forecasters and countries ---


def _errors(q: float):
    """Vector errors [m/s] and turns [deg] of 12 h forecasts, of the speeds of a land dawn.

    Speeds follow a gamma of shape 2.2 about 3.12 m/s, the published mean (the shape: common
    practice). Turns only of winds that came at 1 m/s or more: calm ones have none.
    """
    speeds = stats.gamma(2.2, scale=3.12 / 2.2).ppf((np.arange(40) + 0.5) / 40)
    off, turns = [], []
    for speed in speeds:
        drawn = drawn_winds([0.0], [speed], [0.0], [12.0], q)
        came, angle = drawn.speed_mps[:, 0], np.radians(drawn.wind_from_deg[:, 0])
        off.append(np.hypot(came * np.sin(angle), came * np.cos(angle) - speed))
        moving = came >= 1.0
        turns.append(np.abs((drawn.wind_from_deg[moving, 0] + 180.0) % 360.0 - 180.0))
    return np.concatenate(off), np.concatenate(turns)


def test_a_12_hour_model_over_land_at_dawn():
    # NAM, 12 h, US land stations, 9 Apr 2012 12 UTC: vector RMSE 2.32 m/s (n 3,303), direction
    # MAE 27.2 deg (n 2,072, calm left out): vector and wind statistics that come with the test
    # data of the METcalcpy library, read in August 2026. A fifth to spare: another continent.
    off, turns = _errors(1.0)
    assert np.sqrt(np.mean(off**2)) == pytest.approx(2.32, rel=0.2)
    assert np.mean(turns) == pytest.approx(27.2, rel=0.2)


def test_between_local_and_global_models():
    # 12 models over Europe, 30 spring days of 2026, direction MAE: local ones of 2.5 to 7 km
    # 22 to 23 deg, global ones 32 to 49 deg (meteo.matrunich.com/benchmark, lead not given)
    _, turns = _errors(1.0)
    assert 22.0 <= np.mean(turns) <= 49.0


def test_old_zone_forecasts_missed_further():
    # National Weather Service zone forecasts, Macon, Georgia, 1985 to 1993: 38 % within 22.5
    # deg and 79 % within 67.5 deg (Lavdas, abstract): farther off than any model of today, as
    # far as the law says with q 1.6 (our own finding, so it is only bounded here)
    for q, far in ((1.0, False), (2.5, True)):
        _, turns = _errors(q)
        assert ((turns <= 22.5).mean() < 0.38) == far
    assert (_errors(1.6)[1] <= 67.5).mean() == pytest.approx(0.79, abs=0.08)
