"""What the log teaches: the program's own score, and days since each stand was sat."""

import streamlit as st

from core.ground.layout import Property
from core.keep.rest import last_sat
from core.keep.score import LEAST, scores
from core.say.log.lines import score_line, score_range
from core.say.words import days_ago
from pages.ui import frame
from pages.ui.log import kept


def what_it_teaches(ground: Property) -> None:
    """Both, as far as there are cases enough. Args: the ground."""
    entries = kept.entries_of(ground)
    if not entries:
        return
    st.header("What it teaches")
    claimed = [s for s in scores(entries) if s.claims and not s.source]
    for score in claimed:
        st.markdown(frame.plain(f"{score_line(score, ground)} {score_range(score)}"))
    if not claimed:
        st.caption(f"Nothing is claimed from fewer than {LEAST} sits of a kind.")
    sat = last_sat(entries, kept.local_now(ground).date())
    for stand, days in sorted(sat.items(), key=lambda item: item[1]):
        st.markdown(frame.plain(f"{ground.name_of(stand)}: sat {days_ago(days)}."))
    st.caption("This is about your air and what you wrote. It says nothing of what deer will do.")
