"""What a reader noted of a wind stands with it in every answer: text, JSON, page for the pocket."""

import html
import json

import pytest

from core.__main__ import main
from core.answer.one_sit import answer_sit
from core.say.headline import head_of
from core.show.card import head_html
from core.sit.prepare import prepare_sit
from core.weather.files.recognise import read_weather
from tests.few_stands import few_stands_file
from tests.grounds import NOV_10, ground, sit_of, wind

FEW = few_stands_file(("dry-fork", "plum-edge"))
DAY = ["--property", FEW, "--now", "2026-11-09T20:00-05:00"]
NOTES = ("toward", "impossible wind")


def table() -> str:
    """Hours from the evening of 9 November to the night of the 11th, with one impossible wind."""
    rows = [
        f"2026-11-{9 + h // 24:02d} {h % 24:02d}:00,130,{600 if h == 70 else 8}"
        for h in range(22, 72)
    ]
    return "\n".join(["time utc,wind direction toward,wind speed mph", *rows]) + "\n"


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "winds.csv"
    path.write_text(table(), encoding="utf-8")
    notes = read_weather(path.read_bytes(), path.name).notes
    assert all(any(word in note for note in notes) for word in NOTES), notes
    return path, notes


def ran(capsys, *words) -> str:
    assert main([str(word) for word in words]) == 0
    return capsys.readouterr().out


def sentences(notes) -> list[str]:
    return [f"{note[0].upper()}{note[1:]}." for note in notes]


def test_sits(capsys, file):
    path, notes = file
    words = ("sits", *DAY, "--date", NOV_10, "--sit", "morning", "--forecast", path)
    lines = ran(capsys, *words).splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("Wind "))
    assert lines[at + 1] == " ".join(sentences(notes))  # beside the wind, not at the end
    assert json.loads(ran(capsys, *words, "--json"))["wind"]["notes"] == list(notes)


def test_next(capsys, file):
    path, notes = file
    said = ran(capsys, "next", *DAY, "--forecast", path)
    assert all(sentence in said for sentence in sentences(notes))
    assert "2026-11-10 morning" in said
    report = json.loads(ran(capsys, "next", *DAY, "--forecast", path, "--json"))
    assert report["wind"]["notes"] == list(notes) and report["sits"]


def test_the_page_for_the_pocket(capsys, file, tmp_path):
    path, notes = file
    out = tmp_path / "page.html"
    ran(capsys, "pocket", *DAY, "--date", NOV_10, "--forecast", path, "--out", out)
    page = html.unescape(out.read_text(encoding="utf-8"))
    for sentence in sentences(notes):
        assert page.count(sentence) == 1  # once, not with each sit


def test_season(capsys, tmp_path):
    path = tmp_path / "winds.csv"
    rows = [f"2024-11-{d:02d} {h:02d}:00,130,8" for d in range(1, 15) for h in range(24)]
    head = "time utc,wind direction toward,wind speed mph"
    path.write_text("\n".join([head, *rows, "2024-11-15 00:00,130,600"]) + "\n", encoding="utf-8")
    words = ("season", "--property", FEW, "--history", path, "--no-candidates")
    report = json.loads(ran(capsys, *words, "--json"))
    assert all(any(word in note for note in report["notes"]) for word in NOTES)
    said = ran(capsys, *words)
    assert all(sentence in said for sentence in sentences(report["notes"]))


def test_the_screen():
    noted = read_weather(table().encode(), "winds.csv")
    sit = sit_of(ground(), wind(300.0))
    ready = prepare_sit(sit.scene, noted, sit.clock.date, "morning")
    said = head_of(ready, answer_sit(ready).best)
    assert said.noted == tuple(sentences(noted.notes))
    page = html.unescape(str(head_html(said, "here")))
    assert all(sentence in page for sentence in said.noted)
    assert head_of(sit, answer_sit(sit).best).noted == ()


@pytest.mark.parametrize("command", ["sits", "next", "pocket"])
def test_a_forecast_of_another_place_is_asked_about(capsys, tmp_path, command):
    path, out = tmp_path / "sydney.json", tmp_path / "page.html"
    times = [f"2026-11-{9 + h // 24:02d}T{h % 24:02d}:00" for h in range(22, 72)]
    hourly = {"time": times, "wind_speed_10m": [8] * 50, "wind_direction_10m": [310] * 50}
    units = {"wind_speed_10m": "mp/h"}
    place = {"latitude": -33.87, "longitude": 151.21, "utc_offset_seconds": 0}
    path.write_text(json.dumps({**place, "hourly": hourly, "hourly_units": units}), "utf-8")
    more = {
        "sits": ["--date", NOV_10, "--sit", "morning"],
        "next": [],
        "pocket": ["--date", NOV_10, "--out", out],
    }[command]
    words = [str(w) for w in (command, *DAY, "--forecast", path, *more)]
    assert main(words) == 2
    told = capsys.readouterr()
    assert "miles WSW of this ground" in told.err and "--elsewhere" in told.err
    assert told.out == "" and not out.exists()
    assert main([*words, "--elsewhere", "leave"]) == 2
    capsys.readouterr()
    said = ran(capsys, *words, "--elsewhere", "use")
    shown = out.read_text(encoding="utf-8") if command == "pocket" else said
    assert "It is for a place 9,582 miles WSW of this ground" in shown
