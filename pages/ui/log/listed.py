"""The entries, the latest first; one can be taken out and brought back."""

import streamlit as st

from core.ground.layout import Property
from core.ground.looking import only_looking
from core.keep.after import latest_first
from core.keep.entries import KINDS, Entry
from core.say.log.lines import entry_line
from pages.ui import frame, state
from pages.ui.log import kept
from pages.ui.log.form import CHANGED, change_entry

SHOWN, MORE = 12, 40
MANY = "log_many"  # whether more of them are shown
GONE = "log_gone"  # id of what was taken out last, for as long as the page is open


def entries_listed(ground: Property) -> None:
    """The list. Args: the ground."""
    st.header("What happened")
    gone = st.session_state.get(GONE)
    if gone:
        st.button("Bring back what was taken out", on_click=_bring_back, args=(ground, gone))
    entries = kept.entries_of(ground)
    if not entries:
        st.caption("The log is empty. A plan of a sit, or a line above, begins it.")
        return
    kinds = [kind for kind in KINDS if any(e.kind == kind for e in entries)]
    only = st.segmented_control("Only", kinds, key="log_kind") if len(kinds) > 1 else None
    shown = [e for e in latest_first(entries) if only is None or e.kind == only]
    most = SHOWN + MORE if state.chosen(MANY) else SHOWN
    for entry in shown[:most]:
        _row(ground, entry)
    if len(shown) > most:
        st.caption(f"And {len(shown) - most} before these.")
        if most == SHOWN:
            st.button("Show more", key="log_more", on_click=state.choose, args=(MANY, "yes"))


def _row(ground: Property, entry: Entry) -> None:
    with st.container(horizontal=True, vertical_alignment="center", key=f"entry_{entry.id}"):
        st.markdown(frame.plain(f"{entry.date}: {entry_line(entry, ground)}"))
        if not only_looking():
            _presses(ground, entry)
    if state.chosen(CHANGED) == entry.id and not only_looking():
        change_entry(ground, entry)


def _presses(ground: Property, entry: Entry) -> None:
    presses = {
        "Change": (f"in_{entry.id}", state.choose, (CHANGED, entry.id)),
        "Take out": (f"out_{entry.id}", _take_out, (ground, entry.id)),
    }
    with st.container(horizontal=True, width="content"):  # the two stay together
        for label, (key, act, args) in presses.items():
            st.button(label, key=key, type="tertiary", on_click=act, args=args)


def _take_out(ground: Property, id_: str) -> None:
    def act(journal) -> str:
        journal.remove(id_)
        return "Taken out of the log."

    if kept.written(ground, act):
        st.session_state[GONE] = id_


def _bring_back(ground: Property, id_: str) -> None:
    def act(journal) -> str:
        journal.bring_back(id_)
        return "It is back."

    if kept.written(ground, act):
        st.session_state[GONE] = None
