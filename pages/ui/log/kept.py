"""What the Log screen shares: the entries, the clock of the ground, and what was said last."""

import datetime
from collections.abc import Callable
from zoneinfo import ZoneInfo

import streamlit as st

from core.errors import StandWindError
from core.ground.layout import Property
from core.keep.entries import Entry
from core.keep.journal import Journal
from core.keep.log import open_journal
from pages.ui import data, frame, state

HALF_SAID = {"morning": "morning", "evening": "evening", "all-day": "day"}
NOTE = "log_note"  # kind and text of what became of the last press


def local_now(ground: Property) -> datetime.datetime:
    """The clock where the ground is. Args: the ground."""
    return datetime.datetime.fromtimestamp(state.now_s(), ZoneInfo(ground.timezone))


def entries_of(ground: Property) -> list[Entry]:
    """What the log holds, by date. Args: the ground. Raises: BadJournal."""
    return list(data.log(ground) or ())


def lately(ground: Property) -> tuple[Entry, ...]:
    """What happened in the last weeks. Args: the ground. Raises: BadJournal."""
    return data.log_before(ground, local_now(ground).date()) or ()


def written(ground: Property, act: Callable[[Journal], str]) -> bool:
    """For callbacks: writes to the log, and leaves a note of it.

    Args: the ground; what writes, and gives the note. Returns: whether it was written.
    """
    try:
        with open_journal(ground.uid) as journal:
            said = " ".join([*journal.notes, act(journal)])
    except StandWindError as fault:
        st.session_state[NOTE] = ("error", fault.text())
        return False
    st.session_state[NOTE] = ("success", said)
    return True


def show_note() -> None:
    """What became of the last press, once; and what was put right in the log."""
    with st.container():  # there with and without a note: what is open below it stays so
        if mended := st.session_state.get(data.LOG_MENDED):
            st.warning(frame.plain(mended))
        kind, text = st.session_state.pop(NOTE, ("", ""))
        if kind:
            (st.error if kind == "error" else st.success)(frame.plain(text))


def stamp(ground: Property) -> str:
    """Now, as entries keep it. Args: the ground."""
    return local_now(ground).isoformat(timespec="seconds")
