"""Weapons, overlapping seasons and ranges: which rule holds, whose range counts, orange.

Expected values are those of the rules as they are written, worked out by hand.
"""

import dataclasses
import datetime

import pytest

from core.answer.coming import next_sits
from core.answer.one_sit import answer_sit
from core.answer.other_winds import other_winds
from core.errors import BadProperty
from core.ground.hunters import range_yd
from core.ground.layout import Closed, Person, Season, Stand, Weapon
from core.ground.store import property_from_document
from core.say.answer_lines import sit_lines
from core.say.as_json import sit_dict
from core.say.headline import head_of
from core.say.hunters.orange import orange_text, which_weapon_text
from core.season.visor import visor_rows
from core.sit.dates import orange_for, season_on, weapons_on
from core.sit.scene import Scene
from tests.ground_files import document, stand
from tests.grounds import PIEDMONT, at, corridor, ground, hourly, lane, sit_of, wind

BOW = Season("bow", "09-13", "01-04", checked_on="2026-08-01")
GUN = Season("gun", "11-21", "01-01", orange=True, checked_on="2026-08-01")
NOV_27 = datetime.date(2026, 11, 27)


def both(**more):
    return ground(seasons=(BOW, GUN), **more)


@pytest.mark.parametrize(
    ("day", "weapons", "orange"),
    [
        ("2026-11-20", ["bow"], []),
        ("2026-11-21", ["bow", "gun"], ["gun"]),
        ("2027-01-01", ["bow", "gun"], ["gun"]),
        ("2027-01-02", ["bow"], []),
        ("2027-01-05", [], []),
    ],
)
def test_overlapping_seasons_over_the_new_year(day, weapons, orange):
    date = datetime.date.fromisoformat(day)
    assert (weapons_on(both(), date), orange_for(both(), date)) == (weapons, orange)


def test_orange_is_said_to_the_bow_hunter_too():
    sit = sit_of(both(), wind(0), date=NOV_27)
    answer = answer_sit(sit)
    assert sit.clock.season == BOW
    said = head_of(sit, answer.best).orange
    assert "Wear orange, with the bow too" in said and "drag" in said and "gun season" in said
    assert said in sit_lines(answer, None, None)
    report = sit_dict(answer)
    assert (report["weapon"], report["orange"]) == ("bow", True)
    mine = sit_of(both(), wind(0), date=NOV_27, weapon="gun")
    assert "with the" not in orange_text(mine)
    before = sit_dict(answer_sit(sit_of(both(), wind(0), date=datetime.date(2026, 11, 10))))
    assert (before["weapon"], before["orange"]) == ("bow", False)
    assert "This answer is for bow" in which_weapon_text(both(), NOV_27, "bow")


def test_closed_hours_of_one_weapon_close_nothing_for_another():
    shut = dataclasses.replace(GUN, closed=(Closed(("Fri",), "06:00", "12:00"),))
    prop = ground(seasons=(BOW, shut))
    assert sit_of(prop, wind(0), date=NOV_27).clock.start_s is not None
    assert sit_of(prop, wind(0), date=NOV_27, weapon="gun").clock.start_s is None
    assert season_on(prop, NOV_27, "GUN") == shut


@pytest.mark.parametrize(
    ("own", "weapon", "person", "at_stand", "yards"),
    [
        (None, None, None, {}, 30),  # the stand's own
        (25.0, None, None, {}, 25),
        (25.0, 20.0, None, {}, 20),
        (25.0, 20.0, Person("Nell", 15.0), {}, 15),
        (25.0, 20.0, Person("Nell", None), {}, 20),  # a hunter without a range
        (25.0, 20.0, Person("Nell", 15.0, ranges_yd=(("bow", 28.0),)), {}, 20),
        (40.0, 50.0, Person("Nell", 15.0, ranges_yd=(("Gun", 90.0),)), {}, 15),
        (40.0, 50.0, Person("Nell", None, ranges_yd=(("gun", 9.0),)), {"bow": 60.0}, 50),
    ],
)
def test_the_smallest_of_persons_weapons_and_stands_ranges(own, weapon, person, at_stand, yards):
    oak = Stand("oak", "Oak", PIEDMONT, ranges_yd=tuple(at_stand.items()))
    if own is not None:
        oak = dataclasses.replace(oak, range_yd=own)
    prop = both(stand=oak, weapons=(Weapon("Bow", weapon), Weapon("gun", 100.0)))
    assert range_yd(prop, oak, person, "bow") == yards


