"""Words: what the terms on the screens mean."""

import streamlit as st

from core.learn.glossary import KINDS, words
from pages.ui import data, frame, state, terms

frame.open_page("Words")
with frame.guarded():
    ground = data.scene(state.ground_path()).ground
    known = words(ground.air, ground.sit)
    asked = [w for w in known if w.key == terms.asked()]
    for word in asked:
        st.info(f"**{frame.plain(word.word)}.** {frame.plain(word.means)}")
    for kind in KINDS:
        st.header(kind)
        for word in known:
            if word.kind == kind:
                st.markdown(f"**{frame.plain(word.word)}.** {frame.plain(word.means)}")
    st.caption("Distances, hours and times in these words are settings of the ground in use.")
