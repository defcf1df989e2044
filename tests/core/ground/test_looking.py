"""Looking only: every way of changing that the code has is refused below the screens."""

import shutil

import pytest

from core.ground import in_use
from core.ground.atomic import write_atomic
from core.ground.drawing.draft import Draft
from core.ground.drawing.kept_drafts import KeptDraft, keep_draft
from core.ground.files.output import write_output
from core.ground.looking import LOOK_VARIABLE, OnlyLooking
from core.ground.store import demo_path, open_property, save_property
from core.keep.entries import NOTE, entry_of
from core.keep.log import kept_entries, open_journal
from core.learn.tally import add_to_tally, clear_tally


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


def test_a_fetched_forecast_may_be_kept(opened):
    path = opened.path.with_name("forecast.gz")
    write_atomic(path, b"hours", even_looking=True)
    assert path.read_bytes() == b"hours"


def test_without_the_variable_nothing_changes(opened, monkeypatch):
    monkeypatch.setenv(LOOK_VARIABLE, "")
    write_atomic(opened.path.with_name("x"), b"x")
