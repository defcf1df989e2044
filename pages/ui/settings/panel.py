"""All settings in one place: the lists, and the numbers with their defaults and sources."""

import streamlit as st

from core.ground.drawing.setting_table import LIMITS, SETTINGS, Setting, stored, told
from core.ground.drawing.settings import (
    PARTS,
    PEOPLE,
    SEASONS,
    WEAPONS,
    value_of,
)
from core.ground.store import Opened
from pages.ui import frame, keeping, state
from pages.ui.settings.lists import list_view
from pages.ui.settings.trying import turn, wait_for, waiting_change

TIMES, AIR, CRITICISM = "Times and walks", "Distances of the air", "Limits of the criticism"
GROUPS = {TIMES: "sit", AIR: "air", CRITICISM: LIMITS}
VIEWS = {
    "Seasons and light": SEASONS,
    "Weapons": WEAPONS,
    "People": PEOPLE,
    "Parts and rest": PARTS,
    **GROUPS,
}


def settings_panel(opened: Opened, keep: keeping.Keep | None) -> None:
    """The settings. Args: the ground, as drawn; how changes are kept, by the map's own way."""
    keeping.show_note()
    if not keeping.ready(opened, keep):
        return
    st.caption("A change is tried on the next answer first. Kept, it can be undone as drawing can.")
    view = st.segmented_control(
        "Which", list(VIEWS), default=next(iter(VIEWS)), key="settings_view", **state.KEPT
    )
    waiting_change(opened, keep)
    if view in GROUPS:
        for setting in SETTINGS:
            if setting.group == VIEWS[view]:
                _number(opened, setting)
    elif view is not None:
        list_view(opened, VIEWS[view])


def _number(opened: Opened, setting: Setting) -> None:
    """One of the numbers: what holds, the default, what it does and where it is from."""
    value = value_of(opened.document, setting)
    shown, default = told(setting, value), told(setting, setting.default)
    key = f"setting_{setting.name}_{turn()}"
    ask = {"key": key, "on_change": _asked, "args": (setting, key)}
    if isinstance(setting.default, str):
        st.text_input(setting.label, value, **ask)
    else:
        st.number_input(setting.label, value=float(shown), step=setting.step, format="%g", **ask)
    st.caption(frame.plain(f"{setting.does} Default {default}; {setting.source}."))
    if value != setting.default:
        st.button(
            f"Back to {default}",
            key=f"setting_back_{setting.name}",
            on_click=wait_for,
            args=(f"{setting.label}: back to {default}", "value"),
            kwargs={"group": setting.group, "name": setting.name, "value": None},
        )


def _asked(setting: Setting, key: str) -> None:
    typed = st.session_state[key]
    value = typed if isinstance(typed, str) else stored(setting, typed)
    wait_for(
        f"{setting.label}: {told(setting, value)}",
        "value",
        group=setting.group,
        name=setting.name,
        value=value,
    )
