"""The home screen while nobody has said the wind: what is known all the same."""

import streamlit as st

from core.answer.without_wind import known_without_wind
from core.say.daylight import daylight_lines
from core.say.headline import legal_note, sit_line
from core.say.hunters.orange import orange_text
from core.say.what_would_change import wants_line, ways_line
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from pages.ui import frame
from pages.ui.home.given import type_here
from pages.ui.home.sit import AskedSit

ANY_WIND = "N 8 mph"  # its direction is left aside; only its strength counts
STRENGTH = "a steady 8 mph"


def known_so_far(scene: Scene, asked: AskedSit) -> None:
    """Legal light, the ways with their times, and the winds that each stand wants.

    Args: the ground; the sit that is asked about.
    """
    hours = parse_wind(ANY_WIND)
    sit = prepare_sit(scene, hours, asked.date, asked.sit, hunter=asked.hunter, weapon=asked.weapon)
    st.title("What is the wind?")
    type_here()
    st.caption(frame.plain(f"{sit_line(sit)}. Until then, this is known."))
    clock = sit.clock
    outside = clock.outside or clock.season is None
    if outside:
        st.warning("This day lies outside every season.")
    if orange := orange_text(sit):
        st.warning(frame.plain(orange))
    legal = None if outside else (clock.legal_start_s, clock.legal_end_s)
    st.header("Daylight")
    lines = daylight_lines(clock.day, legal)
    st.markdown("\n".join(f"- {frame.plain(x)}" for x in [*lines, legal_note(sit)] if x))
    st.header("The winds that each stand wants")
    st.caption(f"Go in these winds at {STRENGTH}, by place, way in and the hours of this sit.")
    with st.container(key="all-wants"):
        for wants in known_without_wind(sit):
            with st.container(key=f"wants-{wants.stand.id}", gap=None):
                name, winds = frame.plain(wants.stand.name), frame.plain(wants_line(wants))
                st.markdown(f"**{name}**: {winds}")
                st.caption(frame.plain(ways_line(sit, wants)))
