"""A wind by a point of the compass and what it moves, and how much cloud there is."""

import streamlit as st

from core.angles import POINTS_16
from core.weather.entry import BEAUFORT, parse_wind, sign_words
from core.weather.hours import Hours
from pages.ui import state
from pages.ui.choice import one_of


def pointed() -> Hours:
    """A point of the compass and a sign of its strength, for those without a gauge."""
    point = one_of(
        st.pills, "It comes from", POINTS_16, default="NW", key="point", on_change=state.afresh
    )
    forces = [f.force for f in BEAUFORT[:9]]
    signs = {f.force: sign_words(f) for f in BEAUFORT}
    force = st.selectbox(
        "What it moves",
        forces,
        index=2,
        key="sign",
        format_func=signs.get,
        on_change=state.afresh,
        **state.KEPT,
    )
    return parse_wind("calm" if force == 0 else f"{point} B{force}", ask_cloud())


NO_CLOUD = "not known"
CLOUDS = {NO_CLOUD: None, "clear": 0.0, "some": 0.3, "half": 0.5, "overcast": 1.0}


def ask_cloud(first: str = NO_CLOUD) -> float | None:
    first = first if first in CLOUDS else NO_CLOUD
    word = one_of(st.segmented_control, "Cloud", list(CLOUDS), default=first, key="cloud")
    return CLOUDS[word]
