"""Winds that work, from the rules: against the home page's own sweep, and in words."""

import numpy as np
import pytest

from core.answer.one_sit import stand_sit
from core.say.season.words import winds_words
from core.season.ruler import DIRECTIONS_DEG, how_often, winds_that_work
from core.sit.prepare import prepare_sit
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG
from core.units import MPS_PER_MPH
from core.weather.hours import make_hours
from tests.demo_season import few_season


@pytest.fixture(scope="module")
def answer():
    return few_season()


@pytest.mark.parametrize(("sit", "mph"), [("morning", 8), ("evening", 4)])
def test_marks_are_the_home_pages_verdicts(answer, sit, mph):
    ruler = winds_that_work(answer, sit, mph)
    sits = next(h.sits for h in answer.reviews if h.sit == sit)
    dates = {f"{d.day} {d:%B}": d for d in sits.clock.dates.date.tolist()}
    differ = 0
    for i in (0, 7, 15, 22, 30):
        wind = make_hours(
            start_s=[0],
            wind_from_deg=DIRECTIONS_DEG[i],
            half_width_deg=5.0,
            speed_mps=mph * MPS_PER_MPH,
            cloud_frac=0.5,
            held=True,
        )
        ready = prepare_sit(answer.scene, wind, dates[ruler.date], sit)
        for stand, row in zip(answer.stands, ruler.verdict, strict=True):
            home = stand_sit(ready, stand)
            wanted = (home.verdict, CANT_CALL, WRONG)[home.group]
            differ += int(row[i] != wanted)
    assert ruler.verdict.shape == (5, 36)
    assert differ == 0  # of 25, though the table is not the formula


def test_how_often_adds_up_to_all_sits(answer):
    whole, morning = how_often(answer), how_often(answer, "morning")
    assert whole.share.sum() + whole.calm_share == pytest.approx(1.0)
    assert morning.share.sum() + morning.calm_share == pytest.approx(1.0)
    lost = (~answer.go.any(axis=1)).sum()
    by_wind = (whole.share * whole.none_share).sum() * answer.n_sits
    assert 0 < round(by_wind) < lost  # the rest of the lost sits is calm


def test_winds_in_words():
    row = np.full(36, WRONG)
    assert winds_words(row) == "none"
    row[[35, 0, 1]] = CLEAN
    row[2], row[18] = JUST_OFF, CLEAN
    assert winds_words(row) == "S, N to NNE"
    row[[8, 10]] = CLEAN  # 80 and 100 degrees, both E
    assert winds_words(row) == "part of E, S, N to NNE"
    row[[11, 12]] = CLEAN
    assert winds_words(row) == "E to ESE, S, N to NNE, but not all of E"
    assert winds_words(np.full(36, CLEAN)) == "any wind"
    assert winds_words(np.full(36, CANT_CALL)) == "can't call"
