"""The log without a screen: added by a sentence, listed, changed, taken back."""

import contextlib
import csv
import json
import math
import sqlite3

import pytest

from core.__main__ import main
from core.ground.store import open_property
from core.harmless import FORMULA
from core.keep.entries import SIT, entry_of
from core.keep.journal import Journal
from core.keep.log import kept_entries, open_journal
from core.weather.hours import make_hours
from core.weather.plain import hours_to_plain
from tests.few_stands import few_stands_file
from tests.hostile import NAMES, OBEYED, log_of

DEMO = ["--property", str(few_stands_file())]
NOON = ["--now", "2026-11-27T12:00:00-05:00"]


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def run(home, capsys):
    assert home.is_dir()

    def told(*words, code=0):
        assert main(["log", *words]) == code
        said = capsys.readouterr()
        return said.out if code == 0 or said.out else said.err

    return told


def add(run, text, *more, code=0):
    return json.loads(run("add", text, *DEMO, *NOON, "--json", *more, code=code))


def test_a_clear_line_is_kept(run):
    said = add(run, "split oak am. 7:40 2 does. left 9:30")
    assert said["asked"] == []
    assert [e["id"] for e in said["understood"]] == said["kept"]
    listed = json.loads(run("list", *DEMO, "--json"))["entries"]
    assert [(e["kind"], e["stand"], e["date"]) for e in listed] == [
        ("sit", "split-oak", "2026-11-27"),
        ("seen", "split-oak", "2026-11-27"),
    ]


def test_a_sit_that_is_in_the_log_is_asked_about_before_it_is_kept_twice(run):
    line = "split oak am. left 9:30"
    add(run, line)
    asked = add(run, line, code=2)
    assert asked["kept"] == [] and "in the log already" in asked["asked"][0]
    assert add(run, "split oak pm. left 17:30")["asked"] == []  # another half of the day
    assert len(add(run, line, "--yes")["kept"]) == 1
    assert len(json.loads(run("list", *DEMO, "--json"))["entries"]) == 3


def test_what_is_unclear_keeps_nothing_and_says_so(run):
    said = add(run, "split oak am. dunno what", code=2)
    assert said["kept"] == []
    assert said["asked"] == ["dunno what: What is this?"]
    assert kept_entries(open_property(few_stands_file()).property.uid) == []
    text = run("add", "split oak am. dunno what", *DEMO, *NOON, code=2)
    assert "Nothing was kept" in text


def test_yes_keeps_what_is_clear(run):
    said = add(run, "split oak am. dunno what", "--yes")
    assert len(said["kept"]) == 1


def test_the_day_can_be_told(run):
    said = add(run, "split oak am", "--date", "2026-11-10")
    assert said["understood"][0]["date"] == "2026-11-10"


def test_an_entry_is_changed_and_its_former_text_kept(run):
    seen = add(run, "split oak am. 7:40 2 does")["kept"][1]
    run("change", seen, "count=3", "winded=yes", *DEMO)
    shown = json.loads(run("show", seen, *DEMO, "--json"))
    assert (shown["entry"]["count"], shown["entry"]["winded"]) == (3, True)
    assert [old["count"] for old in shown["former"]] == [2]
    run("change", seen, "winded=", *DEMO)
    assert "winded" not in json.loads(run("show", seen, *DEMO, "--json"))["entry"]


def test_an_entry_is_removed_and_comes_back(run):
    (sit,) = add(run, "split oak am")["kept"]
    run("remove", sit, *DEMO)
    assert run("list", *DEMO) == "The log is empty.\n"
    run("restore", sit, *DEMO)
    assert "Split oak" in run("list", *DEMO)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("show", "gone"), "no entry has the id 'gone'"),
        (("remove", "gone"), "no entry has the id 'gone'"),
        (("list", "--since", "soon"), "'soon' is no date"),
    ],
)
def test_bad_input_is_said(run, words, said):
    assert said in run(*words, *DEMO, code=2)


