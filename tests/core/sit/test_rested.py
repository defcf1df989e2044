"""Rest by the log: what stands share, and how it counts in the order."""

import dataclasses
import datetime
import math

import numpy as np
import pytest

from core.answer.one_sit import answer_sit, answer_sits
from core.answer.other_winds import answers_in_winds
from core.ground.layout import Part, Stand, Wanted
from core.judge.order import log_since, shared_with
from core.keep.entries import SIT, entry_of
from core.say.reason_texts import rested_text
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from tests.grounds import NOV_10, PIEDMONT, at, bed, food, ground, lane, wind

REST_DAYS = 4.0


def two_of_a_kind(**more):
    """Two stands alike in their air, with the same bed and ways of their own."""
    stands = tuple(
        Stand(id_, id_.title(), at(PIEDMONT, bearing, 30.0), range_yd=5.0)
        for id_, bearing in (("ash", 90), ("birch", 270))
    )
    ways = tuple(lane(PIEDMONT, (0, 440), (0, 5), id_=f"to-{s.id}", stands=(s.id,)) for s in stands)
    part = Part("rut", "11-01", "11-30", rest_days=REST_DAYS)
    return ground(
        stands=stands, lanes=ways, areas=(bed(PIEDMONT, 180, 300),), parts=(part,), **more
    )


def sat(stand, date="2026-11-08", half="morning"):
    return entry_of(SIT, date, {"stand": stand, "sit": half})


def answered(prop, log, sit="morning"):
    return answer_sit(prepare_sit(Scene(prop), wind(180), NOV_10, sit, log=log))


def shares(answer):
    return {s.stand.id: s.rest for s in answer.stands}


def test_the_one_that_was_sat_comes_second():
    prop = two_of_a_kind()
    assert [s.stand.id for s in answered(prop, None).stands] == ["ash", "birch"]
    told = answered(prop, (sat("ash"),))
    assert [s.stand.id for s in told.stands] == ["birch", "ash"]
    load = math.exp(-2 / REST_DAYS)
    assert shares(told)["ash"] == pytest.approx(1 / (1 + load))
    assert shares(told)["birch"] == pytest.approx(1 / (1 + load / 2))  # they share the bed


def test_a_worn_stand_falls_behind_one_that_is_wanted_less():
    prop = two_of_a_kind()
    words = {"ash": "best", "birch": "good"}
    stands = tuple(dataclasses.replace(s, wanted=Wanted(morning=words[s.id])) for s in prop.stands)
    prop = dataclasses.replace(prop, stands=stands, areas=())
    assert [s.stand.id for s in answered(prop, ()).stands] == ["ash", "birch"]
    yesterday = (sat("ash", "2026-11-09", "evening"),)
    # 1 x 1 / (1 + e^(-1/4)) = 0.56 against 0.7
    assert [s.stand.id for s in answered(prop, yesterday).stands] == ["birch", "ash"]


def test_without_a_log_and_with_an_empty_one_every_stand_is_rested():
    prop = two_of_a_kind()
    assert set(shares(answered(prop, None)).values()) == {1.0}
    assert set(shares(answered(prop, ())).values()) == {1.0}
    assert rested_text(answered(prop, None).sit, answered(prop, None).best) == ""


def test_rest_never_falls_under_two_fifths():
    log = tuple(sat("ash", half="evening") for _ in range(20))
    assert shares(answered(two_of_a_kind(), log))["ash"] == 0.4


def test_this_morning_counts_for_the_evening_and_not_for_itself():
    prop, log = two_of_a_kind(), (sat("ash", "2026-11-10"),)
    assert shares(answered(prop, log))["ash"] == 1.0
    assert shares(answered(prop, log, "evening"))["ash"] == 0.5
    this_evening = (sat("ash", "2026-11-10", "evening"),)
    assert shares(answered(prop, this_evening, "evening"))["ash"] == 1.0


def test_each_of_several_sits_has_the_rest_of_its_own_day():
    scene, log = Scene(two_of_a_kind()), (sat("ash"),)
    answers = answers_in_winds(scene, NOV_10, "morning", ["S 8", "W 8"], log=log)
    assert [shares(a)["ash"] for a in answers] == [pytest.approx(1 / (1 + math.exp(-0.5)))] * 2
    sits = answers[0].sit.sits
    alone = dataclasses.replace(sits.take(np.array([True, False])), worked_out={})
    assert shares(answer_sits(alone)[0]) == shares(answers[0])


@pytest.mark.parametrize(
    ("date", "said"),
    [
        ("2026-11-09", "Sat yesterday."),
        ("2026-11-08", "Sat 2 days ago."),
        ("2026-10-31", "Rested 10 days."),
    ],
)
def test_how_rested_in_words(date, said):
    told = answered(two_of_a_kind(), (sat("ash", date),))
    assert {s.stand.id: rested_text(told.sit, s) for s in told.stands}["ash"] == said


def test_a_stand_that_only_shares_what_was_sat_says_so():
    told = answered(two_of_a_kind(), (sat("ash"),))
    assert "shares its bed, food or way" in rested_text(told.sit, told.best)


def test_what_stands_share():
    stands = tuple(
        Stand(id_, id_.title(), at(PIEDMONT, bearing, yards), range_yd=5.0)
        for id_, bearing, yards in (("a", 90, 30), ("b", 270, 30), ("c", 0, 900), ("d", 0, 950))
    )
    areas = (
        bed(PIEDMONT, 180, 300),
        bed(PIEDMONT, 0, 1200, "far"),
        food(PIEDMONT, 90, 100),
        food(PIEDMONT, 0, 1100, "beans"),
    )
    lanes = (lane(PIEDMONT, (0, 440), (0, 5), stands=("b", "c")),)
    found = shared_with(Scene(ground(stands=stands, areas=areas, lanes=lanes)))
    assert found["a"] == ("b", "cane", "clover")
    assert found["b"] == ("a", "c", "cane", "clover", "lane")
    assert found["c"] == ("b", "beans", "d", "far", "lane")
    assert found["d"] == ("beans", "c", "far")


def test_how_far_back_the_log_is_read():
    assert log_since(two_of_a_kind(), NOV_10) == NOV_10 - datetime.timedelta(days=60)
    slow = two_of_a_kind()
    slow = dataclasses.replace(slow, parts=(Part("rut", "11-01", "11-30", rest_days=30.0),))
    days = (NOV_10 - log_since(slow, NOV_10)).days
    assert math.exp(-days / 30.0) == pytest.approx(1e-4, rel=0.05)
