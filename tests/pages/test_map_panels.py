"""The panels below the map: they look at the draft and hand their changes to it."""

import dataclasses
import json

import pytest

from core.ground.store import demo_path, open_property
from tests import grounds
from tests.pages.conftest import opened, words

HIGH = "stand-high:dry-fork"


def map_page(panel=None, ground="farm"):
    at = opened("map", ground=ground)
    if panel:
        at.segmented_control(key="map_more").set_value(panel).run()
    assert not at.exception
    return at


def draft(at, path):
    return at.session_state["drafts"][str(path)].document


def said(at):
    return words(at, "header", "markdown", "caption", "error", "success")


def test_none_at_first(farm):
    at = map_page()
    assert not at.header
    assert draft(at, farm)["features"]


@pytest.mark.whole_demo
@pytest.mark.usefixtures("farm")
@pytest.mark.parametrize(
    ("panel", "seen"),
    [
        ("Files", "Files in and out"),
        ("Look it over", "Old ridge road"),
        ("Try a tree", "the spot goes there"),
        ("Slopes", "Now: down to the"),
    ],
)
@pytest.mark.parametrize("ground", ["farm", ""])
def test_each_panel_opens_on_the_demo_and_on_own_ground(panel, seen, ground):
    assert seen in said(map_page(panel, ground))


def test_accepting_is_a_step_of_the_draft_and_saved_with_it(farm):
    at = map_page("Look it over")
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.exception
    assert draft(at, farm)["property"]["accepted"] == [HIGH]
    assert open_property(farm).property.accepted == ()
    assert f"again-{HIGH}" in [b.key for b in at.button]
    at.button(key="save").click().run()
    assert not at.exception
    assert open_property(farm).property.accepted == (HIGH,)


def test_the_demo_takes_changes_into_a_draft(farm):
    at = map_page("Look it over", ground="")
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.exception
    assert draft(at, demo_path())["property"]["accepted"] == [HIGH]
    assert farm.exists()


def test_what_is_brought_in_stands_in_the_draft(farm):
    lon, lat = grounds.at((-79.6874, 35.9312), 90, 100)
    data = f'<gpx><wpt lat="{lat}" lon="{lon}"><name>Elm stand</name></wpt></gpx>'.encode()
    at = map_page("Files")
    at.file_uploader[0].set_value(("walk.gpx", data, "application/gpx+xml")).run()
    next(b for b in at.button if b.key.endswith("_take")).click().run()
    assert not at.exception
    assert draft(at, farm)["features"][-1]["properties"]["name"] == "Elm stand"
    assert "Elm stand" not in farm.read_text(encoding="utf-8")


def test_a_tap_moves_the_spot_once(farm):
    at = map_page("Try a tree")
    at.session_state["drafts"][str(farm)].tapped = (-79.6907742, 35.9314637)
    at.run()
    assert at.number_input(key="try_lon").value == pytest.approx(-79.690774)
    at.number_input(key="try_lon").set_value(-79.6855).run()
    assert at.number_input(key="try_lon").value == -79.6855


def test_a_draft_that_could_not_be_saved_says_why(farm):
    document = json.loads(farm.read_text(encoding="utf-8"))
    lane = next(f for f in document["features"] if f["properties"]["kind"] == "lane")
    at = map_page("Look it over")
    drawn = at.session_state["drafts"][str(farm)]
    for item in drawn.document["features"]:
        if item["id"] == lane["id"]:
            item["properties"] = {**item["properties"], "stands": []}
    drawn.draft = dataclasses.replace(drawn.draft, document={**drawn.document, "x": 1})
    at.run()
    assert not at.exception
    assert "serves no stand" in said(at) and lane["id"] in said(at)
