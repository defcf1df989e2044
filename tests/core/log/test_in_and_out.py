"""In and out: cells come back as written, tables by asking, everything in one file."""

import csv
import datetime
import io
import json
import zipfile

import pytest

from core.errors import BadRequest, NeedsAnswer
from core.ground.store import demo_path, list_versions, open_property, save_property
from core.harmless import FORMULA, OBEYED, from_cell, whole_cell
from core.keep.entries import AIR, HARVEST, KINDS, NOTE, SEEN, SIGN, SIT, BadEntry, entry_of
from core.keep.log import kept_entries, open_journal
from core.log.bringing_in import bring_in, loose_text
from core.log.former import column_answers, former_entries
from core.log.look_into import NEW, OTHER, SAME, BadArchive, look_into
from core.log.tables import ReadIn, entries_csv, entries_from, entries_geojson, is_own, rows_of
from core.log.whole import GROUNDS, HEAD, KEPT, everything_to
from core.weather.answers import Answers
from tests.grounds import PIEDMONT, bed, ground
from tests.hostile import NAMES

DAY, NOW = "2026-11-10", "2026-11-10T12:00:00-05:00"
ODD = ["=1+1", "'=1+1", "''", "'", " +x", "\t@x", "a\nb", "\\u0041", "\\\\u", "c\x1bd", "-5", "x"]


@pytest.mark.parametrize("text", [*ODD, *NAMES.values()])
def test_a_cell_comes_back_as_written_and_runs_nothing(text):
    cell = whole_cell(text)
    assert from_cell(cell) == text
    assert not FORMULA.match(cell)
    assert not OBEYED.search(cell.replace("\n", ""))


def entries():
    sit = entry_of(
        SIT,
        DAY,
        {"stand": "oak", "sit": "morning", "told": {"verdict": "clean", "hours": []}, "text": "=1"},
        now=NOW,
    )
    seen = entry_of(
        SEEN, DAY, {"count": 2, "deer": "doe", "yards": 60.5, "winded": False}, of=sit.id, now=NOW
    )
    air = entry_of(AIR, DAY, {"from_deg": 270.0, "felt": "otherwise"}, of=sit.id, now=NOW)
    sign = entry_of(SIGN, DAY, {"what": "rub", "place": [-79.9, 36.1], "text": "60"}, now=NOW)
    odd = [entry_of(NOTE, DAY, {"text": name}, now=NOW) for name in (*NAMES.values(), *ODD)]
    tag = entry_of(HARVEST, DAY, {"sex": "doe", "tag": "007", "report_by": DAY}, now=NOW)
    return [sit, seen, air, sign, tag, *odd]


def test_a_table_of_all_kinds_comes_back_whole():
    kept = entries()
    rows = rows_of(entries_csv(kept), "log.csv")
    assert is_own(rows[0])
    assert entries_from(rows, "log.csv") == ReadIn(tuple(kept))


@pytest.mark.parametrize("kind", KINDS)
def test_a_table_of_one_kind_holds_that_kind(kind):
    kept = entries()
    back = entries_from(rows_of(entries_csv([*kept, kept[0]], kind) + "\r\nx", "t"), "t")
    assert list(back.entries) == [e for e in [*kept, kept[0]] if e.kind == kind]


def test_no_such_kind():
    with pytest.raises(BadEntry, match="'x' is no kind"):
        entries_csv([], "x")


def test_a_line_that_is_no_entry_is_told():
    table = "id,kind,date,winded\n1,seen,2026-11-10,maybe\n2,seen,2026-11-10,yes\n"
    back = entries_from(rows_of(table, "t.csv"), "t.csv")
    assert [e.id for e in back.entries] == ["2"]
    assert "line 2 is left out" in back.notes[0] and "maybe" in back.notes[0]


def test_what_belongs_to_sits_that_are_not_there_is_told():
    kept = entries()
    sit, seen, air = kept[:3]
    assert loose_text(kept, []) == "" == loose_text([seen, air], [sit.id])
    assert loose_text([seen, air], []).startswith("2 entries belong to sits that are not in")


