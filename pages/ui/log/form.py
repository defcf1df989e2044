"""An entry filled in by hand: a new one of any kind, or one of the log that is changed."""

import dataclasses
import datetime

import streamlit as st

from core.errors import StandWindError
from core.ground.layout import Property
from core.keep.entries import KINDS, Entry, entry_of
from pages.ui import state
from pages.ui.log import kept
from pages.ui.log.form_rows import DAY, rows_for

CHANGED = "log_change"  # id of the entry that is changed now


def new_entry(ground: Property) -> None:
    """A form for an entry of any kind, closed until it is wanted. Args: the ground."""
    with st.expander("Fill in an entry by hand"):
        kind = st.segmented_control("What kind", KINDS, key="new_kind")
        if kind:
            today = kept.local_now(ground).date()
            _form(ground, Entry("", kind, today.isoformat()), f"new_{kind}")


def change_entry(ground: Property, entry: Entry) -> None:
    """The form of an entry that is in the log. Args: the ground; the entry."""
    with st.container(border=True):
        _form(ground, entry, f"change_{entry.id}")
        st.button("Leave it as it was", key=f"leave_{entry.id}", on_click=_close)


def _form(ground: Property, entry: Entry, key: str) -> None:
    with st.form(key, border=False, enter_to_submit=False):
        day = datetime.date.fromisoformat(entry.date)
        st.date_input("Day", value=day, key=f"{key}_day")
        for row in rows_for(ground, entry.kind, day, {**entry.values, DAY: entry.date}, key):
            row.draw()
        st.form_submit_button("Keep it", type="primary", on_click=_keep, args=(ground, entry, key))


def _keep(ground: Property, entry: Entry, key: str) -> None:
    """For a callback: what the form holds, checked, into the log."""
    day = st.session_state[f"{key}_day"]
    values = dict(entry.values)
    for row in rows_for(ground, entry.kind, day, {**entry.values, DAY: entry.date}, key):
        value = row.value(st.session_state.get(f"{key}_{row.name}"))
        values.pop(row.name, None)
        if value is not None:
            values[row.name] = value
    try:
        told = entry_of(entry.kind, day.isoformat(), values, of=entry.of, now=kept.stamp(ground))
    except StandWindError as fault:
        st.session_state[kept.NOTE] = ("error", fault.text())
        return

    def act(journal) -> str:
        if not entry.id:
            journal.add([told])
            return "Kept."
        journal.change(dataclasses.replace(told, id=entry.id))
        return "Changed. What it said before is kept."

    if kept.written(ground, act):
        for name in [name for name in st.session_state if str(name).startswith(f"{key}_")]:
            del st.session_state[name]  # the next one begins empty
        _close()


def _close() -> None:
    state.choose(CHANGED, "")
