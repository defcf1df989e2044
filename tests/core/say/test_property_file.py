"""What was read, in lines for a person to check."""

from core.ground.store import open_property
from core.say.property_file import property_lines
from tests import ground_files as g


def test_the_whole_report(tmp_path):
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    assert property_lines(open_property(path)) == [
        "Test ground: revision 1, America/New_York, center 36.1000, -79.9000 (latitude, longitude)",
        "features: 2 stands, 2 lanes, 1 corridor, 1 bedding area, 1 food area, 1 boundary, 1 truck",
        "bow, 09-13 to 01-01: legal light 30 min before sunrise to 30 after sunset, "
        "confirmed 2026-08-01",
    ]


def test_light_that_nobody_looked_up_is_said():
    seasons = [{"weapon": "gun", "first": "11-15", "last": "12-13", "after_sunset_min": 0}]
    lines = property_lines(g.opened(g.document(seasons=seasons)))
    assert lines[1] == "features: none"
    assert lines[2].endswith(
        "before sunrise to 0 after sunset, not confirmed: check your state's rule"
    )


def test_no_season_is_said():
    lines = property_lines(g.opened(g.document(seasons=[])))
    assert lines[-1] == "no season: every sit is outside season"


def test_what_was_mended_and_what_is_not_used_is_said():
    bed = g.bed("cane", g.square(0, 0, 60), month=[9])
    bed["geometry"]["coordinates"][0].reverse()
    stand = g.stand("oak", 90, 0, wanted={"by_part": {"rutt": {"morning": "best"}}})
    parts = [{"name": "rut", "first": "11-01", "last": "11-30"}]
    lines = property_lines(g.opened(g.document(bed, stand, parts=parts, version=2)))
    assert lines[-5] == "read-only"
    assert lines[-4].startswith("note: the file is of version 2")
    assert lines[-3] == 'note: bedding "cane" (Cane): "month" is not used; is months meant?'
    assert "wound the wrong way" in lines[-2]
    assert 'wanted.by_part names "rutt"' in lines[-1]


def test_lines_stay_lines():
    lines = property_lines(g.opened(g.document(name="a\nb\x1b[31m")))
    assert all(line.isprintable() for line in lines)