def test_points_on_the_map():
    prop = ground(areas=(bed(PIEDMONT, 180, 100),))
    sign = entry_of(SIGN, DAY, {"what": "bed", "feature": "cane"})
    text, n = entries_geojson([*entries(), sign], prop)
    told = json.loads(text)
    assert n == len(told["features"])
    kinds = [f["properties"]["kind"] for f in told["features"]]
    assert kinds == ["sit", "sign", "sign"]
    assert told["features"][1]["geometry"] == {"type": "Point", "coordinates": [-79.9, 36.1]}
    assert all("told" not in f["properties"] for f in told["features"])


# --- a table of former years ---

FORMER = """Date;Stand;Am/Pm;Deer;Sex;Yards;Busted;Notes
13/11/2024;Oak;AM;2;does;60;;=HYPERLINK(1)
13/11/2024;oak;morning;1;buck;;yes;
14/11/2024;Elm;pm;;;;;saw nobody
never;Oak;am;1;;;;
"""


def former(text=FORMER, **answers):
    return former_entries(rows_of(text, "old.csv"), ground(), "old.csv", Answers(**answers), NOW)


def test_a_former_table_under_known_names():
    found = former()
    sit, two, one, note = found.entries
    assert (sit.kind, sit.date, sit.get("stand"), sit.get("sit")) == (
        SIT,
        "2024-11-13",
        "oak",
        "morning",
    )
    assert (two.get("count"), two.get("deer"), two.get("yards"), two.of) == (2, "doe", 60.0, sit.id)
    assert (one.get("deer"), one.get("winded")) == ("buck", True)
    assert (note.kind, note.get("text")) == (NOTE, "Elm, pm, saw nobody")
    assert any("'never' is no date" in n for n in found.notes)
    assert any("No stand is called 'Elm'" in n for n in found.notes)


def test_the_same_table_read_again_gives_the_same_entries():
    assert [e.id for e in former().entries] == [e.id for e in former().entries]


def test_which_column_is_the_date_is_asked():
    table = FORMER.replace("Date;", "Wann;")
    with pytest.raises(NeedsAnswer) as asked:
        former(table)
    assert asked.value.asks == "columns" and asked.value.needs == ("date",)
    assert ("Wann", "13/11/2024, 13/11/2024, 14/11/2024") in [
        (c.value, c.means) for c in asked.value.choices
    ]
    assert len(former(table, columns=(("date", "Wann"),)).entries) == 4
    assert len(former(table, columns=(("date", "1"),)).entries) == 4


def test_which_number_is_the_day_is_asked():
    table = "date,stand,half\n03/04/2024,Oak,am\n"
    with pytest.raises(NeedsAnswer) as asked:
        former(table)
    assert asked.value.asks == "dayfirst"
    assert [e.date for e in former(table, dayfirst=True).entries] == ["2024-04-03"]


def test_columns_that_are_not_taken_are_told():
    table = "date,Sitz,half,empty\n2024-11-01,Oak,am,\n"
    assert "Columns that are not taken: Sitz." in former(table).notes
    assert (
        "Columns that are not taken: Sitz." not in former(table, columns=(("stand", "Sitz"),)).notes
    )


def test_columns_that_are_none():
    with pytest.raises(BadRequest, match="no column 'Nowhere'"):
        former(columns=(("date", "Nowhere"),))
    with pytest.raises(BadRequest, match="names no column"):
        column_answers(["moon=x"])


def test_the_clock_tells_the_half():
    found = former("date,stand,time,deer\n2024-11-01,Oak,16:30,1\n2024-11-01,Oak,7:05,2\n")
    assert [e.get("sit") for e in found.entries if e.kind == SIT] == ["evening", "morning"]
    assert found.entries[1].get("at") == "2024-11-01T16:30:00-04:00"


# --- everything in one file ---


@pytest.fixture
def machine(tmp_path, monkeypatch):
    """machine(name) makes a user's folder the one in use."""

    def use(name):
        folder = tmp_path / name
        folder.mkdir(exist_ok=True)
        monkeypatch.setenv("STAND_WIND_HOME", str(folder))
        return folder

    return use


