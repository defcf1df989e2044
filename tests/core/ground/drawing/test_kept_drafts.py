"""Drafts on the disk: what was drawn and not saved is there again, with its undo, or told."""

import json

import pytest

from core.ground.drawing import kept_drafts as module
from core.ground.drawing.draft import Draft, changed, redone, undone
from core.ground.drawing.edits import added, removed, told
from core.ground.drawing.kept_drafts import (
    FOLDER,
    KeptDraft,
    drop_draft,
    holds_more,
    keep_draft,
    kept_drafts,
)
from core.ground.store import own_properties
from tests import ground_files as g

SAVED = g.whole_ground()


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    return tmp_path / "farm.json"


def drawn(*names: str):
    """A draft in which the stand was named anew, step by step."""
    draft = Draft(SAVED)
    for name in names:
        draft = changed(draft, told(draft.document, "oak", ("name",), name), f"name {name}")
    return draft


def kept(key="a", *names, draft=None, base="abc"):
    return KeptDraft(key, base, SAVED, draft or drawn(*names))


def alone(path):
    """The only draft that is kept."""
    (one,), broken = kept_drafts(path)
    assert broken == ()
    return one


def draft_file(path, key="a"):
    return path.parent / FOLDER / path.stem / f"{key}.json"


def test_kept_found_and_dropped(path):
    assert kept_drafts(path) == ((), ())
    assert keep_draft(path, kept("a", "Elm"))
    one = alone(path)
    assert (one.key, one.base, one.saved, one.draft) == ("a", "abc", SAVED, drawn("Elm"))
    keep_draft(path, kept("a", "Ash"))
    assert alone(path).draft == drawn("Ash")
    assert own_properties() == ()  # a draft is no property
    drop_draft(path, "a")
    assert kept_drafts(path) == ((), ())
    drop_draft(path, "a")  # and again: nothing to do


def test_what_can_be_undone_and_done_again_is_kept_with_it(path):
    draft = undone(undone(drawn("Elm", "Ash", "Gum")))
    keep_draft(path, kept(draft=draft))
    found = alone(path).draft
    assert found == draft
    assert undone(found).document == SAVED
    assert redone(redone(found)).document == drawn("Elm", "Ash", "Gum").document


def test_each_feature_is_written_once_however_many_steps_share_it(path):
    keep_draft(path, kept("a", *(f"Name {n}" for n in range(200))))
    held = json.loads(draft_file(path).read_bytes())
    assert len(held["past"]) == 200
    # 9 features and 200 names of one of them, the file's type, its rules
    assert len(held["parts"]) == len(SAVED["features"]) + 200 + 2
    # and they share them again when they are read
    first, second, *_ = alone(path).draft.past
    assert first.document["features"][1] is second.document["features"][1]


def test_two_pages_keep_a_draft_each(path):
    keep_draft(path, kept("a", "Elm"))
    keep_draft(path, kept("b", "Ash"))
    keep_draft(path, kept("a", "Gum"))
    both, _ = kept_drafts(path)
    assert {one.key: one.draft for one in both} == {"a": drawn("Gum"), "b": drawn("Ash")}
    assert [one.key for one in kept_drafts(path, but="a")[0]] == ["b"]


def test_the_draft_kept_last_comes_first(path):
    import os

    for key, when_s in (("a", 2_000), ("b", 3_000), ("c", 1_000)):
        keep_draft(path, kept(key, key))
        os.utime(draft_file(path, key), (when_s, when_s))
    assert [one.key for one in kept_drafts(path)[0]] == ["b", "a", "c"]


def test_a_draft_that_was_kept_anew_is_not_dropped_by_its_old_mark(path):
    keep_draft(path, kept("a", "Elm"))
    old = alone(path)
    keep_draft(path, kept("a", "Elm", "Ash"))
    drop_draft(path, "a", old.mark)
    assert alone(path).draft == drawn("Elm", "Ash")
    drop_draft(path, "a", alone(path).mark)
    assert kept_drafts(path) == ((), ())


def test_whether_a_draft_holds_what_is_saved_nowhere():
    elm = drawn("Elm").document
    assert holds_more(kept("a", "Elm"), SAVED)
    assert not holds_more(kept("a"), SAVED)
    assert not holds_more(kept("a"), elm)  # another page saved; this one had drawn nothing
    assert not holds_more(kept("a", "Elm"), elm)  # saved, and killed before it was forgotten
    assert holds_more(kept("a", "Elm"), removed(SAVED, "gum"))


def test_a_lane_may_wait_for_its_stand(path):
    ends = [g.lonlat(100, 300), g.lonlat(100, 100)]
    document, _ = added(SAVED, "lane", {"type": "LineString", "coordinates": ends})
    draft = changed(changed(Draft(SAVED), document, "lane"), removed(document, "gum"), "gum")
    keep_draft(path, kept(draft=draft))
    assert alone(path).draft == draft


BROKEN = [
    b"",
    b"{",
    b"[]",
    b'{"base": "a"}',
    b'{"base": "a", "parts": [], "document": 7, "saved": {}}',
    b'{"base": "a", "parts": [], "saved": {}, "document": {"features": [3]}}',
    b'{"base": "a", "parts": [{}], "saved": {}, "document": {"features": [0]}}',
]


@pytest.mark.parametrize("data", BROKEN)
def test_a_draft_that_cannot_be_used_is_told_and_stays(path, data):
    keep_draft(path, kept("b", "Elm"))
    draft_file(path).write_bytes(data)
    found, broken = kept_drafts(path)
    assert [one.key for one in found] == ["b"]
    assert broken == (draft_file(path),)
    assert draft_file(path).read_bytes() == data


@pytest.mark.parametrize(
    ("was", "now"), [('"past"', '"passed"'), ('"name": "Elm"', '"height_ft": "Elm"')]
)
def test_steps_that_cannot_be_used_cost_only_the_undo(path, was, now):
    keep_draft(path, kept("a", "Elm", "Ash"))
    text = draft_file(path).read_text(encoding="utf-8")
    assert text.count(was) == 1
    draft_file(path).write_text(text.replace(was, now), encoding="utf-8")
    assert alone(path).draft == Draft(drawn("Elm", "Ash").document)


def test_the_oldest_steps_go_where_the_file_would_be_too_large(path, monkeypatch):
    draft = drawn(*(f"Name {n}" for n in range(64)))
    keep_draft(path, kept(draft=draft))
    monkeypatch.setattr(module, "MOST_BYTES", draft_file(path).stat().st_size * 2 // 3)
    assert keep_draft(path, kept(draft=draft))
    found = alone(path).draft
    assert found.document == draft.document
    assert 0 < len(found.past) < 64
    assert found.past == draft.past[-len(found.past) :]


def test_a_disk_that_takes_nothing_costs_only_the_help_and_says_so(path):
    path.parent.joinpath(FOLDER).write_text("in the way")
    assert not keep_draft(path, kept("a", "Elm"))
    assert kept_drafts(path) == ((), ())
    drop_draft(path, "a")


def test_what_a_killed_page_left_half_written_is_cleared(path):
    keep_draft(path, kept("a", "Elm"))
    left = draft_file(path).with_name(".a.json.x.saving")
    left.write_bytes(b"half")
    keep_draft(path, kept("b", "Ash"))
    assert not left.exists()
    assert len(kept_drafts(path)[0]) == 2
