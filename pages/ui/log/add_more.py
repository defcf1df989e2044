"""More of a sit that was told lately, where its three taps were: a time, a trail, yards."""

import datetime

import streamlit as st

from core.ground.layout import Property
from core.ground.looking import only_looking
from core.keep.entries import SIT, Entry
from core.keep.sentence import understand_more
from core.say.log.lines import entry_line
from pages.ui import frame
from pages.ui.log import kept
from pages.ui.log.lines import emptied, left_half, note_box, read_back

LATELY_DAYS = 1  # a sit of yesterday evening is written up this morning
EXAMPLE = {
    "morning": "7:40 2 does east trail. buck 60 yd. left 9:30",
    "evening": "4:40 2 does east trail. buck 60 yd. left 6:00",
}


def add_more(ground: Property) -> None:
    """A closed box for the sit that was told last. Args: the ground."""
    if only_looking():
        return
    entries, today = kept.lately(ground), kept.local_now(ground).date()
    first = (today - datetime.timedelta(days=LATELY_DAYS)).isoformat()
    sat = [e for e in entries if e.kind == SIT and not e.get("planned") and e.date >= first]
    if not sat or sat[-1].date > today.isoformat():
        return
    sit = sat[-1]
    when = f"the {kept.HALF_SAID[sit.get('sit')]} of {sit.date}"
    label = frame.plain(f"More of {ground.name_of(sit.get('stand'))}, {when}")
    key = f"more_{sit.id}"
    with st.expander(label, expanded=bool(left_half(key, ground).strip())):
        for entry in (sit, *(e for e in entries if e.of == sit.id)):
            st.markdown(f"- {frame.plain(entry_line(entry, ground))}")
        _more(ground, sit, key)


def _more(ground: Property, sit: Entry, key: str) -> None:
    text = note_box("What else", key, ground, EXAMPLE.get(sit.get("sit"), EXAMPLE["morning"]))
    if not text.strip():
        return
    changed, said = understand_more(text, sit, ground, kept.stamp(ground))
    read_back(said)
    tells = bool(said.entries) or dict(changed.values) != dict(sit.values)
    if tells:
        label = "Keep it" if not said.asked else "Keep what is clear"
        st.button(label, key=f"keep_{key}", on_click=_keep, args=(ground, sit, changed, said, key))


def _keep(ground: Property, sit: Entry, changed: Entry, said, key: str) -> None:
    def act(journal) -> str:
        if dict(changed.values) != dict(sit.values):
            journal.change(changed)
        journal.add(said.entries)
        return "Kept."

    if kept.written(ground, act):
        emptied(ground, key)
