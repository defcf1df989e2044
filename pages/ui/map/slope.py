"""The slope at a stand: typed, or read from a file of heights; shown before it is kept."""

import functools
from collections.abc import Mapping

import streamlit as st

from core.errors import StandWindError
from core.ground.heights.grid import M_PER_UNIT
from core.ground.heights.slope_at import (
    HeightGrid,
    UnitOpen,
    read_elevation,
    rounded_slope,
    slope_at,
    slope_text,
    with_slopes,
)
from core.ground.layout import Stand
from core.ground.store import Opened
from pages.ui import frame, keeping

TYPED, FROM_FILE = "type it", "from a file of heights"
SUFFIXES = ["asc", "txt", "tif", "tiff"]
Slopes = Mapping[str, tuple[float, float] | None]


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
        _from_file(opened, keep, ready)


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
        _keep_button(
            f"Keep for {name}",
            "slope_keep",
            opened,
            {id_: (downhill, grade)},
            keep,
            ready and grade > 0,
        )
        _keep_button(
            "Take the slope out",
            "slope_out",
            opened,
            {id_: None},
            keep,
            ready and stand.grade_pct is not None,
        )


def _keep_button(
    label: str, key: str, opened: Opened, slopes: Slopes, keep: keeping.Keep | None, ready: bool
) -> None:
    ground = opened.property
    words = "; ".join(
        f"{ground.name_of(id_)}: {slope_text(*(slope or (None, None)))}"
        for id_, slope in slopes.items()
    )
    st.button(
        label,
        key=key,
        disabled=not ready,
        on_click=keeping.keep_now,
        args=(opened, functools.partial(with_slopes, slopes=slopes), f"Slope of {words}.", keep),
    )


def _from_file(opened: Opened, keep: keeping.Keep | None, ready: bool) -> None:
    st.caption(
        "An ESRI ASCII grid or a plain GeoTIFF, in longitude and latitude. It stays on this "
        "machine."
    )
    file = st.file_uploader("A file of heights", type=SUFFIXES, key="slope_file")
    if file is None:
        return
    grid = _grid(file.getvalue(), file.name)
    if grid is None:
        return
    found, rows = {}, []
    for stand in opened.property.stands:
        slope, told = _of(grid, stand)
        if slope is not None:
            found[stand.id] = slope
        now = slope_text(stand.downhill_deg, stand.grade_pct)
        rows.append({"stand": frame.plain(stand.name), "now": now, "from the file": told})
    st.table(rows)
    new = [s.id for s in opened.property.stands if s.id in found and s.grade_pct is None]
    chosen = st.multiselect(
        "Keep the file's slope for",
        list(found),
        default=new,
        key=f"slope_for_{file.file_id}",
        format_func=opened.property.name_of,
        placeholder="Choose stands",
    )
    slopes = {id_: found[id_] for id_ in chosen}
    label = "Keep 1 slope" if len(slopes) == 1 else f"Keep {len(slopes)} slopes"
    _keep_button(label, "slopes_keep", opened, slopes, keep, ready and bool(slopes))


def _grid(data: bytes, name: str) -> HeightGrid | None:
    """The file's heights; asks for their unit where it leaves that open."""
    try:
        try:
            return read_elevation(data, name)
        except UnitOpen:
            unit = st.segmented_control(
                "The file does not say: its heights are", list(M_PER_UNIT), key="slope_unit"
            )
            return read_elevation(data, name, unit) if unit else None
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return None


def _of(grid: HeightGrid, stand: Stand) -> tuple[tuple[float, float] | None, str]:
    """A stand's slope by the file, and what to say of it."""
    try:
        slope = rounded_slope(slope_at(grid, stand.at))
    except StandWindError as fault:
        return None, frame.plain(fault.what)
    return slope, "flat" if slope is None else slope_text(*slope)
