"""Below the drawing map: files in and out, criticism, trying a tree, slopes.

They look at the draft, saved or not, and hand their changes to it: undo and saving
stay with the map.
"""

import dataclasses
from collections.abc import Callable

import streamlit as st

from core.errors import StandWindError
from core.ground.parse import property_from_document
from core.ground.store import Opened
from pages.ui import frame, keeping, state
from pages.ui.draw import changes
from pages.ui.draw.in_use import file_of, in_use
from pages.ui.map.criticism import criticism_panel
from pages.ui.map.files_in import bring_in_panel
from pages.ui.map.land import land_panel
from pages.ui.map.slope import slope_panel
from pages.ui.map.tryout import try_here, tryout_panel
from pages.ui.settings.panel import settings_panel

PANELS: dict[str, Callable[[Opened, keeping.Keep | None], None]] = {
    "Settings": settings_panel,
    "Files": bring_in_panel,
    "Look it over": criticism_panel,
    "Try a tree": tryout_panel,
    "Slopes": slope_panel,
    "The land": land_panel,
}
HEADED = {
    "Settings": "Seasons, weapons, people, times and distances",
    "Files": "Files in and out",
    "Look it over": "What there is to criticise",
    "Try a tree": "Try a tree",
    "Slopes": "Slopes of the stands",
    "The land": "The land: heights, and where still air slides",
}
TRIED_TAP = "tried_tap"  # the tap that the spot was last moved to


def map_panels() -> None:
    """One of the panels, as chosen; none at first. Raises: BadProperty."""
    chosen = st.segmented_control("More", list(PANELS), key="map_more", **state.KEPT)
    if chosen is None:
        return
    st.header(HEADED[chosen])
    try:
        opened = drafted()
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return
    if chosen == "Try a tree":
        st.caption("Tap the map: the spot goes there.")
        _follow_tap()
    PANELS[chosen](opened, changes.apply)


def drafted() -> Opened:
    """The ground as it is drawn now. Raises: BadProperty where it could not be saved."""
    draft = in_use()
    opened, document = file_of(draft), draft.document
    if document == opened.document:
        return opened
    return dataclasses.replace(
        opened, document=document, property=property_from_document(document, "the drawing")
    )


def _follow_tap() -> None:
    tap = in_use().tapped
    if tap is not None and tap != st.session_state.get(TRIED_TAP):
        st.session_state[TRIED_TAP] = tap
        try_here(*tap)
