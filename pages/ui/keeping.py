"""Keeping what a panel has changed: in its file, or where the page says."""

from collections.abc import Callable
from typing import Any

import streamlit as st

from core.errors import StandWindError
from core.ground.store import Opened, demo_path, save_property
from pages.ui import frame, state

Change = Callable[[dict], dict]  # from a document to a changed one
Keep = Callable[[Change, str], Any]  # takes a change and what was done; gives False if refused
NOTE = "keeping_note"


def ready(opened: Opened, keep: Keep | None) -> bool:
    """Whether changes can be kept; says why not. Args: the property; the page's own way."""
    is_later = opened.read_only and opened.path != demo_path()
    if is_later:
        st.caption("This property is of a later version: it is looked at here, and not changed.")
        return False
    if keep is None and opened.read_only:
        st.caption("This property is read-only. Start your own to keep changes.")
        return False
    return True


def keep_now(
    opened: Opened,
    change: Change,
    done: str,
    keep: Keep | None = None,
    then: Callable[[], Any] | None = None,
) -> None:
    """For callbacks: changes the document and keeps it, or leaves a note why not.

    Args: the property; the change; what was done, in words; the page's own way to keep,
    None saves the file at once; what to do once it is kept.
    """
    try:
        if keep is None:
            save_property(opened, change(opened.document), now_s=int(state.now_s()))
        elif keep(change, done) is False:
            return  # the page has said why
    except StandWindError as fault:
        st.session_state[NOTE] = ("error", fault.text())
        return
    st.session_state[NOTE] = ("success", done)
    if then is not None:
        then()


def show_note() -> None:
    """What became of the last change, once."""
    kind, text = st.session_state.pop(NOTE, ("", ""))
    if kind == "error":
        st.error(frame.plain(text))
    elif kind:
        st.success(frame.plain(text))
