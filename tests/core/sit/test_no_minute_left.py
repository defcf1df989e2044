"""Closed hours may leave no minute of a sit: it is stay out, and says so."""

import dataclasses

import pytest

from core.answer.change import works_by_degree
from core.answer.one_sit import answer_sit
from core.ground.layout import Closed
from core.say.answer_lines import sit_lines
from core.say.as_json import sit_report
from core.sit.verdicts import STAY
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
    assert own.air_share == 0
    assert own.leave_by_s is None
    assert own.not_before_s is None
    assert not works_by_degree(answer.sit, own).any()
    assert "Closed hours leave no minute of this sit." in sit_lines(answer, None, None)[0]
    assert sit_report(answer)["stands"][0]["hours"] == []
