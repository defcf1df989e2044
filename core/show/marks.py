"""The marks of the verdicts: full clean, half just-off, open wrong, hatched can't call."""

from core.show.canvas import num
from core.show.palette import Palette
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, VERDICT_WORDS


def mark(verdict: int, x: float, y: float, r: float, colours: Palette, name: str = "m") -> str:
    """One mark as SVG.

    Args: verdict; its middle and radius in the sheet's units; colours; the sheet's
    name, whose hatch pattern it uses.
    """
    ring = (
        f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(r)}" fill="{{}}" '
        f'stroke="{colours.blue}" stroke-width="{num(max(1.0, r / 4))}"/>'
    )
    if verdict == CLEAN:
        return ring.format(colours.blue)
    if verdict == CANT_CALL:
        return ring.format(f"url(#{name}-unsure)")
    if verdict == JUST_OFF:
        half = (
            f'<path d="M{num(x)},{num(y - r)} A{num(r)},{num(r)} 0 0 0 {num(x)},{num(y + r)} Z" '
            f'fill="{colours.blue}"/>'
        )
        return ring.format("none") + half
    return ring.format("none")


def hatch(name: str, colour: str, step: float, width: float, turn: float = 45) -> str:
    """A pattern of lines. Args: its name; colour; distance, width [units]; turn [deg]."""
    s = num(step)
    return (
        f'<pattern id="{name}" width="{s}" height="{s}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate({num(turn)})"><line x1="0" y1="0" x2="0" y2="{s}" '
        f'stroke="{colour}" stroke-width="{width}"/></pattern>'
    )


def mark_image(verdict: int, colours: Palette, size: float = 18) -> str:
    """One mark alone, a whole SVG with its word as description."""
    word = VERDICT_WORDS[verdict]
    middle = size / 2
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{num(size)}" height="{num(size)}" '
        f'viewBox="0 0 {num(size)} {num(size)}" role="img" aria-label="{word}">'
        f"<defs>{hatch('m-unsure', colours.blue, size / 6, size / 14)}</defs>"
        f"{mark(verdict, middle, middle, middle - size / 8, colours)}</svg>"
    )
