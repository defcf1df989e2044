"""A line of notes: written, understood beside it, asked where it is not clear, kept."""

import streamlit as st

from core.ground.layout import Property
from core.keep.sentence import understand
from core.keep.understood import with_kept_twice
from core.say.log.lines import example_line
from pages.ui.log import kept
from pages.ui.log.lines import emptied, note_box, read_back

LINE = "log_line"


def write_line(ground: Property) -> None:
    """The line, what it was taken for, and the button that keeps it. Args: the ground."""
    st.header("Write it in a line")
    stand = ground.stands[0].name if ground.stands else "plum edge"
    text = note_box("Your line", LINE, ground, example_line(stand, "morning"))
    st.caption(
        "Stand and half of the day first, then each thing with a full stop behind it. "
        "Several lines are several sits. So too: visit camera at a place 1:10 to 1:30; fresh rub "
        "at a trail; harvest doe 98 lb age 2.5 tag A-17, report by 12 Nov; note buy straps."
    )
    if not text.strip():
        return
    said = understand(text, ground, kept.local_now(ground).date(), kept.stamp(ground))
    said = with_kept_twice(said, kept.entries_of(ground), ground)
    read_back(said)
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
        emptied(ground, LINE)
