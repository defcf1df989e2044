"""Map: draw the ground, bring it in, look it over; and whose ground it is."""

from pages.ui import frame
from pages.ui.draw.panel import draw_panel

frame.open_page("Map", wide=True, heading=False)
with frame.guarded():
    draw_panel()
