"""How wide words are on a sheet, and words cut to a width.

A drawing is made before anything can measure it, so the widest of the fonts that it names
decides: words are never wider than they are taken to be.
"""

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


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width that words take at most. Args: the words; size of the font; whether bold."""
    own = sum(WIDTHS.get(c, OTHER if ord(c) < 0x2000 else WIDE) for c in text)
    return own * size * (BOLD if bold else 1.0)


def cut_to(text: str, size: float, most: float, *, bold: bool = False) -> str:
    """Words cut at their end to a width. Args: as `width_of`; the width."""
    if width_of(text, size, bold=bold) <= most:
        return text
    while text and width_of(f"{text}…", size, bold=bold) > most:
        text = text[:-1].rstrip()
    return f"{text}…"
