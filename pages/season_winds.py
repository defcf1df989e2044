"""Season winds: which stand covers which wind, where the hole is, what would fill it."""

import streamlit as st

from pages.ui import data, frame, state, terms
from pages.ui.season import found, questions
from pages.ui.season.side_by_side import side_by_side

frame.open_page("Season winds", wide=True)
with frame.guarded():
    path = state.ground_path()
    scene = data.scene(path)
    if not scene.ground.stands:
        frame.nothing_yet("No stands yet.", "Draw the first one on the map.")
    asked = questions.ask(scene.ground, path)
    if asked is None:
        st.stop()
    answer = questions.judged(asked, path)
    found.show(answer, asked.question)
    side_by_side(answer, asked, path)
    terms.links(
        ("go", "cant-call", "stay-out", "clean", "just-off", "wrong-wind", "typical-day", "way-in")
    )
