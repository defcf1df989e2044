"""One map file into another."""

import json

import pytest

from core.errors import BadProperty, BadRequest
from core.ground.exchange.files import BadMap, convert, read_foreign, write_geojson
from tests import ground_files as g

WALK = b"""<gpx><wpt lat="36.1" lon="-79.9"><name>Oak</name></wpt>
<wpt lat="95" lon="-79.9"><name>Lost</name></wpt>
<trk><name>Walk</name><trkseg><trkpt lat="36.1" lon="-79.9"/><trkpt lat="36.101" lon="-79.9"/>
</trkseg></trk></gpx>"""


@pytest.fixture
def walk(tmp_path):
    path = tmp_path / "walk.gpx"
    path.write_bytes(WALK)
    return path


def features_of(path) -> list[dict]:
    document = json.loads(path.read_text())
    assert document["type"] == "FeatureCollection"
    return document["features"]


def test_gpx_to_geojson(walk, tmp_path):
    lines = convert(walk, tmp_path / "walk.geojson")
    assert lines == [
        'Lost: has longitude "-79.9", latitude "95", out of range. '
        "It must be in degrees, WGS 84.: left out",
        "2 features written to walk.geojson",
    ]
    oak, way = features_of(tmp_path / "walk.geojson")
    assert oak["properties"] == {"kind": "other", "name": "Oak"}
    assert way["properties"]["kind"] == "lane"
    assert way["geometry"]["coordinates"] == [[-79.9, 36.1], [-79.9, 36.101]]


def test_as_a_kind_takes_what_suits(walk, tmp_path):
    lines = convert(walk, tmp_path / "out.json", "corridor")
    assert lines[0] == "Oak: is a point, and a corridor must be a line: left out"
    (trail,) = features_of(tmp_path / "out.json")
    assert trail["properties"] == {"kind": "corridor", "name": "Walk"}


def test_nothing_suits(walk, tmp_path):
    with pytest.raises(BadMap, match=r"walk.gpx: nothing in the file can be taken: Oak"):
        convert(walk, tmp_path / "out.json", "bedding")
    assert not (tmp_path / "out.json").exists()


def test_a_property_to_gpx_and_to_geojson(tmp_path):
    path = tmp_path / "farm.json"
    whole = g.whole_ground(people=[{"name": "Sam", "phone": "555-0100"}])
    path.write_bytes(g.as_bytes(whole))
    assert convert(path, tmp_path / "farm.gpx") == ["9 features written to farm.gpx"]
    names = [one.name for one in read_foreign((tmp_path / "farm.gpx").read_bytes(), "farm.gpx")]
    assert sorted(names) == sorted(f["properties"]["name"] for f in whole["features"])
    convert(path, tmp_path / "farm.geojson")
    assert features_of(tmp_path / "farm.geojson") == whole["features"]
    # people and their phones stay at home
    assert b"555-0100" not in (tmp_path / "farm.geojson").read_bytes()
    assert b"555-0100" not in (tmp_path / "farm.gpx").read_bytes()


def test_geojson_goes_out_one_feature_a_line():
    data = write_geojson(g.whole_ground())
    assert len(data.decode().splitlines()) == 9 + 5


@pytest.mark.parametrize(
    ("out", "kind", "seen"),
    [
        ("walk.kml", None, '".kml" is not a format to write'),
        ("walk", None, '"" is not a format'),
        ("walk.GPX", "tower", '"tower" is not a kind'),
    ],
)
def test_what_is_refused_before_anything_is_read(walk, tmp_path, out, kind, seen):
    with pytest.raises(BadMap) as caught:
        convert(tmp_path / "not-there.gpx", tmp_path / "new" / out, kind)
    assert seen in caught.value.what
    assert caught.value.fix
    assert walk.read_bytes() == WALK


def test_nothing_is_overwritten(walk, tmp_path):
    out = tmp_path / "farm.json"
    out.write_text("mine")
    with pytest.raises(BadRequest, match=r"farm.json: there is a file of that name already"):
        convert(walk, out)
    assert out.read_text() == "mine"
    convert(walk, out, replace=True)
    assert features_of(out)


def test_files_that_cannot_be_read_or_written(walk, tmp_path):
    with pytest.raises(BadMap, match=r"gone.gpx: the file cannot be opened"):
        convert(tmp_path / "gone.gpx", tmp_path / "out.json")
    with pytest.raises(BadRequest, match="its folder is not there"):
        convert(walk, tmp_path / "no folder" / "out.json")
    broken = tmp_path / "broken.json"
    broken.write_bytes(g.as_bytes(g.whole_ground(timezone="Mars")))
    with pytest.raises(BadProperty, match='"Mars"'):
        convert(broken, tmp_path / "out.gpx")
