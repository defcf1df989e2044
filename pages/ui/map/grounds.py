"""Whose ground: choose one, name it, go back to an earlier version."""

from pathlib import Path

import streamlit as st

from core.errors import BadProperty, StandWindError
from core.ground.drawing.kept_drafts import drawn_without_file
from core.ground.files.rescue import restore_version
from core.ground.store import demo_path, own_properties, save_property
from core.ground.versions import list_versions
from pages.ui import data, frame, state
from pages.ui.draw.in_use import DRAFTS, in_use, path_drawn
from pages.ui.map import first_run

NOTE, PART = "grounds_note", "grounds_part"
START, VERSIONS = "Start my own property", "Earlier versions"


def grounds_panel() -> None:
    """The whole part, behind one line."""
    path = path_drawn()
    note = st.session_state.pop(NOTE, None)
    if note:
        (st.error if note[0] else st.success)(frame.plain(note[1]))
    broken = path.exists() and not _can_be_read(path)
    key = f"{state.key_of(path)}{'_broken' if broken else ''}"
    if broken:
        st.session_state.setdefault(PART, VERSIONS)
    # another ground is another box, closed: the map is what one wants then
    with st.expander("Choose a ground or start your own", expanded=broken, key=f"grounds_{key}"):
        _choose(path)
        part = st.segmented_control(
            "More for this ground",
            [START, "Name", VERSIONS],
            key=PART,
            label_visibility="collapsed",
        )
        if part == START:
            first_run.start_form(_started)
        elif part == "Name":
            _name(path)
        elif part == VERSIONS:
            _versions(path)


def _can_be_read(path: Path) -> bool:
    try:
        data.opened(path)
    except StandWindError:
        return False
    return True


def _label(path: Path) -> str:
    if path == demo_path():
        return "the demo"
    if _can_be_read(path):
        return data.opened(path).property.name or path.stem
    return f"{path.stem} ({'broken' if path.exists() else 'gone; a drawing is left'})"


def _choose(path: Path) -> None:
    left = drawn_without_file()
    gone = [*left, *([path] if not path.exists() and path not in left else [])]
    every = [demo_path(), *own_properties(), *gone]
    labels = {one: _label(one) for one in every}  # as they are now: files come and go
    key = f"ground_choice_{labels[path]}_{state.key_of(path)}"
    st.selectbox(
        "Property",
        every,
        index=every.index(path) if path in every else 0,
        format_func=lambda one: labels.get(one, one.stem),
        key=key,
        on_change=_chosen,
        args=(key,),
    )


def _chosen(key: str) -> None:
    path = st.session_state[key]
    if isinstance(path, Path):  # else a name that has just changed
        state.use_ground(path)


def _started(done: str) -> None:
    """After a start: the form goes, so that the map is near, and it is told at the top."""
    st.session_state[NOTE] = (False, done)
    st.session_state[PART] = None


def _name(path: Path) -> None:
    if path == demo_path():
        st.caption("The demo keeps its name. Start your own to have another.")
        return
    if not _can_be_read(path):
        st.caption("The file can't be read, so its name can't be changed.")
        return
    st.text_input("Name", data.opened(path).property.name, key="ground_name")
    st.button("Rename it", on_click=_rename, args=(path,))


def _rename(path: Path) -> None:
    name = st.session_state["ground_name"].strip()
    try:
        opened = data.opened(path)
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
        if not version.is_sound:
            st.caption("It can't be read.")
            continue
        st.button(
            "Back to this",
            key=f"back-to-{version.number}",
            on_click=_go_back,
            args=(path, version.number),
        )


def _go_back(path: Path, number: int) -> None:
    try:
        draft = st.session_state.get(DRAFTS, {}).get(str(path))
        if draft is not None and draft.unsaved:
            raise BadProperty(
                "the drawing has changes that are not saved",
                path.name,
                "Save them or throw them away first.",
            )
        restore_version(path, number, now_s=int(state.now_s()))
        st.session_state[NOTE] = (False, "It is as it was. What you had is kept as a version.")
    except StandWindError as fault:
        st.session_state[NOTE] = (True, fault.text())
