"""A pick beside the best: right or not, why, hour by hour, and the wind that would do."""

import dataclasses
import datetime

import pytest

from core.errors import BadRequest
from core.ground.layout import Stand
from core.learn import tally
from core.learn.pick_one import Pick, best_of, judge_pick, right_wind_sentence
from core.learn.second_hunter import apart_line, other_hunter_line, too_near, unsafe_beside
from core.learn.situations import Situation
from core.sit.minutes import MORNING
from core.sit.scene import Scene
from tests.grounds import NOV_10, PIEDMONT, at, bed, corridor, ground, lane, sit_of, wind

EAST = at(PIEDMONT, 90, 700)


def two_stands(**more):
    """Oak has a bed to its south-east; Elm, 700 yards east, has none near."""
    features = {
        "stands": (Stand("oak", "Oak", PIEDMONT), Stand("elm", "Elm", EAST)),
        "lanes": (
            lane(PIEDMONT, (0, 440), (0, 5), id_="north-lane", stands=("oak",)),
            lane(EAST, (0, 440), (0, 5), id_="east-lane", stands=("elm",)),
        ),
        "areas": (bed(PIEDMONT, 135, 230),),
        **more,
    }
    return ground(**features)


def situation(ground_, weather, taken=None, sit=MORNING, date=NOV_10) -> Situation:
    ready = sit_of(ground_, weather, sit, date)
    return Situation(1, date, sit, date, weather, ready, taken or {})


def test_the_best_is_right():
    found = situation(two_stands(), wind(315, 10))
    told = judge_pick(found, Pick("elm", "east-lane"))
    assert best_of(found).stand.id == "elm"
    assert told.right
    assert told.headline == "Right. Elm comes first."
    assert told.missed == ()
    assert told.lines[0].startswith("From Elm on a north-west wind your air goes south-east")


def test_a_wrong_wind_is_a_miss_of_the_sit():
    found = situation(two_stands(), wind(315, 10))
    told = judge_pick(found, Pick("oak", "north-lane"))
    assert not told.right
    assert told.headline == "No. Elm comes first."
    assert tally.SIT in told.missed
    assert told.lines[0].startswith("From Oak on a north-west wind your air goes south-east, over")
    assert told.lines[1].startswith("Best: From Elm")
    assert told.lines[-1].startswith("Oak is right on winds from ")
    assert "The nearest is " in told.lines[-1]


def test_the_nearest_wind_that_works_is_on_the_ruler_of_degrees():
    """The bed lies south-east of Oak; the words name a wind that does not blow onto it."""
    found = situation(two_stands(), wind(315, 10))
    own = next(s for s in found.answer.stands if s.stand.id == "oak")
    said = right_wind_sentence(found.ready, own)
    turn = int(said.rsplit(", ", 1)[1].split("°")[0])
    assert 0 < turn < 90
    assert said.endswith("° from this one.")


def test_every_hour_stands_beside_the_best():
    found = situation(two_stands(), wind(315, 10))
    hours = judge_pick(found, Pick("oak", "north-lane")).hours
    assert len(hours) == len(found.ready.clock.row_start_s)
    assert [h.wind for h in hours] == ["NW 10 mph"] * len(hours)
    assert [h.best for h in hours] == [0] * len(hours)
    assert hours[0].pick == 3
    assert hours[1].time == "7:00 am"


def test_staying_out_on_a_good_day_is_a_miss():
    found = situation(two_stands(), wind(315, 10))
    told = judge_pick(found, Pick(None))
    assert not told.right
    assert told.headline == "Elm was go."
    assert told.missed == (tally.STAYED,)
    assert {h.pick for h in told.hours} == {None}


def test_staying_out_is_right_where_none_is_go():
    beds = tuple(bed(x, 135, 150, id_) for x, id_ in ((PIEDMONT, "cane"), (EAST, "gum")))
    found = situation(two_stands(areas=beds), wind(None, 0))
    assert best_of(found) is None
    told = judge_pick(found, Pick(None))
    assert told.right
    assert told.headline == "Right: stay out. No stand is go."
    assert told.missed == ()
    going = judge_pick(found, Pick("elm", "east-lane"))
    assert not going.right
    assert going.headline == "No: stay out. Elm is not go, and no other stand is."
    assert going.missed == (tally.CALM,)


