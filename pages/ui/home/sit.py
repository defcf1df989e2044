"""The sit of the home screen: day, morning or evening, who, and who else sits where."""

import datetime
from dataclasses import dataclass

import streamlit as st

from core.answer.coming import next_reachable
from core.ground.layout import Property
from core.keep.after import taken_by_plans
from core.sit.clock import SITS
from core.sit.dates import weapons_on
from pages.ui import data, frame, state
from pages.ui.choice import one_of

SIT_SAID = {"morning": "morning", "evening": "evening", "all-day": "all day"}
NOBODY = "anyone"
WEAPON = "weapon"


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
        weapons = weapons_on(ground, date)
        if len(weapons) > 1:
            weapon = weapon_asked(ground, date)
            st.caption(frame.plain(f"Weapon today: {weapon or weapons[0]}"))
            with st.container(horizontal=True, key="weapons-again", gap="small"):
                _weapon_buttons([w for w in weapons if w != weapon], "again")
    return AskedSit(date, sit, None if hunter == NOBODY else hunter, weapon)


def ask_weapon(ground: Property, asked: AskedSit) -> None:
    """Which weapon today, where several may be used and none was said yet.

    Args: the property; the sit. The answer is kept in the link.
    """
    weapons = weapons_on(ground, asked.date)
    if len(weapons) < 2 or asked.weapon is not None:
        return
    with st.container(horizontal=True, key="weapons", gap="small", vertical_alignment="center"):
        st.markdown(f"Which weapon today? Until you say: {frame.plain(weapons[0])}.")
        _weapon_buttons(weapons, "first")


def weapon_asked(ground: Property, date: datetime.date) -> str | None:
    """The weapon that the link or the session names. Args: the property; the day.

    Returns: None where none was named, or not one of that day's.
    """
    named = state.chosen(WEAPON).casefold()
    return next((w for w in weapons_on(ground, date) if w.casefold() == named), None)


def _weapon_buttons(weapons: list[str], where: str) -> None:
    for i, weapon in enumerate(weapons):
        st.button(
            frame.plain(weapon), key=f"{where}-weapon{i}", on_click=_choose_weapon, args=(weapon,)
        )


def _choose_weapon(weapon: str) -> None:
    state.choose(WEAPON, weapon)
    state.afresh()


def seat_key(place: int) -> str:
    """The key of somebody's seat. Args: the place among the property's people."""
    return f"seat{place}"


def planned_by_others(ground: Property, asked: AskedSit) -> dict[str, str]:
    """Who means to sit where, by the log. Args, returns: as `ask_others`."""
    log = data.log_before(ground, asked.date) or ()
    known = {stand.id for stand in ground.stands}
    taken = taken_by_plans(log, asked.date, asked.sit, asked.hunter)
    return {stand: who for stand, who in taken.items() if stand in known}


def ask_others(ground: Property, asked: AskedSit) -> dict[str, str]:
    """Who else sits where today. Args: the property; the sit.

    Returns: names by the id of the stand each has taken.
    """
    stands = {stand.id: stand.name for stand in ground.stands}
    taken: dict[str, str] = {}
    for i, person in enumerate(ground.people):
        if person.name == asked.hunter:
            continue
        where = st.selectbox(
            frame.plain(person.name),
            ["", *stands],
            key=seat_key(i),
            format_func=lambda x: stands.get(x, "not out today"),
            **state.KEPT,
        )
        if where:
            taken[where] = person.name
    return taken
