"""The journal: whole transactions, kept texts, damage put aside, one writer at a time."""

import shutil
import sqlite3
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from core.chance.count import own_count
from core.ground.layout import Stand
from core.ground.looking import LOOK_VARIABLE
from core.keep.damaged.salvage import state_of
from core.keep.entries import AIR, NOTE, SEEN, SIT, BadEntry, entry_of, new_id
from core.keep.journal import Journal
from core.keep.log import copy_journal, journal_path, kept_entries, open_journal
from core.keep.rows import LAST_SIT
from core.keep.schema import VERSION, BadJournal, is_journal
from core.keep.score import scores
from core.log.offers import felt_at

PLUM = Stand("plum", "Plum", (-79.7, 35.95))
ROOT = Path(__file__).resolve().parents[3]
UID = "5b0d2f5e-5f0e-4a67-9d52-0d8a6f0f9a11"
AT = "2026-11-10T07:40:00-05:00"


def a_sit(**more):
    return entry_of(SIT, "2026-11-10", {"stand": "plum", "sit": "morning", **more}, now=AT)


@pytest.fixture
def journal(tmp_path):
    with open_journal(UID, tmp_path) as opened:
        yield opened


def test_what_is_kept_comes_back_by_date(journal):
    late = entry_of(NOTE, "2026-11-12", {"text": "frost"}, now=AT)
    early = a_sit()
    seen = entry_of(SEEN, "2026-11-10", {"at": AT, "count": 2}, of=early.id, now=AT)
    assert journal.add([late, early, seen]) == [late.id, early.id, seen.id]
    assert journal.entries() == [early, seen, late]
    assert journal.entries(SEEN) == [seen]
    assert journal.entries(since="2026-11-11") == [late]


def test_all_or_none(journal):
    with pytest.raises(BadJournal):
        journal.add([a_sit(), entry_of(SEEN, "2026-11-10", {}, of="nobody", now=AT)])
    assert journal.entries() == []


def test_the_same_entry_is_kept_once(journal):
    sit = a_sit()
    assert journal.add([sit]) == [sit.id]
    assert journal.add([sit]) == []


def test_a_change_keeps_the_former_text(journal):
    sit = a_sit(text="cold")
    journal.add([sit])
    changed = journal.change(replace(sit, values={**sit.values, "text": "very cold"}), now="later")
    assert (changed.get("text"), changed.changed, changed.written) == ("very cold", "later", AT)
    assert [e.get("text") for e in journal.former(sit.id)] == ["cold"]


def test_what_is_removed_is_hidden_and_comes_back_with_what_belongs_to_it(journal):
    sit = a_sit()
    first, second = (entry_of(AIR, "2026-11-10", {}, of=sit.id, now=AT) for _ in range(2))
    journal.add([sit, first, second])
    journal.remove(first.id, now="one")
    journal.remove(sit.id, now="two")
    assert journal.entries() == []
    assert len(journal.entries(removed=True)) == 3
    journal.bring_back(sit.id)
    assert journal.entries() == [sit, second]  # the first was removed before, and stays so


def test_an_entry_that_is_not_there_is_said(journal):
    for act in (journal.entry, journal.remove, journal.bring_back):
        with pytest.raises(BadJournal, match="no entry has the id 'gone'"):
            act("gone")


def test_weather_is_kept_once_and_comes_back(journal):
    table = {"source": "typed: NW 8", "rows": [1.0, 2.5]}
    key = journal.keep_weather(table)
    assert journal.keep_weather(dict(reversed(table.items()))) == key
    assert journal.weather(key) == table
    assert journal.weather("none") is None
    journal.add([a_sit(weather=key)])


