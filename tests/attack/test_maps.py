"""Map files of other programs, attacked: archives with turned bits, own features with absurd
members, things without a place, names that are numbers, and files that made a reader slow
or ended the whole program."""

import copy
import io
import json
import random
import subprocess
import sys
import time
import zipfile

import pytest

from core.errors import StandWindError
from core.ground.exchange.choices import (
    extent,
    kinds_for,
    new_ids,
    suggested,
    with_brought,
)
from core.ground.exchange.files import convert, read_foreign, take_all
from core.ground.parse import read_document
from core.ground.store import demo_path
from tests.attack.runs import ROOT, core

KML = "<kml><Placemark><Point><coordinates>-79.9,36.1</coordinates></Point></Placemark></kml>"
GPX = '<gpx xmlns="http://www.topografix.com/GPX/1/1">'
SEGMENT = '<trkseg><trkpt lat="36.1" lon="-79.1"/><trkpt lat="36.11" lon="-79.9"/></trkseg>'
DEMO = json.loads(demo_path().read_text(encoding="utf-8"))
ODD = [
    *(None, True, 0, -1, 5, 3.5, 1e308, 10**200, "", "x", "\0", "\x1b[31m", "a" * 5000),
    *([], [[]], [None], {}, {"a": 1}, [["a"]], [1, 2], "NaN", "12:00", "01-01"),
]


# --- archives


