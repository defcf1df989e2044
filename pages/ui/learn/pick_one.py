"""Pick one: a drawn situation, the learner's pick, and the best beside it."""

import dataclasses
import datetime

import streamlit as st

from core.answer.one_sit import StandSit
from core.errors import StandWindError
from core.ground.looking import only_looking
from core.learn import tally
from core.learn.classroom import date_text
from core.learn.pick_one import Judgement, Pick, best_of, judge_pick
from core.learn.second_hunter import apart_line, other_hunter_line
from core.learn.situations import Situation, draw_situation
from core.say.words import at_time
from core.show.brought_out import brought_by, described
from core.show.lesson_picture import question_map
from core.show.lesson_sheet import lesson_sheet, winds_line
from core.show.map import property_map
from core.sit.scene import IN, Scene
from pages.ui import frame, state
from pages.ui.choice import one_of
from pages.ui.learn import parts

WORDS = (
    "go",
    "stay-out",
    "cant-call",
    "clean",
    "just-off",
    "wrong-wind",
    "way-in",
    "legal-light",
    "first-last-light",
    "typical-day",
)
SEED, SHOWN, COUNTED = "learn_seed", "learn_shown", "learn_counted"
STAY, GO = "stay out", "go"
REASONS = {
    tally.WAY_IN: "the way in",
    tally.SIT: "the sit",
    tally.TRAIL: "a trail that makes it just-off",
    tally.CALM: "calm and turning air",
    tally.SAFETY: "safety",
    tally.STAYED: "stayed home on a good day",
}


def show(scene: Scene) -> tuple[str, ...]:
    """The part. Args: the ground. Returns: keys of the words it uses."""
    if not scene.ground.stands:
        return parts.no_stands(WORDS)
    second = (
        one_of(
            st.segmented_control,
            "How many hunters",
            ["one hunter", "a second hunter"],
            default="one hunter",
            key="learn_second",
            on_change=_hide,
        )
        == "a second hunter"
    )
    year = parts.teaching_day(scene.ground).year
    situation = draw_situation(scene, year, _seed(), second=second)
    left, right = st.columns(2, gap="medium")
    with left:
        _question(situation)
        pick = _ask(situation)
        if pick is not None:
            st.button(
                "Show the answer",
                type="primary",
                width="stretch",
                on_click=_answered,
                args=(situation, pick),
            )
    told = judge_pick(situation, pick) if pick is not None and state.chosen(SHOWN) else None
    with right:
        _maps(situation, pick, told)
    with left:
        if told is not None:
            _told(told)
        st.button("Another one", on_click=_another, width="stretch")
    _tally()
    _print(scene, year)
    return WORDS


def _seed() -> int:
    said = state.chosen(SEED)
    return int(said) if said.isdecimal() and len(said) < 9 else 1


def _hide() -> None:
    state.choose(SHOWN, "")


def _another() -> None:
    state.choose(SEED, str(_seed() + 1))
    _hide()


def _answered(situation: Situation, pick: Pick) -> None:
    """Shows the answer; a situation counts once a session, by its first pick."""
    state.choose(SHOWN, "1")
    counted = st.session_state.setdefault(COUNTED, [])
    tag = (situation.ready.scene.ground.uid, situation.seed, bool(situation.taken))
    if tag in counted:
        return
    counted.append(tag)
    told = judge_pick(situation, pick)
    try:
        tally.add_to_tally(told.right, told.missed)
    except (StandWindError, OSError):
        st.session_state["learn_not_kept"] = True


def _question(situation: Situation) -> None:
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


def _ask(situation: Situation) -> Pick | None:
    """The learner's own say; None until it is whole."""
    scene, tag = situation.ready.scene, f"{situation.seed}-{bool(situation.taken)}"
    going = st.segmented_control(
        "Go or stay out?", [GO, STAY], key=f"learn_go-{tag}", on_change=_hide
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
        on_change=_hide,
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
        on_change=_hide,
    )
    apart = apart_line(situation, stand)
    if apart:
        st.caption(frame.plain(apart))
    return Pick(stand, lane)


def _maps(situation: Situation, pick: Pick | None, told: Judgement | None) -> None:
    if told is None:
        said = f"Map of {situation.ready.scene.ground.name}, without an answer."
        parts.picture(question_map(situation.ready), said)
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
    brought = dataclasses.replace(brought_by(situation.ready, one), whole=True)
    scene = situation.ready.scene
    parts.picture(property_map(scene, brought), described(scene, brought))


def _told(told: Judgement) -> None:
    st.header(frame.plain(told.headline), anchor=False)
    for line in told.lines:
        st.markdown(frame.plain(line))
    if told.missed:
        why = ", ".join(REASONS[m] for m in told.missed)
        st.markdown(f"To practise: {why}.")
    word = [(h.pick, h.best) for h in told.hours]
    rows = ["| hour | wind | your pick | best |", "|---|---|---|---|"]
    for hour, both in zip(told.hours, word, strict=True):
        cells = ["" if v is None else parts.verdict_line(v) for v in both]
        rows.append(
            f"| {frame.plain(hour.time)} | {frame.plain(hour.wind)} | {cells[0]} | {cells[1]} |"
        )
    st.markdown("\n".join(rows))


def _clear_tally() -> None:
    try:
        tally.clear_tally()
    except (StandWindError, OSError):
        st.session_state["learn_not_kept"] = True


def _tally() -> None:
    if only_looking():  # it is the owner's, and is not counted here
        return
    with st.expander("Your tally"):
        try:
            so_far = tally.read_tally()
        except tally.BadTally as fault:
            st.error(frame.plain(fault.text()))
            st.button("Clear the tally", on_click=_clear_tally)
            return
        if st.session_state.pop("learn_not_kept", False):
            st.markdown("The disk took no change of the tally.")
        st.markdown(f"{so_far.right} right of {so_far.tried}." if so_far.tried else "None yet.")
        for reason in so_far.to_practise:
            st.markdown(f"- {REASONS[reason]}: {so_far.by_reason[reason]}")
        st.button("Clear the tally", on_click=_clear_tally)


def _print(scene: Scene, year: int) -> None:
    today = datetime.datetime.fromtimestamp(state.now_s(), tz=datetime.UTC).date()
    st.download_button(
        "Eight to print, answers on page two",
        key="learn_print",
        width="stretch",
        data=lambda: lesson_sheet(scene, year, _seed(), today),
        mime="text/html",
        file_name="pick-one.html",
        on_click="ignore",
    )