def test_a_wrong_way_in_to_the_right_stand():
    """Two ways to Elm; the one through the bed's lee takes two hours."""
    lanes = (
        lane(EAST, (0, 440), (0, 5), id_="east-lane", stands=("elm",)),
        lane(
            EAST, (300, 300), (285, 200), (270, 5), id_="long-lane", stands=("elm",), minutes=240.0
        ),
    )
    bad = bed(at(EAST, 300, 250), 135, 60, id_="briar")
    found = situation(two_stands(lanes=lanes, areas=(bad,)), wind(315, 6))
    told = judge_pick(found, Pick("elm", "long-lane"))
    good = judge_pick(found, Pick("elm", "east-lane"))
    assert tally.WAY_IN in told.missed
    assert tally.WAY_IN not in good.missed
    assert any(line.startswith("Your way in, Long-Lane, is ") for line in told.lines)
    assert any(line.startswith("The better way in, East-Lane, is ") for line in told.lines)


def test_a_way_in_of_wrong_wind_spoils_the_right_stand():
    """An hour's walk just upwind of a bed that lies far to the side of the seat."""
    lanes = (
        lane(EAST, (270, 440), (270, 5), id_="long-lane", stands=("elm",), minutes=60.0),
        lane(EAST, (90, 300), (90, 5), id_="short-lane", stands=("elm",)),
    )
    beds = (bed(at(EAST, 270, 320), 0, 130, half_yd=90.0),)
    stands = (Stand("elm", "Elm", EAST),)
    found = situation(two_stands(stands=stands, lanes=lanes, areas=beds), wind(180, 8))
    assert judge_pick(found, Pick("elm", "short-lane")).right
    told = judge_pick(found, Pick("elm", "long-lane"))
    assert not told.right
    assert told.missed == (tally.WAY_IN,)
    assert told.headline == "The right stand by the wrong way in. Elm comes first."
    assert "Your way in, Long-Lane, is wrong wind: Cane like " in told.lines[1]


def test_no_way_in_drawn_is_a_miss_of_the_way_in():
    found = situation(two_stands(lanes=()), wind(315, 10))
    told = judge_pick(found, Pick("elm"))
    assert told.missed == (tally.WAY_IN,)
    assert not told.right


def test_a_trail_in_wrong_air_is_a_miss_beside_a_clean_stand():
    trail = corridor(EAST, (180, 300), (180, 15), (0, 300), id_="race")
    stands = (Stand("oak", "Oak", PIEDMONT), Stand("elm", "Elm", EAST))
    free = corridor(EAST, (0, 300), (0, 15), (180, 300), id_="free")
    oaks = corridor(PIEDMONT, (0, 300), (0, 15), (180, 300), id_="oaks")
    on_food_end = two_stands(stands=stands, areas=(), corridors=(trail, free, oaks))
    found = situation(on_food_end, wind(180, 10))
    told = judge_pick(found, Pick("elm", "east-lane"))
    assert best_of(found).stand.id == "oak"
    assert told.right, "just-off is go"
    assert told.missed == (tally.TRAIL,)
    assert "It also lies on Race before the shot." in told.lines[0]
    assert told.headline == ("Elm is go too. Oak comes first: it is clean, this one just-off.")


@pytest.mark.parametrize(
    "change", [{"closed": True}, {"max_gust_mph": 20.0}], ids=["closed", "gusts"]
)
def test_a_seat_that_is_not_safe(change):
    stands = (Stand("oak", "Oak", PIEDMONT), Stand("elm", "Elm", EAST, **change))
    found = situation(two_stands(stands=stands), wind(90, 10, gust_mps=13.0))
    told = judge_pick(found, Pick("elm", "east-lane"))
    assert not told.right
    assert told.missed == (tally.SAFETY,)
    assert told.headline == "No. Oak comes first."


def test_outside_the_season_is_not_safe_to_say_go():
    found = situation(two_stands(), wind(90, 10))
    season = dataclasses.replace(found.ready.scene.ground.seasons[0], first="01-01", last="02-01")
    shut = dataclasses.replace(found.ready.scene.ground, seasons=(season,))
    told = judge_pick(situation(shut, wind(90, 10)), Pick("elm", "east-lane"))
    assert tally.SAFETY in told.missed
    assert told.lines[0] == "Elm: Outside every season of this property."


