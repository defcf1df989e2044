"""Settings: what is changed, what stays, and what is refused by name."""

import dataclasses

import pytest

from core.errors import BadProperty
from core.ground.drawing.setting_table import LIMITS, SETTINGS, stored, told
from core.ground.drawing.settings import (
    PEOPLE,
    SEASONS,
    WEAPONS,
    closed_told,
    closed_written,
    day_written,
    listed,
    value_of,
    with_item,
    with_range_everywhere,
    with_value,
)
from core.ground.layout import AirRules, CriticismLimits, SitRules
from core.ground.store import property_from_document
from tests.ground_files import document, stand

GROUND = document(
    stand("oak", 0, 0, ranges_yd={"Bow": 28}),
    people=[{"name": "Nell", "range_yd": 24, "boots": "rubber"}],
)


def test_every_setting_has_the_default_of_the_file_and_goes_back_to_it():
    groups = {"sit": SitRules(), "air": AirRules(), LIMITS: CriticismLimits()}
    for setting in SETTINGS:
        rules = groups[setting.group]
        assert getattr(rules, setting.name) == setting.default
        other = "09:45" if isinstance(setting.default, str) else setting.default * 0.9
        other = round(other) if setting.whole else other
        changed = with_value(GROUND, setting, other)
        assert value_of(changed, setting) == other
        assert getattr(getattr(property_from_document(changed), setting.group), setting.name) == (
            other
        )
        back = with_value(changed, setting, None)
        assert value_of(back, setting) == setting.default and value_of(GROUND, setting) != other


def test_every_number_of_the_rules_has_a_setting():
    """Nothing that sits, air or criticism are judged by can be changed in the file alone."""
    for name, rules in (("sit", SitRules()), ("air", AirRules()), (LIMITS, CriticismLimits())):
        on_screen = [s.name for s in SETTINGS if s.group == name]
        assert sorted(on_screen) == sorted(f.name for f in dataclasses.fields(rules))


def test_speeds_are_shown_in_miles_an_hour_and_the_default_stays_itself():
    """5.4 m/s are 12.1 mph; 2.5 knots, 1.3 m/s, are 2.9 mph (1 mph is 0.44704 m/s)."""
    by_name = {s.name: s for s in SETTINGS}
    fades = by_name["slope_fades_at_mps"]
    assert told(fades, 5.4) == "12.1" and stored(fades, 12.1) == 5.4
    assert stored(fades, 10.0) == pytest.approx(4.4704)
    assert told(by_name["cant_call_below_mps"], 1.3) == "2.9"
    assert stored(by_name["turn_min"], 15.0) == 15 and by_name["turn_min"].whole


def test_a_season_a_weapon_and_a_person_are_added_changed_and_taken_out():
    gun = {"weapon": "gun", "first": "11-21", "last": "01-01", "orange": True}
    both = with_item(GROUND, SEASONS, None, gun)
    assert [w["name"] for w in listed(both, WEAPONS)] == ["bow", "gun"]
    ranged = with_item(both, WEAPONS, 1, {"name": "gun", "range_yd": 100.0})
    assert property_from_document(ranged).weapons[1].range_yd == 100
    named = with_item(ranged, PEOPLE, 0, {"name": "Nell", "ranges_yd": {"gun": 90}})
    nell = property_from_document(named).people[0]
    assert (nell.range_yd, nell.ranges_yd) == (24, (("gun", 90.0),))
    assert named["property"]["people"][0]["boots"] == "rubber"  # what others wrote stays
    new = with_item(named, PEOPLE, None, {"name": "Tom", "range_yd": None})
    assert property_from_document(new).people[1].range_yd is None
    assert len(property_from_document(with_item(new, SEASONS, 0, None)).seasons) == 1


def test_a_weapon_is_renamed_wherever_it_stands_and_ranged_at_every_stand():
    named = with_item(GROUND, WEAPONS, 0, {"name": "longbow", "range_yd": 20.0})
    prop = property_from_document(named)
    assert prop.seasons[0].weapon == "longbow" and prop.stands[0].ranges_yd == (("longbow", 28.0),)
    every = property_from_document(with_range_everywhere(GROUND, "bow", 22.0))
    assert every.stands[0].ranges_yd == (("bow", 22.0),)


def test_what_no_file_may_hold_is_refused():
    with pytest.raises(BadProperty, match='"Nell" twice'):
        with_item(GROUND, PEOPLE, None, {"name": "Nell"})
    setting = next(s for s in SETTINGS if s.name == "walk_mph")
    with pytest.raises(BadProperty, match="walk_mph"):
        with_value(GROUND, setting, 90.0)


@pytest.mark.parametrize("text", ["9/13", "13 Sep", "Sept 13", "September 13th", "09-13"])
def test_days_as_people_write_them(text):
    assert day_written(text, "the first day") == "09-13"


def test_a_day_that_may_be_two_is_asked_and_one_that_is_none_is_refused():
    with pytest.raises(BadProperty, match="either of two days"):
        day_written("9/10", "the first day")
    assert [day_written("9/10", "a day", first) for first in (True, False)] == ["09-10", "10-09"]
    with pytest.raises(BadProperty, match="no day of the year"):
        day_written("13/45", "the first day")


def test_closed_hours_as_typed_and_told():
    closed = closed_written("Sun 9:30-12:30\nsaturday, Sun 00:00-12:00\n")
    assert closed_told(closed) == "Sun 09:30-12:30\nSat Sun 00:00-12:00"
    with pytest.raises(BadProperty, match="no line of closed hours"):
        closed_written("Sundays till noon")
