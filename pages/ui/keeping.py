"""Keeping what a panel has changed: in its file, or where the page says."""

from collections.abc import Callable
from typing import Any

import streamlit as st

from core.errors import StandWindError
from core.ground.store import Opened, save_property
from pages.ui import frame, state

Keep = Callable[[dict, str], None]  # takes the changed document, and what was done in words
NOTE = "keeping_note"


def ready(opened: Opened, keep: Keep | None) -> bool:
    """Whether changes can be kept; says why not. Args: the property; the page's own way."""
    if keep is None and opened.read_only:
        st.caption("This property is read-only. Start your own to keep changes.")
        return False
    return True


def keep_now(
    opened: Opened, change: Callable[[dict], dict], said: str, keep: Keep | None = None,
    then: Callable[[], Any] | None = None,
) -> None:  # fmt: skip
    """For callbacks: changes the document and keeps it, or leaves a note why not.

    Args: the property; from its document to the changed one; what was done, in words;
    the page's own way to keep, None saves the file; what to do once it is kept.
    """
    try:
        document = change(opened.document)
        if keep is None:
            save_property(opened, document, now_s=int(state.now_s()))
        else:
            keep(document, said)
    except StandWindError as fault:
        st.session_state[NOTE] = ("error", fault.text())
        return
    st.session_state[NOTE] = ("success", said)
    if then is not None:
        then()


def show_note() -> None:
    """What became of the last change, once."""
    kind, text = st.session_state.pop(NOTE, ("", ""))
    if kind == "error":
        st.error(frame.plain(text))
    elif kind:
        st.success(frame.plain(text))
