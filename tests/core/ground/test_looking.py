"""Looking only: every way of changing that the code has is refused below the screens."""

import re
import shutil
import sqlite3

import pytest

from core.errors import BadProperty
from core.ground.atomic import make_folder, write_atomic
from core.ground.drawing.draft import Draft
from core.ground.drawing.kept_drafts import KeptDraft, drop_draft, keep_draft
from core.ground.files import in_use
from core.ground.files.output import write_output
from core.ground.files.rescue import restore_version
from core.ground.lock import only_saver
from core.ground.looking import LOOK_VARIABLE, OnlyLooking
from core.ground.store import demo_path, open_property, save_property
from core.ground.versions import drop_old_versions
from core.keep.entries import NOTE, entry_of
from core.keep.log import journal_path, kept_entries, open_journal
from core.learn.tally import add_to_tally, clear_tally
from core.weather.services.kept import ENDING, SUBFOLDER, prune
from tests.conftest import ROOT


@pytest.fixture
def opened(tmp_path, monkeypatch):
    """A property of the user's own, opened before looking only began."""
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    path = tmp_path / "own.json"
    shutil.copy(demo_path(), path)
    found = open_property(path)
    with open_journal(found.property.uid, tmp_path) as journal:
        journal.add([entry_of(NOTE, "2026-11-10", {"text": "kept"})])
    monkeypatch.setenv(LOOK_VARIABLE, "1")
    return found


def everything(folder):
    return {p: p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_no_file_is_written(opened):
    with pytest.raises(OnlyLooking, match="changes nothing"):
        write_atomic(opened.path, b"x")
    with pytest.raises(OnlyLooking):
        save_property(opened, opened.document, now_s=0)
    with pytest.raises(OnlyLooking):
        write_output(str(opened.path.with_name("sit.html")), b"x")
    assert open_property(opened.path) == opened
    assert not (opened.path.parent / "versions").exists()


def test_nothing_goes_into_the_log_or_the_tally(opened):
    uid, folder = opened.property.uid, opened.path.parent
    with open_journal(uid, folder) as journal:
        for act in (
            lambda: journal.add([entry_of(NOTE, "2026-11-10", {})]),
            lambda: journal.remove(journal.entries()[0].id),
            lambda: journal.keep_weather({"rows": []}),
        ):
            with pytest.raises(OnlyLooking):
                act()
    for act in (lambda: add_to_tally(True, []), clear_tally):
        with pytest.raises(OnlyLooking):
            act()
    assert [e.get("text") for e in kept_entries(uid, folder)] == ["kept"]


def test_drafts_and_the_last_ground_are_left_as_they_were(opened):
    draft = KeptDraft("page", opened.content_hash, opened.document, Draft(opened.document))
    with pytest.raises(OnlyLooking):
        keep_draft(opened.path, draft)
    in_use.remember("own")  # a convenience: passed over without a word
    assert in_use.remembered() == ""


def test_no_draft_version_or_folder_goes_and_nothing_is_made(opened):
    folder, before = opened.path.parent, everything(opened.path.parent)
    for act in (
        lambda: make_folder(folder / "new"),
        lambda: drop_draft(opened.path, "page"),
        lambda: drop_old_versions(opened.path),
        lambda: restore_version(opened.path, 1, now_s=0),
        lambda: only_saver(folder / "lock").__enter__(),
    ):
        with pytest.raises((OnlyLooking, BadProperty)):
            act()
    assert everything(folder) == before
    assert not (folder / "new").exists()


def test_a_journal_is_read_and_left_as_it_is_even_damaged(opened):
    uid, folder = opened.property.uid, opened.path.parent
    path = journal_path(uid, folder)
    before = path.read_bytes()
    with open_journal(uid, folder) as journal:
        assert len(journal.entries()) == 1
        with pytest.raises(sqlite3.OperationalError, match="readonly"):  # whoever goes round it
            journal._base.execute("delete from entries")
    assert path.read_bytes() == before
    damaged = b"SQLite format 3\0" + b"x" * 5000
    path.write_bytes(damaged)
    with pytest.raises(OnlyLooking):
        open_journal(uid, folder)
    assert path.read_bytes() == damaged
    assert list(path.parent.glob("*damaged*")) == []


def test_old_forecasts_are_not_cleared_away(opened):
    kept = opened.path.parent / SUBFOLDER / "36_-80"
    kept.mkdir(parents=True)
    for day in ("20200101", "20200102"):
        (kept / f"{day}T000000Z-nws{ENDING}").write_bytes(b"x")
    assert prune(opened.path.parent, now_s=1_800_000_000) == 0
    assert len(list(kept.iterdir())) == 2


# where the code writes, and what stands before it there; a new place has to join them
WRITERS = {
    "core/ground/atomic.py": "write_atomic and make_folder refuse",
    "core/ground/lock.py": "only_saver refuses",
    "core/ground/versions.py": "drop_old_versions refuses",
    "core/ground/drawing/kept_drafts.py": "drop_draft takes the lock",
    "core/keep/schema.py": "connect only reads where one looks",
    "core/keep/damaged/salvage.py": "put_aside refuses",
    "core/weather/given_file.py": "make_folder and drop_file refuse",
    "core/weather/services/kept.py": "prune drops none",
    "core/weather/services/service.py": "the cache of what was fetched",
    "core/land/kept_derived.py": "the cache of what follows from heights",
    "core/log/judged_before.py": "the cache of what follows from the log",
    "core/cli/phone.py": "the key, before anybody looks",
    "core/cli/printing.py": "a pipe that was closed",
}
WRITES = re.compile(
    r"\.(unlink|rmdir|touch|mkdir|write_text|write_bytes|rename|symlink_to|hardlink_to)\("
    r"|\bos\.(open|link|replace|rename|remove|makedirs|truncate)\("
    r"|\bshutil\.(rmtree|move|copy)|\btempfile\.|\bsqlite3\.connect\("
    r"|\.open\(\s*[\"'](a|w|x|r\+)|\bopen\([^)]*,\s*[\"'](a|w|x|r\+)"
)


def test_every_place_that_writes_is_known_and_no_screen_writes_itself():
    files = [*(ROOT / "core").rglob("*.py"), *(ROOT / "pages").rglob("*.py"), ROOT / "dashboard.py"]
    found = {str(f.relative_to(ROOT)) for f in files if WRITES.search(f.read_text("utf-8"))}
    assert found == set(WRITERS)


def test_a_fetched_forecast_may_be_kept(opened):
    path = opened.path.with_name("forecast.gz")
    write_atomic(path, b"hours", even_looking=True)
    assert path.read_bytes() == b"hours"


def test_without_the_variable_nothing_changes(opened, monkeypatch):
    monkeypatch.setenv(LOOK_VARIABLE, "")
    write_atomic(opened.path.with_name("x"), b"x")
