"""Closed hours may leave no minute of a sit: it is stay out, and says so."""

import dataclasses

import pytest

from core.answer.change import works_by_degree
from core.answer.one_sit import answer_sit
from core.ground.layout import Closed, Stand
from core.say.answer_lines import sit_lines
from core.say.as_json import sit_dict
from core.say.headline import head_of
from core.show.take_along.days import pocket_days
from core.sit.verdicts import CANT_CALL, STAY
from core.weather.entry import parse_wind
from tests.grounds import ALL_YEAR, PIEDMONT, bed, corridor, ground, sit_of, wind

SHUT = dataclasses.replace(ALL_YEAR, closed=(Closed(("Tue",), "00:00", "24:00"),))  # a Tuesday


@pytest.mark.parametrize("sit", ["morning", "evening", "all-day"])
def test_a_day_that_is_closed_whole(sit):
    closed = ground(
        seasons=(SHUT,),
        areas=(bed(PIEDMONT, 135, 230),),
        corridors=(corridor(PIEDMONT, (0, 300), (0, 15), (180, 300)),),
    )
    answer = answer_sit(sit_of(closed, wind(315, 10), sit))
    (own,) = answer.stands
    assert own.group == STAY
    assert own.causes[0] == "closed-hours"
    assert own.verdict == CANT_CALL  # no air to call wrong
    assert own.air_share == 0
    assert own.leave_by_s is None
    assert own.not_before_s is None
    assert not works_by_degree(answer.sit, own).any()
    assert sit_dict(answer)["stands"][0]["hours"] == []


CLOSED = "Closed hours leave no minute of this sit."


@pytest.mark.parametrize("sit", ["morning", "evening", "all-day"])
def test_nobody_is_told_to_leave_a_truck_for_closed_hours(sit):
    answer = answer_sit(sit_of(ground(seasons=(SHUT,)), parse_wind("NW 8"), sit))
    lines = sit_lines(answer, None, None)
    assert lines[0] == f"STAY OUT. {CLOSED}"
    assert lines[1].startswith("Legal light ")
    assert lines[2] == "Wind NW 8 mph: as you gave it, held for the whole sit."
    assert len(lines) == 3
    way_in, way_out = (sit_dict(answer)["stands"][0][way] for way in ("way_in", "way_out"))
    assert (way_in["leave_truck"], way_in["seated_by"], way_in["lane"]) == (None, None, None)
    assert way_out["lane"] is None
    told = sit_dict(answer)["stands"][0]["reasons"]
    assert told[0] == CLOSED
    assert not [reason for reason in told if "way" in reason]


def test_the_screen_and_the_page_for_the_pocket_say_the_same():
    sit = sit_of(ground(seasons=(SHUT,)), parse_wind("NW 8"))
    (own,) = answer_sit(sit).stands
    said = head_of(sit, own)
    assert (said.heading, said.summary) == ("Stay out", CLOSED)
    assert [what.split("\N{NO-BREAK SPACE}")[0] for _, what in said.times] == ["legal light"]
    assert said.wind == "NW 8 mph: as you gave it, held for the whole sit."
    assert said.spare == ""
    page = pocket_days(sit.scene, sit.weather, sit.clock.date, 1, 0.0)
    assert CLOSED in page and "no wind in this forecast" not in page


def test_a_hunter_who_sits_elsewhere_and_a_closed_stand_are_still_told():
    shut = ground(stand=Stand("oak", "Oak", PIEDMONT, closed=True), seasons=(SHUT,))
    sit = sit_of(shut, wind(315, 40))
    (own,) = answer_sit(sit, {"oak": "Nell"}).stands
    assert own.causes == ("closed-hours", "closed", "taken")  # no walk, no wind
