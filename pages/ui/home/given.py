"""A wind once it is given, kept until its sit is over; and a line that gives one."""

import streamlit as st

from core.ground.layout import Property
from core.ground.store import demo_path
from core.weather.entry import EXAMPLE_WIND
from core.weather.given import GivenWind, given_now, keep_given
from core.weather.given_file import drop_file
from pages.ui import state
from pages.ui.home import kept_file
from pages.ui.home.forecast import OWN_FILE
from pages.ui.home.signs import NO_CLOUD
from pages.ui.home.wind import TYPED, TYPICAL, WRITTEN, AskedWind


def remember_given(ground: Property, asked: AskedWind, until_s: float | None) -> None:
    """Keeps a wind that was typed, or a file, until the sit is over that it was given for.

    Args: the property; the wind; the end of the sit [epoch s], None for one without a minute.
    """
    if asked.of_file:
        kept_file.remember(OWN_FILE, ground, until_s)
        return
    now_s = state.now_s()
    held = given_now(ground.uid, now_s)
    looking = state.ground_path() == demo_path()  # the demo keeps nothing
    if looking or not asked.words or until_s is None or until_s <= now_s:
        return
    drop_file(ground.uid)  # the words are what is meant now
    if held is not None and held.text == asked.words:
        return
    cloud = st.session_state.get("cloud") or NO_CLOUD
    since_s = asked.hours.fetched_s if asked.hours is not None else now_s
    keep_given(ground.uid, GivenWind(asked.words, cloud, since_s or now_s, until_s))


def is_example(asked: AskedWind) -> bool:
    """Whether the wind is the demo's own. Args: the wind."""
    return asked.hours is not None and asked.hours.source == EXAMPLE_WIND


def say_example() -> None:
    """On the demo: that the wind is an example, and two presses that lead to another."""
    with st.container(horizontal=True, key="example", vertical_alignment="center"):
        st.caption("An example wind.")
        st.button("A typical day", key="take_typical", on_click=_take, args=("by", TYPICAL))
        st.button("Give the wind", key="give_wind", on_click=_take, args=("wind", ""))


def _take(key: str, value: str) -> None:
    st.session_state[key] = value
    state.afresh()


def type_here() -> None:
    """A line for the wind on a page that has none."""
    st.text_input("The wind now, in your words", key="wind_here", on_change=_typed_here)
    st.caption(WRITTEN)


def _typed_here() -> None:
    if words := st.session_state["wind_here"].strip():
        _take("by", TYPED)
        _take("wind", words)
