"""Map: draw the ground, bring it in, look it over; and whose ground it is."""

from core.ground.looking import only_looking
from pages.ui import frame, terms
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
    map_panels()
    terms.links(("stand", "way-in", "trail", "bed", "food", "held", "swirls", "slope-air"))
