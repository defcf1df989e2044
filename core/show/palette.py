"""The two sets of colours: for the dark, and for paper. Hex, as SVG takes them.

One blue, as a full, half and open mark; hatching for what can't be called. Colour
never stands alone: marks differ by fill, lines by dash, areas by pattern, and the
word is always beside them. tests/core/test_palette.py measures contrast and how the
colours look to three kinds of colour-blind eyes.
"""

from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class Palette:
    paper: str  # what all else lies on
    ink: str  # words that must be read
    soft: str  # words that may be read
    line: str  # rules and grids; nothing to read
    blue: str  # marks, and the way to walk
    earth: str  # beds
    leaf: str  # food
    trail: str  # where deer walk
    contour: str  # heights; under all else


DARK = Palette(
    paper="#12100B",
    ink="#F0DFC2",
    soft="#B5A07C",
    line="#4A3F2C",
    blue="#7FB7E6",
    earth="#C0A070",
    leaf="#A9A98C",
    trail="#D8C49C",
    contour="#352D20",
)
PRINT = Palette(
    paper="#FFFFFF",
    ink="#111111",
    soft="#4A4A4A",
    line="#B8B8B8",
    blue="#1F5F99",
    earth="#6B4A1C",
    leaf="#50503A",
    trail="#3B3222",
    contour="#D6CFC2",
)

# on a page that is both: its own style sheet gives each of these the one colour or the other
PAGE = Palette(*(f"var(--map-{field.name})" for field in fields(Palette)))
