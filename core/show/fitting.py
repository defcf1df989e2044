"""How wide words are, and words cut to the room there is so that no two read alike.

A drawing is made before anything can measure it, so the widest of the fonts that it names
decides: words are never wider than they are taken to be.
"""

from collections.abc import Sequence

# of the font's size: advance widths of DejaVu Sans, rounded up, the rest as its capitals
WIDTHS = {
    **dict.fromkeys("ijl'|", 0.28),
    **dict.fromkeys(' .,:;!Ift()[]-/\\"', 0.41),
    **dict.fromkeys("rsJczk", 0.59),
    **dict.fromkeys("aeghnuopdbqvxyLTSFEPYZ0123456789*?_", 0.65),
    **dict.fromkeys("MwNQOGHUD<>+=~", 0.88),
    **dict.fromkeys("mW@%", 1.0),
}
OTHER = 0.76
WIDE = 1.05  # letters from beyond the Latin ones
BOLD = 1.13  # a bold letter, of a plain one


def fitted(names: Sequence[str], letters: int) -> list[str]:
    """Names of at most so many letters, in their order.

    Args: the names, each at most once; most letters, at least 6.
    Returns: a name that is too long is cut at its end; where two would then read alike,
    both keep their ends and lose their middles.
    """
    cut = [_head(name, letters) for name in names]
    return [
        text if cut.count(text) == 1 or len(name) <= letters else _ends(name, letters)
        for name, text in zip(names, cut, strict=True)
    ]


def _head(name: str, letters: int) -> str:
    return name if len(name) <= letters else f"{name[: letters - 1].rstrip()}…"


def _ends(name: str, letters: int) -> str:
    first = letters // 2 - 1
    return f"{name[:first].rstrip()}…{name[first + 1 - letters :].lstrip()}"


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width that words take at most. Args: the words; size of the font; whether bold."""
    own = sum(WIDTHS.get(c, OTHER if ord(c) < 0x2000 else WIDE) for c in text)
    return own * size * (BOLD if bold else 1.0)


def narrowed(
    lines: Sequence[str], size: float, most: float, least: float, *, bold: bool = False
) -> float:
    """By how much lines are made smaller to fit.

    Args: the lines; size of their font; the width they have; the least that is given.
    Returns: a factor, 1 where all fit as they are.
    """
    widest = max((width_of(line, size, bold=bold) for line in lines), default=0.0)
    return 1.0 if widest <= most else max(least, most / widest)


def cut_to(text: str, size: float, most: float, *, bold: bool = False) -> str:
    """Words cut at their end to a width. Args: as `width_of`; the width."""
    if width_of(text, size, bold=bold) <= most:
        return text
    while text and width_of(f"{text}…", size, bold=bold) > most:
        text = text[:-1].rstrip()
    return f"{text}…"
