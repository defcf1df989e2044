"""Winds drawn around the runs of a model: moved onto the forecast, never counted as a chance."""

import dataclasses

import numpy as np
import pytest

from core.answer.chances import Misses
from core.answer.one_sit import answer_sits
from core.chance.shares import TOO_FAR, with_chances
from core.say.chance.words import law_text
from core.weather.model_runs import ModelRuns, blows_to
from tests.core.chance.test_shares import MADE_S, forecast, sits_of
from tests.core.chance.test_shares import scene as scene  # a fixture

HOUR_S = 3600


def runs_from(weather, from_deg, speed_mps=4.0) -> ModelRuns:
    """Runs over the hours of a forecast: each of one wind. Args: (run,) each."""
    blows = blows_to(speed_mps, np.asarray(from_deg, float))
    return ModelRuns(weather.start_s, np.repeat(blows[:, None], len(weather), axis=1), MADE_S)


@pytest.fixture(scope="module")
def answers(scene):
    weather = forecast()
    return weather, answer_sits(sits_of(scene, weather))


def winds(answers, runs):
    told = with_chances(answers[1], MADE_S, Misses(1.0, runs=runs))[0].chances
    turn = (told.wind_from_deg - answers[1][0].sit.mean_wind_deg + 180.0) % 360.0 - 180.0
    return told, turn


def test_they_lie_about_the_forecast_wherever_the_runs_lie(answers):
    far = runs_from(answers[0], 100.0 + np.linspace(-2.0, 2.0, 51))
    told, turn = winds(answers, far)
    assert (told.draws, told.source) == (408, "ensemble")
    assert all(len(groups) == 408 for groups in told.groups.values())
    assert abs(np.nanmedian(turn)) < 5.0
    assert told.runs_apart_deg > 90.0


def test_runs_that_part_make_a_sit_less_sure_than_runs_that_agree(answers):
    mean = answers[1][0].sit.mean_wind_deg
    _, alone = winds(answers, None)
    _, close = winds(answers, runs_from(answers[0], mean + np.linspace(-1.0, 1.0, 51)))
    _, apart = winds(answers, runs_from(answers[0], mean + np.linspace(-80.0, 80.0, 51)))
    spread = [float(np.nanmean(np.abs(turn))) for turn in (close, alone, apart)]
    assert spread[0] < spread[1] < spread[2]
    # runs that all agree are no certainty: the law is drawn around each, with 0.8 of its spread
    assert spread[0] > 0.6 * spread[1]


def test_over_two_days_out_only_runs_tell(answers):
    weather, told = answers
    long_ago = MADE_S - 60 * HOUR_S  # when the forecast was made
    old = [
        dataclasses.replace(
            answer,
            sit=dataclasses.replace(
                answer.sit, weather=dataclasses.replace(weather, updated_s=long_ago)
            ),
        )
        for answer in told
    ]
    runs = runs_from(weather, np.linspace(250.0, 340.0, 51))
    assert with_chances(old, MADE_S, Misses(1.0))[0].chances.none == TOO_FAR
    assert with_chances(old, MADE_S, Misses(1.0, runs=runs))[0].chances.draws == 408
    short = ModelRuns(runs.start_s[:3], runs.blows[:, :3], MADE_S)  # they end before the sit
    assert with_chances(old, MADE_S, Misses(1.0, runs=short))[0].chances.none == TOO_FAR
    near = with_chances(told, MADE_S, Misses(1.0, runs=short))[0].chances
    assert (near.draws, near.source) == (400, "sampled")


def test_what_it_rests_on_is_said(answers):
    told, _ = winds(answers, runs_from(answers[0], 100.0 + np.linspace(-2.0, 2.0, 51)))
    text = law_text(told)
    assert (
        "around 51 runs of another model" in text
        and "not tested for your ground" in text
        and "Open-Meteo" in text
    )
    assert "trust both less" in text and "%" not in text
    assert "runs" not in law_text(winds(answers, None)[0])
