"""Pick one: a drawn situation, the learner's pick, and the best beside it."""

import datetime

import streamlit as st

from core.errors import StandWindError
from core.learn import tally
from core.learn.pick_one import Pick, judge_pick
from core.learn.situations import Situation, draw_situation
from core.show.lesson_sheet import lesson_sheet
from core.sit.scene import Scene
from pages.ui import state
from pages.ui.choice import one_of
from pages.ui.learn import parts
from pages.ui.learn.score import tally_box, verdict_told
from pages.ui.learn.situation import SHOWN, ask, hide, maps, question

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
SEED, COUNTED = "learn_seed", "learn_counted"


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
            on_change=hide,
        )
        == "a second hunter"
    )
    year = parts.teaching_day(scene.ground).year
    situation = draw_situation(scene, year, _seed(), second=second)
    left, right = st.columns(2, gap="medium")
    with left:
        question(situation)
        pick = ask(situation)
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
        maps(situation, pick, told)
    with left:
        if told is not None:
            verdict_told(told)
        st.button("Another one", on_click=_another, width="stretch")
    tally_box()
    _print(scene, year)
    return WORDS


def _seed() -> int:
    said = state.chosen(SEED)
    return int(said) if said.isdecimal() and len(said) < 9 else 1


def _another() -> None:
    state.choose(SEED, str(_seed() + 1))
    hide()


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
