"""What reaches a terminal, JSON and CSV from hostile names, files and services' texts."""

import csv
import io
import json
import sys

import pytest

from core.__main__ import main
from core.cli.printing import put
from core.cli.shared import as_json
from core.ground.parse import property_from_document
from core.harmless import csv_cell, harmless, harmless_json
from core.say.season.tables import season_csv
from core.season.review import judge_season
from core.sit.scene import Scene
from core.weather.files.typical import typical_year
from tests.hostile import NAMES, OBEYED, small

SIT = ["--date", "2026-11-10", "--sit", "morning", "--wind", "NW 8"]
COMMANDS = {
    "sits": ["sits", *SIT],
    "taken": ["sits", *SIT, "--taken", "dry-fork:a\x1b[31m\nb"],
    "round": ["round", "--date", "2027-02-10"],
    "daylight": ["daylight", "--date", "2026-11-10"],
    "refused": ["sits", *SIT, "--hunter", "a\x1b[31m\u202eb\nc"],
}
STARTS_A_FORMULA = set("=+-@＝＋－＠")


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """A ground of hostile names and one of plain ones: their paths."""
    folder = tmp_path_factory.mktemp("grounds")
    found = {}
    for kind, names in (("hostile", list(NAMES.values())), ("plain", ["Oak"])):
        found[kind] = folder / f"{kind}.json"
        found[kind].write_text(json.dumps(small(names)), encoding="utf-8")
    return found


def told(capsys, words) -> tuple[str, str]:
    main(words)
    out = capsys.readouterr()
    return out.out, out.err


@pytest.mark.parametrize("command", COMMANDS)
def test_a_terminal_gets_nothing_that_it_obeys(command, files, capsys):
    words = COMMANDS[command]
    out, err = told(capsys, [*words, "--property", str(files["hostile"])])
    plain_out, plain_err = told(capsys, [*words, "--property", str(files["plain"])])
    assert not set(out + err) & (OBEYED - {"\n"})
    assert out + err
    assert out.count("\n") == plain_out.count("\n")
    assert err.count("\n") == plain_err.count("\n")


@pytest.mark.parametrize("words", [["check", "a.json"], ["sits"], ["check", "a.json", "--now"], []])
def test_words_that_are_no_command_are_made_harmless_too(words, capsys):
    """A `*` stands for the names of files, whatever is in them."""
    with pytest.raises(SystemExit):
        main([*words, *NAMES.values()])
    err = capsys.readouterr().err
    assert not set(err) & (OBEYED - {"\n"})
    assert ": error: " in err.splitlines()[-1]


def test_so_of_a_ground_that_is_checked(files, capsys):
    out, err = told(capsys, ["check", str(files["hostile"])])
    assert out and not set(out + err) & (OBEYED - {"\n"})


def test_json_means_the_very_names(files, capsys):
    words = [*COMMANDS["sits"], "--property", str(files["hostile"]), "--json"]
    out, _ = told(capsys, words)
    assert not set(out) & (OBEYED - {"\n"})
    given = json.loads(files["hostile"].read_text(encoding="utf-8"))
    names = {f["properties"]["name"] for f in given["features"] if f["id"] == "dry-fork"}
    assert names <= {stand["name"] for stand in json.loads(out)["stands"]}


def test_texts_of_weather_files_do_not_either(tmp_path, capsys):
    rows = "".join(f"2026-11-10T{h:02d}:00,315,8\n" for h in range(12))
    table = tmp_path / "a\x1b[31m.csv"
    table.write_text(f"time,wind dir \x1b]0;x\x07\u202e,speed (furlongs \x9b)\n{rows}", "utf-8")
    out, err = told(capsys, ["wind", str(table)])
    assert err and not set(out + err) & (OBEYED - {"\n"})
    raw = "Station KX\x1b[2JX\u202e"
    forecast = {
        "latitude": 35.9,
        "longitude": -79.7,
        "timezone": raw,
        "utc_offset_seconds": 0,
        "hourly_units": {"time": "iso8601", "wind_speed_10m": raw},
        "hourly": {"time": ["2026-11-10T00:00"], "wind_speed_10m": [1.0]},
    }
    service = tmp_path / "service.json"
    service.write_text(json.dumps(forecast), encoding="utf-8")
    out, err = told(capsys, ["wind", str(service)])
    assert out + err and not set(out + err) & (OBEYED - {"\n"})


@pytest.mark.parametrize("name", NAMES)
def test_one_line_stays_one_line(name, capsys):
    assert put([NAMES[name], "next"], sys.stdout) == ""
    first, second, rest = capsys.readouterr().out.split("\n")
    assert (second, rest) == ("next", "")
    assert not set(first) & OBEYED


def test_what_is_harmless_is_left_alone():
    for text in ("Oak", "Ríbeira №1 — 30°", "鹿の森", "مزرعة", "👨\u200d🌾", "a\u00a0b", "e\u0301"):
        assert harmless(text) is text
    assert harmless("a\r\n\tb\x1b[31m\u202e") == "a b\\u001b[31m\\u202e"
    assert harmless("half \ud800") == "half \\ud800"


def test_json_keeps_its_meaning(capsys):
    report = {kind: f"{name}\x85" for kind, name in NAMES.items()}
    put([as_json(report)], sys.stdout)
    assert json.loads(capsys.readouterr().out) == report
    text = json.dumps({"a": "x\u202e\x9b\u2028\ufeff"}, ensure_ascii=False)
    assert harmless_json(text).isascii()
    assert json.loads(harmless_json(text)) == json.loads(text)


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+1",
        "-1",
        "@x",
        "\t=1",
        "\r=1",
        "\n=1",
        " =1",
        "\u00a0=1",
        "\u3000@x",
        "＝1",
        "\t\r +1",
    ],
)
def test_a_cell_never_begins_a_formula(text):
    assert csv_cell(text).startswith("'")


@pytest.mark.parametrize("text", ["Oak", "a=1", "3 - 4", "", "\tOak"])
def test_other_cells_are_as_they_were(text):
    assert csv_cell(text) == harmless(text)


def test_no_cell_of_the_season_begins_a_formula():
    formulas = [name for kind, name in NAMES.items() if kind.startswith("formula")]
    assert len(formulas) == 3
    scene = Scene(property_from_document(small(formulas)))
    rows = list(csv.reader(io.StringIO(season_csv(judge_season(scene, typical_year())))))
    assert len(rows) > 10
    for row in rows[1:]:
        for cell in row:
            assert not set(cell.strip()[:1]) & STARTS_A_FORMULA
            assert not set(cell) & OBEYED
