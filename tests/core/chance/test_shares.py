"""Chances through the engine: the draws of a sit, their shares, the order, plan B, the words."""

import dataclasses
import datetime
from types import SimpleNamespace

import numpy as np
import pytest
from scipy import stats

from core.answer.chances import Chances, Misses
from core.answer.one_sit import answer_sit, answer_sits
from core.chance.draws import drawn_sits
from core.chance.examples import that_stay_out
from core.chance.law import DRAWS, drawn_winds, spread_of
from core.chance.misses import moved, usual_misses
from core.chance.plan_b import plan_b
from core.chance.shares import TOO_FAR, TYPED, lead_h, with_chances
from core.chance.tenths import standing
from core.ground.store import open_property
from core.judge.stand import DECIDING, RULED_OUT, stand_sits
from core.judge.stand_rows import StandRows
from core.say.above import above_text
from core.say.as_json import sit_dict
from core.say.chance import words
from core.say.chance.words import (
    TOSS_UP,
    between_text,
    chance_text,
    how_many,
    law_text,
    plan_text,
    short_text,
)
from core.say.headline import head_of
from core.sit.clock import clocks
from core.sit.dates import dates_on
from core.sit.prepare import FORMULA, prepare_sit, prepare_sits
from core.sit.scene import Scene
from core.sit.verdicts import CANT, GO, STAY
from core.units import SECONDS_PER_HOUR
from core.weather.entry import parse_wind
from core.weather.hours import CALM, DIRECTED, VARIABLE, make_hours
from tests.few_stands import few_stands_file
from tests.grounds import NOV_10

STANDS = (
    *("plum-edge", "line-oak", "hay-tripod", "spring"),
    *("pine-corner", "three-ash", "saddle-stand"),
)
MADE_S = 1_794_200_400  # some hours before the first row: 9 Nov 2026, by the demo's clock


def forecast(from_deg=300.0, speed_mps=3.0, days=4, **columns):
    n = days * 24
    return make_hours(
        start_s=MADE_S // 3600 * 3600 + 3600 * np.arange(n),
        wind_from_deg=from_deg,
        half_width_deg=5.0,
        speed_mps=speed_mps,
        cloud_frac=0.3,
        format="nws-gridpoint",
        updated_s=MADE_S,
        **columns,
    )


@pytest.fixture(scope="module")
def scene():
    """The demo with half of its stands."""
    return Scene(open_property(few_stands_file(STANDS)).property)


def sits_of(scene, weather, sit="morning", days=1):
    dates = [NOV_10 + datetime.timedelta(days=i) for i in range(days)]
    clock = clocks(scene.ground, dates_on(scene.ground, dates), sit)
    return prepare_sits(scene, weather, clock)


@pytest.fixture(scope="module")
def told(scene):
    """The demo on a morning of a light northwest wind, with its chances."""
    answers = answer_sits(sits_of(scene, forecast(speed_mps=2.6)))
    return with_chances(answers, MADE_S)[0]


def test_draws_keep_what_is_not_drawn(scene):
    state = np.where(np.arange(96) % 24 == 8, VARIABLE, DIRECTED)  # 8 am
    weather = forecast(state=state, gust_mps=7.0)
    drawn = drawn_sits(sits_of(scene, weather), MADE_S, Misses(1.0))
    hours = drawn.found.hours.weather
    assert len(drawn) == DRAWS
    assert set(np.unique(hours.state)) <= {DIRECTED, CALM, VARIABLE}
    moving = hours.state == DIRECTED
    assert (hours.half_width_deg[moving] == 5.0).all()
    assert (hours.gust_mps == 7.0).all() and (hours.cloud_frac == 0.3).all()
    was = np.tile(sits_of(scene, weather).found.hours.weather.state == VARIABLE, DRAWS)
    assert ((hours.state == VARIABLE) == was).all() and was.any()


def test_kept_tables_judge_as_the_formula_does(scene):
    drawn = drawn_sits(sits_of(scene, forecast(speed_mps=2.6)), MADE_S, Misses(1.0))
    by_formula = dataclasses.replace(drawn, strengths=FORMULA, worked_out={}, of_anyone={})
    off = []
    for stand in scene.ground.stands[::3]:
        quick, slow = (stand_sits(s, stand, walks=DECIDING).group for s in (drawn, by_formula))
        off.append(abs((quick == GO).mean() - (slow == GO).mean()))
    # directions to 5 degrees and few speeds: our own bound, a fifth of a draw's own error
    assert np.mean(off) < 0.01 and max(off) < 0.03


