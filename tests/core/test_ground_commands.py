"""check with criticism, and convert, without a screen."""

import json
from pathlib import Path

import pytest

from core.__main__ import main
from tests import ground_files

ROOT = Path(__file__).resolve().parents[2]
DEMO = str(ROOT / "demo_property.json")
WALK = b"""<gpx><wpt lat="36.1" lon="-79.9"><name>Oak</name></wpt>
<trk><name>Walk</name><trkseg><trkpt lat="36.1" lon="-79.9"/><trkpt lat="36.101" lon="-79.9"/>
</trkseg></trk></gpx>"""


def run(capsys, *words):
    code = main(list(words))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_check_still_says_what_the_file_holds(capsys):
    code, out, err = run(capsys, "check", DEMO)
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0].startswith("Bent Nail Farm: revision 1")
    assert "read-only" in lines
    head = next(i for i, line in enumerate(lines) if line.startswith("criticism: "))
    assert lines[head] == f"criticism: {len(lines) - head - 1}"
    assert lines[head + 1].startswith("- Old ridge road: ")


def test_check_as_json(capsys):
    code, out, _ = run(capsys, "check", DEMO, "--json")
    report = json.loads(out)
    assert code == 0 and report["notes"][0].startswith("Bent Nail Farm")
    first = report["findings"][0]
    assert (first["id"], first["accepted"]) == ("ridge-road", False)
    assert {"name", "code", "value", "unit", "text", "why", "source", "key"} <= set(first)


def test_accepted_is_counted_and_quiet(capsys, tmp_path):
    document = json.loads(Path(DEMO).read_text(encoding="utf-8"))
    document["property"]["accepted"] = ["stand-high:dry-fork", "another program's word"]
    path = tmp_path / "farm.json"
    path.write_bytes(ground_files.as_bytes(document))
    _, out, _ = run(capsys, "check", str(path))
    assert ", and 1 accepted" in out
    assert "20 ft up" not in out
    _, out, _ = run(capsys, "check", str(path), "--json")
    quiet = [f["key"] for f in json.loads(out)["findings"] if f["accepted"]]
    assert quiet == ["stand-high:dry-fork"]


def test_an_empty_ground_has_no_criticism(capsys, tmp_path):
    document = json.loads(Path(DEMO).read_text(encoding="utf-8"))
    document["features"] = []
    path = tmp_path / "farm.json"
    path.write_bytes(ground_files.as_bytes(document))
    code, out, _ = run(capsys, "check", str(path))
    assert code == 0
    assert out.splitlines()[-1] == "criticism: none"


def test_convert(capsys, tmp_path):
    walk, out_path = tmp_path / "walk.gpx", tmp_path / "walk.geojson"
    walk.write_bytes(WALK)
    code, out, err = run(capsys, "convert", str(walk), str(out_path), "--as", "lane")
    assert (code, err) == (0, "")
    assert out.splitlines() == [
        "Oak: is a point, and a lane must be a line: left out",
        "1 features written to walk.geojson",
    ]
    (feature,) = json.loads(out_path.read_text(encoding="utf-8"))["features"]
    assert feature["properties"]["kind"] == "lane"


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        (("walk.gpx", "walk.shp"), ".shp"),
        (("walk.gpx", "out.gpx", "--as", "road"), "road"),
        (("nowhere.gpx", "out.gpx"), "nowhere.gpx"),
        (("walk.gpx", "walk.gpx"), "the file that is read"),
    ],
)
def test_bad_conversions_are_one_message(capsys, tmp_path, monkeypatch, words, seen):
    monkeypatch.chdir(tmp_path)
    Path("walk.gpx").write_bytes(WALK)
    code, out, err = run(capsys, "convert", *words)
    assert (code, out) == (2, "")
    assert seen in err and len(err.splitlines()) == 1
