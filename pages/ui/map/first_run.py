"""The first run: a property of one's own from about eight answers, each with its default."""

from collections.abc import Callable

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.settings import OpenDay
from core.ground.latlon import EXAMPLE
from pages.ui import frame
from pages.ui.day_order import ask_order, month_first
from pages.ui.map.first_answers import ASKED, COPY, EMPTY, start_property

TIMEZONES = (
    "America/New_York",
    "America/Chicago",
    "America/Denver",
    "America/Phoenix",
    "America/Los_Angeles",
    "America/Anchorage",
    "America/Toronto",
    "America/Winnipeg",
    "America/Edmonton",
    "America/Vancouver",
)
FAULT = "start_fault"
IS_OPEN = "start_open_day"  # whether a day was typed that may be either of two


def start_form(then: Callable[[str], None]) -> None:
    """What is asked, and the button. Args: what to do with the word that it is done."""
    with st.form("start", border=False):
        st.text_input("What you call your ground", key="start_name")
        st.segmented_control(
            "Begin with", [EMPTY, COPY], default=EMPTY, key="start_from", required=True
        )
        st.text_input(f"A spot on it, latitude and longitude, such as {EXAMPLE}", key="start_place")
        st.selectbox("Time zone", _timezones(), key="start_zone", accept_new_options=True)
        _eight_questions()
        if fault := st.session_state.pop(FAULT, ""):
            st.error(frame.plain(fault))
        if st.session_state.get(IS_OPEN):
            ask_order("start_order")
        st.form_submit_button(
            "Start it", type="primary", width="stretch", on_click=_begin, args=(then,)
        )


def _timezones() -> list[str]:
    """The time zones to choose from, that of this browser first."""
    return list(dict.fromkeys([st.context.timezone or TIMEZONES[0], *TIMEZONES]))


def _eight_questions() -> None:
    """Each label asks its whole question: a screen reader says nothing else."""
    st.markdown("**1. Season and legal light**, as your state's rule gives them")
    st.text_input("Weapon", "bow", key="start_weapon")
    st.text_input("First day, like 13 Sep", "09-13", key="start_first")
    st.text_input("Last day, like 1 Jan", "01-01", key="start_last")
    st.number_input("Legal light begins, minutes before sunrise", 0, 120, 30, key="start_before")
    st.number_input("Legal light ends, minutes after sunset", 0, 120, 30, key="start_after")
    st.text_input("Where you read that", key="start_rule")
    st.checkbox("I have read that rule for this year", key="start_read")
    st.number_input(
        "**2. How far you shoot**, yards; 30 is common practice", 5, 500, 30, key="start_range"
    )
    st.number_input(
        "**3. How far downwind a bed worries you**, yards", 10, 1760, 250, key="start_worry"
    )
    st.caption("No study sets this distance; beyond twice of it your air counts as clean.")
    st.text_input("**4. When you climb down in the morning**", "10:30", key="start_down")
    st.markdown("**5. Your longest walk in the dark**, and the time to gear up")
    st.number_input("Yards of that walk", 10, 5000, 880, key="start_yards")
    st.number_input("Minutes for that walk", 1, 240, 20, key="start_minutes")
    st.number_input("Minutes to gear up", 0, 120, 10, key="start_gear")
    st.text_area(
        "**6. Parts of the season**, one a line: name, first day, last day, days of rest",
        "early, 09-13, 10-19, 3\nrut, 10-20, 11-25, 2",
        key="start_parts",
    )
    st.number_input(
        "**7. Gusts that keep you out of a raised seat**, mph; 0 for no limit",
        0,
        60,
        0,
        key="start_gust",
    )
    st.text_area(
        "**8. Who hunts here**, one a line: a name, and how far they shoot",
        key="start_people",
        placeholder="Nell, 25",
    )


def _begin(then: Callable[[str], None]) -> None:
    """Writes the new property and takes it into use, or leaves word why not."""
    try:
        typed = {key: st.session_state[f"start_{key}"] for key in ASKED}
        then(start_property(typed, month_first(st.session_state.get("start_order"))))
    except OpenDay as fault:
        st.session_state[FAULT] = f"{fault.text()} Or say which number is the month."
        st.session_state[IS_OPEN] = True
    except StandWindError as fault:
        st.session_state[FAULT] = fault.text()
