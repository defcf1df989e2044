"""The marks of the verdicts: full clean, half just-off, open wrong, hatched can't call."""

from core.show.palette import Palette
from core.show.svg import drawing, element, group, num
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, VERDICT_WORDS


def mark(
    verdict: int, x: float, y: float, r: float, colours: Palette, name: str = "m"
) -> list[str]:
    """One mark as elements of SVG.

    Args: verdict; its middle and radius in the sheet's units; colours; the sheet's
    name, whose hatch pattern it uses.
    """
    fills = {CLEAN: colours.blue, CANT_CALL: f"url(#{name}-unsure)"}
    ring = element(
        "circle",
        cx=x,
        cy=y,
        r=r,
        fill=fills.get(verdict, "none"),
        stroke=colours.blue,
        stroke_width=max(1.0, r / 4),
    )
    if verdict != JUST_OFF:
        return [ring]
    half = f"M{num(x)},{num(y - r)} A{num(r)},{num(r)} 0 0 0 {num(x)},{num(y + r)} Z"
    return [ring, element("path", d=half, fill=colours.blue)]


def hatch(name: str, colour: str, step: float, width: float, turn: float = 45) -> str:
    """A pattern of lines. Args: its name; colour; distance, width [units]; turn [deg]."""
    # its width as it is: at the size of a word a tenth would show
    line = element("line", x1=0, y1=0, x2=0, y2=step, stroke=colour, stroke_width=f"{width}")
    return pattern(name, step, line, patternTransform=f"rotate({num(turn)})")


def pattern(name: str, step: float, drawn: str, **more: str) -> str:
    """A fill that repeats. Args: its name; the side of its square [units]; what is in the
    square; more attributes."""
    return group(
        "pattern", [drawn], id=name, width=step, height=step, patternUnits="userSpaceOnUse", **more
    )


def mark_image(verdict: int, colours: Palette, size: float = 18.0) -> str:
    """One mark alone, a whole SVG with its word as description."""
    middle = size / 2
    unsure = group("defs", [hatch("m-unsure", colours.blue, size / 6, size / 14)])
    parts = [unsure, *mark(verdict, middle, middle, middle - size / 8, colours)]
    return drawing(parts, VERDICT_WORDS[verdict], width=size, height=size)
