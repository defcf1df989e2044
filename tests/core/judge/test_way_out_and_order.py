"""A wrong way out caps a sit, near by it keeps out; shots come before watching (our rules)."""

import dataclasses

import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Person, SitRules, Stand, Wanted
from core.say.answer_lines import sit_lines
from core.say.as_json import sit_dict
from core.say.headline import head_of
from core.sit.verdicts import CLEAN, GO, JUST_OFF, STAY, WRONG
from tests.grounds import PIEDMONT, at, bed, corridor, ground, judged, lane, sit_of, wind

# in by the north; out to the south, an hour's walk, with a bed that is downwind of it there
IN_NORTH = lane(PIEDMONT, (0, 440), (0, 5), id_="in", way="in")
OUT_SOUTH = lane(PIEDMONT, (195, 640), (180, 5), id_="out", way="out", minutes=120.0)
DOWNWIND = bed(PIEDMONT, 200, 700.0, half_yd=40.0)


def walked_out(within_yd: float):
    prop = ground(lanes=(IN_NORTH, OUT_SOUTH), areas=(DOWNWIND,))
    rules = dataclasses.replace(prop.sit, out_stay_within_yd=within_yd)
    prop = dataclasses.replace(prop, sit=rules)
    return prop, judged(prop, wind(20.0))


def test_a_wrong_way_out_is_just_off_at_best_and_is_named():
    prop, own = walked_out(0.0)
    assert own.way_out.verdict[0] == WRONG and set(own.hours.verdict) == {CLEAN}
    assert (own.group, own.verdict, own.causes) == (GO, JUST_OFF, ())
    sit = sit_of(prop, wind(20.0))
    assert head_of(sit, own).summary.startswith(
        "Clean all morning. Your way out, Out, reaches Cane, like "
    )
    assert head_of(sit, own).trouble == ""  # the summary has it
    lines = sit_lines(answer_sit(sit), None, None)
    assert lines[0].startswith("GO: Oak (just-off). Your way out, Out, reaches Cane, like ")
    told = sit_dict(answer_sit(sit))["stands"][0]
    assert told["way_out"]["cap"] == "just-off"


@pytest.mark.parametrize(("share", "group"), [(0.99, GO), (1.01, STAY)])
def test_under_its_own_limit_a_wrong_way_out_alone_keeps_out(share, group):
    like_yd = float(walked_out(0.0)[1].way_out.equivalent_yd[0])
    _, own = walked_out(like_yd * share)
    assert own.group == group
    assert own.causes == (() if group == GO else ("way-out",))


def test_the_limit_is_a_hundred_yards_where_nothing_is_said():
    assert SitRules().out_stay_within_yd == 100.0


def seats(hunter_yd: float):
    """A seat best liked, its trail 25 yards off; another with a trail 10 yards off."""
    oak = Stand("oak", "Oak", PIEDMONT)
    elm = Stand("elm", "Elm", at(PIEDMONT, 90, 600))
    trails = (
        corridor(PIEDMONT, (0, 300), (0, 25), id_="far"),
        corridor(elm.at, (0, 300), (0, 10), id_="near"),
    )
    lanes = tuple(lane(s.at, (180, 440), (180, 5), id_=s.id, stands=(s.id,)) for s in (oak, elm))
    prop = ground(
        stands=(oak, elm), corridors=trails, lanes=lanes, people=(Person("Ada", hunter_yd),)
    )
    answer = answer_sit(sit_of(prop, wind(0.0), hunter="Ada"))
    return [s.stand.id for s in answer.stands], {s.stand.id: s.score for s in answer.stands}


def test_a_seat_to_watch_from_comes_after_one_with_a_shot_for_this_hunter():
    # with 30 yards both have a shot: of equals the name decides; with 20 the oak has none
    assert seats(30.0)[0] == ["elm", "oak"]
    order, score = seats(20.0)
    assert order == ["elm", "oak"]
    assert score["oak"] == pytest.approx(score["elm"] * 0.4 / 0.7)  # unset: 0.7, without a shot 0.4


@pytest.mark.parametrize(
    ("word", "order"), [("best", ["elm", "oak"]), ("good", ["elm", "oak"]), ("watch", None)]
)
def test_only_who_asks_for_watching_is_offered_it_before_a_shot(word, order):
    """The oak has clean air and neither trail nor food in range."""
    oak = Stand("oak", "Oak", PIEDMONT, wanted=Wanted(morning=word))
    elm = Stand("elm", "Elm", at(PIEDMONT, 90, 600), wanted=Wanted(morning="watch"))
    trail = corridor(elm.at, (0, 300), (0, 10), id_="near")
    lanes = tuple(lane(s.at, (0, 440), (0, 5), id_=s.id, stands=(s.id,)) for s in (oak, elm))
    prop = ground(stands=(oak, elm), corridors=(trail,), lanes=lanes)
    found = answer_sit(sit_of(prop, wind(0.0))).stands
    scores = {s.stand.id: s.score for s in found}
    by_score = sorted(scores, key=lambda name: (-scores[name], name))
    assert [s.stand.id for s in found] == (order or by_score)


def test_a_shot_outweighs_clean_air():
    # the oak's air is clean and it has no shot; the elm's is just-off by a bed far off
    oak = Stand("oak", "Oak", PIEDMONT)
    elm = Stand("elm", "Elm", at(PIEDMONT, 90, 600))
    trail = corridor(elm.at, (0, 300), (0, 10), id_="near")
    lanes = tuple(lane(s.at, (0, 440), (0, 5), id_=s.id, stands=(s.id,)) for s in (oak, elm))
    past = bed(elm.at, 180, 420.0, id_="gum")
    prop = ground(stands=(oak, elm), corridors=(trail,), lanes=lanes, areas=(past,))
    found = answer_sit(sit_of(prop, wind(0.0))).stands
    assert [(s.stand.id, s.group, s.verdict) for s in found] == [
        ("elm", GO, JUST_OFF),
        ("oak", GO, CLEAN),
    ]
