"""Slopes of the stands from a file of heights."""

import streamlit as st

from core.errors import StandWindError
from core.ground.heights.elevation_file import read_elevation
from core.ground.heights.grid import M_PER_UNIT, HeightGrid, UnitOpen, ZoneOpen
from core.ground.heights.slope_at import rounded_slope, slope_at, slope_text
from core.ground.heights.tiff_window import Box
from core.ground.heights.utm import zone_of
from core.ground.layout import Property, Stand
from core.ground.store import Opened
from pages.ui import frame, keeping
from pages.ui.map.slope_button import offer_slopes

SUFFIXES = ["asc", "txt", "tif", "tiff"]


def slopes_from_file(opened: Opened, keep: keeping.Keep | None, ready: bool) -> None:
    st.caption(
        "An ESRI ASCII grid or a GeoTIFF, in longitude and latitude or in a UTM zone. It stays "
        "on this machine."
    )
    file = st.file_uploader("A file of heights", type=SUFFIXES, key="slope_file")
    if file is None:
        return
    grid = heights_in(file.getvalue(), file.name, "slope", opened.property)
    if grid is None:
        return
    found, rows = {}, []
    for stand in opened.property.stands:
        slope, told = _of(grid, stand)
        if slope is not None:
            found[stand.id] = slope
        now = slope_text(stand.downhill_deg, stand.grade_pct)
        rows.append({"stand": frame.plain(stand.name), "now": now, "from the file": told})
    offer_slopes(opened, found, rows, f"slopes_{file.file_id}", keep, ready)


def heights_in(
    data: bytes, name: str, key: str, ground: Property, box: Box | None = None
) -> HeightGrid | None:
    """The file's heights; asks for their unit and zone where it leaves those open.

    Args: the file's bytes and name; the key of the questions; the property; as
    `read_elevation`, of a GeoTIFF only the cells in a box.
    """
    told: dict[str, str] = {}
    try:
        for _ in range(3):
            try:
                return read_elevation(data, name, box=box, **told)
            except UnitOpen:
                asked, choices = "unit", list(M_PER_UNIT)
                question = "The file does not say: its heights are"
            except ZoneOpen:
                asked, choices = "zone", _zones(ground)
                question = "The file is in meters and does not say in which UTM zone"
            answer = st.segmented_control(question, choices, key=f"{key}_{asked}")
            if answer is None:
                return None
            told[asked] = answer
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
    return None


def _zones(ground: Property) -> list[str]:
    """UTM zones that a map of a ground may be in: its own and the two beside it."""
    lon, lat = ground.center
    own, half = zone_of(lon), "N" if lat >= 0 else "S"
    return [f"{(own + step - 1) % 60 + 1}{half}" for step in (-1, 0, 1)]


def _of(grid: HeightGrid, stand: Stand) -> tuple[tuple[float, float] | None, str]:
    """A stand's slope by the file, and what to say of it."""
    try:
        slope = rounded_slope(slope_at(grid, stand.at))
    except StandWindError as fault:
        return None, frame.plain(fault.what)
    return slope, "flat" if slope is None else slope_text(*slope)
