"""The wind by a puff of powder: towards which place it drifts at the truck, and the stand then."""

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit
from core.answer.other_winds import other_winds
from core.say.find_the_tree import puff_text
from pages.ui import frame, state
from pages.ui.home.sit import weapon_asked

ASKED = "puff"
NOTHING_SEEN = "No named place is seen from the truck of this stand's way in: name some on the map."


def by_a_puff(answer: SitAnswer, seat: StandSit) -> None:
    """On asking, for it takes a moment. Args: the answer; the stand that is looked at."""
    if not state.chosen(ASKED):
        words = "No gauge, no compass: by a puff"
        st.button(words, key="ask_puff", on_click=state.choose, args=(ASKED, "1"), width="stretch")
        return
    sit = answer.sit
    who = {
        "hunter": sit.hunter.name if sit.hunter else None,
        "weapon": weapon_asked(sit.scene.ground, sit.clock.date),
        "log": sit.sits.log,
        "taken": answer.taken,
    }
    rows = state.kept_while(
        "puff_rows", (answer,), lambda: other_winds(sit.scene, sit.clock.date, sit.clock.sit, **who)
    )
    told = puff_text(sit, seat, rows)
    st.markdown(frame.plain(told or NOTHING_SEEN))