def test_an_earlier_version_is_brought_to_this_one(tmp_path):
    path = tmp_path / "j.sqlite"
    with Journal(path, "u") as journal:
        journal.add([a_sit()])
    base = sqlite3.connect(path)
    for name in ("by_stand", "by_kind", "by_winded", "by_last_sit"):  # what version 1 lacks
        base.execute(f"drop index {name}")
    base.execute("pragma user_version = 1")
    base.close()
    with Journal(path, "u") as journal:
        assert len(journal.entries()) == 1
        found = journal._base.execute("pragma index_list(entries)").fetchall()
        assert {"by_stand", "by_kind", "by_winded", "by_last_sit"} <= {row[1] for row in found}


def test_an_earlier_version_is_looked_at_as_it_is(tmp_path, monkeypatch):
    path = tmp_path / "j.sqlite"
    with Journal(path, "u") as journal:
        journal.add([a_sit()])
        journal._base.execute("pragma user_version = 1")
    monkeypatch.setenv(LOOK_VARIABLE, "1")
    with Journal(path, "u") as journal:
        assert len(journal.entries()) == 1 and journal.of_calls() == []


def test_what_tells_of_calls_is_felt_air_and_winded_deer_with_their_sits(journal):
    plain, felt, burned, gone = (replace(a_sit(), id=new_id()) for _ in range(4))
    air = entry_of(AIR, felt.date, {"felt": "as-told"}, of=felt.id, now=AT)
    winded = entry_of(SEEN, burned.date, {"winded": True}, of=burned.id, now=AT)
    seen = entry_of(SEEN, plain.date, {"winded": False}, of=plain.id, now=AT)
    hidden = entry_of(SEEN, gone.date, {"winded": True}, of=gone.id, now=AT)
    journal.add([plain, felt, burned, gone, air, winded, seen, hidden])
    journal.remove(hidden.id)
    assert {e.id for e in journal.of_calls()} == {felt.id, burned.id, air.id, winded.id}
    assert {e.id for e in journal.felt()} == {felt.id, air.id}


def test_of_a_sit_s_long_answer_scores_and_counts_take_the_call_alone(journal):
    told = {
        "verdict": "clean",
        "group": "go",
        "source": "forecast",
        "chance": {"of_ten": [7, 2, 1]},
        "hours": [{"start": AT, "wind_from_deg": 300.0}] * 50,
    }
    burned, later = a_sit(told=told, nothing_seen=True), replace(a_sit(told=told), id=new_id())
    later = replace(later, date="2026-11-11")
    bare = replace(a_sit(planned=True), id=new_id())
    seen = entry_of(SEEN, burned.date, {"winded": True}, of=burned.id, now=AT)
    air = entry_of(AIR, later.date, {"felt": "as-told", "stand": "plum"}, of=later.id, now=AT)
    journal.add([burned, later, bare, seen, air])
    whole, some = journal.entries(), journal.at_stand("plum")
    assert [e.id for e in some] == [e.id for e in whole]
    assert "hours" not in some[0].get("told") and dict(some[-2].values) == dict(later.values)
    assert scores(some) == scores(whole)
    assert own_count(journal.of_calls()) == own_count(whole) == {7: (1, 2)}
    assert felt_at(some, PLUM) == felt_at(whole, PLUM)


def test_the_last_sit_of_each_stand_before_a_date(journal):
    dates = ("2026-08-01", "2026-09-01", "2026-11-01")
    sits = [replace(a_sit(), id=new_id(), date=date) for date in dates]
    plan = replace(a_sit(planned=True), id=new_id(), date="2026-09-05")
    gone = replace(a_sit(), id=new_id(), date="2026-09-06")
    journal.add([*sits, plan, gone])
    journal.remove(gone.id)
    assert [e.id for e in journal.last_sits(["plum", "elm"], "2026-10-01")] == [sits[1].id]
    plan_text = journal._base.execute(f"explain query plan {LAST_SIT}", ["plum", "z"]).fetchall()
    assert any("by_last_sit" in row[3] for row in plan_text)


