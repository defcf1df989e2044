"""Earlier versions: the last 20 are kept, listed with what changed, and can be gone back to."""

import copy

import pytest

from core.errors import BadProperty
from core.ground.store import (
    data_folder,
    demo_path,
    list_versions,
    new_path,
    open_property,
    open_version,
    own_properties,
    save_property,
)
from core.ground.versions import what_changed
from tests import ground_files as g


@pytest.fixture
def opened(tmp_path):
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground(name="save 0")))
    return open_property(path)


def save_many(opened, count: int):
    for number in range(1, count + 1):
        document = copy.deepcopy(opened.document)
        document["property"]["name"] = f"save {number}"
        opened = save_property(opened, document, now_s=1_800_000_000 + number)
    return opened


def test_a_new_file_has_no_versions(opened):
    assert list_versions(opened.path) == ()


@pytest.mark.parametrize(("saves", "first"), [(3, 0), (20, 0), (21, 1), (33, 13)])
def test_the_last_twenty_are_kept(opened, saves, first):
    save_many(opened, saves)
    versions = list_versions(opened.path)
    names = [open_version(opened.path, v.number).property.name for v in versions]
    assert names == [f"save {n}" for n in range(saves - 1, first - 1, -1)]
    assert len(versions) <= 20
    # the file itself is one more than its versions
    assert [v.revision for v in versions] == [n + 1 for n in range(saves - 1, first - 1, -1)]


def test_a_version_says_when_and_what_was_changed_after_it(opened):
    saved = save_many(opened, 1)
    document = copy.deepcopy(saved.document)
    document["features"][0]["properties"]["height_ft"] = 12
    document["features"][1]["geometry"]["coordinates"] = g.lonlat(151, 60)
    del document["features"][8]
    document["features"].append(g.stand("elm", 300, 0))
    save_property(saved, document, now_s=1_800_000_100)
    newest, first = list_versions(saved.path)
    assert newest.saved_utc == "2027-01-15T08:00:01Z"
    assert newest.changes == (
        'added stand "elm" (Elm)',
        'took out truck "gate" (Gate)',
        'changed stand "oak" (Oak): height_ft',
        'changed stand "gum" (Gum): moved',
    )
    assert first.saved_utc is None
    assert first.changes == ("changed the property's name",)


def test_going_back_is_a_save_like_any_other(opened):
    now = save_many(opened, 3)
    oldest = open_version(now.path, list_versions(now.path)[-1].number)
    assert oldest.read_only
    back = save_property(now, oldest.document, now_s=1_800_000_200)
    assert back.property.name == "save 0"
    assert back.property.revision == 5
    assert back.property.uid == opened.property.uid
    assert list_versions(back.path)[0].revision == 4


def test_a_version_that_is_not_there_is_named(opened):
    save_many(opened, 2)
    with pytest.raises(BadProperty, match="there is no version 9") as caught:
        open_version(opened.path, 9)
    assert "Kept are: 1, 2." in caught.value.fix


def test_a_version_that_cannot_be_read_is_listed_and_harms_nobody(opened):
    save_many(opened, 2)
    folder = opened.path.parent / "versions" / "farm.json"
    (folder / "000002.json").write_bytes(b"{")
    (folder / "notes.txt").write_text("mine")
    newest, first = list_versions(opened.path)
    assert (newest.number, newest.revision, newest.changes) == (2, None, ())
    assert first.revision == 1
    with pytest.raises(BadProperty, match=r"farm.json, version 2: not JSON"):
        open_version(opened.path, 2)
    save_many(open_property(opened.path), 1)
    assert (folder / "notes.txt").read_text() == "mine"


def test_two_files_of_one_folder_have_their_own_versions(opened):
    other = opened.path.with_suffix(".geojson")
    other.write_bytes(opened.path.read_bytes())
    save_many(opened, 2)
    assert len(list_versions(opened.path)) == 2
    assert list_versions(other) == ()


def test_no_change_is_no_words():
    assert what_changed(g.whole_ground(), g.whole_ground(revision=9)) == ()
    assert what_changed({"features": None}, {"features": [3]}) == ()


# --- the user's folder ---


def test_the_users_folder(monkeypatch, tmp_path):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path / "mine"))
    assert data_folder() == tmp_path / "mine"
    monkeypatch.delenv("STAND_WIND_HOME")
    assert data_folder().name == "stand-and-wind"
    assert data_folder().is_absolute()


def test_own_files_and_new_names(monkeypatch, tmp_path):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path / "mine"))
    assert own_properties() == ()
    first = new_path("Uncle Joe's  “North” 80!")
    assert first == tmp_path / "mine" / "uncle-joe-s-north-80.json"
    opened = g.opened(g.whole_ground())
    save_property(opened, opened.document, first, now_s=0)
    assert own_properties() == (first,)
    assert new_path("Uncle Joe's North 80").name == "uncle-joe-s-north-80-2.json"
    for odd in ("", "../..", "狩り", "CON/\\"):
        path = new_path(odd)
        assert path.parent == tmp_path / "mine"
    assert new_path("狩り").name == "property.json"


def test_the_demo_lies_beside_the_program():
    assert demo_path().name == "demo_property.json"
    assert (demo_path().parent / "core" / "ground" / "store.py").exists()
