"""What every map has at its edges: north, a scale in yards, the wind; and the patterns."""

import math
from typing import Any

from core.angles import opposite_deg
from core.show.canvas import Box, Sheet, nice_yards
from core.show.marks import hatch, pattern
from core.show.palette import Palette
from core.show.svg import element, num
from core.units import M_PER_YD

EDGE = 14.0
SCALE_SHARE = 0.28  # of the sheet's width, at most


def patterns(name: str, colours: Palette) -> list[str]:
    """The fills of one sheet. Args: the sheet's name; colours."""
    dot = element("circle", cx=2, cy=2, r=0.9, fill=colours.leaf)
    cross = element("path", d="M2,2 L6,6 M6,2 L2,6", stroke=colours.soft, stroke_width=0.8)
    return [
        hatch(f"{name}-bedding", colours.line, 9, 1.0, 135),
        hatch(f"{name}-reached", colours.ink, 4.5, 1.1, 45),
        hatch(f"{name}-unsure", colours.blue, 2.6, 1.1, 45),
        pattern(f"{name}-food", 6, dot),
        pattern(f"{name}-no", 9, cross),
    ]


def north_and_scale(sheet: Sheet, colours: Palette) -> None:
    """The north arrow at the upper right, a scale bar in yards at the lower left."""
    x, y = sheet.width - EDGE - 2, EDGE + 22.0
    arrow = (
        f"M{num(x)},{num(y)} V{num(y - 22)} M{num(x - 4)},{num(y - 16)} "
        f"L{num(x)},{num(y - 22)} L{num(x + 4)},{num(y - 16)}"
    )
    line: dict[str, Any] = {"fill": "none", "stroke": colours.soft, "stroke_width": 1.2}
    sheet.add("path", d=arrow, **line)
    sheet.words(x, y + 11, "N", 11, fill=colours.soft, text_anchor="middle")
    sheet.block((x - 8, y - 24, x + 10, y + 14))
    yards = nice_yards(sheet.width * SCALE_SHARE / sheet.scale / M_PER_YD)
    long = yards * M_PER_YD * sheet.scale
    left, base = EDGE, sheet.height - EDGE
    box = (left - 6, base - 18, left + long + 46, base + 8)
    _veil(sheet, box, colours)
    bar = f"M{num(left)},{num(base - 5)} V{num(base)} H{num(left + long)} V{num(base - 5)}"
    sheet.add("path", d=bar, **line)
    sheet.words(left + long + 4, base + 1, f"{yards} yd", 10, fill=colours.soft)
    sheet.block(box)


def wind_arrow(
    sheet: Sheet, wind_from_deg: float, lines: tuple[str, str], colours: Palette
) -> None:
    """An arrow the way the air goes, with its words, at the upper left.

    Args: the sheet; where the wind comes from [deg]; two lines of words; colours.
    """
    to = math.radians(float(opposite_deg(wind_from_deg)))
    x, y, half = EDGE + 12, EDGE + 12, 12.0
    dx, dy = math.sin(to) * half, -math.cos(to) * half
    turn = [(math.sin(to + a) * 6, -math.cos(to + a) * 6) for a in (2.6, -2.6)]
    tip = (x + dx, y + dy)
    barbs = " ".join(f"M{num(tip[0])},{num(tip[1])} l{num(a)},{num(b)}" for a, b in turn)
    words = [text for text in lines if text]
    wide = max((len(text) for text in words), default=0) * 6.3
    box = (2.0, 2.0, x + half + 10 + wide, y + half + 8)
    _veil(sheet, box, colours)
    sheet.add(
        "path",
        d=f"M{num(x - dx)},{num(y - dy)} L{num(tip[0])},{num(tip[1])} {barbs}",
        fill="none",
        stroke=colours.ink,
        stroke_width=1.8,
        stroke_linecap="round",
    )
    for i, text in enumerate(words):
        colour = colours.ink if i == 0 else colours.soft
        sheet.words(x + half + 8, y + 1 + 14 * i, text, 11, fill=colour)
    sheet.block(box)


def _veil(sheet: Sheet, box: Box, colours: Palette) -> None:
    """Dims the ground below words. Args: the sheet; left, top, right, bottom; colours."""
    sheet.add(
        "rect",
        x=box[0],
        y=box[1],
        width=box[2] - box[0],
        height=box[3] - box[1],
        fill=colours.paper,
        fill_opacity=0.8,
    )
