"""Slopes of the stands from a file of heights."""

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
)
from core.ground.layout import Stand
from core.ground.store import Opened
from pages.ui import frame, keeping
from pages.ui.map.slope_button import keep_button

SUFFIXES = ["asc", "txt", "tif", "tiff"]


def slopes_from_file(opened: Opened, keep: keeping.Keep | None, ready: bool) -> None:
    st.caption(
        "An ESRI ASCII grid or a GeoTIFF, in longitude and latitude or in a UTM zone. It stays "
        "on this machine."
    )
    file = st.file_uploader("A file of heights", type=SUFFIXES, key="slope_file")
    if file is None:
        return
    grid = heights_in(file.getvalue(), file.name, "slope_unit")
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
    keep_button(label, "slopes_keep", opened, slopes, keep, ready and bool(slopes))


def heights_in(data: bytes, name: str, key: str) -> HeightGrid | None:
    """The file's heights; asks for their unit where it leaves that open.

    Args: the file's bytes and name; the key of the question.
    """
    try:
        try:
            return read_elevation(data, name)
        except UnitOpen:
            unit = st.segmented_control(
                "The file does not say: its heights are", list(M_PER_UNIT), key=key
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
