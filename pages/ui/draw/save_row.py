"""The row above the map: the ground's name, what is not saved, and another tab's changes."""

import streamlit as st

from core.ground.store import demo_path
from pages.ui import frame
from pages.ui.draw import saving, tabs
from pages.ui.draw.page_draft import PageDraft

NOT_KEPT = "The disk takes no draft: save before you leave this page."


def save_row(draft: PageDraft) -> None:
    """What can be saved. The row is always there: what comes and goes above the map
    would have the browser build the map anew."""
    changes = draft.unsaved
    with st.container(horizontal=True, key="saving", vertical_alignment="center"):
        st.markdown(f"**{frame.plain(draft.document['property']['name'])}**")
        if draft.conflict:
            _conflict(draft, changes)
        elif changes:
            _unsaved(draft, changes)
        tabs.others(draft)


def _unsaved(draft: PageDraft, changes: list[str]) -> None:
    if draft.path == demo_path():
        with st.popover("Save as my own", width="content"):
            _name_and_save("My ground")
    else:
        st.button("Save", key="save", type="primary", on_click=saving.save)
    with st.popover(f"{len(changes)} unsaved", width="content"):
        tabs.listed(changes)
        st.button("Throw these away", key="throw", on_click=saving.throw_away)
    if not draft.is_kept:
        st.warning(NOT_KEPT)


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
        _name_and_save(f"{draft.document['property']['name']}, mine")
    with st.popover("Keep only the other", width="content"):
        st.caption("Yours is lost:")
        tabs.listed(changes)
        st.button("Throw mine away", key="throw-mine", on_click=saving.throw_away)
