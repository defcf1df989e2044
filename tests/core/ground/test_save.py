"""Saving a property: checked first, in steps that lose nothing, never over others' work."""

import copy
import datetime
import errno
import json
import os
import stat
import threading
import uuid
from pathlib import Path

import pytest

from core.errors import BadProperty, SaveConflict, StandWindError
from core.ground import atomic, store
from core.ground.store import open_property, parse_property, save_property
from tests import ground_files as g

NOON = int(datetime.datetime(2026, 11, 10, 17, tzinfo=datetime.UTC).timestamp())


@pytest.fixture
def opened(tmp_path):
    """A property on disk, and open."""
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    return open_property(path)


def renamed(opened, name: str) -> dict:
    document = copy.deepcopy(opened.document)
    document["property"]["name"] = name
    return document


def save(opened, name: str, path=None):
    return save_property(opened, renamed(opened, name), path, now_s=NOON)


def everything_in(folder) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != "lock"
    }


# --- what a save writes ---


def test_a_save_raises_the_revision_and_stamps_the_time(opened):
    saved = save(opened, "Renamed")
    assert saved.property.revision == 2
    assert saved.property.saved_utc == "2026-11-10T17:00:00Z"
    assert saved.property.name == "Renamed"
    assert saved == open_property(opened.path)
    assert save(saved, "Again").property.revision == 3


def test_a_save_keeps_the_bytes_that_were_there(opened):
    before = opened.path.read_bytes()
    save(opened, "Renamed")
    assert everything_in(opened.path.parent)["versions/farm.json/000001.json"] == before


def test_numbers_of_untouched_features_stay_as_they_came(tmp_path):
    text = g.as_bytes(g.document(g.stand("oak", 0, 0), g.stand("gum", 90, 0))).decode()
    odd = "[-79.90000000000002, 36, 231.50, 7]"
    text = text.replace(json.dumps(g.lonlat(90, 0)), odd)
    path = tmp_path / "farm.json"
    path.write_text(text)
    opened = open_property(path)
    document = copy.deepcopy(opened.document)
    document["features"][0]["properties"]["height_ft"] = 12
    save_property(opened, document, now_s=NOON)
    assert "[-79.90000000000002, 36, 231.5, 7]" in path.read_text()


def test_names_stay_readable_in_the_file(opened):
    save(opened, "Böcke \N{DEER} <b>")
    assert "Böcke \N{DEER} <b>" in opened.path.read_text(encoding="utf-8")


def test_a_file_without_a_uid_gets_one(tmp_path):
    path = tmp_path / "farm.json"
    document = g.whole_ground()
    del document["property"]["uid"]
    path.write_bytes(g.as_bytes(document))
    opened = open_property(path)
    assert opened.property.uid == ""
    assert uuid.UUID(save(opened, "Farm").property.uid).version == 4


def test_an_earlier_format_is_brought_up_and_said_so(monkeypatch):
    from core.ground import parse

    def to_1(document):
        rules = dict(document["property"])
        rules["name"] = rules.pop("title")
        return {**document, "property": rules}

    monkeypatch.setitem(parse.MIGRATIONS, 0, to_1)
    document = g.whole_ground(version=0)
    document["property"]["title"] = document["property"].pop("name")
    old = parse_property(g.as_bytes(document), "farm.json")
    assert old.property.name == "Test ground"
    assert old.document["property"]["version"] == 1
    assert old.mended == ("the file was of version 0 and was brought to 1",)
    assert not old.read_only


# --- what a save refuses ---


def test_a_document_that_could_not_be_opened_again_is_not_saved(opened):
    before = everything_in(opened.path.parent)
    document = copy.deepcopy(opened.document)
    document["features"][0]["properties"]["seat"] = "tower"
    with pytest.raises(BadProperty, match='"tower"'):
        save_property(opened, document, now_s=NOON)
    assert everything_in(opened.path.parent) == before


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_not_a_number_is_never_written(opened, value):
    before = everything_in(opened.path.parent)
    document = copy.deepcopy(opened.document)
    document["features"][0]["properties"]["unknown"] = [value]
    with pytest.raises(BadProperty, match="NaN or Infinity"):
        save_property(opened, document, now_s=NOON)
    assert everything_in(opened.path.parent) == before


def test_the_demo_is_read_only(tmp_path, monkeypatch):
    demo = tmp_path / "demo_property.json"
    demo.write_bytes(g.as_bytes(g.whole_ground()))
    monkeypatch.setattr(store, "DEMO", demo)
    opened = open_property(demo)
    assert opened.read_only
    with pytest.raises(BadProperty, match=r"demo_property.json: the demo is read-only\. Save it"):
        save(opened, "Mine")
    other = parse_property(demo.read_bytes(), "other.json")
    with pytest.raises(BadProperty, match="the demo is read-only"):
        save_property(other, other.document, demo, now_s=NOON)
    mine = save(opened, "Mine", tmp_path / "mine.json")
    assert not mine.read_only
    assert mine.property.uid != opened.property.uid


