"""The land: heights that are kept beside the ground, and where still air slides over them."""

import functools

import streamlit as st

from core.errors import StandWindError
from core.ground.heights.grid import HeightGrid
from core.ground.layout import Property
from core.ground.store import Opened
from core.land.cut import box_about, cut_to
from core.land.derived import land_on
from core.land.kept import GROUND, TREETOPS, KeptLand, land_of, with_member, write_land
from core.say.land import (
    LIMITS,
    TREES,
    disagreements,
    still_air_by_stand,
    still_ways_m,
    told_source,
)
from core.show.map import DESK_WIDTH, Brought, property_map
from core.sit.scene import Scene
from pages.ui import frame, keeping, state
from pages.ui.map.heights_file import SUFFIXES, heights_in

NIGHT, DAY = "night", "day"
WAYS = {NIGHT: "clear, calm evening and night", DAY: "sun on the slope"}
SURFACES = {GROUND: "the bare ground", TREETOPS: "treetops and roofs too"}


def land_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """Heights of the ground. Args: the property; where changes are kept, None saves at once."""
    keeping.show_note()
    kept, why = land_of(opened)
    if kept is None:
        st.write(frame.plain(why) or "No heights are kept beside this ground.")
    else:
        _told(opened, kept)
    ready = keeping.ready(opened, keep)
    if kept is not None or why:
        st.button(
            "Take the heights out",
            key="land_out",
            disabled=not ready,
            on_click=keeping.keep_now,
            args=(
                opened,
                functools.partial(with_member, member=None),
                "The heights are out.",
                keep,
            ),
        )
    _from_file(opened, keep, ready)


def _told(opened: Opened, kept: KeptLand) -> None:
    st.write(frame.plain(told_source(kept)))
    ways = still_air_by_stand(opened, kept)
    if not ways:
        st.write(TREES if kept.surface == TREETOPS else "They are kept, and not used.")
        return
    _picture(opened, kept)
    st.table([{"stand": frame.plain(a), "still night air": frame.plain(b)} for a, b in ways])
    for stand in opened.property.stands:
        for line in disagreements(kept, stand):
            st.warning(frame.plain(line))
    for line in LIMITS:
        st.caption(line)


def _picture(opened: Opened, kept: KeptLand) -> None:
    """The map with the ways of still air, down by night or up by day."""
    way = st.segmented_control(
        "Still air", list(WAYS), default=NIGHT, key="land_way", required=True, format_func=WAYS.get
    )
    brought = Brought(
        still_ways_m=still_ways_m(opened, kept, up=way == DAY),
        pools_m=land_on(kept, opened.property).pool_outlines_m() if way == NIGHT else (),
        beside_arrow=(WAYS[way], "barbs point along it; dashes are its doubt"),
        whole=True,
    )
    scene = Scene(opened.property, kept)
    st.image(
        property_map(scene, brought, width=DESK_WIDTH, name="land"),
        alt="Map with the way of still air from every stand; the table below tells it in words",
        width="stretch",
    )


def _from_file(opened: Opened, keep: keeping.Keep | None, ready: bool) -> None:
    st.caption(
        "A grid of heights that reaches a kilometer past every feature: ESRI ASCII, or GeoTIFF in "
        "longitude and latitude or a UTM zone. It stays on this machine."
    )
    file = st.file_uploader("Use a file of heights", type=SUFFIXES, key="land_file")
    grid = None if file is None else _read(file, opened.property)
    if grid is None:
        return
    surface = st.segmented_control(
        "Its heights are of",
        list(SURFACES),
        default=GROUND,
        key="land_surface",
        required=True,
        format_func=SURFACES.get,
    )
    try:
        cut, notes = cut_to(grid, opened.property, file.name)
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return
    for note in notes:
        st.warning(frame.plain(note))
    st.button(
        "Keep these heights",
        key="land_keep",
        disabled=not ready,
        on_click=_keep,
        args=(opened, cut, file.name, surface, keep),
    )


def _read(file, ground: Property) -> HeightGrid | None:
    return heights_in(file.getvalue(), file.name, "land", ground, box_about(ground))


def _keep(opened: Opened, grid: HeightGrid, name: str, surface: str, keep) -> None:
    """For the callback: writes the heights, then names them in the ground."""
    now_s = int(state.now_s())
    try:
        member = write_land(opened, grid, source=name, surface=surface, now_s=now_s)
    except StandWindError as fault:
        st.session_state[keeping.NOTE] = ("error", fault.text())
        return
    change = functools.partial(with_member, member=member)
    keeping.keep_now(opened, change, "The heights are kept.", keep)