def test_reading_is_no_change_of_the_file(tmp_path):
    path = journal_path(UID, tmp_path)
    with open_journal(UID, tmp_path) as journal:
        journal.add([a_sit()])
    before = state_of(path)
    with open_journal(UID, tmp_path) as journal:
        journal.entries()
        assert state_of(path) == before  # the second file lies there, empty
        journal.add([replace(a_sit(), id=new_id())])
        assert state_of(path) != before
    assert state_of(path) != before


def test_one_stand_with_what_belongs_to_its_sits(journal):
    mine = a_sit()
    other = replace(a_sit(), id=new_id(), values={"stand": "elm", "sit": "morning"})
    seen = entry_of(SEEN, mine.date, {"winded": True}, of=mine.id)
    gone = replace(mine, id=new_id())
    journal.add([mine, other, seen, gone])
    journal.remove(gone.id)
    assert [e.id for e in journal.at_stand(mine.get("stand"))] == [mine.id, seen.id]


def test_settings_of_the_file(journal):
    base = sqlite3.connect(journal.path)
    assert base.execute("pragma journal_mode").fetchone() == ("wal",)
    assert base.execute("pragma user_version").fetchone() == (VERSION,)
    assert journal._base.execute("pragma synchronous").fetchone() == (2,)  # full
    assert journal._base.execute("pragma foreign_keys").fetchone() == (1,)
    base.close()
    assert is_journal(journal.path.read_bytes())


def test_another_writer_is_waited_for_and_then_named(journal, tmp_path):
    with open_journal(UID, tmp_path, wait_s=0.1) as other:
        journal._base.execute("begin immediate")
        with pytest.raises(BadJournal, match="another window is writing"):
            other.add([a_sit()])
        assert other.entries() == []  # reading goes on meanwhile
        journal._base.execute("rollback")
        other.add([a_sit()])
    assert len(journal.entries()) == 1


def test_a_full_disk_loses_nothing_that_was_finished(journal):
    journal.add([a_sit()])
    pages = journal._base.execute("pragma page_count").fetchone()[0]
    journal._base.execute(f"pragma max_page_count = {pages}")
    with pytest.raises(BadJournal, match="the disk is full"):
        journal.add([a_sit(text="x" * 4000) for _ in range(200)])
    assert len(journal.entries()) == 1
    journal._base.execute("pragma max_page_count = 1000000")
    journal.add([a_sit()])
    assert len(journal.entries()) == 2


def test_a_file_that_is_no_journal_is_put_aside(tmp_path):
    path = journal_path(UID, tmp_path)
    path.parent.mkdir(parents=True)
    path.write_bytes(b"not a journal at all" * 500)
    with open_journal(UID, tmp_path) as journal:
        assert "put aside" in journal.notes[0]
        assert "0 entries" in journal.notes[0]
        journal.add([a_sit()])
    assert kept_entries(UID, tmp_path)[0].get("stand") == "plum"
    aside = path.with_name(f"{UID}.damaged-1.sqlite")
    assert aside.read_bytes().startswith(b"not a journal")


def filled(folder, n=60):
    """A journal's file with sits of 900 letters: four to a page of 4,096 bytes."""
    sits = [a_sit(text=f"{i} " + "x" * 900) for i in range(n)]
    with open_journal(UID, folder) as journal:
        journal.add(sits)
        journal._base.execute("pragma wal_checkpoint(truncate)")
        names = journal._base.execute("select name, rootpage from sqlite_master").fetchall()
    path = journal_path(UID, folder)
    return sits, path, path.read_bytes(), dict(names)["entries"]


def read_after(folder, path, data):
    path.write_bytes(data)
    with open_journal(UID, folder) as journal:
        told, notes = journal.entries(), journal.notes
        journal.add([a_sit()])  # the program goes on
    return told, " ".join(notes)


PAGE = 4096


