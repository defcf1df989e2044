"""Parts of the home screen about the day: its light, what would change, what comes after."""

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit
from core.say.daylight import daylight_lines
from core.say.find_the_tree import finding_lines
from core.say.headline import at_truck_text
from core.say.reason_texts import reason_texts
from core.say.reasons import reasons
from core.say.two_hunters import NOT_CLEARANCE, together
from core.say.what_would_change import what_would_change
from core.show.hours.ruler import day_ruler
from core.show.palette import DARK
from pages.ui import frame
from pages.ui.home.party import party


def daylight(answer: SitAnswer, seat: StandSit) -> None:  # noqa: ARG001 (as its fellows)
    """The day's light as a ruler and as times. Args: as `head`."""
    st.header("Daylight")
    clock = answer.sit.clock
    legal = (
        None if clock.outside or clock.season is None else (clock.legal_start_s, clock.legal_end_s)
    )
    lines = daylight_lines(clock.day, legal)
    st.image(day_ruler(answer.sit, DARK), width="stretch", alt="; ".join(lines))
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in lines))


def change(answer: SitAnswer, seat: StandSit) -> None:
    """What would change the answer, and the rest of the why. Args: as `head`."""
    st.header("What would change it")
    for line in what_would_change(answer.sit, seat):
        st.markdown(frame.plain(line))
    with st.expander("How to find the tree, and the way out"):
        st.markdown("\n".join(f"- {frame.plain(x)}" for x in finding_lines(answer.sit, seat)))
    with st.expander("Everything this answer rests on"):
        why = reason_texts(answer.sit, reasons(answer.sit, seat))
        told = [at_truck_text(answer.sit, seat), *why]
        st.markdown("\n".join(f"- {frame.plain(line)}" for line in told if line))


def people(answer: SitAnswer, seat: StandSit) -> None:
    """What two hunters must know of each other. Args: as `head`."""
    lines = []
    for other in answer.stands:
        if other.taken_by:
            lines += together(answer.sit, seat, other, other.taken_by)
    for line in lines:
        st.warning(frame.plain(line))
    st.caption(NOT_CLEARANCE)
    party(answer, seat)
