"""Bringing in a file: shown first, lanes need their stands, taken once; and out again."""

import json
import re

import pytest

from core.ground.exchange.files import read_foreign
from core.ground.store import demo_path, open_property
from tests import grounds
from tests.pages.conftest import opened_panel


def app():
    import os

    from core.ground.store import open_property
    from pages.ui.map.files_in import bring_in_panel

    bring_in_panel(open_property(os.environ["PANEL_FILE"]))


WAY = {"kind": "lane", "name": "New way", "stands": ["elm-stand"]}
HOME = (-79.6874, 35.9312)


def walk(last=(90, 60), name="Elm stand"):
    """A waypoint, and a track that ends 50 yd from it unless told otherwise."""
    lon, lat = grounds.at(HOME, 90, 100)
    places = "".join(
        f'<trkpt lat="{y}" lon="{x}"/>'
        for x, y in (grounds.at(HOME, 90, 400), grounds.at(HOME, *last))
    )
    return (
        f'<gpx><wpt lat="{lat}" lon="{lon}"><name>{name}</name></wpt>'
        f'<wpt lat="95" lon="0"><name>Lost</name></wpt>'
        f"<trk><name>New way</name><trkseg>{places}</trkseg></trk></gpx>"
    ).encode()


def opened_with(data, name="walk.gpx"):
    at = opened_panel(app)
    at.file_uploader[0].set_value((name, data, "application/octet-stream")).run()
    assert not at.exception
    return at


def take_button(at):
    return next(b for b in at.button if b.key.endswith("_take"))


def kind_of(at, number):
    return next(s for s in at.selectbox if s.key.endswith(f"_kind_{number}"))


def leads_to(at):
    return next(m for m in at.multiselect if "leads to" in m.label)


def shown(at):
    values = [*at.markdown, *at.caption, *at.warning, *at.error, *at.success]
    return " ".join(v.value for v in values).replace("\\", "")


def features(path):
    return {f["id"]: f for f in json.loads(path.read_text(encoding="utf-8"))["features"]}


def test_nothing_is_taken_before_the_button(farm):
    before = farm.read_bytes()
    at = opened_with(walk())
    assert "The file brings 3 things" in shown(at)
    assert [s.value for s in at.selectbox if "_kind_" in s.key] == ["stand", "lane"]
    assert "It has longitude" in shown(at)
    assert leads_to(at).value == ["elm-stand"]
    (drawn,) = at.get("bidi_component")
    assert "Elm stand" in drawn.proto.json, "the ground as it would be is drawn"
    for sheet in json.loads(drawn.proto.json)["maps"]:  # each with its name, once
        assert sheet.count(">Elm stand<") == sheet.count(">New way<") == 1
    assert farm.read_bytes() == before


@pytest.mark.usefixtures("farm")
def test_one_thing_is_one_thing():
    told = shown(opened_with(b'<gpx><wpt lat="35.931" lon="-79.688"><name>Elm</name></wpt></gpx>'))
    assert "The file brings 1 thing." in told and "1 things" not in told


def test_taken_once_and_the_box_is_empty_again(farm):
    at = opened_with(walk())
    button = take_button(at)
    assert button.label == "Take 2 into Bent Nail Farm" and not button.disabled
    button.click().run()
    assert not at.exception
    made = features(farm)
    assert made["new-way"]["properties"] == {
        "kind": "lane",
        "name": "New way",
        "stands": ["elm-stand"],
    }
    assert made["elm-stand"]["properties"] == {"kind": "stand", "name": "Elm stand"}
    assert "Brought in 2 of 3 things" in shown(at)
    assert not [b for b in at.button if b.key.endswith("_take")]


def test_a_lane_must_be_given_its_stands(farm):
    at = opened_with(walk(last=(45, 300)))
    assert kind_of(at, 2).value is None  # it ends at no stand, and no word tells what it is
    assert "1 is not known yet" in shown(at)
    kind_of(at, 2).set_value("lane").run()
    assert leads_to(at).value == []
    assert "Choose the stands these lead to" in shown(at) and "New way" in shown(at)
    assert take_button(at).disabled
    leads_to(at).select("split-oak").run()
    assert not take_button(at).disabled
    take_button(at).click().run()
    assert features(farm)["new-way"]["properties"]["stands"] == ["split-oak"]


