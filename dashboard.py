"""Pick a sit: the home page. Which stand, which way, and why, for one wind."""

import datetime

import streamlit as st

from core.sits.answer import answer_sit, prepare_sit
from core.sits.page import first_lines, other_row
from core.weather.entry import parse_wind
from pages.ui import data, frame, state

frame.open_page("Pick a sit", heading=False)
with frame.guarded():
    today = datetime.datetime.now(datetime.UTC).date()
    date = st.date_input("Date", value=today, key="date")
    sit = st.segmented_control(
        "Sit", ["morning", "evening", "all-day"], default="morning", key="sit"
    )
    wind = st.text_input("Wind", value="NW 8", key="wind", help="NW 8, 315 at 4 m/s, W B3, calm")
    ready = prepare_sit(data.scene(state.ground_path()), parse_wind(wind), date, sit or "morning")
    found = answer_sit(ready)
    lines = first_lines(found)
    st.header(lines[0])
    for line in lines[1:]:
        st.write(frame.plain(line))
    st.table([other_row(ready, s) for s in found.stands])
