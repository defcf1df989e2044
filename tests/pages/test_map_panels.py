"""The panels below the map: they look at the draft and hand their changes to it."""

import dataclasses
import json
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from core.ground.store import demo_path, open_property, save_property
from tests import grounds

ROOT = Path(__file__).resolve().parents[2]
HIGH = "stand-high:dry-fork"


@pytest.fixture
def own(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T04:30-05:00")
    path = tmp_path / "farm.json"
    demo = open_property(demo_path())
    save_property(demo, demo.document, path, now_s=0)
    return path


def map_page(panel=None, ground="farm"):
    at = AppTest.from_file(str(ROOT / "dashboard.py"), default_timeout=30)
    at.session_state["ground"] = ground
    at.run().switch_page("pages/map.py").run()
    if panel:
        at.segmented_control(key="map_more").set_value(panel).run()
    assert not at.exception
    return at


def draft(at, path):
    return at.session_state["drafts"][str(path)].document


def said(at):
    values = [*at.header, *at.markdown, *at.caption, *at.error, *at.success]
    return " ".join(v.value for v in values).replace("\\", "")


def test_none_at_first(own):
    at = map_page()
    assert not at.header
    assert draft(at, own)["features"]


@pytest.mark.usefixtures("own")
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


def test_accepting_is_a_step_of_the_draft_and_saved_with_it(own):
    at = map_page("Look it over")
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.exception
    assert draft(at, own)["property"]["accepted"] == [HIGH]
    assert open_property(own).property.accepted == ()
    assert f"again-{HIGH}" in [b.key for b in at.button]
    at.button(key="save").click().run()
    assert not at.exception
    assert open_property(own).property.accepted == (HIGH,)


def test_the_demo_takes_changes_into_a_draft(own):
    at = map_page("Look it over", ground="")
    at.button(key=f"accept-{HIGH}").click().run()
    assert not at.exception
    assert draft(at, demo_path())["property"]["accepted"] == [HIGH]
    assert own.exists()


def test_what_is_brought_in_stands_in_the_draft(own):
    lon, lat = grounds.at((-79.6874, 35.9312), 90, 100)
    data = f'<gpx><wpt lat="{lat}" lon="{lon}"><name>Elm</name></wpt></gpx>'.encode()
    at = map_page("Files")
    at.file_uploader[0].set_value(("walk.gpx", data, "application/gpx+xml")).run()
    next(b for b in at.button if b.key.endswith("_take")).click().run()
    assert not at.exception
    assert draft(at, own)["features"][-1]["properties"]["name"] == "Elm"
    assert "Elm" not in own.read_text(encoding="utf-8")


def test_a_tap_moves_the_spot_once(own):
    at = map_page("Try a tree")
    at.session_state["drafts"][str(own)].tapped = (-79.6907742, 35.9314637)
    at.run()
    assert at.number_input(key="try_lon").value == pytest.approx(-79.690774)
    at.number_input(key="try_lon").set_value(-79.6855).run()
    assert at.number_input(key="try_lon").value == -79.6855


def test_a_draft_that_could_not_be_saved_says_why(own):
    document = json.loads(own.read_text(encoding="utf-8"))
    lane = next(f for f in document["features"] if f["properties"]["kind"] == "lane")
    at = map_page("Look it over")
    drawn = at.session_state["drafts"][str(own)]
    for item in drawn.document["features"]:
        if item["id"] == lane["id"]:
            item["properties"] = {**item["properties"], "stands": []}
    drawn.draft = dataclasses.replace(drawn.draft, document={**drawn.document, "x": 1})
    at.run()
    assert not at.exception
    assert "serves no stand" in said(at) and lane["id"] in said(at)
