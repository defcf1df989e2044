"""Drawn situations: the same from the same seed, rarely one-sided, answered as at home."""

import datetime
import random

import numpy as np
import pytest

from core.answer.one_sit import answer_sit, stand_sit
from core.errors import BadRequest
from core.ground.store import demo_path, open_property
from core.learn.situations import (
    OTHER,
    WIND_WITHIN_DAYS,
    draw_situation,
    season_days,
    wind_of,
)
from core.sit import dates, rows, slope
from core.sit.dates import season_on
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.files.typical import typical_hours
from tests.grounds import PIEDMONT, at, ground

YEAR = 2026
SEEDS = 60  # a thousand find no more, at many times the time
ALIKE = 5


@pytest.fixture(scope="module")
def scene() -> Scene:
    return Scene(open_property(demo_path()).property)


def remembered(ask):
    """The same answer for the same place and times. Args: who answers."""
    kept = {}

    def asked(*place_and_times):
        *place, times = place_and_times
        key = (*place, np.asarray(times).tobytes())
        if key not in kept:
            kept[key] = ask(*place_and_times)
        return kept[key]

    return asked


@pytest.fixture(scope="module")
def one_sun_a_day():
    """The sun of a day is worked out once, not for every situation on it."""
    patch = pytest.MonkeyPatch()
    for room, name in ((dates, "sun_days"), (rows, "clear_sky"), (slope, "sun_position")):
        patch.setattr(room, name, remembered(getattr(room, name)))
    yield
    patch.undo()


@pytest.fixture(scope="module")
def drawn(scene, one_sun_a_day):  # noqa: ARG001
    """The situations of the first seeds."""
    return [draw_situation(scene, YEAR, seed) for seed in range(SEEDS)]


def one_sided(found) -> bool:
    """Whether all or none of the stands are go, looking no further than it takes."""
    stands = found.ready.scene.ground.stands
    first = stand_sit(found.ready, stands[0]).group == GO
    return all((stand_sit(found.ready, s).group == GO) == first for s in stands[1:])


@pytest.mark.slow
def test_all_or_none_are_go_in_at_most_one_of_ten(drawn):
    few = [found for found in drawn if one_sided(found)]
    assert len(few) <= SEEDS / 10
    assert few, "staying out is never right"


@pytest.mark.slow
def test_the_order_is_the_home_page_s(drawn):
    """Date, sit and wind of some of them, answered afresh as the home page answers."""
    for found in random.Random(8).sample(drawn, ALIKE):
        fresh = Scene(open_property(demo_path()).property)
        weather = wind_of(found.wind_date, found.date)
        home = answer_sit(prepare_sit(fresh, weather, found.date, found.sit))
        assert [s.stand.id for s in found.answer.stands] == [s.stand.id for s in home.stands]
        assert [s.group for s in found.answer.stands] == [s.group for s in home.stands]


@pytest.mark.slow
def test_situations_are_many_and_in_season(drawn, scene):
    assert len({(f.date, f.sit, f.wind_date) for f in drawn}) > SEEDS / 2
    assert {f.sit for f in drawn} == {"morning", "evening"}
    for found in drawn:
        assert season_on(scene.ground, found.date, None) is not None
        assert season_on(scene.ground, found.wind_date, None) is not None
        assert abs((found.wind_date - found.date).days) <= WIND_WITHIN_DAYS


def test_a_seed_draws_the_same_again(scene):
    one, two = (draw_situation(scene, YEAR, 17) for _ in range(2))
    assert (one.date, one.sit, one.wind_date) == (two.date, two.sit, two.wind_date)
    assert [s.stand.id for s in one.answer.stands] == [s.stand.id for s in two.answer.stands]
    other = draw_situation(scene, YEAR, 18)
    assert (other.date, other.sit, other.wind_date) != (one.date, one.sit, one.wind_date)


def test_a_second_hunter_finds_one_stand_taken(scene):
    for seed in range(6):
        found = draw_situation(scene, YEAR, seed, second=True)
        (taken,) = found.taken
        assert found.taken[taken] == OTHER
        there = next(s for s in found.answer.stands if s.stand.id == taken)
        assert there.causes == ("taken",)
        assert there.group != GO
        alone = answer_sit(found.ready)
        assert next(s for s in alone.stands if s.stand.id == taken).group == GO


def test_the_wind_of_one_day_is_laid_onto_another():
    there, here = datetime.date(2026, 11, 20), datetime.date(2026, 11, 14)
    laid, own = wind_of(there, here), typical_hours(there)
    assert list(own.start_s - laid.start_s) == [6 * 86400] * len(own)
    assert list(laid.speed_mps) == list(own.speed_mps)
    assert laid.kind == "typical"


def test_days_of_the_season_wrap_the_year(scene):
    days = season_days(scene.ground, YEAR)  # September 13 to January 1
    assert days[0] == datetime.date(2026, 1, 1)
    assert days[1] == datetime.date(2026, 9, 13)
    assert len(days) == 111


def test_a_ground_without_stands_or_seasons_is_refused():
    with pytest.raises(BadRequest, match="Test ground has no stands"):
        draw_situation(Scene(ground(stands=())), YEAR, 1)
    with pytest.raises(BadRequest, match="Test ground has no season"):
        draw_situation(Scene(ground(seasons=())), YEAR, 1)


def test_a_ground_where_stands_never_differ_still_draws():
    """One stand cannot differ from itself: the last try is taken as it is."""
    found = draw_situation(Scene(ground(center=at(PIEDMONT, 0, 10))), YEAR, 3)
    assert len(found.answer.stands) == 1
