"""Drafts on the disk: what was drawn and not saved is there again, or nothing is."""

import pytest

from core.ground.edits import added
from core.ground.kept_drafts import FOLDER, drop_draft, keep_draft, kept_draft
from core.ground.store import data_folder, own_properties
from tests import ground_files as g


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    return tmp_path / "farm.json"


def draft_file(path):
    return data_folder() / FOLDER / path.name


def test_kept_found_and_dropped(path):
    document = g.whole_ground()
    assert kept_draft(path) is None
    keep_draft(path, "abc", document)
    assert kept_draft(path) == ("abc", document)
    keep_draft(path, "abc", g.document())
    assert kept_draft(path) == ("abc", g.document())
    assert own_properties() == ()  # a draft is no property
    drop_draft(path)
    assert kept_draft(path) is None
    drop_draft(path)  # and again: nothing to do


def test_a_lane_may_wait_for_its_stand(path):
    ends = [g.lonlat(100, 300), g.lonlat(100, 100)]
    document, _ = added(g.whole_ground(), "lane", {"type": "LineString", "coordinates": ends})
    keep_draft(path, "abc", document)
    assert kept_draft(path) == ("abc", document)


@pytest.mark.parametrize(
    "data", [b"", b"{", b"[]", b'{"base": "a"}', b'{"base": "a", "document": {"features": 3}}',
             b'{"base": "a", "document": {"features": [{}]}}', b'{"base": "a", "document": 7}'],
)  # fmt: skip
def test_a_draft_that_cannot_be_used_is_none(path, data):
    draft_file(path).parent.mkdir()
    draft_file(path).write_bytes(data)
    assert kept_draft(path) is None


def test_a_disk_that_takes_nothing_costs_only_the_help(path):
    data_folder().joinpath(FOLDER).write_text("in the way")
    keep_draft(path, "abc", g.document())
    assert kept_draft(path) is None
    drop_draft(path)