def test_a_trail_in_range_of_the_gun_and_not_of_the_bow():
    oak = Stand("oak", "Oak", PIEDMONT, ranges_yd=(("gun", 120.0),))
    trail = corridor(PIEDMONT, (45, 300), (90, 80), (135, 300))
    prop = both(stand=oak, corridors=(trail,), people=(Person("Nell", None),))
    bow = answer_sit(sit_of(prop, wind(0), date=NOV_27, hunter="Nell")).best
    gun = answer_sit(sit_of(prop, wind(0), date=NOV_27, hunter="Nell", weapon="gun")).best
    assert (bow.corridors, gun.corridors) == ((), ("trail",))


def test_the_next_sits_have_each_the_range_of_their_own_weapon():
    oak = Stand("oak", "Oak", PIEDMONT, ranges_yd=(("gun", 120.0),))
    late = dataclasses.replace(BOW, last="11-27")
    prop = ground(stand=oak, seasons=(late, GUN))
    start_s = int(datetime.datetime(2026, 11, 27, tzinfo=datetime.UTC).timestamp())
    coming = next_sits(Scene(prop), hourly(start_s, [0.0] * 60), start_s)
    assert {(a.sit.clock.season.weapon, a.best.range_yd) for a in coming} == {
        ("bow", 30.0),
        ("gun", 120.0),
    }


def test_a_taken_stand_is_left_out_everywhere():
    oak, elm = Stand("oak", "Oak", PIEDMONT), Stand("elm", "Elm", at(PIEDMONT, 90, 300))
    prop = ground(
        stands=(oak, elm), lanes=(lane(PIEDMONT, (0, 440), (0, 5), stands=("oak", "elm")),)
    )
    scene, taken = Scene(prop), {"oak": "Nell", "elm": "Owen"}
    start_s = int(datetime.datetime(2026, 11, 10, tzinfo=datetime.UTC).timestamp())
    coming = next_sits(scene, hourly(start_s, [0.0] * 40), start_s, taken=taken)
    assert coming and all(a.best.taken_by for a in coming)
    date = datetime.date(2026, 11, 10)
    rows = other_winds(scene, date, "morning", taken=taken)
    assert not any(c.stand for _, *choices in rows for c in choices)
    assert any(c.stand for _, *choices in other_winds(scene, date, "morning") for c in choices)
    cells = visor_rows(scene, date, points=("N",), taken=taken)[0].cells
    assert not any(cell.choices for cell in cells)


def test_files_from_before_weapons_answer_as_before():
    old = document(stand("oak", 0, 0), people=[{"name": "Nell", "range_yd": 24}, {"name": "Owen"}])
    prop = property_from_document(old)
    oak, (nell, owen) = prop.stands[0], prop.people
    assert [range_yd(prop, oak, who, "bow") for who in (None, nell, owen)] == [30, 24, 30]
    assert not any((owen.beginner, owen.climbs_ft, prop.weapons, oak.ranges_yd))
    new = document(
        stand("oak", 0, 0, range_yd=60), people=[{"name": "Owen", "ranges_yd": {"gun": 90}}]
    )
    read = property_from_document(new)
    assert range_yd(read, read.stands[0], read.people[0], "bow") == 60


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"people": [{"name": "Al", "ranges_yd": {"bow": "far"}}]}, "ranges_yd.bow"),
        ({"people": [{"name": "Al", "ranges_yd": {"bow": 20, "Bow": 30}}]}, "twice"),
        ({"weapons": [{"name": "bow"}, {"name": "bow"}]}, '"bow" twice'),
        ({"weapons": [{"name": "bow", "range_yd": 0}]}, "range_yd is 0"),
    ],
)
def test_bad_ranges_are_named(more, words):
    with pytest.raises(BadProperty) as fault:
        property_from_document(document(stand("oak", 0, 0), **more))
    assert words in fault.value.text()