def test_a_seat_too_near_the_other_hunter():
    """150 yards, common practice: one stand at 149 and one at 151 yards from the taken one."""
    near, far = at(PIEDMONT, 90, 149), at(PIEDMONT, 270, 151)
    stands = (Stand("oak", "Oak", PIEDMONT), Stand("elm", "Elm", near), Stand("ash", "Ash", far))
    lanes = (lane(PIEDMONT, (0, 440), (0, 5), stands=("oak", "elm", "ash")),)
    found = situation(
        two_stands(stands=stands, lanes=lanes, areas=()), wind(0, 10), {"oak": "A second hunter"}
    )
    assert too_near(found, "elm")
    assert not too_near(found, "ash")
    assert best_of(found).stand.id == "ash"
    told = judge_pick(found, Pick("elm"))
    assert not told.right
    assert told.missed == (tally.SAFETY,)
    assert "Elm is within 150 yards of the hunter at Oak: too near (common practice)." in told.lines
    assert judge_pick(found, Pick("ash")).right
    assert other_hunter_line(found) == (
        "Suppose a second hunter sits at Oak. No shot toward Oak, whatever stands there."
    )
    assert apart_line(found, "ash") == "Oak is 151 yards east of you: no shot that way."
    taken = judge_pick(found, Pick("oak"))
    assert taken.missed == (tally.SAFETY,)
    assert taken.lines[0] == "Oak: A second hunter sits here."


def test_a_seat_in_line_with_a_shot():
    """Oak's shot is to a trail 20 yards to its west; Elm sits 200 yards on, in that line."""
    trail = corridor(PIEDMONT, (315, 60), (270, 20), (225, 60), id_="race")
    stands = (
        Stand("oak", "Oak", PIEDMONT),
        Stand("elm", "Elm", at(PIEDMONT, 270, 200)),
        Stand("ash", "Ash", at(PIEDMONT, 180, 200)),
    )
    lanes = (lane(PIEDMONT, (0, 440), (0, 5), stands=("oak", "elm", "ash")),)
    out = two_stands(stands=stands, lanes=lanes, areas=(), corridors=(trail,))
    found = situation(out, wind(0, 10), {"oak": "A second hunter"})
    seats = {s.stand.id: s for s in found.answer.stands}
    assert not too_near(found, "elm")
    assert unsafe_beside(found, seats["elm"])
    assert not unsafe_beside(found, seats["ash"])
    assert best_of(found).stand.id == "ash"
    told = judge_pick(found, Pick("elm"))
    assert not told.right
    assert tally.SAFETY in told.missed
    assert any(line.startswith("In line: ") for line in told.lines)


def test_alone_there_is_no_line_on_others():
    found = situation(two_stands(), wind(315, 10))
    assert other_hunter_line(found) == ""
    assert apart_line(found, "oak") == ""


@pytest.mark.parametrize(
    ("pick", "seen"),
    [(Pick("fir"), "'fir'"), (Pick("elm", "north-lane"), "'north-lane' does not lead to Elm")],
)
def test_a_pick_that_is_not_there_is_refused(pick, seen):
    found = situation(two_stands(), wind(315, 10))
    with pytest.raises(BadRequest, match=seen):
        judge_pick(found, pick)


def test_a_stand_that_no_wind_helps():
    stands = (Stand("oak", "Oak", PIEDMONT),)
    low = two_stands(
        stands=(dataclasses.replace(stands[0], lies="bottom"),), areas=(bed(PIEDMONT, 135, 150),)
    )
    found = situation(low, wind(315, 5))
    own = found.answer.stands[0]
    assert right_wind_sentence(found.ready, own).startswith(
        "At this speed no wind makes Oak right: can't call from "
    )


def test_a_stand_that_every_wind_suits():
    found = situation(two_stands(areas=()), wind(315, 10))
    own = found.answer.stands[0]
    assert right_wind_sentence(found.ready, own) == (
        f"{own.stand.name} is right on any wind at this speed."
    )


def test_the_scene_is_that_of_the_property():
    found = situation(two_stands(), wind(315, 10))
    assert isinstance(found.ready.scene, Scene)
    assert found.date == datetime.date(2026, 11, 10)