def test_what_is_left_unasked_of_a_lost_sit_changes_nothing(scene, monkeypatch):
    drawn = drawn_sits(sits_of(scene, forecast(speed_mps=2.6)), MADE_S, Misses(1.0))
    quick = [stand_sits(drawn, s, walks=DECIDING) for s in scene.ground.stands]
    none = property(lambda own: np.zeros(len(own.kind), bool))
    monkeypatch.setattr(StandRows, "decides_alone", none)
    for own in quick:
        whole = stand_sits(drawn, own.stand, walks=DECIDING)
        assert (own.group == whole.group).all() and (own.verdict == whole.verdict).all()
    assert any((own.group == STAY).any() for own in quick)


def test_the_walk_in_is_in_the_draws(scene):
    drawn = drawn_sits(sits_of(scene, forecast(from_deg=80.0, speed_mps=2.6)), MADE_S, Misses(1.0))
    stands = scene.ground.stands
    with_walks = [stand_sits(drawn, s, walks=DECIDING).group == GO for s in stands]
    without = [stand_sits(drawn, s, walks=2).group == GO for s in stands]
    assert all((a <= b).all() for a, b in zip(with_walks, without, strict=True))
    assert any((a < b).any() for a, b in zip(with_walks, without, strict=True))


def test_the_same_bytes_and_one_sit_as_among_several(scene, told):
    again = with_chances(answer_sits(sits_of(scene, forecast(speed_mps=2.6), days=2)), MADE_S)[0]
    fresh = Scene(scene.ground)
    other = with_chances([answer_sit(sits_of(fresh, forecast(speed_mps=2.6)).one(0))], MADE_S)[0]
    for found in (again, other):
        assert found.order == told.order
        for name, groups in told.chances.groups.items():
            assert found.chances.groups[name].tobytes() == groups.tobytes()


def test_groups_stay_and_inside_go_those_that_hold_come_first(scene, told):
    plain = answer_sits(sits_of(scene, forecast(speed_mps=2.6)))[0]
    assert {s.stand.id: (s.group, s.verdict) for s in told.stands} == {
        s.stand.id: (s.group, s.verdict) for s in plain.stands
    }
    rank = {"holds": 0, "may hold": 1, "toss-up": 2}
    go = [s for s in told.stands if s.group == GO and s.wanted != "watch"]
    standings = [rank[standing(told.chances.shares(s.stand.id)[0])] for s in go]
    assert len(set(standings)) > 1 and standings == sorted(standings)
    assert [s.group for s in told.stands] == sorted(s.group for s in told.stands)
    others = [s.stand.id for s in told.stands if s.group != GO]
    assert others == [s.stand.id for s in plain.stands if s.group != GO]


def test_a_law_without_errors_makes_it_sure(scene):
    answers = answer_sits(sits_of(scene, forecast(speed_mps=6.0)))
    found = with_chances(answers, MADE_S, Misses(1e-9))[0]
    shares = np.array([found.chances.shares(s) for s in found.chances.groups])
    assert ((shares == 0.0) | (shares == 1.0)).all()


def test_larger_misses_make_go_less_likely(scene):
    answers = answer_sits(sits_of(scene, forecast(speed_mps=5.0)))
    best = answers[0].best.stand.id
    usual, twice = (with_chances(answers, MADE_S, Misses(q))[0].chances for q in (1.0, 2.0))
    assert twice.shares(best)[0] < usual.shares(best)[0]


def test_what_has_no_chance_says_why(scene):
    plain = answer_sits(sits_of(scene, forecast(), days=2))  # at 30 and 54 hours
    far = with_chances(plain, MADE_S)
    assert [a.chances.none for a in far] == ["", TOO_FAR]
    assert far[1].order == plain[1].order
    typed = with_chances([answer_sit(prepare_sit(scene, parse_wind("NW 8"), NOV_10, "morning"))], 0)
    assert typed[0].chances.none == TYPED
    rows = sit_dict(typed[0])
    assert rows["stands"][0]["chance"] is None and rows["stands"][0]["chance_reason"] == TYPED
    assert rows["plan_b"] is None