def test_a_value_that_does_not_fit_changes_nothing(run):
    (sit,) = add(run, "split oak am")["kept"]
    assert '"noon"' in run("change", sit, "sit=noon", *DEMO, code=2)
    assert json.loads(run("show", sit, *DEMO, "--json"))["former"] == []


def test_another_journal_by_its_path(run, home):
    path = home / "camp.sqlite"
    run("add", "split oak am", *DEMO, *NOON, "--log", str(path))
    assert "Split oak" in run("list", *DEMO, "--log", str(path))
    assert run("list", *DEMO) == "The log is empty.\n"


def test_the_score_needs_five(run):
    assert run("score", *DEMO) == "Too few sits yet to say: five of a kind are needed.\n"


# --- what an answer makes of the log ---

SITS = ["sits", *DEMO, "--date", "2026-11-10", "--sit", "morning", "--wind", "NW 8"]


def sits(capsys, *more):
    assert main([*SITS, *more]) == 0
    return capsys.readouterr().out


def test_the_order_rests_on_the_log(home, run, capsys):
    before = sits(capsys)
    assert not (home / "journal").exists()  # asking makes no log
    best = json.loads(sits(capsys, "--json"))["stands"][0]
    other = home / "other.sqlite"
    line = f"{best['name']} am. left 9:30"
    run("add", line, *DEMO, "--date", "2026-11-08", "--log", str(other))
    assert sits(capsys) == before  # a log of another name counts only where it is named
    told = json.loads(sits(capsys, "--json", "--log", str(other)))["stands"]
    own = next(s for s in told if s["id"] == best["id"])
    assert (own["rest_share"], "Sat 2 days ago." in own["reasons"]) == (
        pytest.approx(1 / (1 + math.exp(-2 / 2)), abs=5e-4),  # the demo's rut rests two days
        True,
    )
    assert "Sat 2 days ago." in sits(capsys, "--log", str(other))
    run("add", line, *DEMO, "--date", "2026-11-08")
    assert "Sat 2 days ago." in sits(capsys)  # the property's own needs no name


def test_a_log_that_is_not_there_is_refused(home, capsys):
    assert main([*SITS, "--log", str(home / "none.sqlite")]) == 2
    assert "none.sqlite" in capsys.readouterr().err
    assert not (home / "none.sqlite").exists()


def test_the_ledger_by_place(run, home):
    other = home / "other.sqlite"
    table = make_hours(
        start_s=[0], wind_from_deg=180.0, speed_mps=3.6, half_width_deg=5.0, held=True
    )
    ground = open_property(few_stands_file()).property
    with Journal(other, ground.uid) as journal:
        key = journal.keep_weather(hours_to_plain(table))
        times = {"from": "2026-11-10T06:00:00-05:00", "to": "2026-11-10T09:00:00-05:00"}
        sat = {"stand": "dry-fork", "sit": "morning", "weather": key, **times}
        journal.add([entry_of(SIT, "2026-11-10", sat)])
    at = [*DEMO, *NOON, "--log", str(other)]
    told = json.loads(run("ledger", *at, "--days", "30", "--json"))
    assert told["since"] == "2026-10-29" and told["places"]
    for place in told["places"]:
        assert place["hours"] == pytest.approx(sum(f["hours"] for f in place["from"]), abs=2e-3)
    assert ground.name_of(told["places"][0]["id"]) in run("ledger", *at)
    assert "no air of yours" in run("ledger", *at, "--days", "3")


def test_a_ledger_of_no_days_is_refused(run):
    assert "'0' is no number of days" in run("ledger", *DEMO, "--days", "0", code=2)


