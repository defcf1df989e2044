"""Map: draw the ground, bring it in, look it over; and whose ground it is."""

import streamlit as st

from core.ground.looking import only_looking
from core.say.log.felt import turn_lines
from pages.ui import data, frame, state, terms
from pages.ui.draw.panel import draw_panel
from pages.ui.map.grounds import grounds_panel
from pages.ui.map.panels import map_panels

frame.open_page("Map", wide=True, heading=False)
with frame.guarded():
    if only_looking():
        frame.nothing_yet(
            "Looking only.",
            "This screen was opened to look. The ground is drawn on the machine that keeps it.",
            to_map=False,
        )
    grounds_panel()
    draw_panel()
    for line in turn_lines(data.scene(state.ground_path()).ground):
        st.caption(frame.plain(f"As you felt it: {line} The Log page takes it back."))
    map_panels()
    terms.links(("stand", "way-in", "trail", "bed", "food", "held", "swirls", "slope-air"))
