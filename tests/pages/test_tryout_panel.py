"""Trying a tree on a screen: the answer for the sit asked about, the season, a new stand."""

import json

import pytest

from core.ground.store import demo_path, open_property, save_property
from tests.pages.conftest import opened_panel, words


def app():
    import os

    from core.ground.store import open_property
    from pages.ui.map.tryout import tryout_panel

    tryout_panel(open_property(os.environ["PANEL_FILE"]))


@pytest.fixture
def own(tmp_path, monkeypatch):
    path = tmp_path / "farm.json"
    demo = open_property(demo_path())
    # a short season, so that counting it is quick
    document = json.loads(json.dumps(demo.document))
    for season in document["property"]["seasons"]:
        season["first"], season["last"] = "11-08", "11-14"
    save_property(demo, document, path, now_s=0)
    monkeypatch.setenv("PANEL_FILE", str(path))
    return path


def run(**state):
    return opened_panel(app, **{"wind": "NW 8", **state})


def said(at):
    return words(at, "subheader", "markdown", "caption", "warning", "error", "success")


SPLIT_OAK = {"try_lon": -79.6907742, "try_lat": 35.9314637}


@pytest.mark.usefixtures("own")
def test_a_spot_is_answered():
    at = run(**SPLIT_OAK)
    head = at.subheader[0].value.replace("\\", "")
    assert head.split(":")[0] in ("GO", "CAN'T CALL", "STAY OUT")
    assert " air goes S" in said(at)
    assert "West road" in said(at)
    assert at.get("bidi_component")


@pytest.mark.usefixtures("own")
def test_another_place_and_height_change_the_answer():
    at = run(**SPLIT_OAK)
    before = said(at)
    at.number_input(key="try_lon").set_value(-79.6855).run()
    assert said(at) != before
    assert at.number_input(key="try_height_hang-on").value == 16
    at.selectbox(key="try_seat").set_value("ground-blind").run()
    assert at.number_input(key="try_height_ground-blind").value == 0


@pytest.mark.usefixtures("own")
def test_it_starts_at_the_middle_of_the_ground():
    at = run()
    assert at.number_input(key="try_lat").value == pytest.approx(35.9312)
    assert at.number_input(key="try_lon").value == pytest.approx(-79.6874)


@pytest.mark.usefixtures("own")
def test_a_place_far_off_and_no_wind_yet():
    at = run(try_lon=-70.0, try_lat=35.9)
    assert "yd from the ground" in at.error[0].value.replace("\\", "")
    assert "Press Wind" in said(run(wind=""))


@pytest.mark.usefixtures("own")
def test_a_wind_that_is_none_keeps_the_panel():
    at = run(wind="NWW 8", **SPLIT_OAK)
    assert "NWW" in at.error[0].value
    assert at.button(key="try_count")


@pytest.mark.usefixtures("own")
def test_the_season_is_counted_on_a_press_and_goes_with_the_spot():
    at = run(**SPLIT_OAK)
    assert "Mornings: go on" not in said(at)
    at.button(key="try_count").click().run()
    assert not at.exception
    # every third day of seven: three mornings
    assert "Mornings: go on" in said(at) and "of 3 (" in said(at)
    assert "Greensboro" in said(at)
    at.run()
    assert "Evenings: go on" in said(at)
    at.number_input(key="try_lon").set_value(-79.6855).run()
    assert "Mornings: go on" not in said(at)


def test_a_stand_is_hung(own):
    at = run(**SPLIT_OAK)
    at.selectbox(key="try_seat").set_value("ladder").run()
    at.button(key="try_keep").click().run()
    assert not at.exception
    new = json.loads(own.read_text(encoding="utf-8"))["features"][-1]
    assert new["properties"]["seat"] == "ladder"
    assert new["geometry"]["coordinates"] == [-79.6907742, 35.9314637]
    assert "A stand hangs where you tried" in said(at)


def test_the_demo_tries_and_keeps_nothing(monkeypatch):
    monkeypatch.setenv("PANEL_FILE", str(demo_path()))
    at = run(**SPLIT_OAK)
    assert at.subheader
    assert at.button(key="try_keep").disabled
    assert not at.button(key="try_count").disabled
