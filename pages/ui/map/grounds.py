"""Whose ground: choose one, name it, go back to an earlier version."""

from pathlib import Path

import streamlit as st

from core.errors import BadProperty, StandWindError
from core.ground.store import (
    demo_path,
    open_version,
    own_properties,
    save_property,
)
from core.ground.versions import list_versions
from pages.ui import data, frame, state
from pages.ui.draw.page_draft import in_use
from pages.ui.map import first_run

NOTE, PART = "grounds_note", "grounds_part"
START = "Start my own property"


def grounds_panel() -> None:
    """The whole part, behind one line."""
    path = state.ground_path()
    note = st.session_state.pop(NOTE, None)
    if note:
        (st.error if note[0] else st.success)(frame.plain(note[1]))
    # another ground is another box, closed: the map is what one wants then
    with st.expander("Choose a ground or start your own", key=f"grounds_{path.stem}"):
        _choose(path)
        part = st.segmented_control(
            "More for this ground",
            [START, "Name", "Earlier versions"],
            key=PART,
            label_visibility="collapsed",
        )
        if part == START:
            first_run.start_form(_started)
        elif part == "Name":
            _name(path)
        elif part == "Earlier versions":
            _versions(path)


def _label(path: Path) -> str:
    if path == demo_path():
        return "the demo"
    try:
        return data.opened(path).property.name or path.stem
    except StandWindError:
        return f"{path.stem} (can't be read)"


def _choose(path: Path) -> None:
    every = [demo_path(), *own_properties()]
    st.selectbox(
        "Property",
        every,
        index=every.index(path) if path in every else 0,
        format_func=_label,
        key=f"ground_choice_{path.stem}",
        on_change=lambda: state.use_ground(st.session_state[f"ground_choice_{path.stem}"]),
    )


def _started(said: str) -> None:
    """After a start: the form goes, so that the map is near, and it is told at the top."""
    st.session_state[NOTE] = (False, said)
    st.session_state[PART] = None


def _name(path: Path) -> None:
    if path == demo_path():
        st.caption("The demo keeps its name. Start your own to have another.")
        return
    st.text_input("Name", data.opened(path).property.name, key="ground_name")
    st.button("Rename it", on_click=_rename, args=(path,))


def _rename(path: Path) -> None:
    opened, name = data.opened(path), st.session_state["ground_name"].strip()
    try:
        if not name:
            raise BadProperty("the name is empty", "name", "Write what you call it.")
        if in_use().unsaved:
            raise BadProperty("the drawing has changes", path.name, "Save them first.")
        rules = {**opened.document["property"], "name": name}
        save_property(opened, {**opened.document, "property": rules}, now_s=int(state.now_s()))
        st.session_state[NOTE] = (False, f"It is called {name} now.")
    except StandWindError as fault:
        st.session_state[NOTE] = (True, fault.text())


def _versions(path: Path) -> None:
    """The last 20, newest first, with what was changed after each."""
    found = list_versions(path) if path != demo_path() else ()
    if not found:
        st.caption("No earlier version yet: every save keeps the one before it.")
    for version in found:
        when = (version.saved_utc or "an unknown day").replace("T", " ").removesuffix("Z")
        changes = "; ".join(version.changes[:6]) or "nothing that is drawn"
        more = f"; and {len(version.changes) - 6} more" if len(version.changes) > 6 else ""
        st.markdown(frame.plain(f"Saved {when} UTC. After it: {changes}{more}."))
        st.button(
            "Back to this",
            key=f"back-to-{version.number}",
            on_click=_go_back,
            args=(path, version.number),
        )


def _go_back(path: Path, number: int) -> None:
    try:
        if in_use().unsaved:
            raise BadProperty(
                "the drawing has changes that are not saved",
                path.name,
                "Save them or throw them away first.",
            )
        earlier = open_version(path, number)
        save_property(data.opened(path), earlier.document, now_s=int(state.now_s()))
        st.session_state[NOTE] = (False, "It is as it was. What you had is kept as a version.")
    except StandWindError as fault:
        st.session_state[NOTE] = (True, fault.text())