@pytest.mark.parametrize(("hurt", "lost"), [("first", 0), ("tree", 0), ("rows", 4), ("last", 4)])
def test_of_a_damaged_journal_all_but_the_damaged_page_goes_on(tmp_path, hurt, lost):
    sits, path, data, root = filled(tmp_path)
    pages = [data[i : i + PAGE] for i in range(0, len(data), PAGE)]
    rows = [i for i, page in enumerate(pages) if page.count(b"x" * 900) > 2]
    at = {"first": 0, "tree": root - 1, "rows": rows[len(rows) // 2], "last": rows[-1]}[hurt]
    pages[at] = b"\xff" * PAGE
    told, notes = read_after(tmp_path, path, b"".join(pages))
    assert "put aside" in notes and f"{len(told)} entries could be read" in notes
    assert 60 - lost <= len(told) <= 60
    assert {e.id for e in told} <= {s.id for s in sits}
    assert all(len(e.get("text")) > 900 for e in told)  # whole, not cut


def test_of_a_journal_that_was_cut_the_whole_pages_go_on(tmp_path):
    sits, path, data, _ = filled(tmp_path)
    half = data[: len(data) // 2]
    whole = sum(half[i : i + PAGE].count(b"x" * 900) for i in range(0, len(half), PAGE))
    told, notes = read_after(tmp_path, path, half)
    assert "put aside" in notes and 5 < len(told) <= whole < 60
    assert {e.id for e in told} < {s.id for s in sits}


def test_an_entry_that_is_spoiled_within_is_left_out_and_the_others_go_on(tmp_path):
    sits, path, data, _ = filled(tmp_path)
    for n, spoiled in enumerate((b'"stand"', b"\xff\xff\xff\xff\xff\xff\xff"), 1):
        hurt = data.replace(b'"stand"', spoiled[:6] + b"{", 1)  # neither JSON nor, then, text
        told, notes = read_after(tmp_path, path, hurt)
        assert "put aside" in notes and len(told) == 59, n
        assert {e.id for e in told} < {s.id for s in sits}


def test_an_empty_file_is_said_and_what_lies_beside_it_is_read(tmp_path):
    _, path, _, _ = filled(tmp_path)
    told, notes = read_after(tmp_path, path, b"")
    assert told == [] and "was empty" in notes
    source = sqlite3.connect(path)
    source.execute("pragma wal_autocheckpoint = 0")
    with open_journal(UID, tmp_path) as journal:
        journal._base.execute("pragma wal_autocheckpoint = 0")
        journal.add([a_sit(text="y" * 900) for _ in range(9)])
        beside = path.with_name(path.name + "-wal").read_bytes()
    source.close()
    for ending in ("-wal", "-shm"):
        path.with_name(path.name + ending).unlink(missing_ok=True)
    path.with_name(path.name + "-wal").write_bytes(beside)
    told, notes = read_after(tmp_path, path, b"")
    assert "put aside" in notes and sum(e.get("text") == "y" * 900 for e in told) == 9


def test_rows_that_run_over_many_pages_are_read_from_them(tmp_path):
    table = {"source": "kept", "rows": [round(i * 0.37, 3) for i in range(9000)]}
    with open_journal(UID, tmp_path) as journal:
        key = journal.keep_weather(table)
        journal.add([a_sit(weather=key, text="z" * 3900)])
    path = journal_path(UID, tmp_path)
    told, _ = read_after(tmp_path, path, b"\xff" * PAGE + path.read_bytes()[PAGE:])
    with open_journal(UID, tmp_path) as journal:
        assert told[0].get("weather") == key and journal.weather(key) == table


def test_a_later_version_is_refused_and_left_alone(tmp_path):
    with open_journal(UID, tmp_path) as journal:
        journal._base.execute(f"pragma user_version = {VERSION + 1}")
    with pytest.raises(BadJournal, match=f"version {VERSION + 1}"):
        open_journal(UID, tmp_path)
    assert len(list(journal_path(UID, tmp_path).parent.glob("*.sqlite"))) == 1


def test_reading_makes_no_file(tmp_path):
    assert kept_entries(UID, tmp_path) == []
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("uid", ["../../etc", "a/b", "", "C:\\x", "x" * 200, "ü"])
def test_a_uid_never_leads_out_of_the_folder(tmp_path, uid):
    path = journal_path(uid, tmp_path)
    assert path.parent == tmp_path / "journal"
    assert path != journal_path(uid + "1", tmp_path)


def test_a_copied_ground_takes_its_log_along(tmp_path):
    with open_journal(UID, tmp_path) as journal:
        key = journal.keep_weather({"source": "kept"})
        journal.add([a_sit(weather=key)])
    assert copy_journal(UID, "new", tmp_path)
    assert kept_entries("new", tmp_path) == kept_entries(UID, tmp_path)
    with open_journal("new", tmp_path) as copy:
        assert copy.weather(key) == {"source": "kept"}
    assert not copy_journal("nobody", "other", tmp_path)


KILLED = """
import os, sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from core.keep.entries import NOTE, entry_of
from core.keep.log import open_journal
with open_journal(sys.argv[2], Path(sys.argv[3])) as journal:
    for i in range(100_000):
        entry = entry_of(NOTE, "2026-11-10", {"text": f"{i} " + "y" * 500})
        journal.add([entry])
        print(entry.id, flush=True)
"""


def test_kills_in_the_middle_of_writes_lose_no_finished_entry(tmp_path):
    """`python -m tests.core.keep.test_journal 200` kills as often as that."""
    assert lost_to_kills(tmp_path, 6) == (0, 0)


def lost_to_kills(folder: Path, kills: int) -> tuple[int, int]:
    """Finished entries that are gone, and journals found damaged, over many kills."""
    finished: set[str] = set()
    damaged = 0
    for i in range(kills):
        told = [sys.executable, "-c", KILLED, str(ROOT), UID, str(folder)]
        process = subprocess.Popen(told, stdout=subprocess.PIPE, text=True)
        for _ in range(1 + i % 7):
            finished.add(process.stdout.readline().strip())
        process.kill()
        finished.update(line.strip() for line in process.stdout if len(line) == 33)
        process.wait()
        with open_journal(UID, folder) as journal:
            damaged += bool(journal.notes)
    return len(finished - {e.id for e in kept_entries(UID, folder)} - {""}), damaged


@pytest.mark.parametrize(
    ("kind", "values", "said"),
    [
        ("feast", {}, "'feast' is no kind"),
        (SIT, {"sit": "morning"}, "stand is missing"),
        (SIT, {"stand": "plum", "sit": "noon"}, '"noon"'),
        (SEEN, {"count": -1}, "-1"),
        (SEEN, {"at": "2026-11-10T07:40"}, "offset"),
        (SEEN, {"at": "soon"}, '"soon"'),
        (SEEN, {"moose": 1}, "moose"),
        (AIR, {"from_deg": 361}, "361"),
        (NOTE, {"text": "x" * 5000}, "5000 letters"),
    ],
)
def test_what_is_no_entry_is_refused_with_its_value(kind, values, said):
    with pytest.raises(BadEntry, match=said):
        entry_of(kind, "2026-11-10", values)


def test_a_date_that_does_not_exist_is_refused():
    with pytest.raises(BadEntry, match="2026-02-30"):
        entry_of(NOTE, "2026-02-30", {})


def test_a_folder_that_can_t_be_made_is_said(tmp_path):
    (tmp_path / "journal").write_text("in the way")
    with pytest.raises(BadJournal, match="can't be made"):
        Journal(tmp_path / "journal" / "x.sqlite", UID)


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as place:
        lost, damaged = lost_to_kills(Path(place), int(sys.argv[1]))
        print(f"{sys.argv[1]} kills: {lost} finished entries lost, {damaged} journals damaged")
        shutil.rmtree(Path(place) / "journal")