@pytest.fixture
def first(machine):
    """A machine with a ground of two versions, a log, kept weather and a secret."""
    home = machine("first")
    demo = open_property(demo_path())
    own = save_property(demo, demo.document, home / "farm.json", now_s=0)
    own = save_property(own, own.document, now_s=60)
    with open_journal(own.property.uid) as journal:
        key = journal.keep_weather({"start_s": [0]})
        sit = entry_of(SIT, DAY, {"stand": "oak", "sit": "morning", "weather": key}, now=NOW)
        journal.add([sit, entry_of(SEEN, DAY, {"count": 1}, of=sit.id, now=NOW)])
        journal.change(entry_of(SIT, DAY, {**sit.values, "text": "later"}, id_=sit.id))
        gone = entry_of(NOTE, DAY, {"text": "gone"})
        journal.add([gone])
        journal.remove(gone.id)
    (home / "forecasts" / "a").mkdir(parents=True)
    (home / "forecasts" / "a" / "x.json.gz").write_bytes(b"kept")
    (home / "phone-key.txt").write_text("secret")
    return home


def packed():
    out = io.BytesIO()
    everything_to(out)
    return out


def test_another_machine_has_it_all(first, machine):
    out = packed()
    assert "phone-key" not in "".join(zipfile.ZipFile(out).namelist())
    uid = open_property(first / "farm.json").property.uid
    machine("first")
    with open_journal(uid) as journal:
        was = (journal.entries(removed=True), [journal.former(e.id) for e in journal.entries()])
    second = machine("second")
    look = look_into(out, "all.zip")
    assert [g.here for g in look.grounds] == [NEW]
    assert not list(second.iterdir())  # a look changes nothing
    said = bring_in(out, "all.zip")
    assert "came in as farm.json, with 1 earlier version" in said[0]
    assert (second / "farm.json").read_bytes() == (first / "farm.json").read_bytes()
    assert len(list_versions(second / "farm.json")) == 1
    assert (second / "forecasts" / "a" / "x.json.gz").read_bytes() == b"kept"
    with open_journal(uid) as journal:
        assert journal.entries(removed=True) == was[0]
        assert [journal.former(e.id) for e in journal.entries()] == was[1]
        assert journal.weather(journal.entries(SIT)[0].get("weather")) == {"start_s": [0]}
    again = bring_in(out, "all.zip")
    assert "was here already" in again[0] and again[1].startswith("0 entries")


def test_logs_of_grounds_that_lie_elsewhere_go_along(first, machine):
    """As that of the demo, or of a ground whose file is broken."""
    with open_journal("elsewhere") as journal:
        journal.add([entry_of(NOTE, DAY, {"text": "kept"})])
    (first / "farm.json").write_text("{", encoding="utf-8")
    out = io.BytesIO()
    said = everything_to(out)
    assert sum("a log of a ground that lies elsewhere" in line for line in said) == 2
    machine("second")
    bring_in(out, "all.zip")
    with open_journal("elsewhere") as journal:
        assert [e.get("text") for e in journal.entries()] == ["kept"]


def test_nothing_is_overwritten_in_silence(first):
    out = packed()
    own = open_property(first / "farm.json")
    uid = own.property.uid
    other = {**own.document, "property": {**own.document["property"], "name": "Mine now"}}
    save_property(own, other, now_s=120)
    with open_journal(uid) as journal:
        sit = journal.entries(SIT)[0]
        journal.change(entry_of(SIT, DAY, {**sit.values, "text": "mine"}, id_=sit.id))
    (first / "forecasts" / "a" / "x.json.gz").write_bytes(b"newer")
    assert [g.here for g in look_into(out, "all.zip").grounds] == [OTHER]
    said = bring_in(out, "all.zip")
    assert "yours stays" in said[0] and "1 is here and different: yours stays" in said[1]
    assert open_property(first / "farm.json").property.name == "Mine now"
    assert next(e for e in kept_entries(uid) if e.kind == SIT).get("text") == "mine"
    assert (first / "forecasts" / "a" / "x.json.gz").read_bytes() == b"newer"
    said = bring_in(out, "all.zip", replace=True)
    assert "yours is its earlier version" in said[0]
    assert open_property(first / "farm.json").property.name != "Mine now"
    newest = list_versions(first / "farm.json")[0]
    assert "Mine now" in newest.path.read_text(encoding="utf-8")
    assert [g.here for g in look_into(packed(), "again.zip").grounds] == [SAME]


