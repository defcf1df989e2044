"""Drafts of the Map page over reloads, in two tabs, and around a save that was killed."""

import os
from pathlib import Path

import pytest

from core.ground.drawing.draft import undone
from core.ground.drawing.edits import feature_of
from core.ground.drawing.kept_drafts import FOLDER, kept_drafts
from core.ground.store import open_property, save_property
from pages.ui.draw.page_draft import PageDraft
from tests import ground_files as g
from tests.pages.conftest import opened, words

AGAIN, OTHER = "are here again", "Another tab's changes"


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    return path


class Tab:
    """One tab of the Map page; a new one of the same ground is what a reload gives."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.app = opened("map", ground=path.stem)
        assert not self.app.exception

    def run(self) -> None:
        self.app.run()
        assert not self.app.exception

    @property
    def held(self) -> PageDraft:
        return self.app.session_state["drafts"][str(self.path)]

    def called(self, id_: str, name: str) -> None:
        """Gives a thing another name."""
        self.app.selectbox(key="choose").set_value(id_).run()
        self.app.text_input(key=f"ask-{id_}-name").set_value(name)
        self.run()

    def names(self) -> list[str]:
        document = self.held.document
        return [feature_of(document, id_)["properties"]["name"] for id_ in ("oak", "gum")]

    def press(self, key: str) -> None:
        self.app.button(key=key).click()
        self.run()

    def keys(self, start: str) -> list[str]:
        return [b.key for b in self.app.button if (b.key or "").startswith(start)]

    def told(self) -> str:
        return words(self.app, "markdown", "caption", "warning")


def test_the_undo_is_there_after_a_reload(path):
    tab = Tab(path)
    tab.called("oak", "Elm")
    tab.called("gum", "Ash")
    after = Tab(path)
    assert AGAIN in after.held.note
    assert after.names() == ["Elm", "Ash"]
    assert [s.done for s in after.held.draft.past] == [
        "Oak (stand): name",
        "Gum (stand): name",
    ]
    assert undone(undone(after.held.draft)).document == open_property(path).document


def test_a_reload_goes_on_in_place_of_the_page_before_it(path):
    Tab(path).called("oak", "Elm")
    after = Tab(path)
    assert after.keys("take-") == []  # the page before it is no other tab
    after.called("gum", "Ash")
    kept, _ = kept_drafts(path)
    assert [one.key for one in kept] == [after.held.key]


def test_two_tabs_keep_their_own_and_each_can_be_shown(path):
    one, two = Tab(path), Tab(path)
    one.called("oak", "Elm")
    two.called("gum", "Ash")
    assert len(kept_drafts(path)[0]) == 2
    assert (one.names(), two.names()) == (["Elm", "Gum"], ["Oak", "Ash"])
    assert two.keys("take-") == [f"take-{one.held.key}"]
    assert 'changed stand "oak" (Elm): name' in two.told()
    one.run()
    assert one.keys("take-") == [f"take-{two.held.key}"]

    two.press(f"take-{one.held.key}")
    assert two.names() == ["Elm", "Gum"]
    assert "kept too" in two.held.note
    (back,) = two.keys("take-")  # its own, put aside
    two.press(back)
    assert two.names() == ["Oak", "Ash"]
    two.press(f"forget-{one.held.key}")
    assert two.keys("take-") == []


def test_a_reload_shows_what_was_drawn_last_and_tells_of_the_other(path):
    one, two = Tab(path), Tab(path)
    one.called("oak", "Elm")
    two.called("gum", "Ash")
    place = path.parent / FOLDER / "farm" / f"{two.held.key}.json"
    os.utime(place, (4e9, 4e9))
    after = Tab(path)
    assert after.names() == ["Oak", "Ash"]
    assert after.keys("take-") == [f"take-{one.held.key}"]


def test_a_tab_that_was_gone_on_from_elsewhere_keeps_its_own_again(path):
    one = Tab(path)
    one.called("oak", "Elm")
    two = Tab(path)
    two.called("gum", "Ash")  # has Elm too, and takes the place of the first one's
    one.called("oak", "Beech")
    assert len(kept_drafts(path)[0]) == 2
    assert one.names() == ["Beech", "Gum"]
    assert one.keys("take-") == [f"take-{two.held.key}"]


def test_a_save_keeps_the_undo_and_tells_nobody_of_changes(path):
    tab = Tab(path)
    tab.called("oak", "Elm")
    tab.press("save")
    after = Tab(path)
    assert after.held.note == ""
    assert not after.keys("save")
    assert undone(after.held.draft).document["features"][0]["properties"]["name"] == "Oak"


def test_killed_between_the_save_and_the_draft(path):
    tab = Tab(path)
    tab.called("oak", "Elm")
    save_property(open_property(path), tab.held.document, now_s=0)
    after = Tab(path)
    assert (after.names(), after.held.note) == (["Elm", "Gum"], "")
    assert not after.keys("save")
    after.app.selectbox(key="choose").set_value("gum").run()
    assert after.held.picked == "gum"  # the page does not begin anew at each run
    after.called("gum", "Ash")
    after.press("save")
    assert open_property(path).property.stand("gum").name == "Ash"


def test_killed_before_the_save(path):
    Tab(path).called("oak", "Elm")
    after = Tab(path)
    after.press("save")
    assert open_property(path).property.stand("oak").name == "Elm"
    assert open_property(path).property.revision == 2


def test_a_file_saved_elsewhere_leaves_the_draft_and_asks(path):
    Tab(path).called("oak", "Elm")
    save_property(open_property(path), open_property(path).document, now_s=0)
    kept = path.read_bytes()
    after = Tab(path)
    assert after.names() == ["Elm", "Gum"]
    after.press("save")
    assert "changed since it was opened" in after.told()
    assert path.read_bytes() == kept


def test_undo_of_what_was_saved_over_since_is_forgotten(path):
    tab = Tab(path)
    tab.called("oak", "Elm")
    tab.press("save")
    opened = open_property(path)
    save_property(opened, g.whole_ground(), now_s=0)
    after = Tab(path)
    assert after.names() == ["Oak", "Gum"]
    assert after.held.draft.past == ()
    assert kept_drafts(path) == ((), ())


def test_what_is_thrown_away_can_be_had_back(path):
    tab = Tab(path)
    tab.called("oak", "Elm")
    tab.press("throw")
    assert tab.names() == ["Oak", "Gum"]
    assert not tab.keys("save")
    after = Tab(path)
    again = undone(after.held.draft).document
    assert feature_of(again, "oak")["properties"]["name"] == "Elm"


def test_a_disk_that_takes_no_draft_is_told(path):
    path.parent.joinpath(FOLDER).write_text("in the way")
    tab = Tab(path)
    tab.called("oak", "Elm")
    assert "save before you leave this page" in tab.told()


def test_a_draft_that_cannot_be_read_is_told_and_stays(path):
    place = path.parent / FOLDER / "farm" / "x.json"
    place.parent.mkdir(parents=True)
    place.write_bytes(b"{")
    assert "can't be read" in Tab(path).told()
    assert place.read_bytes() == b"{"
