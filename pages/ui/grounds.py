"""Whose ground: choose one, start one's own, name it, go back to an earlier version."""

import datetime
from pathlib import Path

import streamlit as st

from core.errors import BadProperty, StandWindError
from core.ground.beginning import (
    Answers,
    Start,
    first_document,
    parts_from_text,
    people_from_text,
)
from core.ground.latlon import EXAMPLE, places_from_text
from core.ground.store import (
    demo_path,
    new_path,
    open_property,
    open_version,
    own_properties,
    save_property,
)
from core.ground.versions import list_versions
from pages.ui import data, frame, state
from pages.ui.draw import session

EMPTY, COPY = "empty ground", "copy of the demo"
ZONES = (
    "America/New_York", "America/Chicago", "America/Denver", "America/Phoenix",
    "America/Los_Angeles", "America/Anchorage", "America/Toronto", "America/Winnipeg",
    "America/Edmonton", "America/Vancouver",
)  # fmt: skip
NOTE = "grounds_note"
NO_STUDY = "No study sets this distance; beyond twice of it your air counts as clean."


def grounds_panel() -> None:
    """The whole part, behind one line."""
    path = state.ground_path()
    note = st.session_state.pop(NOTE, None)
    if note:
        (st.error if note[0] else st.success)(frame.plain(note[1]))
    with st.expander("Choose a ground or start your own"):
        _choose(path)
        part = st.segmented_control(
            "More for this ground", ["Start my own property", "Name", "Earlier versions"],
            key="grounds_part", label_visibility="collapsed",
        )  # fmt: skip
        if part == "Start my own property":
            _start()
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
        "Property", every, index=every.index(path) if path in every else 0,
        format_func=_label, key=f"ground_choice_{path.stem}",
        on_change=lambda: state.use_ground(st.session_state[f"ground_choice_{path.stem}"]),
    )  # fmt: skip


def _start() -> None:
    """About eight things are asked, each with its default, and no more."""
    with st.form("start", border=False):
        name = st.text_input("What you call your ground", key="start_name")
        begin = st.segmented_control(
            "Begin with", [EMPTY, COPY], default=EMPTY, key="start_from", required=True
        )
        place = st.text_input(f"A spot on it, latitude and longitude, such as {EXAMPLE}",
                              key="start_place")  # fmt: skip
        zone = st.selectbox("Time zone", ZONES, key="start_zone", accept_new_options=True)
        said = _eight_questions()
        if st.form_submit_button("Start it", type="primary", width="stretch"):
            try:
                _begin(name, begin, place, zone, said)
            except StandWindError as fault:
                st.error(frame.plain(fault.text()))


def _eight_questions() -> dict:
    said: dict = {}
    st.markdown("**1. Season and legal light**, as your state's rule gives them")
    said["weapon"] = st.text_input("Weapon", "bow", key="start_weapon")
    said["first"] = st.text_input("First day, month-day", "09-13", key="start_first")
    said["last"] = st.text_input("Last day, month-day", "01-01", key="start_last")
    said["before"] = st.number_input("Minutes before sunrise", 0, 120, 30, key="start_before")
    said["after"] = st.number_input("Minutes after sunset", 0, 120, 30, key="start_after")
    said["rule"] = st.text_input("Where you read that", key="start_rule")
    said["read"] = st.checkbox("I have read that rule for this year", key="start_read")
    st.markdown("**2. How far you shoot**, yards; 30 is common practice")
    said["range"] = st.number_input("Range", 5, 500, 30, key="start_range")
    st.markdown("**3. How far downwind a bed worries you**, yards")
    said["worry"] = st.number_input("Distance", 10, 1760, 250, key="start_worry", help=NO_STUDY)
    st.markdown("**4. When you climb down in the morning**")
    said["down"] = st.text_input("Clock", "10:30", key="start_down")
    st.markdown("**5. Your longest walk in the dark**, and the time to gear up")
    said["yards"] = st.number_input("Yards", 10, 5000, 880, key="start_yards")
    said["minutes"] = st.number_input("Minutes for it", 1, 240, 20, key="start_minutes")
    said["gear"] = st.number_input("Minutes to gear up", 0, 120, 10, key="start_gear")
    st.markdown("**6. Parts of the season and days of rest**, one a line")
    said["parts"] = st.text_area(
        "Name, first day, last day, days of rest", "early, 09-13, 10-19, 3\nrut, 10-20, 11-25, 2",
        key="start_parts",
    )  # fmt: skip
    st.markdown("**7. Gusts that keep you out of a raised seat**, mph; 0 for no limit")
    said["gust"] = st.number_input("Gusts", 0, 60, 0, key="start_gust")
    st.markdown("**8. Who hunts here**, one a line: a name, and how far they shoot")
    said["people"] = st.text_area("Names", key="start_people", placeholder="Nell, 25")
    return said


def _begin(name: str, begin: str, place: str, zone: str, said: dict) -> None:
    """Writes the new property and takes it into use. Raises: StandWindError."""
    today = datetime.datetime.fromtimestamp(state.now_s(), datetime.UTC).date().isoformat()
    answers = Answers(
        weapon=said["weapon"], season_first=said["first"], season_last=said["last"],
        before_sunrise_min=said["before"], after_sunset_min=said["after"], rule=said["rule"],
        checked_on=today if said["read"] else None, range_yd=said["range"],
        worry_yd=said["worry"], climb_down=said["down"], walk_yd=said["yards"],
        walk_min=said["minutes"], gear_up_min=said["gear"], parts=parts_from_text(said["parts"]),
        max_gust_mph=said["gust"] or None, people=people_from_text(said["people"], said["range"]),
    )  # fmt: skip
    demo = open_property(demo_path())
    spot = tuple(places_from_text(place, "Point")["coordinates"]) if place.strip() else None
    start = Start(name, spot, zone, answers)
    document = first_document(start, demo.document if begin == COPY else None)
    path = new_path(name)
    save_property(demo, document, path, now_s=int(state.now_s()))
    state.use_ground(path)
    st.success(f"Started {frame.plain(name)}. Draw on the map below, or bring in a file.")


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
        if session.unsaved(session.held()):
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
        st.button("Back to this", key=f"back-to-{version.number}", on_click=_go_back,
                  args=(path, version.number))  # fmt: skip


def _go_back(path: Path, number: int) -> None:
    try:
        if session.unsaved(session.held()):
            raise BadProperty(
                "the drawing has changes that are not saved", path.name,
                "Save them or throw them away first.",
            )  # fmt: skip
        earlier = open_version(path, number)
        save_property(data.opened(path), earlier.document, now_s=int(state.now_s()))
        st.session_state[NOTE] = (False, "It is as it was. What you had is kept as a version.")
    except StandWindError as fault:
        st.session_state[NOTE] = (True, fault.text())