def test_stands_that_are_out_whatever_the_wind_have_none(told):
    out = [own.stand.id for own in told.judged if own.any_of(RULED_OUT)[0]]
    assert out and not set(out) & set(told.chances.groups)
    rows = {row["id"]: row for row in sit_dict(told)["stands"]}
    assert rows[out[0]]["chance"] is None and rows[out[0]]["chance_reason"]


def test_json_has_the_shares_in_tenths(told):
    chance = sit_dict(told)["chance"]
    assert chance == sit_dict(told)["stands"][0]["chance"]
    assert sum(chance["of_ten"]) == 10 and chance["draws"] == DRAWS
    assert chance["source"] == "sampled" and chance["q"] == 1.0
    start_s = told.sit.clock.start_s
    assert chance["lead_h"] == round((start_s - MADE_S) / SECONDS_PER_HOUR)
    assert lead_h(told, MADE_S + 9999) == pytest.approx((start_s - MADE_S) / SECONDS_PER_HOUR)


# --- plan B and the words, from groups made by hand ---


def by_hand(told, **groups):
    """The answer with chances of ten draws each, for stands by their place in the order."""
    names = [told.judged[k].stand.id for k in told.order]
    made = {names[int(k[1:])]: np.array(g, np.int8) for k, g in groups.items()}
    chances = Chances(
        groups=made,
        verdicts=made,
        wind_from_deg=np.full(10, 300.0),
        slowest_mps=np.full(10, 0.5),
        drawn=told.chances.drawn,
    )
    return dataclasses.replace(told, chances=chances, _read={})


SIX = [GO] * 6 + [CANT] * 1 + [STAY] * 3


def test_plan_b_is_the_stand_that_covers_most_of_what_is_left(told):
    # the second goes in 3 of the 4 that the first leaves; the third in more, but the same ones
    found = by_hand(told, s0=SIX, s1=[STAY] * 6 + [GO] * 3 + [STAY], s2=[GO] * 8 + [STAY] * 2)
    plan = plan_b(found)
    assert (plan.at, plan.left, plan.covers) == (told.order[1], 4, 3)
    name = told.judged[told.order[1]].stand.name
    text = plan_text(found)
    assert text.startswith("If the wind at the truck is not between ")
    assert text.endswith(f"go to {name}: it covers 3 of the other 4.")
    assert plan_b(by_hand(told, s0=SIX, s1=[GO] * 6 + [STAY] * 4)) is None
    whole = by_hand(told, s0=SIX, s1=[STAY] * 6 + [GO] * 4)
    assert plan_text(whole).endswith("it covers all of the other 4.")


def test_the_honest_sentence(told):
    found = by_hand(told, s0=[GO] * 7 + [CANT] * 2 + [STAY])
    text = chance_text(found, found.best)
    assert text.startswith(
        "Holds in about 7 of 10: the wind stays right for the whole sit. In 2 it falls too "
        "light to call; in 1 "
    )
    assert short_text(found.chances, found.best) == "may hold: about 7 of 10"
    assert "%" not in text


def test_the_pick_says_that_it_is_likelier_to_hold(told):
    found = by_hand(told, s0=[GO] * 8 + [STAY] * 2, s1=SIX)
    assert above_text(found) == f"Above {found.at(1).stand.name}: it is likelier to hold."


def test_a_toss_up_is_told_in_the_heading(told):
    found = by_hand(told, s0=[GO] * 4 + [CANT] * 3 + [STAY] * 3)
    head = head_of(found.sit, found.best, None, found.chances)
    assert head.title == TOSS_UP and head.group == GO
    assert chance_text(found, found.best).startswith("Can't say yet: decide at the truck. It ")
    assert head_of(found.sit, found.best, None).title == "GO"


def test_what_is_no_go_but_goes_in_half_says_so(told):
    rank = next(i for i, s in enumerate(told.stands) if s.group == STAY)
    found = by_hand(told, s0=SIX, **{f"s{rank}": [GO] * 6 + [STAY] * 4})
    seat = found.at(rank)
    assert short_text(found.chances, seat) == "but go in about 6 of 10"
    assert chance_text(found, seat).startswith("Not go as forecast, but go in about 6 of 10.")


def test_what_goes_wrong_is_judged_by_the_formula(told):
    stand = next(s.stand for s in told.stands if s.group == GO)
    found = that_stay_out(told.chances, stand)
    assert found and all(own.group == STAY for _, own in found)


