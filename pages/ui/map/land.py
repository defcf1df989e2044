"""The land: heights that are kept beside the ground, and where still air slides over them."""

import functools

import streamlit as st

from core.ground.store import Opened
from core.land.cut import nearest_edge
from core.land.derived import follows_the_ground, is_coarse, land_on
from core.land.kept import TREETOPS, KeptLand, cell_m, land_of, with_member
from core.say.land import (
    LIMITS,
    TREES,
    lee_lines,
    still_air_by_stand,
    still_ways_m,
    told_source,
)
from core.show.map import Emphasis, property_map
from core.sit.scene import Scene
from core.units import M_PER_YD
from pages.ui import frame, keeping
from pages.ui.ground_sheet import picture
from pages.ui.map.land_in import SURFACES, heights_in_panel
from pages.ui.map.land_slopes import land_slopes

NIGHT, DAY = "night", "day"
WAYS = {NIGHT: "clear, calm evening and night", DAY: "sun on the slope"}
# what the design of these ways leaves out, woods above all
MORE_LIMITS = (
    "Woods: under trees air went down the slope at night while another wind blew in the valley, "
    "and in one forest it went uphill at night. In leaf it may slide by day too. A tree line of 60 "
    "ft, 50 yd off, shades more than any hill here.",
    "Heights of treetops are contours and nothing else, unless every stand stands in the open.",
    "Cells of 30 m are coarse: humps under some 300 yd are not seen. Under 1 % of grade air "
    "knows no way; on slopes that look even it bends all the same.",
    "Valley winds from beyond the grid, lakes, snow and towns are left out. The heights are the "
    "ground of their date: a pond, a pit or a bank that came later is not in them.",
)


def land_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """Heights of the ground. Args: the property; where changes are kept, None saves at once."""
    keeping.show_note()
    kept, why = land_of(opened)
    if kept is None:
        st.write(frame.plain(why) or "No heights are kept beside this ground.")
    else:
        _told(opened, kept)
    ready = keeping.ready(opened, keep)
    if kept is not None and follows_the_ground(kept, opened.property):
        land_slopes(opened, kept, keep, ready)
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
    heights_in_panel(opened, keep, ready)


def _told(opened: Opened, kept: KeptLand) -> None:
    st.write(frame.plain(told_source(kept)))
    st.caption(_facts(opened, kept))
    if not follows_the_ground(kept, opened.property):
        st.write(TREES if kept.surface == TREETOPS else "They are kept, and not used.")
        return
    way = _picture(opened, kept)
    ways = still_air_by_stand(opened, kept, up=way == DAY)
    if ways:
        st.table([{"stand": frame.plain(a), WAYS[way]: frame.plain(b)} for a, b in ways])
    for line in lee_lines(opened, kept):
        st.write(frame.plain(line))
    for line in LIMITS:
        st.caption(line)
    with st.expander("What heights do not know"):
        for line in MORE_LIMITS:
            st.caption(line)


def _facts(opened: Opened, kept: KeptLand) -> str:
    """What the heights are of, their cells, and how far they reach."""
    past_m, name = nearest_edge(kept.grid, opened.property)
    facts = [f"Of {SURFACES[kept.surface]}", f"cells of {cell_m(kept.grid):.0f} m"]
    if is_coarse(kept):
        facts.append("coarse heights: smoothed over twice as far")
    if name:
        yards = f"{max(past_m, 0.0) / M_PER_YD:,.0f} yd past {frame.plain(name)}"
        facts.append(f"they reach {yards}, and farther past all else")
    return "; ".join(facts) + "."


def _picture(opened: Opened, kept: KeptLand) -> str:
    """The map with the ways of still air, down by night or up by day. Returns: which."""
    way = st.segmented_control(
        "Still air", list(WAYS), default=NIGHT, key="land_way", required=True, format_func=WAYS.get
    )
    emphasis = Emphasis(
        still_ways_m=still_ways_m(opened, kept, up=way == DAY),
        pools_m=land_on(kept, opened.property).pool_outlines_m() if way == NIGHT else (),
        beside_arrow=(WAYS[way], "barbs point along it; dashes are its doubt"),
        whole=True,
    )
    scene = Scene(opened.property, kept)
    picture(lambda wide: property_map(scene, emphasis, name="land", width=wide), "land_map")
    return way or NIGHT
