"""Text from outside, made harmless for whatever shows it; what is kept is never changed.

Names, notes and the words of weather services may hold characters that a terminal obeys
and that turn the direction of reading. They are shown as what they are, like \\u001b.
"""

import re

# C0 and C1 controls, which start escape codes; the direction marks of Unicode's annex 9;
# line and paragraph separators; a byte order mark; halves of characters
OBEYED = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]"
)
BREAKS = re.compile("[\t\n\x0b\x0c\r\x85\u2028\u2029]+")
FORMULA = re.compile(r"\s*[=+\-@＝＋－＠]")


def harmless(text: str) -> str:
    """Text in one line without a character that a terminal or a browser obeys.

    Args: any text. Returns: it, with line ends and tabs as a blank and the others written out.
    """
    if not OBEYED.search(text):
        return text
    return OBEYED.sub(lambda m: escaped(m[0]), BREAKS.sub(" ", text))


def escaped(character: str) -> str:
    """One character as JSON and Python write it, like \\u001b. Args: the character."""
    return f"\\u{ord(character):04x}"


def harmless_json(text: str) -> str:
    """JSON that means the same, with what `harmless` removes as escapes. Args: JSON on one line.

    Such characters stand only inside JSON's strings, where an escape is the same character.
    """
    return OBEYED.sub(lambda m: escaped(m[0]), text)


def csv_cell(text: str) -> str:
    """Text that a table program takes for text and never for a formula.

    Args: any text. Returns: it, harmless, and behind a ' where it would begin a formula,
    blanks and tabs before it or not, as the OWASP page on CSV injection advises (from memory).
    """
    shown = harmless(text)
    return f"'{shown}" if FORMULA.match(shown) else shown


# what is written as an escape in a cell that must come back: line feeds may stand in one
_WRITTEN = re.compile(rf"\\u|(?!\n){OBEYED.pattern}")
_ESCAPE = re.compile(r"\\u([0-9a-f]{4})")


def whole_cell(text: str) -> str:
    """Text as a cell that no table program runs, and that `from_cell` gives back whole.

    Args: any text. Returns: it behind a ' where it begins a formula or a '; characters that a
    terminal obeys as escapes such as \\u001b.
    """
    shown = _WRITTEN.sub(lambda m: escaped(m[0][0]) + m[0][1:], text)
    return f"'{shown}" if shown[:1] == "'" or FORMULA.match(shown) else shown


def from_cell(cell: str) -> str:
    """The text that `whole_cell` made a cell of. Args: the cell."""
    shown = cell[1:] if cell[:1] == "'" else cell
    return _ESCAPE.sub(lambda m: chr(int(m[1], 16)), shown)
