"""Turn the wind: every stand answers at once, in one sentence each."""

import dataclasses

import streamlit as st

from core.answer.one_sit import SitAnswer, answer_sit
from core.learn.classroom import date_text
from core.learn.turn_the_wind import (
    Turned,
    a_wind,
    capital,
    like_yards,
    reached_by,
    turned,
    turned_wind,
)
from core.say.words import VERDICTS_SAID
from core.show.emphasis import emphasis_of
from core.show.map import property_map
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO
from pages.ui import frame, state
from pages.ui.choice import one_of
from pages.ui.ground_sheet import picture
from pages.ui.learn import parts

WORDS = (
    "wind-from",
    "air-goes",
    "like",
    "clean",
    "just-off",
    "wrong-wind",
    "cant-call",
    "go",
    "stay-out",
    "before-shot",
)
STAND = "learn_stand"


def show(scene: Scene) -> tuple[str, ...]:
    """The part. Args: the ground. Returns: keys of the words it uses."""
    left, right = st.columns(2, gap="medium")
    with left:
        point, strength = parts.wind_controls()
        sit = one_of(
            st.segmented_control, "Sit", ["morning", "evening"], default="morning", key="learn_sit"
        )
    date = parts.teaching_day(scene.ground)
    answer = answer_sit(prepare_sit(scene, turned_wind(point, strength), date, sit))
    every = turned(answer)
    if not every:
        return parts.no_stands(WORDS)
    looked = next((t for t in every if t.seat.stand.id == state.chosen(STAND)), every[0])
    with left:
        _headline(answer, date)
        _lit(answer, looked)
    with right:
        _map(answer, looked)
    _stands(every)
    _places(answer, every)
    return WORDS


def _headline(answer: SitAnswer, date) -> None:
    go = sum(s.group == GO for s in answer.stands)
    wind = capital(a_wind(answer.sit.mean_wind_deg))
    st.header(f"{wind}: {go} of {len(answer.stands)} stands are go", anchor=False)
    st.caption(f"{date_text(date)}, {answer.sit.clock.sit}. A wind you turned, not a forecast.")


def _lit(answer: SitAnswer, looked: Turned) -> None:
    """The places that light up for the stand that is looked at."""
    name = frame.plain(looked.seat.stand.name)
    if not looked.reached:
        st.markdown(f"From **{name}** no bed, food or trail lights up.")
        return
    lit = ", ".join(
        f"**{frame.plain(answer.sit.scene.ground.name_of(r.id))}** "
        f"(like {frame.plain(like_yards(r.equivalent_yd))})"
        for r in looked.reached
    )
    st.markdown(f"From **{name}** these light up: {lit}.")


def _map(answer: SitAnswer, looked: Turned) -> None:
    """The stand that is looked at with its air, and the mark of every other."""
    marks = {s.stand.id: s.verdict for s in answer.stands}
    emphasis = dataclasses.replace(emphasis_of(answer.sit, looked.seat), marks=marks, whole=True)
    scene = answer.sit.scene
    picture(lambda width: property_map(scene, emphasis, width=width), "turned_map")
    st.caption(" · ".join(parts.verdict_line(v) for v in range(4)))


def _stands(every: list[Turned]) -> None:
    st.caption("Tap a stand to see its air on the map.")
    columns = st.columns(2, gap="medium")
    for group, title in parts.GROUPS.items():
        members = [t for t in every if t.seat.group == group]
        with columns[0 if group == GO else 1]:
            if members:
                st.header(f"{title} ({len(members)})", anchor=False)
            for one in members:
                _stand(one)


def _stand(one: Turned) -> None:
    stand = one.seat.stand
    with st.container(key=f"other-learn-{stand.id}", gap=None):
        st.button(
            f":primary[{frame.GLYPHS[one.seat.verdict]}] {frame.plain(stand.name)}",
            key=f"learn-look-{stand.id}",
            type="tertiary",
            on_click=state.choose,
            args=(STAND, stand.id),
        )
        word = capital(VERDICTS_SAID[one.seat.verdict])
        st.markdown(frame.plain(f"{word}. {one.sentence}"))


def _places(answer: SitAnswer, every: list[Turned]) -> None:
    """For each bed, food and trail, the stands whose air reaches it."""
    places = reached_by(every)
    ground = answer.sit.scene.ground
    with st.expander("Place by place: whose air reaches it"):
        if not places:
            st.markdown("In this wind no stand's air reaches a bed, food or trail.")
        for place in sorted(places, key=lambda p: (-len(places[p]), ground.name_of(p))):
            names = frame.plain(", ".join(places[place]))
            st.markdown(f"**{frame.plain(ground.name_of(place))}**: {names}")
