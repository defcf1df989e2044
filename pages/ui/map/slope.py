"""The slope at a stand: typed, or read from a file of heights; shown before it is kept."""

import streamlit as st

from core.ground.heights.slope_at import (
    slope_text,
)
from core.ground.store import Opened
from pages.ui import frame, keeping
from pages.ui.map.heights_file import slopes_from_file
from pages.ui.map.slope_button import keep_button

TYPED, FROM_FILE = "type it", "from a file of heights"


def slope_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """Slopes of stands. Args: the property; where changes are kept, None saves at once."""
    keeping.show_note()
    if not opened.property.stands:
        st.write("There is no stand yet.")
        return
    ready = keeping.ready(opened, keep)
    by = st.segmented_control(
        "The slope", [TYPED, FROM_FILE], default=TYPED, key="slope_by", required=True
    )
    if by == TYPED:
        _typed(opened, keep, ready)
    else:
        slopes_from_file(opened, keep, ready)


def _numbers(stand) -> tuple[float, float]:
    """Where downhill is and how steep, as typed. Args: the stand."""
    with st.container(horizontal=True):
        downhill = st.number_input(
            "Down toward, degrees",
            0.0,
            360.0,
            stand.downhill_deg or 0.0,
            5.0,
            key=f"down_{stand.id}",
            format="%.0f",
        )
        grade = st.number_input(
            "Grade, percent",
            0.0,
            200.0,
            stand.grade_pct or 0.0,
            1.0,
            key=f"grade_{stand.id}",
            format="%.1f",
        )
    return downhill, grade


def _typed(opened: Opened, keep: keeping.Keep | None, ready: bool) -> None:
    stands = {stand.id: stand for stand in opened.property.stands}
    id_ = st.selectbox(
        "Stand", list(stands), key="slope_stand", format_func=lambda i: stands[i].name
    )
    stand = stands[id_]
    st.write(f"Now: {slope_text(stand.downhill_deg, stand.grade_pct)}.")
    downhill, grade = _numbers(stand)
    if grade > 0:
        st.write(f"Still night air here would slide {slope_text(downhill, grade)}.")
    st.caption("A rise of 1 yard over 10 yards is 10 percent.")
    name = frame.plain(stand.name)
    with st.container(horizontal=True):
        keep_button(
            f"Keep for {name}",
            "slope_keep",
            opened,
            {id_: (downhill, grade)},
            keep,
            ready and grade > 0,
        )
        keep_button(
            "Take the slope out",
            "slope_out",
            opened,
            {id_: None},
            keep,
            ready and stand.grade_pct is not None,
        )
