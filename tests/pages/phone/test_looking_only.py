"""Screens of a phone that may only look: no button changes anything; pages may be taken along."""

import pytest

from core.ground.looking import LOOK_VARIABLE
from core.ground.store import open_property
from core.keep.entries import NOTE, entry_of
from core.keep.log import open_journal
from pages.ui.log import kept
from tests.pages.conftest import opened, words

CHANGES = {
    "I sit here",
    "Take out",
    "Keep it",
    "Keep what is clear",
    "Done",
    "I did not sit",
    "Not here",
    "Keep these rules",
}


@pytest.fixture
def looking(farm, monkeypatch):
    """The farm with an entry in its log, on a phone that only looks."""
    with open_journal(open_property(farm).property.uid) as journal:
        journal.add([entry_of(NOTE, "2026-11-09", {"text": "cut the lane"})])
    monkeypatch.setenv(LOOK_VARIABLE, "1")
    return open_property(farm).property


@pytest.mark.parametrize("page", ["", "log", "map", "work"])
@pytest.mark.usefixtures("looking")
def test_no_screen_offers_a_change(page):
    app = opened(page, ground="farm", wind="NW 8")
    assert not app.exception
    assert {button.label for button in app.button} & CHANGES == set()
    assert not app.text_area
    if page == "log":
        assert "cut the lane" in words(app)
    if not page:
        assert [b for b in app.button if b.key == "make-pocket"]


def test_a_press_that_is_sent_all_the_same_is_refused(looking, monkeypatch):
    held = {}
    monkeypatch.setattr("streamlit.session_state", held)
    assert kept.written(looking, lambda journal: journal.remove(journal.entries()[0].id)) is False
    assert "changes nothing" in held[kept.NOTE][1]