def test_words_of_the_ends_and_of_the_limits():
    assert [how_many(n) for n in (0, 5, 9, 10)] == [
        "hardly ever",
        "about 5 of 10",
        "9 of 10 or better",
        "9 of 10 or better",
    ]
    assert between_text(270, 315) == "between W and NW"
    assert between_text(350, 10) == "about N"
    said = law_text(Chances(wind_from_deg=np.zeros(1)))
    assert "three winter days in northern Europe" in said and "not deer" in said
    for q, far in ((1.0, "about as far as there"), (1.4, "1.4 times as far as there")):
        moved_text = law_text(Chances(wind_from_deg=np.zeros(1), misses=Misses(q, 80)))
        assert f"Moved by 80 hours of your own: here they miss {far}." in moved_text
    for heights, straight in ((None, False), ("some", True)):
        drawn = SimpleNamespace(scene=SimpleNamespace(heights=heights))
        text = law_text(Chances(wind_from_deg=np.zeros(1), drawn=drawn))
        assert ("slope air straight" in text) == straight
    most = law_text(Chances(wind_from_deg=np.zeros(1), misses=Misses(2.5, 80)))
    assert "2.5 times as far as there or further" in most


def test_what_goes_wrong_is_told_as_mixed_as_it_is(told, monkeypatch):
    air, hard = "your air reaches", "it blows too hard"
    found = by_hand(told, s0=[GO] * 6 + [STAY] * 4)

    def said(*causes):
        left = list(causes)
        monkeypatch.setattr(
            words, "that_stay_out", lambda *_: [(found.sit, found.best)] * len(left)
        )
        monkeypatch.setattr(words, "reasons", lambda *_: ())
        monkeypatch.setattr(words, "_cause", lambda *_: left.pop())
        return words.stay_text(found.chances, found.best)

    assert said((air, "Cane"), (air, "Cane")) == "your air reaches Cane"
    assert said((air, "Cane"), (air, "Oats"), (air, "Cane"), (hard, "")) == (
        "your air reaches Cane or another place, or it blows too hard"
    )
    # one of five is not many
    assert said(*[(air, "Cane")] * 4, (hard, "")) == "your air reaches Cane"
    assert said() == "it goes wrong"


def test_the_law_s_quantiles_within_the_exact_binomial():
    # the drawn cross part of one hour against Student's t, by the exact interval of 400 draws
    drawn = drawn_winds([0.0], [4.0], [0.0], [12.0])
    cross = drawn.speed_mps[:, 0] * np.sin(np.radians(drawn.wind_from_deg[:, 0]))
    scaled = cross / float(spread_of(4.0, 12.0).cross_mps)
    for share in (0.1, 0.25, 0.5, 0.75, 0.9):
        low, high = stats.binom(DRAWS, share).interval(0.99)
        assert low <= (scaled < stats.t(4).ppf(share)).sum() <= high


# --- how far forecasts miss here ---


def test_the_usual_is_by_source_and_by_the_owner(scene):
    service, other = forecast(), dataclasses.replace(forecast(), format="open-meteo")
    assert usual_misses(service, scene.ground) == Misses(1.0)
    assert usual_misses(other, scene.ground) == Misses(1.2)
    air = dataclasses.replace(scene.ground.air, forecast_miss_times=1.5)
    twice = dataclasses.replace(scene.ground, air=air)
    assert usual_misses(service, twice) == Misses(1.5)


def test_own_pairs_move_it_by_the_median():
    one = 0.741 * float(spread_of(4.0, 12.0).cross_mps)  # where q is 1
    speed, lead = np.full(100, 4.0), np.full(100, 12.0)
    cross = np.where(np.arange(100) % 2, 2.0, -2.0) * one
    # sqrt((100 x 1 + 100 x 4) / 200)
    assert moved(Misses(1.0), cross, speed, lead).q == pytest.approx(np.sqrt(2.5))
    assert moved(Misses(1.0), cross, speed, lead).pairs == 100
    assert moved(Misses(1.0), cross[:49], speed[:49], lead[:49]) == Misses(1.0)
    light = np.full(100, 1.9)
    assert moved(Misses(1.0), cross, light, lead) == Misses(1.0)
    assert moved(Misses(1.0), 50 * cross, speed, lead).q == 2.5
    assert moved(Misses(0.5), 0 * cross, speed, lead).q == 0.7
