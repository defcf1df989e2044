"""Elements of SVG. One place escapes: nothing a user has named can become markup."""

import html
from collections.abc import Sequence

from core.harmless import harmless


def num(value: float) -> str:
    """A number as SVG takes it: to a tenth, no needless digits."""
    return f"{value:.1f}".rstrip("0").rstrip(".")


def drawing(parts: Sequence[str], described: str, *, width: float, height: float, **style) -> str:
    """A whole SVG. Args: its elements; what it shows, in words; its size; more attributes."""
    return group(
        "svg",
        parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {num(width)} {num(height)}",
        width=width,
        height=height,
        role="img",
        aria_label=described,
        **style,
    )


def element(tag: str, words: str = "", **attributes) -> str:
    """One SVG element that holds words or nothing; all of it is escaped here.

    Args: its name; its words; its attributes by Python's names (`stroke_width`), numbers
    written to a tenth, None leaving one out.
    """
    inner = html.escape(harmless(words), quote=False)
    return _tagged(tag, inner, attributes)


def group(tag: str, elements: Sequence[str], **attributes) -> str:
    """An SVG element that holds others. Args: its name; what `element` gave; attributes."""
    return _tagged(tag, "".join(elements), attributes)


def _tagged(tag: str, inner: str, attributes: dict) -> str:
    named = "".join(
        f' {name.replace("_", "-")}="{html.escape(harmless(_written(value)))}"'
        for name, value in attributes.items()
        if value is not None
    )
    return f"<{tag}{named}>{inner}</{tag}>" if inner else f"<{tag}{named}/>"


def _written(value: object) -> str:
    return num(value) if isinstance(value, float) else str(value)
