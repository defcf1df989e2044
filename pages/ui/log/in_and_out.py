"""The log taken along and brought in: tables, points on a map, and everything in one file."""

import io
from collections.abc import Callable

import streamlit as st

from core.errors import StandWindError
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.keep.entries import KINDS
from core.log.bringing_in import add_new, bring_in, loose_text
from core.log.former import read_in
from core.log.look_into import OTHER, look_into
from core.log.tables import ReadIn, counted, entries_csv, entries_geojson
from core.log.whole import everything_to
from core.weather.answers import Answers
from pages.ui import frame
from pages.ui.asking import answered
from pages.ui.log import kept

ALL = "all kinds"


def in_and_out(ground: Property) -> None:
    """Both, closed until they are wanted. Args: the ground."""
    if only_looking():
        return
    with st.expander("Take it along, or bring it in"):
        _out(ground)
        _in(ground)


def _out(ground: Property) -> None:
    entries = kept.entries_of(ground)
    kinds = [ALL, *(k for k in KINDS if any(e.kind == k for e in entries))]
    kind = st.selectbox("What", kinds, key="log_out_kind")
    with st.container(horizontal=True):
        if entries:
            only = None if kind == ALL else kind
            files: dict[str, tuple[str, Callable[[], str]]] = {  # written once they are asked for
                "Table (CSV)": ("log.csv", lambda: entries_csv(entries, only)),
                "Map (GeoJSON)": ("log.geojson", lambda: entries_geojson(entries, ground)[0]),
            }
            for label, (name, written) in files.items():
                st.download_button(
                    label, lambda w=written: w().encode(), name, key=name, on_click="ignore"
                )
        if st.button("Everything in one file", key="log_all"):
            out = io.BytesIO()
            told = everything_to(out)
            st.download_button("Save it", out.getvalue(), "stand-and-wind.zip", on_click="ignore")
            st.caption(frame.plain(f"It holds {'; '.join(told)}. It says where your stands are."))


def _in(ground: Property) -> None:
    file = st.file_uploader(
        "A table of entries or of former years, or such a file", ["csv", "txt", "zip"], key="log_in"
    )
    if file is None:
        return
    try:
        if file.name.casefold().endswith(".zip"):
            _look(file.getvalue(), file.name)
        else:
            _table(ground, file.getvalue(), file.name)
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))


def _look(data: bytes, name: str) -> None:
    look = look_into(io.BytesIO(data), name)
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in look.lines()))
    over = any(g.here == OTHER for g in look.grounds) and st.checkbox(
        "Save grounds of the file over mine; mine become earlier versions", key="log_in_over"
    )
    st.button("Bring it in", key="log_in_all", on_click=_bring, args=(data, name, bool(over)))


def _bring(data: bytes, name: str, over: bool) -> None:
    try:
        said = bring_in(io.BytesIO(data), name, replace=over)
    except StandWindError as fault:
        st.session_state[kept.NOTE] = ("error", fault.text())
        return
    st.session_state[kept.NOTE] = ("success", " ".join(said))


def _table(ground: Property, data: bytes, name: str) -> None:
    stamp = kept.stamp(ground)

    def read(answers: Answers) -> ReadIn:
        return read_in(data, ground, name, answers, stamp)

    found = answered(read, Answers(), f"log_in {name}")
    if found is None:
        return
    for note in found.notes:
        st.caption(frame.plain(note))
    if said := loose_text(found.entries, [e.id for e in kept.entries_of(ground)]):
        st.caption(frame.plain(said))
    st.markdown(f"{counted(len(found.entries))}.")
    if found.entries:
        st.button("Keep them", key="log_in_keep", on_click=_keep, args=(ground, found.entries))


def _keep(ground: Property, entries) -> None:
    def act(journal) -> str:
        return f"Kept: {add_new(journal, entries)} new of {counted(len(entries))}."

    kept.written(ground, act)
