"""A drawn situation on the screen: what is asked, what the learner says, and the maps."""

import dataclasses

import streamlit as st

from core.answer.one_sit import StandSit
from core.learn.classroom import date_text
from core.learn.pick_one import Judgement, Pick, best_of
from core.learn.second_hunter import apart_line, other_hunter_line
from core.learn.situations import Situation
from core.say.words import at_time
from core.show.emphasis import emphasis_of
from core.show.lesson_picture import question_map
from core.show.lesson_sheet import winds_line
from core.show.map import property_map
from core.sit.scene import IN
from pages.ui import frame, state
from pages.ui.ground_sheet import picture

SHOWN = "learn_shown"  # whether the answer is shown
STAY, GO = "stay out", "go"


def hide() -> None:
    """Hides the answer: something else is asked."""
    state.choose(SHOWN, "")


def question(situation: Situation) -> None:
    """Date, sit, legal light, wind, and who else is out."""
    sit, clock = situation.ready, situation.ready.clock
    st.header(f"{date_text(situation.date)}, {situation.sit}. What would you do?", anchor=False)
    light = f"{at_time(sit, clock.legal_start_s)} to {at_time(sit, clock.legal_end_s)}"
    st.markdown(frame.plain(f"Legal light {light}. {winds_line(situation)}"))
    st.caption(
        f"Made up, not a forecast: the wind is that of {date_text(situation.wind_date)} in a "
        "typical year at Greensboro, North Carolina."
    )
    other = other_hunter_line(situation)
    if other:
        st.markdown(f"**{frame.plain(other)}**")


def ask(situation: Situation) -> Pick | None:
    """The learner's own say; None until it is whole."""
    scene, tag = situation.ready.scene, f"{situation.seed}-{bool(situation.taken)}"
    going = st.segmented_control(
        "Go or stay out?", [GO, STAY], key=f"learn_go-{tag}", on_change=hide
    )
    if going == STAY:
        return Pick(None)
    if going is None:
        return None
    names = {s.id: s.name for s in scene.ground.stands if s.id not in situation.taken}
    stand = st.selectbox(
        "Which stand?",
        list(names),
        index=None,
        key=f"learn_pick-{tag}",
        format_func=names.get,
        on_change=hide,
    )
    if stand is None:
        return None
    ways = {w.lane.id: w.lane.name for w in scene.ways(scene.ground.stand(stand), IN)}
    if not ways:
        st.caption("No way in is drawn to this stand.")
        return Pick(stand)
    lane = st.selectbox(
        "Which way in?",
        list(ways),
        key=f"learn_way-{tag}-{stand}",
        format_func=ways.get,
        on_change=hide,
    )
    apart = apart_line(situation, stand)
    if apart:
        st.caption(frame.plain(apart))
    return Pick(stand, lane)


def maps(situation: Situation, pick: Pick | None, told: Judgement | None) -> None:
    """The ground without an answer; once it is shown, the pick and the best."""
    if told is None:
        picture(lambda width: question_map(situation.ready, width=width), "question_map")
        return
    best = best_of(situation)
    seat = next((s for s in situation.answer.stands if pick and s.stand.id == pick.stand), None)
    shown = [(f"Your pick: {seat.stand.name}", seat)] if seat is not None else []
    if best is not None and best is not seat:
        shown.append((f"Best: {best.stand.name}", best))
    for title, one in shown or [("Least bad", situation.answer.stands[0])]:
        _map(situation, title, one)


def _map(situation: Situation, title: str, one: StandSit) -> None:
    st.caption(frame.plain(title))
    emphasis = dataclasses.replace(emphasis_of(situation.ready, one), whole=True)
    scene = situation.ready.scene
    picture(lambda width: property_map(scene, emphasis, width=width), f"map-{one.stand.id}")
