"""A line of notes: written, understood beside it, asked where it is not clear, kept."""

import streamlit as st

from core.ground.layout import Property
from core.keep.sentence import understand
from core.say.log.lines import example_line
from pages.ui import frame
from pages.ui.log import kept

LINE = "log_line"


def write_line(ground: Property) -> None:
    """The line, what it was taken for, and the button that keeps it. Args: the ground."""
    st.header("Write it in a line")
    stand = ground.stands[0].name if ground.stands else "plum edge"
    text = st.text_area(
        "Your line",
        key=LINE,
        placeholder=example_line(stand, "morning"),
        persist_state="session",
        help=None,
    )
    st.caption(
        "Stand and half of the day first, then each thing with a full stop behind it. "
        "Several lines are several sits."
    )
    if not text.strip():
        return
    said = understand(text, ground, kept.local_now(ground).date(), kept.stamp(ground))
    for piece in said.pieces:
        st.markdown(f"{frame.plain(piece.text)} → **{frame.plain(piece.means)}**")
    for asked in said.asked:
        choices = f" ({', '.join(asked.choices)})" if asked.choices else ""
        st.warning(frame.plain(f"Not clear: {asked.text}. {asked.asks}{choices}"))
    if not said.entries:
        st.caption("There is nothing to keep yet.")
        return
    label = "Keep it" if not said.asked else "Keep what is clear"
    st.button(label, type="primary", on_click=_keep, args=(ground, said.entries))


def _keep(ground: Property, entries) -> None:
    def act(journal) -> str:
        n = len(journal.add(entries))
        return f"Kept: {n} {'entry' if n == 1 else 'entries'}."

    if kept.written(ground, act):
        st.session_state[LINE] = ""
