"""Parts of the home screen about the day: its light, what would change, what comes after."""

import datetime

import streamlit as st

from core.answer.coming import next_sits
from core.answer.one_sit import SitAnswer, StandSit
from core.say.daylight import daylight_lines
from core.say.find_the_tree import finding_lines
from core.say.headline import at_truck_text, sit_line
from core.say.reason_texts import reason_texts
from core.say.reasons import reasons
from core.say.two_hunters import NOT_CLEARANCE, together
from core.say.what_would_change import what_would_change
from core.say.words import VERDICTS_SAID, at_time, wind_text
from core.show.compared import group_word
from core.show.hours.ruler import day_ruler
from core.show.palette import DARK
from core.sit.verdicts import GO
from pages.ui import frame, state
from pages.ui.home.party import party
from pages.ui.home.sit import weapon_asked


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


def coming(answer: SitAnswer, seat: StandSit) -> None:  # noqa: ARG001 (as its fellows)
    """The next six sits of a forecast, each a way to its answer. Args: as `head`."""
    st.header("The next sits")
    sit = answer.sit
    if sit.weather.kind != "forecast":
        st.caption("Needs a forecast: from a file or from the network, under Wind.")
        return
    hunter = sit.hunter.name if sit.hunter else None
    for later in next_sits(
        sit.scene,
        sit.weather,
        state.now_s(),
        hunter=hunter,
        weapon=weapon_asked(sit.scene.ground, sit.clock.date),
        log=sit.sits.log,
        taken=answer.taken,
    ):
        clock = later.sit.clock
        with st.container(key=f"coming-{clock.date.isoformat()}-{clock.sit}", gap=None):
            st.button(
                frame.plain(f"{sit_line(later.sit, short=True)}: {wind_text(later.sit)}"),
                key=f"go-{clock.date.isoformat()}-{clock.sit}",
                type="tertiary",
                width="stretch",
                on_click=_look_at,
                args=(clock.date, clock.sit),
            )
            st.caption(frame.plain(coming_line(later)))


def _look_at(date: datetime.date, sit: str) -> None:
    st.session_state["date"], st.session_state["sit"] = date, sit
    state.afresh()


def coming_line(later: SitAnswer) -> str:
    """A later sit in a line: its first choice, and when to leave for it. Args: its answer."""
    best = later.best
    if best is None:
        return "No stands."
    told = f"{frame.GLYPHS[best.verdict]} {group_word(best.group)}: {best.stand.name}"
    word = VERDICTS_SAID[best.verdict]
    told += "" if word == group_word(best.group) else f" ({word})"
    if best.group != GO or best.leave_truck_s is None:
        return f"{told}."
    return f"{told}, leave {at_time(later.sit, best.leave_truck_s)}."


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
