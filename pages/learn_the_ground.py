"""Learn the ground: turn the wind, eight lessons, pick one, a first sit for a guest."""

import streamlit as st

from pages.ui import (
    data,
    frame,
    learn_guest,
    learn_lessons,
    learn_parts,
    learn_pick,
    learn_turn,
    state,
    terms,
)

PARTS = {
    "Turn the wind": learn_turn.show,
    "Lessons": learn_lessons.show,
    "Pick one": learn_pick.show,
    "First sit": learn_guest.show,
}

frame.open_page("Learn the ground", wide=True)
learn_parts.style()
part = st.segmented_control(
    "What to learn", list(PARTS), default=next(iter(PARTS)), key="learn", required=True,
    label_visibility="collapsed", **state.KEPT,
)  # fmt: skip
with frame.guarded():
    words = PARTS[part](data.scene(state.ground_path()))
    terms.links(words)