@pytest.mark.parametrize("command", [SITS, ["chores", *DEMO], ["log", "list", *DEMO]])
def test_nothing_but_a_journal_is_opened_as_one(tmp_path, capsys, command):
    table, base = tmp_path / "winds.csv", tmp_path / "things.sqlite"
    table.write_text("time,wind\n")
    with contextlib.closing(sqlite3.connect(base)) as things:
        things.execute("create table entries (anything)")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    for name, said in (
        ("winds.csv", "it is no journal"),
        ("things.sqlite", "it is no journal"),
        ("none.sqlite", "there is no such file"),
        (".", "it is no file"),
    ):
        assert main([*command, "--log", str(tmp_path / name)]) == 2
        assert said in capsys.readouterr().err
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_damaged_journal_is_put_aside_and_that_is_said(run, home, capsys):
    path = home / "camp.sqlite"
    run("add", "split oak am", *DEMO, *NOON, "--log", str(path))
    with path.open("r+b") as file:
        file.seek(100)  # past the head
        file.write(b"\xff" * 400)
    sits(capsys, "--json")
    assert main([*SITS, "--json", "--log", str(path)]) == 0
    told = capsys.readouterr()
    json.loads(told.out)
    assert "The log was damaged. It was put aside as camp.damaged-1.sqlite" in told.err


# --- in and out ---


def test_a_log_goes_out_and_comes_in_elsewhere(run, home, tmp_path):
    add(run, "split oak am. 7:40 2 does. left 9:30")
    table = tmp_path / "log.csv"
    assert "2 entries" in run("export", str(table), *DEMO)
    assert "log.csv" in run("export", str(table), *DEMO, code=2)  # it is there
    other = ["--log", str(home / "other.sqlite")]
    assert "Nothing was kept" in run("import", str(table), *DEMO, *other, code=2)
    assert "2 entries, 2 of them new." in run("import", str(table), *DEMO, *other, "--yes")
    assert "0 of them new" in run("import", str(table), *DEMO, *other, "--yes")
    points = tmp_path / "log.geojson"
    run("export", str(points), *DEMO)
    assert len(json.loads(points.read_text())["features"]) == 2


def test_a_former_table_is_asked_about(run, tmp_path):
    table = tmp_path / "old.csv"
    table.write_text("Wann,stand,half,deer\n03/04/2024,Split oak,am,2\n")
    at = [str(table), *DEMO]
    assert "--column date=NAME" in run("import", *at, code=2)
    assert "--dayfirst" in run("import", *at, "--column", "date=Wann", code=2)
    said = run("import", *at, "--column", "date=Wann", "--dayfirst", "--yes")
    assert "2 entries, 2 of them new." in said


def test_everything_goes_out_and_is_looked_at_first(run, tmp_path):
    add(run, "split oak am. left 9:30")
    whole = tmp_path / "all.zip"
    told = json.loads(run("export", str(whole), *DEMO, "--json"))
    assert told["bytes"] == whole.stat().st_size
    assert "Nothing was brought in" in run("import", str(whole), *DEMO, code=2)
    assert "has another ending" in run("export", str(tmp_path / "x.txt"), *DEMO, code=2)


def test_hostile_words_in_every_field_are_words_everywhere(run, tmp_path):
    with open_journal(open_property(few_stands_file()).property.uid) as journal:
        journal.add(log_of(NAMES.values(), "dry-fork"))
    said = [run(act, *DEMO, *NOON) for act in ("list", "score", "ledger")]
    said += [run(act, *DEMO, *NOON, "--json") for act in ("list", "score", "ledger")]
    for text in said:
        assert not set(text) & (OBEYED - {"\n"})
    table, points = tmp_path / "log.csv", tmp_path / "log.geojson"
    run("export", str(table), *DEMO)
    cells = [c for row in csv.reader(table.open(newline="", encoding="utf-8")) for c in row]
    assert not [c for c in cells if FORMULA.match(c)]
    assert not set("".join(cells)) & (OBEYED - {"\n"})
    run("export", str(points), *DEMO)
    assert json.loads(points.read_text(encoding="utf-8"))["type"] == "FeatureCollection"
    again = ["--log", str(tmp_path / "b.sqlite")]
    assert "line" not in run("import", str(table), *DEMO, *again, "--yes")  # none is left out
    was, now = (json.loads(run("list", *DEMO, *more, "--json")) for more in ([], again))
    assert {e["id"]: e.get("text") for e in was["entries"]} == {
        e["id"]: e.get("text") for e in now["entries"]
    }
