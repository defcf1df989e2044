"""What every map has at its edges: north, a scale in yards, the wind; and the patterns."""

import math

from core.angles import opposite_deg
from core.show.canvas import Sheet, nice_yards, num
from core.show.marks import hatch
from core.show.palette import Palette
from core.units import M_PER_YD

EDGE = 14.0
SCALE_SHARE = 0.28  # of the sheet's width, at most


def patterns(name: str, colours: Palette) -> str:
    """The fills of one sheet. Args: the sheet's name; colours."""
    dots = (
        f'<pattern id="{name}-food" width="6" height="6" patternUnits="userSpaceOnUse">'
        f'<circle cx="2" cy="2" r="0.9" fill="{colours.leaf}"/></pattern>'
    )
    cross = (
        f'<pattern id="{name}-no" width="9" height="9" patternUnits="userSpaceOnUse">'
        f'<path d="M2,2 L6,6 M6,2 L2,6" stroke="{colours.soft}" stroke-width="0.8"/></pattern>'
    )
    return "".join(
        [
            hatch(f"{name}-bedding", colours.line, 9, 1.0, 135),
            hatch(f"{name}-reached", colours.ink, 4.5, 1.1, 45),
            hatch(f"{name}-unsure", colours.blue, 2.6, 1.1, 45),
            dots,
            cross,
        ]
    )


def north_and_scale(sheet: Sheet, colours: Palette) -> None:
    """The north arrow at the upper right, a scale bar in yards at the lower left."""
    x, y = sheet.width - EDGE - 2, EDGE + 22.0
    sheet.add(
        f'<path d="M{num(x)},{num(y)} V{num(y - 22)} M{num(x - 4)},{num(y - 16)} '
        f'L{num(x)},{num(y - 22)} L{num(x + 4)},{num(y - 16)}" fill="none" '
        f'stroke="{colours.soft}" stroke-width="1.2"/>'
    )
    sheet.words(x, y + 11, "N", 11, fill=colours.soft, text_anchor="middle")
    sheet.block((x - 8, y - 24, x + 10, y + 14))
    yards = nice_yards(sheet.width * SCALE_SHARE / sheet.scale / M_PER_YD)
    long = yards * M_PER_YD * sheet.scale
    left, base = EDGE, sheet.height - EDGE
    box = (left - 6, base - 18, left + long + 46, base + 8)
    sheet.add(
        f'<rect x="{num(box[0])}" y="{num(box[1])}" width="{num(box[2] - box[0])}" '
        f'height="{num(box[3] - box[1])}" fill="{colours.paper}" fill-opacity="0.8"/>'
        f'<path d="M{num(left)},{num(base - 5)} V{num(base)} H{num(left + long)} V{num(base - 5)}" '
        f'fill="none" stroke="{colours.soft}" stroke-width="1.2"/>'
    )
    sheet.words(left + long + 4, base + 1, f"{yards} yd", 10, fill=colours.soft)
    sheet.block(box)


def wind_arrow(sheet: Sheet, wind_from_deg: float, said: tuple[str, str], colours: Palette) -> None:
    """An arrow the way the air goes, with its words, at the upper left.

    Args: the sheet; where the wind comes from [deg]; two lines of words; colours.
    """
    to = math.radians(float(opposite_deg(wind_from_deg)))
    x, y, half = EDGE + 12, EDGE + 12, 12.0
    dx, dy = math.sin(to) * half, -math.cos(to) * half
    turn = [(math.sin(to + a) * 6, -math.cos(to + a) * 6) for a in (2.6, -2.6)]
    tip = (x + dx, y + dy)
    barbs = " ".join(f"M{num(tip[0])},{num(tip[1])} l{num(a)},{num(b)}" for a, b in turn)
    words = [text for text in said if text]
    wide = max((len(text) for text in words), default=0) * 6.3
    box = (2.0, 2.0, x + half + 10 + wide, y + half + 8)
    sheet.add(
        f'<rect x="2" y="2" width="{num(box[2] - 2)}" height="{num(box[3] - 2)}" '
        f'fill="{colours.paper}" fill-opacity="0.8"/>'
        f'<path d="M{num(x - dx)},{num(y - dy)} L{num(tip[0])},{num(tip[1])} {barbs}" '
        f'fill="none" stroke="{colours.ink}" stroke-width="1.8" stroke-linecap="round"/>'
    )
    for i, text in enumerate(words):
        colour = colours.ink if i == 0 else colours.soft
        sheet.words(x + half + 8, y + 1 + 14 * i, text, 11, fill=colour)
    sheet.block(box)