def test_a_newer_file_opens_and_is_not_saved(tmp_path):
    path = tmp_path / "farm.json"
    tower = g.feature("tower", "fire-tower", "Point", g.lonlat(50, 0))
    document = g.document(g.stand("oak", 0, 0), tower, version=7)
    path.write_bytes(g.as_bytes(document))
    opened = open_property(path)
    assert opened.read_only
    assert opened.property.marks[0].kind == "other"
    assert opened.document == document
    assert "version 7, newer than this program's 1" in opened.mended[0]
    assert 'fire-tower "tower"' in opened.mended[1]
    with pytest.raises(BadProperty, match="read-only"):
        save(opened, "Mine")
    with pytest.raises(BadProperty, match="version 7, newer") as caught:
        save(opened, "Mine", tmp_path / "mine.json")
    assert "newer program" in caught.value.fix


def test_another_tab_is_never_overwritten(opened):
    first = save(opened, "First tab")
    with pytest.raises(SaveConflict, match="changed since it was opened") as caught:
        save(opened, "Second tab")
    assert "keep both" in caught.value.fix
    assert open_property(opened.path) == first
    both = save(opened, "Second tab", opened.path.with_name("second.json"))
    assert both.property.name == "Second tab"
    assert both.property.uid != first.property.uid
    assert open_property(opened.path) == first


def test_a_copy_never_takes_the_place_of_a_file(opened):
    other = opened.path.with_name("other.json")
    other.write_text("notes")
    with pytest.raises(SaveConflict, match=r"other.json: there is a file of that name already"):
        save(opened, "Copy", other)
    assert other.read_text() == "notes"


def test_a_file_that_is_gone_is_a_conflict(opened):
    opened.path.unlink()
    with pytest.raises(SaveConflict, match="the file is gone"):
        save(opened, "Late")


def test_bytes_without_a_file_need_a_name(tmp_path):
    opened = g.opened(g.whole_ground())
    with pytest.raises(BadProperty, match="no file name"):
        save_property(opened, opened.document, now_s=NOON)
    path = tmp_path / "new folder" / "farm.json"
    saved = save_property(opened, opened.document, path, now_s=NOON)
    assert saved.property.uid == opened.property.uid
    assert open_property(path) == saved