def test_left_out_and_another_kind(farm):
    at = opened_with(walk(last=(45, 300)))
    kind_of(at, 0).set_value("camera").run()
    kind_of(at, 2).set_value("leave it out").run()
    assert [m.label for m in at.multiselect] == ["These"]
    assert take_button(at).label.startswith("Take 1 ")
    take_button(at).click().run()
    made = features(farm)
    assert made["elm-stand"]["properties"]["kind"] == "camera" and "new-way" not in made


def test_turned_round(farm):
    at = opened_with(walk())
    assert at.checkbox[0].value is False
    at.checkbox[0].check().run()
    take_button(at).click().run()
    line = features(farm)["new-way"]["geometry"]["coordinates"]
    assert line[-1] == pytest.approx(grounds.at(HOME, 90, 400), abs=1e-6)


@pytest.mark.usefixtures("farm")
def test_a_ground_that_could_not_be_saved_says_why():
    far = b'<gpx><wpt lat="36.9" lon="-79.6"><name>Far gate</name></wpt></gpx>'
    at = opened_with(far)
    assert "km across" in shown(at)
    assert take_button(at).disabled


@pytest.mark.usefixtures("farm")
@pytest.mark.parametrize(
    ("data", "seen"),
    [(b"hello", "not GeoJSON, GPX, KML or KMZ"), (b"<gpx/>", "no points, lines or areas")],
)
def test_a_file_that_cannot_be_read(data, seen):
    at = opened_with(data)
    assert seen in at.error[0].value.replace("\\", "")
    assert not [b for b in at.button if b.key.endswith("_take")]


@pytest.mark.usefixtures("farm")
def test_names_do_no_harm():
    at = opened_with(walk(name="&lt;img src=x onerror=alert(1)&gt; **bold**"))
    raw = " ".join(m.value for m in at.markdown)
    assert r"\<img" in raw and not re.search(r"(?<!\\)<img|(?<!\\)\*\*bold", raw)


def test_many_things_go_in_a_table(farm):
    points = "".join(
        f'<wpt lat="{36 + i / 1e5}" lon="-79.69"><name>Camera {i}</name></wpt>' for i in range(31)
    )
    at = opened_with(f"<gpx>{points}</gpx>".encode())
    assert not [s for s in at.selectbox if "_kind_" in s.key]
    assert take_button(at).label.startswith("Take 31 ")
    take_button(at).click().run()
    assert sum(f["properties"]["kind"] == "camera" for f in features(farm).values()) == 32


def test_the_demo_shows_and_does_not_take(monkeypatch):
    monkeypatch.setenv("PANEL_FILE", str(demo_path()))
    at = opened_with(walk())
    assert take_button(at).disabled
    assert "read-only" in shown(at)


def test_files_out_come_in_again(farm):
    at = opened_panel(app)
    labels = [b.proto.label for b in at.get("download_button")]
    assert labels == ["GPX out", "GeoJSON out"]
    from core.ground.exchange.files import write_geojson, write_gpx

    document = open_property(farm).document
    for data in (write_gpx(document), write_geojson(document)):
        assert len(read_foreign(data, "x")) == len(document["features"])
        assert b"336-555" not in data


ASKED = b"""<gpx><wpt lat="35.93" lon="-79.687"><name>A</name><sym>Big dot</sym></wpt>
<wpt lat="35.931" lon="-79.687"><name>B</name><sym>Big dot</sym></wpt>
<wpt lat="35.932" lon="-79.687"><name>C</name><sym>Blind</sym></wpt></gpx>"""


def test_what_is_not_known_is_asked_and_several_are_said_at_once(farm):
    at = opened_with(ASKED)
    assert [kind_of(at, i).value for i in range(3)] == [None, None, "stand"]
    assert take_button(at).disabled and "2 are not known yet" in shown(at)
    assert "symbol “Blind”" in shown(at)
    these = next(m for m in at.multiselect if m.label == "These")
    assert "all with the symbol “Big dot”" in [o.replace("\\", "") for o in these.options]
    these.set_value(["all with the symbol “Big dot”"]).run()
    next(s for s in at.selectbox if s.key.endswith("_are")).set_value("camera").run()
    next(b for b in at.button if b.key.endswith("_say")).click().run()
    assert [kind_of(at, i).value for i in range(3)] == ["camera", "camera", "stand"]
    assert not take_button(at).disabled
    take_button(at).click().run()
    made = features(farm)
    assert [made[k]["properties"]["kind"] for k in "abc"] == ["camera", "camera", "stand"]
