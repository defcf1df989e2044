"""The sit of the home screen: day, morning or evening, who, and who else sits where."""

import datetime
from dataclasses import dataclass

import streamlit as st

from core.answer.coming import next_reachable
from core.ground.layout import Property
from core.sit.clock import SITS
from pages.ui import frame, state
from pages.ui.choice import one_of

SIT_SAID = {"morning": "morning", "evening": "evening", "all-day": "all day"}
NOBODY = "anyone"
FIRST_SEASON = "the season of the day"


@dataclass(frozen=True, slots=True)
class AskedSit:
    """One sit to answer."""

    date: datetime.date
    sit: str
    hunter: str | None
    weapon: str | None


def ask_sit(ground: Property) -> AskedSit:
    """Day, sit, hunter and weapon, behind one button. Args: the property."""
    first = state.kept_default("first_sit", lambda: next_reachable(ground, state.now_s()))
    with st.popover("Day and sit", width="stretch"):
        date = st.date_input(
            "Day", value=first[0], key="date", on_change=state.afresh, **state.KEPT
        )
        sit = one_of(
            st.segmented_control,
            "Sit",
            SITS,
            default=first[1],
            key="sit",
            format_func=SIT_SAID.get,
            on_change=state.afresh,
        )
        hunter = weapon = None
        if ground.people:
            names = [NOBODY, *(p.name for p in ground.people)]
            hunter = st.selectbox("Who sits", names, key="hunter", **state.KEPT)
        weapons = list(dict.fromkeys(s.weapon for s in ground.seasons))
        if len(weapons) > 1:
            weapon = st.selectbox("Season", [FIRST_SEASON, *weapons], key="weapon", **state.KEPT)
    return AskedSit(
        date, sit, None if hunter == NOBODY else hunter, None if weapon == FIRST_SEASON else weapon
    )


def ask_others(ground: Property, asked: AskedSit) -> dict[str, str]:
    """Who else sits where today. Args: the property; the sit.

    Returns: names by the id of the stand each has taken.
    """
    stands = {stand.id: stand.name for stand in ground.stands}
    taken: dict[str, str] = {}
    for i, person in enumerate(p for p in ground.people if p.name != asked.hunter):
        where = st.selectbox(
            frame.plain(person.name),
            ["", *stands],
            key=f"seat{i}",
            format_func=lambda x: stands.get(x, "not out today"),
            **state.KEPT,
        )
        if where:
            taken[where] = person.name
    return taken
