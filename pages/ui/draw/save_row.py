"""The row above the map: the ground's name, what is not saved, and another tab's changes."""

import streamlit as st

from core.errors import StandWindError
from core.ground.files.rescue import of_this_version
from core.ground.store import demo_path
from pages.ui import data, frame
from pages.ui.draw import other_tabs, saving
from pages.ui.draw.page_draft import PageDraft

NOT_KEPT = "The disk takes no draft: save before you leave this page."


def save_row(draft: PageDraft) -> None:
    """What can be saved. The row is always there: what comes and goes above the map
    would have the browser build the map anew."""
    changes = draft.unsaved
    with st.container(horizontal=True, key="saving", vertical_alignment="center"):
        st.markdown(f"**{frame.plain(_name_of(draft))}**")
        if draft.lost:
            _lost(draft, changes)
        elif draft.is_locked:
            _later(draft)
        elif draft.conflict:
            _conflict(draft, changes)
        elif changes:
            _unsaved(draft, changes)
        other_tabs.other_drafts(draft)


def _unsaved(draft: PageDraft, changes: list[str]) -> None:
    if draft.path == demo_path():
        with st.popover("Save as my own", width="content"):
            _name_and_save("My ground")
    elif draft.only_look:
        st.warning(frame.plain(draft.only_look))
        with st.popover("Save under a name", width="content"):
            _name_and_save(f"{_name_of(draft)}, mine")
    else:
        st.button("Save", key="save", type="primary", on_click=saving.save)
    _offer_throwing(changes)
    if not draft.is_kept:
        st.warning(NOT_KEPT)


def _offer_throwing(changes: list[str]) -> None:
    with st.popover(f"{len(changes)} unsaved", width="content"):
        other_tabs.change_list(changes)
        st.button("Throw these away", key="throw", on_click=saving.throw_away)


def _lost(draft: PageDraft, changes: list[str]) -> None:
    """The file is gone or broken: the drawing is what is left, and stays."""
    st.error(frame.plain(draft.lost))
    with st.popover("Save under a name", width="content"):
        _name_and_save(_name_of(draft))
    if changes:
        _offer_throwing(changes)
    if not draft.is_kept:
        st.warning(NOT_KEPT)


def _later(draft: PageDraft) -> None:
    """A file of a later version: looked at; a copy where this program knows all of it."""
    st.warning(frame.plain(draft.only_look))
    try:
        of_this_version(data.opened(draft.path))
    except StandWindError as fault:
        st.caption(frame.plain(f"No copy to draw on can be made here: {fault.text()}"))
        return
    with st.popover("Make a copy to draw on", width="content"):
        st.caption("What this program does not know of the later version is kept, and not used.")
        st.text_input("Name", value=f"{_name_of(draft)}, mine", key="copy-name")
        st.button("Make it", key="copy-later", type="primary", on_click=_copy_later)


def _copy_later() -> None:
    saving.copy_later(st.session_state["copy-name"].strip() or "My ground")


def _name_of(draft: PageDraft) -> str:
    return draft.document["property"]["name"]


def _name_and_save(first: str) -> None:
    st.text_input("Name", value=first, key="save-name")
    st.button("Save it", key="save-as", type="primary", on_click=_save_named)


def _save_named() -> None:
    saving.save(st.session_state["save-name"].strip() or "My ground")


def _conflict(draft: PageDraft, changes: list[str]) -> None:
    """Another tab or program was quicker: nothing is written before the user chooses."""
    st.warning(frame.plain(draft.conflict))
    with st.popover("Keep both", width="content"):
        st.caption("Yours becomes a property of its own beside the other.")
        _name_and_save(f"{_name_of(draft)}, mine")
    with st.popover("Keep only the other", width="content"):
        st.caption("Yours is lost:")
        other_tabs.change_list(changes)
        st.button("Throw mine away", key="throw-mine", on_click=saving.throw_away)
