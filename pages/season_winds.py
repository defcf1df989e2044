"""Season winds: which stand covers which wind, where the hole is, what would fill it."""

import streamlit as st

from pages.ui import data, frame, state, terms
from pages.ui.season import found, questions

frame.open_page("Season winds", wide=True)
with frame.guarded():
    path = state.ground_path()
    scene = data.scene(path)
    if not scene.ground.stands:
        frame.nothing_yet("No stands yet.", "Draw the first one on the map.")
    asked = questions.ask(scene.ground, path)
    if asked is None:
        st.stop()
    found.show(questions.judged(asked, path), asked.question)
    terms.links(
        ("go", "cant-call", "stay-out", "clean", "just-off", "wrong-wind", "typical-day", "way-in")
    )
