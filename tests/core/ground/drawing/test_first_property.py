"""A property begun from the owner's answers: empty, or as a copy of the demo."""

import pytest

from core.errors import BadProperty
from core.ground.drawing.first_property import (
    OwnerAnswers,
    Start,
    first_document,
    people_from_text,
    walk_mph,
)
from core.ground.jsontext import write_json
from core.ground.layout import AirRules, SitRules
from core.ground.parse import property_from_document
from core.ground.store import (
    demo_path,
    list_versions,
    new_path,
    open_property,
    parse_property,
    save_property,
)

HERE = (-79.9, 36.1)


def begun(**said):
    return property_from_document(first_document(Start("Home", HERE, answers=OwnerAnswers(**said))))


def test_an_empty_ground_with_the_defaults_of_the_file():
    ground = begun()
    assert (ground.name, ground.center, ground.stands) == ("Home", HERE, ())
    assert ground.air == AirRules()
    assert ground.sit == SitRules()
    assert ground.seasons[0].checked_on is None


def test_each_answer_goes_where_it_belongs():
    ground = begun(
        weapon="gun",
        season_first="11-15",
        season_last="01-02",
        before_sunrise_min=0,
        after_sunset_min=15,
        rule="State digest, page 8",
        checked_on="2026-08-01",
        worry_yd=300,
        climb_down="11:00",
        walk_yd=600,
        walk_min=10,
        gear_up_min=5,
        parts=(("early", "09-13", "10-19", 3.0), ("rut", "10-20", "11-24", 2.0)),
        people=(("Nell", 25.0),),
    )
    season = ground.seasons[0]
    assert (season.weapon, season.first, season.last) == ("gun", "11-15", "01-02")
    assert (season.before_sunrise_min, season.after_sunset_min) == (0, 15)
    assert (season.rule, season.checked_on) == ("State digest, page 8", "2026-08-01")
    # clean is twice as far as the bed worries them
    assert (ground.air.wrong_within_yd, ground.air.clean_beyond_yd) == (300, 600)
    assert (ground.sit.morning_end, ground.sit.gear_up_min) == ("11:00", 5)
    assert ground.sit.walk_mph == pytest.approx(600 * 6 / 1760, abs=0.01)  # 3,600 yd an hour
    assert [(p.name, p.rest_days) for p in ground.parts] == [("early", 3), ("rut", 2)]
    assert [(p.name, p.range_yd) for p in ground.people] == [("Nell", 25)]


def test_a_copy_of_the_demo_is_another_property_and_keeps_its_ground():
    demo = open_property(demo_path())
    start = Start("My copy", answers=OwnerAnswers(max_gust_mph=22))
    ground = property_from_document(first_document(start, demo.document))
    assert ground.uid != demo.property.uid
    assert ground.name == "My copy"
    assert [s.id for s in ground.stands] == [s.id for s in demo.property.stands]
    gusts = {s.id: s.max_gust_mph for s in ground.stands}
    assert gusts["split-oak"] == 22
    assert gusts["hay-edge"] == 25  # its own limit stays
    assert open_property(demo_path()).document == demo.document


def test_it_is_saved_as_a_first_revision_without_versions():
    document = first_document(Start("First ground", HERE))
    opened = parse_property(write_json(document), "First ground")
    saved = save_property(opened, document, new_path("First ground"), now_s=1_800_000_000)
    assert saved.property.revision == 1
    assert saved.property.uid == document["property"]["uid"]
    assert list_versions(saved.path) == ()


@pytest.mark.parametrize(
    ("start", "said"),
    [
        (Start(" ", HERE), "no name"),
        (Start("Home"), "place of the ground is not known"),
        (Start("Home", (36.1, -79.9)), "-79.9"),
        (Start("Home", HERE, "Nowhere/Land"), "Nowhere/Land"),
        (Start("Home", HERE, answers=OwnerAnswers(worry_yd=0)), "within 0 yd"),
        (Start("Home", HERE, answers=OwnerAnswers(climb_down="25:00")), "25:00"),
        (Start("Home", HERE, answers=OwnerAnswers(season_first="02-31")), "02-31"),
        (Start("Home", HERE, answers=OwnerAnswers(people=(("Al", 30), ("Al", 20)))), '"Al" twice'),
    ],
)
def test_an_answer_that_cannot_be(start, said):
    with pytest.raises(BadProperty, match=said):
        first_document(start)


@pytest.mark.parametrize(
    ("yards", "minutes", "said"),
    [
        (880, 0, "880 yards in 0 minutes"),
        (8800, 10, "30.0 miles"),
        (10, 60, "0.0 miles"),
    ],
)
def test_a_walk_that_nobody_walks(yards, minutes, said):
    with pytest.raises(BadProperty, match=said):
        walk_mph(yards, minutes)


def test_half_a_mile_in_twenty_minutes_is_a_mile_and_a_half_an_hour():
    assert walk_mph(880, 20) == pytest.approx(1.5)


def test_people_as_typed():
    assert people_from_text("Nell, 25\n\n  Owen \n", 30) == (("Nell", 25.0), ("Owen", 30))
    with pytest.raises(BadProperty, match=r'"far".*not a number'):
        people_from_text("Nell, far", 30)


def test_a_number_behind_a_name_is_a_range_and_never_a_name():
    assert people_from_text("Tom 30\nAnn Lee 25 yd\nAl, 40 yards", 20) == (
        ("Tom", 30.0),
        ("Ann Lee", 25.0),
        ("Al", 40.0),
    )
    with pytest.raises(BadProperty, match=r'"Tom 2" may be'):
        people_from_text("Tom 2", 30)
