"""Criticism of typed slopes by the heights that are kept beside the ground."""

from collections.abc import Iterator

from core.angles import separation_deg
from core.criticism.finding import Finding, finding
from core.ground.heights.slope_at import rounded_slope, slope_text
from core.land.agreed import agrees, shown_slope
from core.land.derived import follows_the_ground
from core.sit.scene import Scene


def slope_findings(scene: Scene) -> Iterator[Finding]:
    """Stands whose typed slope is not the slope of the heights. Args: the ground's scene.

    None without heights, and over treetops. Measured in degrees between the two ways down.
    """
    heights = scene.heights
    if heights is None or not follows_the_ground(heights, scene.ground):
        return
    for stand in scene.ground.stands:
        shown = shown_slope(heights, stand)
        if stand.closed or stand.downhill_deg is None or stand.grade_pct is None or shown is None:
            continue
        if agrees(shown, stand):
            continue
        told = rounded_slope(shown)
        land = "level ground" if told is None else slope_text(*told)
        apart = 0.0 if told is None else float(separation_deg(told[0], stand.downhill_deg))
        typed = slope_text(stand.downhill_deg, stand.grade_pct)
        text = f"its slope is typed {typed}; the heights say {land}"
        yield finding("stand-slope-odd", stand, apart, "deg", text)
