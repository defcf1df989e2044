"""When to go in: the hours of the coming days in which one may, best first."""

from pathlib import Path

import streamlit as st

from core.chores.beside import features_by_id
from core.chores.going import Visit, visit_to
from core.chores.visit import Window, judge_visit, windows
from core.ground.layout import Property
from core.say.work.visits import (
    JUST_OFF_ONLY,
    NONE_FOUND,
    NOT_JUDGED,
    clear_of_held,
    window_reasons,
    window_title,
)
from core.weather.hours import Hours
from pages.ui import data, frame, state
from pages.ui.home import forecast

SERVICE, FILE = "kept or new forecast", "a file"
NEAREST = "the nearest"
MOST = 6


def visits(ground: Property, path: Path) -> None:
    """Asks where and how long, and says when. Args: the ground; its file."""
    features = features_by_id(ground)
    if not features:
        st.write("There is no place to go to yet. Draw one on the map.")
        return
    name = ground.name_of
    with st.container(horizontal=True, vertical_alignment="bottom"):
        place = st.selectbox(
            "Where to",
            sorted(features, key=lambda id_: name(id_).casefold()),
            format_func=name,
            key="visit_place",
            persist_state="session",
        )
        hours = st.number_input(
            "Hours there", 0.5, 12.0, 2.0, 0.5, key="visit_hours", persist_state="session"
        )
        lane = st.selectbox(
            "Way in",
            ["", *(lane.id for lane in ground.lanes)],
            format_func=lambda id_: name(id_) if id_ else NEAREST,
            key="visit_lane",
            persist_state="session",
        )
    weather = weather_for(ground)
    if weather is None:
        return
    scene = data.scene(path)
    visit = visit_to(scene.ground, place, lane or None, scene.heights)
    clear, others = clear_of_held(windows(judge_visit(visit, weather, hours, state.now_s()), hours))
    _told(clear, visit, weather)
    if not clear:
        st.write(NONE_FOUND)
    if others:
        with st.expander(f"{JUST_OFF_ONLY} ({len(others)})", expanded=not clear):
            _told(others, visit, weather)
    st.caption(NOT_JUDGED)


def _told(found: list[Window], visit: Visit, weather: Hours) -> None:
    for window in found[:MOST]:
        st.subheader(window_title(window, visit.scene.ground))
        st.markdown(frame.plain(" ".join(window_reasons(window, visit, weather))))
    if len(found) > MOST:
        st.caption(f"And {len(found) - MOST} more that are no better.")


def weather_for(ground: Property) -> Hours | None:
    """The forecast asked for. Args: the ground. Returns: None where there is none yet."""
    by = st.segmented_control(
        "Forecast", (SERVICE, FILE), default=SERVICE, required=True, key="visit_by"
    )
    if by == FILE:
        return forecast.file_panel(ground, for_sit=False)
    return forecast.forecast_panel(ground)
