"""Starting one's own ground, choosing, naming, and going back to an earlier version."""

import pytest

from core.errors import BadProperty
from core.ground.drawing.first_property import parts_from_text
from core.ground.store import open_property, own_properties
from tests.conftest import ROOT
from tests.pages.conftest import opened


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setenv("STAND_WIND_NOW", "2026-08-10T09:00:00-04:00")
    return opened("map")


def part(page, name: str):
    return page.segmented_control(key="grounds_part").set_value(name).run()


def started(page, name="River ground", **answers):
    part(page, "Start my own property")
    page.text_input(key="start_name").set_value(name)
    page.text_input(key="start_place").set_value("36.101234, -79.901234")
    for key, value in answers.items():
        kinds = ("text_input", "number_input", "text_area", "checkbox", "segmented_control")
        box = next(w for kind in kinds for w in getattr(page, kind) if w.key == f"start_{key}")
        box.set_value(value)
    return next(b for b in page.button if b.label == "Start it").click().run()


def only_own():
    (path,) = own_properties()
    return open_property(path)


def test_an_empty_ground_of_ones_own_is_started_and_in_use(page):
    started(page, worry=300, people="Nell, 25\nOwen", read=True, gust=25)
    assert not page.exception
    ground = only_own().property
    assert ground.name == "River ground" and ground.center == (-79.901234, 36.101234)
    assert (ground.air.wrong_within_yd, ground.air.clean_beyond_yd) == (300, 600)
    assert [(p.name, p.range_yd) for p in ground.people] == [("Nell", 25), ("Owen", 30)]
    assert ground.seasons[0].checked_on == "2026-08-10"
    assert [p.name for p in ground.parts] == ["early", "rut"]
    assert not ground.stands
    assert page.query_params["ground"] in ("river-ground", ["river-ground"])


@pytest.mark.whole_demo
def test_a_copy_of_the_demo_is_a_ground_of_its_own(page):
    started(page, **{"from": "copy of the demo"})
    own = only_own()
    demo = open_property(ROOT / "demo_property.json")
    assert len(own.property.stands) == 14
    assert own.property.uid != demo.property.uid
    assert own.property.seasons[0].checked_on is None  # asked, not taken over


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        ({"name": ""}, "no name yet"),
        ({"place": "somewhere"}, "somewhere"),
        ({"people": "Nell, far"}, "far"),
        ({"parts": "early"}, "early"),
        ({"down": "25:99"}, "25:99"),
    ],
)
def test_a_wrong_answer_is_told_and_nothing_is_written(page, answers, told):
    started(page, **answers)
    assert not page.exception
    assert any(told in e.value.replace("\\", "") for e in page.error)
    assert own_properties() == ()


def test_after_a_start_the_form_makes_room_and_the_clock_can_be_checked(page):
    started(page)
    assert not [w for w in page.text_input if w.key == "start_name"]
    (told,) = (s.value.replace("\\", "") for s in page.success)
    assert told.startswith("Started River ground.") and "Sunrise there today is" in told


def test_a_day_that_may_be_two_is_asked_about_then_and_only_then(page):
    started(page, name="")
    assert "start_order" not in {w.key for w in page.segmented_control}
    started(page, first="9/10", parts="early, 9/10, 10/9, 3")
    assert any("either of two days" in e.value for e in page.error)
    page.segmented_control(key="start_order").set_value("month first")
    next(b for b in page.button if b.label == "Start it").click().run()
    assert not page.error
    prop = only_own().property
    assert prop.seasons[0].first == "09-10"
    assert [(p.first, p.last) for p in prop.parts] == [("09-10", "10-09")]


def test_a_wrong_answer_leaves_all_the_others(page):
    started(page, name="", worry=300, people="Nell, 25")
    kept = {w.key: w.value for w in (*page.number_input, *page.text_area)}
    assert kept["start_worry"] == 300 and kept["start_people"] == "Nell, 25"


def test_renaming_keeps_a_version_to_go_back_to(page):
    started(page)
    part(page, "Name")
    page.text_input(key="ground_name").set_value("Creek ground")
    next(b for b in page.button if b.label == "Rename it").click().run()
    assert not page.exception
    assert only_own().property.name == "Creek ground"
    part(page, "Earlier versions")
    next(b for b in page.button if b.label == "Back to this").click().run()
    assert not page.exception
    assert only_own().property.name == "River ground"


def test_the_demo_can_be_chosen_again(page):
    started(page)
    page.run()
    box = next(b for b in page.selectbox if b.label == "Property")
    assert len(box.options) == 2
    box.select_index(0).run()
    assert not page.exception
    assert "ground" not in page.query_params


def test_parts_are_read_line_by_line():
    assert parts_from_text("early, 09-13, 10-19, 3\n\n") == (("early", "09-13", "10-19", 3.0),)
    with pytest.raises(BadProperty, match="late, 11-01"):
        parts_from_text("late, 11-01")
