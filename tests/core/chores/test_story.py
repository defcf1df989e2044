"""A trail's story: from the ground's dates and the log, each thing once, the latest first."""

import datetime
import json
from dataclasses import replace

import pytest

from core.__main__ import main
from core.chores.due import chores
from core.chores.story import serves, story
from core.keep.entries import SEEN, SIGN, SIT, VISIT, WORK, entry_of
from core.say.work.story import NO_STORY, story_dict, story_lines, trail_said
from core.sit.scene import Scene
from tests import grounds
from tests.core.chores.test_due import farm

D = datetime.date
HERE = grounds.PIEDMONT
TODAY = D(2026, 11, 10)


def dated():
    ground = farm()
    trail = replace(ground.corridors[0], cut_on="2026-02-14", sprayed_on="2026-06-20")
    return replace(ground, corridors=(trail,))


ENTRIES = [
    entry_of(WORK, "2026-02-14", {"what": "cut", "feature": "trail", "minutes": 90}),
    entry_of(SEEN, "2026-11-01", {"trail": "trail", "count": 2, "deer": "doe"}),
    entry_of(SIGN, "2026-11-03", {"what": "rub", "place": grounds.at(HERE, 90, 200)}),
    entry_of(SIGN, "2026-11-04", {"what": "scrape", "place": grounds.at(HERE, 0, 200)}),
    entry_of(SIGN, "2026-11-05", {"what": "bed", "feature": "cane"}),
    entry_of(VISIT, "2026-08-01", {"what": "trimming", "feature": "trail"}),
    entry_of(SIT, "2026-11-02", {"stand": "oak", "sit": "morning"}),
]


def test_dates_and_entries_are_told_once_and_the_latest_first():
    told = story(dated(), ENTRIES, "trail")
    assert [(t.day, t.entry.kind if t.entry else t.chore) for t in told] == [
        (D(2026, 11, 3), "sign"),
        (D(2026, 11, 1), "seen"),
        (D(2026, 8, 1), "visit"),
        (D(2026, 6, 20), "spray"),
        (D(2026, 2, 14), "work"),
    ]


def test_what_it_serves():
    """The stand stands 20 yd from the trail, in its 30 yd; the bed lies on its far end."""
    trail = grounds.corridor(HERE, (90, 320), (90, 20))
    ground = replace(farm(), corridors=(trail,), areas=(grounds.bed(HERE, 90, 335),))
    found = serves(Scene(ground), "trail")
    assert (found.stands, found.areas) == (("oak",), ("cane",))
    far = replace(ground, corridors=(grounds.corridor(HERE, (90, 290), (90, 40)),))
    assert serves(Scene(far), "trail") == type(found)((), ())


def test_in_lines_and_as_data():
    ground = dated()
    due = chores(ground, ENTRIES, TODAY)
    said = trail_said(Scene(ground), "trail", ENTRIES, due, TODAY, [])
    lines = story_lines(said, "Trail")
    assert lines[0].startswith("Trail. In range of no stand by day.")
    assert any("Cut Trail, 1 Jan to 31 Mar 2027." in line for line in lines)
    assert "1 Nov 2026: 2 does, on Trail" in lines[-4]
    assert story_dict(said, "trail", "Trail")["happened"][0]["date"] == "2026-11-03"
    bare = trail_said(Scene(farm()), "trail", [], [], TODAY, [])
    assert story_lines(bare, "Trail")[-1] == NO_STORY


def test_the_command(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    words = ["trail", "--property", "demo_property.json", "--now", "2026-11-10T04:30-05:00"]
    assert main([*words, "--at", "East trail", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["trail"] == "east-trail" and told["happened"][0]["date"] == "2026-08-22"
    assert "no temperatures of it are kept here" in told["grown"][0]
    assert main([*words, "--at", "oats-box"]) == 2
    assert "'oats-box' is no trail" in capsys.readouterr().err


def test_spraying_windows_in_text(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    rows = ["time,wind direction (deg),wind speed (mph),temperature (F),rain (mm)"]
    rows += [f"2026-06-23T{h:02d}:00-04:00,0,6,70,0" for h in range(24)]
    file = tmp_path / "june.csv"
    file.write_text("\n".join(rows), encoding="utf-8")
    words = [
        *("spray", "--property", "demo_property.json", "--at", "cane-trail"),
        *("--now", "2026-06-23T00:30-04:00", "--forecast", str(file)),
    ]
    assert main(words) == 0
    assert "until somebody has read the label" in capsys.readouterr().out
    assert main([*words, "--label-read", "2026-06-20"]) == 0
    out = capsys.readouterr().out
    assert "The label is the law" in out and "not in spring sap flow" in out
    assert "Limits used: wind 3 to 10 mph, gusts to 15 mph, 50 to 85 °F, dry for 6 h" in out
    assert main([*words, "--label-read", "2026-06-20", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["label_read"] == "2026-06-20"
    # sun up at 6:08 there: from an hour after it to the last hour with six dry ones behind it
    assert [(w["start"][11:16], w["end"][11:16]) for w in told["windows"]] == [("08:00", "18:00")]


@pytest.mark.parametrize("word", ["seen", "sign"])
def test_what_was_taken_out_is_no_part_of_it(word):
    gone = [replace(e, removed="2026-11-09T00:00:00-05:00") for e in ENTRIES if e.kind == word]
    assert all(t.entry is None for t in story(dated(), gone, "trail"))
