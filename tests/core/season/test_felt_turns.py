"""A felt turn that was taken up counts in the season as it does in one sit."""

from dataclasses import replace

import numpy as np
import pytest

from core.ground.layout import FeltTurn, Season, Stand
from core.say.log.felt import turn_lines
from core.season.review import judge_season
from core.sit.scene import Scene
from tests import grounds

HERE = grounds.PIEDMONT
MIDNIGHT_S = 1794200400 - 86400  # 8 November 2026 in New York
N_FROM_E = FeltTurn(((315.0, 45.0),), 90.0, 7, 9, "2026-11-01")


def season(from_deg, turns=()):
    """Five days of one wind at Oak, with a bed held always 150 yd to its south."""
    oak = Stand("oak", "Oak", HERE, turns=turns)
    ground = grounds.ground(
        stands=(oak,),
        lanes=(grounds.lane(HERE, (45, 440), (45, 5)),),
        areas=(grounds.bed(HERE, 180, 150, held="always"),),
        seasons=(Season("bow", "11-10", "11-14"),),
    )
    return judge_season(Scene(ground), grounds.hourly(MIDNIGHT_S, [from_deg] * 240))


@pytest.fixture(scope="module")
def told():
    return {"N": season(0.0), "E": season(90.0), "turned": season(0.0, (N_FROM_E,))}


def test_a_north_wind_that_comes_from_east_here_is_judged_as_an_east_wind(told):
    assert not told["N"].serves.any() and told["E"].serves.all()
    assert np.array_equal(told["turned"].serves, told["E"].serves)


def test_a_wind_outside_the_turns_span_is_as_told(told):
    assert np.array_equal(season(90.0, (N_FROM_E,)).serves, told["E"].serves)


def test_it_is_told():
    ground = replace(season(0.0, (N_FROM_E,)).scene.ground)
    assert turn_lines(ground) == [
        "Oak: Wind from NW to NE counts as 90° clockwise of it, felt 7 of 9 times."
    ]
    assert turn_lines(grounds.ground()) == []
