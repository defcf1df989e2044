"""Seasons, weapons, people and parts: one is chosen, changed or taken out, or a new one made."""

from collections.abc import Callable

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.settings import PARTS, PEOPLE, SEASONS, WEAPONS, listed
from core.ground.store import Opened
from pages.ui import frame
from pages.ui.settings.boxes import BOXES
from pages.ui.settings.members import members_typed
from pages.ui.settings.trying import turn, wait_for

NEW = "a new one"
FAULT = "setting_fault"
ONE = {SEASONS: "season", WEAPONS: "weapon", PEOPLE: "hunter", PARTS: "part"}


def list_view(opened: Opened, what: str) -> None:
    """One of the lists. Args: the ground as drawn; which list."""
    items = listed(opened.document, what)
    names = [*map(_name_of(what), items), NEW]
    at = st.selectbox(
        f"Which {ONE[what]}",
        range(len(names)),
        format_func=lambda i: names[i],
        key=f"setting_which_{what}_{turn()}",
    )
    item = items[at] if at < len(items) else {}
    place = at if at < len(items) else None
    with st.form(f"setting_{what}_{at}_{turn()}", border=False):
        BOXES[what](opened, item, f"{what}_{at}_{turn()}")
        if fault := st.session_state.pop(FAULT, ""):
            st.error(frame.plain(fault))
        st.form_submit_button(
            "Try it", on_click=_asked, args=(what, place, f"{what}_{at}_{turn()}"), type="primary"
        )
    if place is not None:
        told = f"Take out {ONE[what]} {names[at]}"
        st.button(
            "Take it out",
            key=f"setting_out_{what}",
            on_click=wait_for,
            args=(told, "item"),
            kwargs={"what": what, "at": place, "members": None},
        )


def _name_of(what: str) -> Callable[[dict], str]:
    if what == SEASONS:
        return lambda s: f"{s['weapon']}, {s['first']} to {s['last']}"
    return lambda item: str(item["name"])


def _asked(what: str, at: int | None, key: str) -> None:
    """Makes what was typed a change that waits, or leaves word why not."""
    typed = {
        k.removeprefix(f"{key}_"): v
        for k, v in st.session_state.items()
        if isinstance(k, str) and k.startswith(f"{key}_")
    }
    try:
        members = members_typed(what, typed)
    except StandWindError as fault:
        st.session_state[FAULT] = fault.text()
        return
    name = members.get("name") or members.get("weapon") or ""
    word = "A new" if at is None else "Change the"
    if typed.get("everywhere") and members.get("range_yd"):
        told = f"{word} weapon: {name}, {members['range_yd']:g} yd at every stand"
        wait_for(told, "range", what=what, at=at, members=members)
        return
    wait_for(f"{word} {ONE[what]}: {name}", "item", what=what, at=at, members=members)
