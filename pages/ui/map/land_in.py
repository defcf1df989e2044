"""Heights of the ground come in: from a file, or from an open service in one press."""

import functools

import streamlit as st

from core.errors import StandWindError
from core.ground.heights.grid import FEET, METERS, HeightGrid
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.store import Opened
from core.land.cut import as_feet, box_about, cut_to, feet_question
from core.land.kept import GROUND, TREETOPS, with_member, write_land
from core.weather.services.heights import Came, fetch_heights, said_before
from pages.ui import frame, keeping, state
from pages.ui.map.heights_file import SUFFIXES, heights_in

FROM_FILE, FETCHED = "from a file", "from an open service"
SURFACES = {GROUND: "the bare ground", TREETOPS: "treetops and roofs too"}
CAME, TROUBLE = "land_came", "land_trouble"  # (box, what came or what went wrong)


def heights_in_panel(opened: Opened, keep: keeping.Keep | None, ready: bool) -> None:
    """New heights. Args: the property; where changes are kept; whether they can be."""
    by = st.segmented_control(
        "New heights", [FROM_FILE, FETCHED], default=FROM_FILE, key="land_by", required=True
    )
    came = _of_file(opened.property) if by == FROM_FILE else _of_service(opened.property, ready)
    if came is None:
        return
    try:
        cut, notes = cut_to(came.grid, opened.property, came.source)
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return
    for note in notes:
        st.warning(frame.plain(note))
    if question := feet_question(cut, opened.property):
        st.warning(frame.plain(question))
        told = st.segmented_control("Its heights are", [METERS, FEET], key="land_feet")
        if told is None:
            return
        cut = as_feet(cut) if told == FEET else cut
    st.button(
        "Keep these heights",
        key="land_keep",
        disabled=not ready,
        on_click=_keep,
        args=(opened, cut, came, keep),
    )


def _of_file(ground: Property) -> Came | None:
    st.caption(
        "A grid of heights that reaches a kilometer past every feature: ESRI ASCII, or GeoTIFF in "
        "longitude and latitude or a UTM zone. It stays on this machine. A file over 10 MB is "
        "named on the command line, and only the piece about your ground is read: "
        "`python -m core land --property FILE --use GRID`."
    )
    file = st.file_uploader("Use a file of heights", type=SUFFIXES, key="land_file")
    if file is None:
        return None
    grid = heights_in(file.getvalue(), file.name, "land", ground, box_about(ground))
    if grid is None:
        return None
    surface = st.segmented_control(
        "Its heights are of",
        list(SURFACES),
        default=GROUND,
        key="land_surface",
        required=True,
        format_func=SURFACES.get,
    )
    return Came(grid, file.name, "", surface or GROUND)


def _of_service(ground: Property, ready: bool) -> Came | None:
    """Says what is sent where, asks on a press, and holds what came until it is kept."""
    if only_looking():
        st.caption("This screen was opened to look: nothing is asked for here.")
        return None
    box = box_about(ground)
    st.caption(frame.plain(said_before(box)))
    st.caption("Tried against a service on one machine, never against the live ones.")
    if st.button(
        "Get the heights of this box", key="land_fetch", type="primary", disabled=not ready
    ):
        for name in (CAME, TROUBLE):
            st.session_state.pop(name, None)
        with st.spinner("Asking for heights, a minute at most"):
            try:
                st.session_state[CAME] = (box, fetch_heights(box))
            except StandWindError as fault:
                st.session_state[TROUBLE] = (box, fault.text())
    trouble, came = (_held(name, box) for name in (TROUBLE, CAME))
    if trouble:
        st.error(frame.plain(trouble))
    if came:
        told = frame.plain(f"Came: {came.source}, of {SURFACES[came.surface]}. {came.credit}")
        st.write(told)
    return came


def _held(name: str, box):
    of, held = st.session_state.get(name, (None, None))
    return held if of == box else None


def _keep(opened: Opened, grid: HeightGrid, came: Came, keep) -> None:
    """For the callback: writes the heights, then names them in the ground."""
    told = {"source": came.source, "credit": came.credit, "surface": came.surface}
    try:
        member = write_land(opened, grid, now_s=int(state.now_s()), **told)
    except StandWindError as fault:
        st.session_state[keeping.NOTE] = ("error", fault.text())
        return
    st.session_state.pop(CAME, None)
    change = functools.partial(with_member, member=member)
    keeping.keep_now(opened, change, "The heights are kept.", keep)