def kmz() -> bytes:
    """An archive with a name of letters beyond ASCII, whose bytes can be spoiled too."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("doc.kml", KML)
        archive.writestr("é.png", b"x")
    return packed.getvalue()


def test_an_archive_with_turned_bits_is_read_or_refused():
    good, drawn, refused = kmz(), random.Random(5), 0
    for _ in range(3000):
        data = bytearray(good)
        for _ in range(drawn.choice([1, 1, 2, 4])):
            data[drawn.randrange(4, len(data))] = drawn.randrange(256)
        if drawn.random() < 0.2:
            data = data[: drawn.randrange(len(data))]
        try:
            read_foreign(bytes(data), "x.kmz")
        except StandWindError as fault:
            refused += "x.kmz" in fault.text()
    assert refused > 1000  # and nothing else was raised


# --- own features with members that no property file may hold


def collection(*features: dict) -> bytes:
    return json.dumps({"type": "FeatureCollection", "features": features}).encode()


def own(kind: str, **members) -> dict:
    item = copy.deepcopy(next(f for f in DEMO["features"] if f["properties"]["kind"] == kind))
    item["properties"] |= members
    return item


@pytest.mark.parametrize("stands", [5, "oak", {"a": 1}, [["a"]], [{"a": 1}], [3], [None], True])
def test_a_lane_whose_stands_are_none(stands):
    (lane,) = read_foreign(collection(own("lane", stands=stands)), "x.geojson")
    assert any(note.startswith("stands") and "left out" in note for note in lane.notes)
    (taken,) = take_all([(lane, "lane")])
    assert taken["properties"]["stands"] == [] and taken["properties"]["kind"] == "lane"


def test_what_is_sound_beside_a_bad_member_stays():
    (stand,) = read_foreign(collection(own("stand", height_ft="tall", range_yd=25)), "x.geojson")
    assert stand.notes == ('height_ft is "tall", not a number: left out',)
    assert stand.members["range_yd"] == 25 and "height_ft" not in stand.members


@pytest.mark.parametrize(("name", "called"), [(5, "5"), (2.5, "2.5"), (-0.0, "-0.0")])
def test_a_name_that_is_a_number_is_a_name(tmp_path, name, called):
    path = tmp_path / "in.geojson"
    path.write_bytes(collection(own("stand", name=name)))
    (stand,) = read_foreign(path.read_bytes(), "in.geojson")
    assert stand.name == called and "is a number" in stand.notes[0]
    convert(path, tmp_path / "out.gpx")
    assert f"<name>{called}</name>" in (tmp_path / "out.gpx").read_text()


@pytest.mark.parametrize("name", [True, [], {}, ["a"]])
def test_a_name_that_is_nothing_of_the_kind(tmp_path, name):
    path = tmp_path / "in.geojson"
    path.write_bytes(collection(own("stand", name=name)))
    lines = convert(path, tmp_path / "out.gpx")
    assert any("not text: left out" in line for line in lines)


def spoiled(drawn: random.Random) -> dict:
    """A collection of own features with one thing or two changed to something odd."""
    kinds = ("stand", "lane", "corridor", "bedding", "food", "boundary")
    features = [f for f in DEMO["features"] if f["properties"]["kind"] in kinds]
    document = {"type": "FeatureCollection", "features": drawn.sample(features, 6)}
    if drawn.random() < 0.5:
        document["property"] = DEMO["property"]
    document = copy.deepcopy(document)
    for _ in range(drawn.choice([1, 1, 2])):
        places = [p for p in all_paths(document) if len(p) < 6 or drawn.random() < 0.3]
        *outer, last = drawn.choice(places)
        inside = document
        for key in outer:
            inside = inside[key]
        inside[last] = copy.deepcopy(drawn.choice(ODD))
    return document


def all_paths(value, path=()) -> list[tuple]:
    if not isinstance(value, (dict, list)):
        return []
    keys = list(value) if isinstance(value, dict) else range(len(value))
    found = []
    for key in keys:
        found += [(*path, key), *all_paths(value[key], (*path, key))]
    return found


def test_absurd_members_anywhere_end_in_a_file_or_a_message(tmp_path):
    drawn, taken = random.Random(7), 0
    for number in range(400):
        path, data = tmp_path / "in.json", json.dumps(spoiled(drawn)).encode()
        path.write_bytes(data)
        try:
            for suffix in (".gpx", ".geojson"):
                convert(path, tmp_path / f"{number}{suffix}")
            incoming = read_foreign(data, "in.json")
            kinds = [None if one.fault else (kinds_for(one) or [None])[0] for one in incoming]
            new_ids(DEMO, incoming, kinds)
            [extent(one) for one in incoming]
            lanes = {i: s or ["x"] for i, (s, _) in suggested(DEMO, incoming, kinds).items()}
            read_document(with_brought(DEMO, incoming, kinds, lanes))
            taken += 1
        except StandWindError:
            continue
    assert taken > 50


# --- things without a place


@pytest.mark.parametrize("name", ["North oak", ""])
def test_a_feature_without_geometry_is_told_that(tmp_path, name):
    item = {"type": "Feature", "geometry": None, "properties": {"name": name}}
    (one,) = read_foreign(collection(item), "x.geojson")
    assert one.fault == "has no geometry: it lies nowhere" and one.notes == ()
    (tmp_path / "in.geojson").write_bytes(collection(item))
    done = core("convert", tmp_path / "in.geojson", tmp_path / "out.gpx")
    assert done.returncode == 2 and "has no geometry" in done.stderr
    assert "no name" not in done.stderr


def test_it_is_told_beside_what_can_be_taken(tmp_path):
    nowhere = {"type": "Feature", "geometry": None, "properties": {}}
    (tmp_path / "in.geojson").write_bytes(collection(nowhere, own("stand")))
    lines = convert(tmp_path / "in.geojson", tmp_path / "out.gpx")
    assert lines[0] == "point 1: has no geometry: it lies nowhere: left out"


# --- time and depth


def seconds(data: bytes) -> float:
    started = time.process_time()
    incoming = read_foreign(data, "x")
    take_all([(one, one.kind or "other") for one in incoming if not one.fault])
    return time.process_time() - started


MANY = {
    "segments": lambda n: f"{GPX}<trk><name>a</name>{SEGMENT * n}</trk></gpx>",
    "points of one name": lambda n: (
        GPX + '<wpt lat="36.1" lon="-79.1"><name>a</name></wpt>' * n + "</gpx>"
    ),
    "a long name": lambda n: (
        f"{GPX}<trk><name>{'a' * 400 * n}</name><desc>{'b' * 400 * n}</desc>{SEGMENT * n}"
        "</trk></gpx>"
    ),
    "a long name in KML": lambda n: (
        f"<kml><Placemark><name>{'a' * 400 * n}</name><description>{'b' * 400 * n}</description>"
        f"<MultiGeometry>{'<Point><coordinates>-79,36</coordinates></Point>' * n}"
        "</MultiGeometry></Placemark></kml>"
    ),
    "brackets": lambda n: (
        f"<kml><Placemark><description>{'&lt;' * 400 * n}</description>"
        "<Point><coordinates>-79,36</coordinates></Point></Placemark></kml>"
    ),
    "spaces": lambda n: (
        f"<kml><Placemark><LineString><coordinates>-79,36{' ' * 800 * n}-79.1,36</coordinates>"
        "</LineString></Placemark></kml>"
    ),
    "many members": lambda n: json.dumps(
        {
            "type": "Feature",
            "properties": {"name": "n" * 200 * n, **{f"k{i}": i for i in range(5 * n)}},
            "geometry": {"type": "MultiPoint", "coordinates": [[-79, 36]] * n},
        }
    ),
}


@pytest.mark.parametrize("what", MANY)
def test_ten_times_as_much_takes_no_hundred_times_as_long(what):
    few, many = (MANY[what](n).encode() for n in (500, 5000))
    took = [min(seconds(data) for _ in range(2)) for data in (few, many)]
    assert took[1] < 1.0 + 25 * took[0], took


def test_many_lanes_to_many_stands_are_guessed_in_a_moment():
    stands = [own("stand", name=f"s{i}") for i in range(300)]
    lanes = [own("lane", name=f"l{i}") for i in range(3000)]
    for lane in lanes:
        del lane["properties"]["kind"]
    incoming = read_foreign(collection(*stands, *lanes), "x")
    kinds = ["stand"] * 300 + ["lane"] * 3000
    started = time.process_time()
    assert len(suggested(DEMO, incoming, kinds)) == 3000
    assert time.process_time() - started < 10


def test_a_long_walk_does_not_end_the_program():
    """The library that thins lines calls itself for each part: this one ended the process."""
    code = """
import json
from core.ground.exchange.files import read_foreign
places = [[-79 + i * 1e-6 * (i % 2), 36 + i * 1e-6] for i in range(200_000)]
line = {"type": "LineString", "coordinates": places}
(one,) = read_foreign(json.dumps(line).encode(), "x")
print(len(one.points), one.points[0], one.points[-1])
"""
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-300:]
    assert int(done.stdout.split()[0]) > 1000
