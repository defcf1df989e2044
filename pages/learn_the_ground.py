"""Learn the ground: turn the wind, eight lessons, pick one, a first sit for a guest."""

import streamlit as st

from pages.ui import data, frame, state, terms
from pages.ui.choice import one_of
from pages.ui.learn import first_sit, lessons, parts, pick_one, turn_the_wind

PARTS = {
    "Turn the wind": turn_the_wind.show,
    "Lessons": lessons.show,
    "Pick one": pick_one.show,
    "First sit": first_sit.show,
}

frame.open_page("Learn the ground", wide=True)
parts.style()
part = one_of(
    st.segmented_control,
    "What to learn",
    list(PARTS),
    default=next(iter(PARTS)),
    key="learn",
    label_visibility="collapsed",
)
with frame.guarded():
    words = PARTS[part](data.scene(state.ground_path()))
    terms.links(words)
