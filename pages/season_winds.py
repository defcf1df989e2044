"""Season winds: which stand covers which wind, where the hole is, what would fill it."""

import streamlit as st

from pages.ui import data, frame, season, season_found, state, terms

frame.open_page("Season winds", wide=True)
with frame.guarded():
    path = state.ground_path()
    scene = data.scene(path)
    if not scene.ground.stands:
        frame.nothing_yet("No stands yet.", "Draw the first one on the map.")
    asked = season.ask(scene.ground, path)
    if asked is None:
        st.stop()
    season_found.show(season.judged(asked, path), asked.question)
    terms.links(
        ("go", "cant-call", "stay-out", "clean", "just-off", "wrong-wind", "typical-day", "way-in")
    )