EVIL = ("../evil.json", "/evil", "kept/../evil", "kept/forecasts/../../evil", "kept/forecasts/.x",
        "kept/learn/a\\..\\evil", "grounds/../evil.json", "kept/phone-key.txt",
        "grounds/versions/../../evil.json/000001.json", "C:/evil", "logs/../1.json")  # fmt: skip


def test_no_path_in_it_is_trusted(first, machine, tmp_path):
    assert first.is_dir()
    out = packed()
    with zipfile.ZipFile(out, "a") as archive:
        for name in EVIL:
            archive.writestr(name, b"evil")
    machine("second")
    before = {p for p in tmp_path.rglob("*") if "second" not in p.parts}
    said = bring_in(out, "all.zip")
    assert "files of other names are left out" in said[-1]
    assert {p for p in tmp_path.rglob("*") if "second" not in p.parts} == before
    assert all(p.read_bytes() != b"evil" for p in tmp_path.rglob("*") if p.is_file())


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "no zip"),
        (b"PK\x03\x04 and then nothing", "no zip"),
        ("empty", "not a file of everything"),
        ({HEAD: b"[1]"}, "not what this program writes"),
        ({HEAD: b'{"format": "stand-wind-everything", "version": 99}'}, "of version 99"),
    ],
)
def test_what_is_no_such_file_is_refused(machine, data, says):
    machine("second")
    out = io.BytesIO(data if isinstance(data, bytes) else b"")
    if not isinstance(data, bytes):
        with zipfile.ZipFile(out, "w") as archive:
            for name, inside in (data if isinstance(data, dict) else {}).items():
                archive.writestr(name, inside)
    with pytest.raises(BadArchive, match=says):
        look_into(out, "x.zip")


def test_two_files_of_one_name_and_one_that_swells_are_refused_before_anything_is_done(
    first, machine, monkeypatch
):
    assert first.is_dir()
    twice, swollen = packed(), packed()
    with zipfile.ZipFile(twice, "a") as archive, pytest.warns(UserWarning):
        archive.writestr("logs/1.json", b"{}")
    monkeypatch.setattr("core.log.look_into.MOST_BYTES", 200_000)
    with zipfile.ZipFile(swollen, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(f"{KEPT}forecasts/a", b"0" * 200_001)
    second = machine("second")
    for file, says in ((twice, "two files named 'logs/1.json'"), (swollen, "more than")):
        with pytest.raises(BadArchive, match=says):
            bring_in(file, "x.zip")
    assert not list(second.iterdir())


def test_spoiled_parts_are_left_out_and_told(first, machine):
    assert first.is_dir()
    out = packed()
    with zipfile.ZipFile(out) as old:
        log = json.loads(old.read("logs/1.json"))
    log["entries"] += [{"id": 7}, "x", {"kind": "sit", "date": DAY, "values": {"stand": 3}}]
    log["entries"].append({"kind": "note", "date": DAY, "values": {"weather": "none"}, "id": "n"})
    log["entries"].append({"id": "child", "kind": "seen", "date": DAY, "values": {}, "of": "lost"})
    spoiled = io.BytesIO()
    with zipfile.ZipFile(out) as old, zipfile.ZipFile(spoiled, "w") as new:
        new.writestr(HEAD, old.read(HEAD))
        new.writestr("logs/1.json", json.dumps(log))
        new.writestr(f"{GROUNDS}bad.json", b"{}")
        new.writestr(f"{KEPT}learn/tally.json", b"{}")
    machine("second")
    said = " ".join(bring_in(spoiled, "x.zip"))
    assert "bad.json is left out" in said and "4 entries of a log are left out" in said
    assert next(e for e in kept_entries(log["uid"]) if e.id == "child").of is None


def test_csv_of_the_wild_is_read_with_its_own_marks():
    assert rows_of('\ufeffa;b\r\n"x;y";2\r\n', "t") == [["a", "b"], ["x;y", "2"]]
    with pytest.raises(BadEntry, match="no line below"):
        rows_of("a,b\n", "t")
    table = list(csv.reader(io.StringIO(entries_csv(entries()))))
    assert not [cell for row in table for cell in row if FORMULA.match(cell)]
    assert datetime.date.fromisoformat(table[1][2]) == datetime.date(2026, 11, 10)