def test_of_many_at_once_one_is_saved(opened):
    done, refused = [], []

    def one(name: str) -> None:
        try:
            done.append(save(opened, name))
        except SaveConflict:
            refused.append(name)

    threads = [threading.Thread(target=one, args=(f"tab {i}",)) for i in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(done) == 1
    assert len(refused) == 7
    assert open_property(opened.path) == done[0]


@pytest.mark.skipif(os.name == "nt", reason="locks by flock")
def test_a_save_waits_for_another_program_that_saves(opened):
    import fcntl

    first = save(opened, "First")
    lock = first.path.parent / "versions" / "farm.json" / "lock"
    waiting = threading.Thread(target=save, args=(first, "Second"))
    with lock.open("rb") as held:  # as another process would hold it
        fcntl.flock(held, fcntl.LOCK_EX)
        waiting.start()
        waiting.join(timeout=0.2)
        assert waiting.is_alive()
        assert open_property(first.path) == first
    waiting.join(timeout=10)
    assert open_property(first.path).property.name == "Second"


# --- the steps ---


class Recorded:
    """A stream that notes what is done with it."""

    def __init__(self, stream, seen):
        self.stream, self.seen = stream, seen

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.stream.close()

    def fileno(self):
        return self.stream.fileno()

    def write(self, data):
        self.seen.append(("write", "temporary"))
        return self.stream.write(data)

    def flush(self):
        self.seen.append(("flush", "temporary"))
        self.stream.flush()


@pytest.fixture
def steps(monkeypatch):
    """The steps of a save in order: (step, what it was done to)."""
    seen = []
    real = {name: getattr(os, name) for name in ("fsync", "replace", "fdopen")}

    def fsync(handle):
        seen.append(("fsync", "folder" if _is_folder([handle]) else "temporary"))
        real["fsync"](handle)

    def replace(source, target):
        seen.append(("replace", Path(target).name))
        assert Path(source).parent == Path(target).parent
        real["replace"](source, target)

    monkeypatch.setattr(atomic.os, "fdopen", lambda *args: Recorded(real["fdopen"](*args), seen))
    monkeypatch.setattr(atomic.os, "fsync", fsync)
    monkeypatch.setattr(atomic.os, "replace", replace)
    return seen


@pytest.mark.skipif(os.name == "nt", reason="folders are not flushed on Windows")
def test_the_order_of_a_save(opened, steps):
    first = save(opened, "First")  # makes the folder for versions
    steps.clear()
    save(first, "Second")
    whole = [("write", "temporary"), ("flush", "temporary"), ("fsync", "temporary")]
    assert steps == [
        *whole,
        ("replace", "000002.json"),
        ("fsync", "folder"),
        *whole,
        ("replace", "farm.json"),
        ("fsync", "folder"),
    ]


def test_a_file_held_for_a_moment_is_tried_again(opened, monkeypatch):
    waits, real = [], os.replace

    def held(source, target):
        if len(waits) < 3:
            raise PermissionError(errno.EACCES, "held by a scanner")
        real(source, target)

    monkeypatch.setattr(atomic.os, "replace", held)
    monkeypatch.setattr(atomic.time, "sleep", waits.append)
    saved = save(opened, "Renamed")
    assert len(waits) == 3
    assert sum(waits) < 1
    assert open_property(opened.path) == saved


def test_a_file_held_for_good_is_said(opened, monkeypatch):
    def held(*_):
        raise PermissionError(errno.EACCES, "held by a scanner")

    monkeypatch.setattr(atomic.os, "replace", held)
    monkeypatch.setattr(atomic.time, "sleep", lambda _: None)
    before = everything_in(opened.path.parent)
    with pytest.raises(StandWindError, match="could not be saved: held by a scanner"):
        save(opened, "Renamed")
    assert everything_in(opened.path.parent) == before


@pytest.mark.parametrize("fault", [OSError(errno.ENOSPC, "No space left"), KeyboardInterrupt()])
@pytest.mark.parametrize("step", ["write", "flush", "fsync", "replace"])
@pytest.mark.parametrize("time", [1, 2])
def test_a_fault_at_any_step_loses_nothing(opened, monkeypatch, fault, step, time):
    """The 1st time is the earlier version being kept, the 2nd the file itself."""
    first = save(opened, "First")
    before = first.path.read_bytes()
    calls = []
    real = {name: getattr(os, name) for name in ("fsync", "replace", "fdopen")}

    def failing(name, call):
        def run(*args):
            if name == step and not _is_folder(args):
                calls.append(name)
                if len(calls) == time:
                    raise fault
            return call(*args)

        return run

    def fdopen(handle, *args):
        stream = real["fdopen"](handle, *args)
        whole = Recorded(stream, [])
        whole.write = failing("write", stream.write)
        whole.flush = failing("flush", stream.flush)
        return whole

    with monkeypatch.context() as patch:
        patch.setattr(atomic.os, "fdopen", fdopen)
        patch.setattr(atomic.os, "fsync", failing("fsync", real["fsync"]))
        patch.setattr(atomic.os, "replace", failing("replace", real["replace"]))
        with pytest.raises((StandWindError, KeyboardInterrupt)) as caught:
            save(first, "Second")
    if isinstance(fault, OSError):
        assert "No space left" in str(caught.value)
        assert "as it was" in caught.value.fix
    assert len(calls) == time
    assert first.path.read_bytes() == before
    kept = everything_in(first.path.parent)
    assert not [name for name in kept if name.endswith(atomic.TEMPORARY)]
    again = save(first, "Second")
    assert open_property(first.path) == again
    # the version kept by the failed save is not kept twice
    assert sorted(everything_in(first.path.parent)) == [
        "farm.json",
        "versions/farm.json/000001.json",
        "versions/farm.json/000002.json",
    ]


def _is_folder(args) -> bool:
    return bool(args) and isinstance(args[0], int) and stat.S_ISDIR(os.fstat(args[0]).st_mode)


def test_what_killed_saves_left_is_cleared(opened):
    left = opened.path.with_name(f".farm.json.abc{atomic.TEMPORARY}")
    other = opened.path.with_name(f".other.json.abc{atomic.TEMPORARY}")
    save(opened, "First")
    version = opened.path.parent / "versions" / "farm.json" / f".000002.json.x{atomic.TEMPORARY}"
    version.write_text("half")
    left.write_text("half")
    other.write_text("half")
    save(open_property(opened.path), "Second")
    assert not left.exists()
    assert not version.exists()
    assert other.exists()


@pytest.mark.skipif(os.name == "nt", reason="rights of files differ on Windows")
def test_rights_of_a_file_stay(opened):
    opened.path.chmod(0o640)
    save(opened, "Renamed")
    assert stat.S_IMODE(opened.path.stat().st_mode) == 0o640


@pytest.mark.skipif(os.name == "nt", reason="links need rights on Windows")
def test_a_link_stays_a_link(opened, tmp_path):
    link = tmp_path / "link.json"
    link.symlink_to(opened.path)
    saved = save(open_property(link), "Renamed")
    assert link.is_symlink()
    assert open_property(opened.path).property == saved.property
