"""Boxes for notes that outlive a reload, and what was understood of them, on the screens."""

import contextlib

import streamlit as st

from core.errors import StandWindError
from core.ground.layout import Property
from core.keep.half_written import half_written, keep_half_written
from core.keep.understood import Understood
from pages.ui import frame


def note_box(label: str, key: str, ground: Property, placeholder: str) -> str:
    """A box for notes, with what was left half written in it.

    Args: its label and key; the ground; what stands in it while it is empty.
    """
    left_half(key, ground)
    return st.text_area(
        label,
        key=key,
        placeholder=placeholder,
        persist_state="session",
        on_change=_keep_half,
        args=(ground.uid, key),
    )


def left_half(key: str, ground: Property) -> str:
    """What stands in a box before it is drawn. Args: its key; the ground."""
    if key not in st.session_state:
        st.session_state[key] = half_written(ground.uid, key)
    return st.session_state[key]


def emptied(ground: Property, key: str) -> None:
    """For callbacks: what was in a box is in the log now. Args: the ground; the box's key."""
    st.session_state[key] = ""
    _keep_half(ground.uid, key)


def read_back(said: Understood) -> None:
    """What was understood, piece by piece, and what is asked. Args: it."""
    for piece in said.pieces:
        st.markdown(f"{frame.plain(piece.text)} → **{frame.plain(piece.means)}**")
    for asked in said.asked:
        choices = f" ({', '.join(asked.choices)})" if asked.choices else ""
        st.warning(frame.plain(f"Not clear: {asked.text}. {asked.asks}{choices}"))


def _keep_half(uid: str, key: str) -> None:
    with contextlib.suppress(OSError, StandWindError):  # it is still in the box
        keep_half_written(uid, key, st.session_state.get(key, ""))
