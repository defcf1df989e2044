"""Pick a sit: the home page. Which stand, which way, and why, for one wind."""

import datetime

import streamlit as st

from core.ground.store import demo_path
from pages.ui import data, frame

frame.open_page("Pick a sit")
with frame.guarded():
    opened = data.property_at(str(demo_path()))
    today = datetime.datetime.now(datetime.UTC).date()
    date = st.date_input("Date", value=today, key="date")
    sit = st.segmented_control(
        "Sit", ["morning", "evening", "all-day"], default="morning", key="sit"
    )
    wind = st.text_input("Wind", value="NW 8", key="wind", help="NW 8, 315 at 4 m/s, W B3, calm")
    lines, table = data.answer(opened.property, wind, date, sit or "morning")
    st.header(lines[0])
    for line in lines[1:]:
        st.write(frame.plain(line))
    st.table(table)
