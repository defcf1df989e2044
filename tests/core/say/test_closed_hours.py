"""Closed hours of one weapon: said to the hunter with it, and to nobody else."""

import dataclasses

import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Closed, Season
from core.say.headline import head_of
from core.say.hunters.closed import closed_text
from tests.grounds import ground, sit_of, wind

BOW = Season("bow", "09-13", "01-04")
NOON = Closed(("Tue",), "09:30", "12:30")  # NOV_10 is a Tuesday
DAWN = Closed(("Tue",), "00:00", "07:30")


@pytest.mark.parametrize(
    ("closed", "said"),
    [
        (NOON, "Gun has closed hours, 9:30 am to 12:30 pm: the hunt ends when they begin."),
        (DAWN, "Gun has closed hours, 12:00 am to 7:30 am: nobody hunts before they end."),
    ],
)
def test_who_hunts_with_the_gun_is_told_and_the_bow_hunter_is_not(closed, said):
    gun = Season("gun", "11-01", "12-20", orange=True, closed=(closed,))
    prop = dataclasses.replace(ground(), seasons=(BOW, gun))
    own = sit_of(prop, wind(0), weapon="gun")
    assert closed_text(own) == said
    assert said in head_of(own, answer_sit(own).best, 0.0).orange
    bow = sit_of(prop, wind(0), weapon="bow")
    assert closed_text(bow) == "" and bow.clock.end_s > own.clock.end_s - 1
