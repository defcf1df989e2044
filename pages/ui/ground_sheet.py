"""The map of an answer as a screen shows it: in two sizes, and a tap tells of a place."""

import functools
from collections.abc import Callable
from pathlib import Path

import streamlit as st

from core.show.map import DESK_WIDTH, WIDTH

HERE = Path(__file__).parent
ASK = "Tap a place or a stand: it is told here."
HTML = '<div class="drawn"></div><p class="said" role="status"></p>'


@functools.cache
def _component():
    """The component, registered once a process."""
    return st.components.v2.component(
        "stand_wind_sheet",
        html=HTML,
        css=(HERE / "ground_sheet.css").read_text(encoding="utf-8"),
        js=(HERE / "ground_sheet.js").read_text(encoding="utf-8"),
    )


def ground_sheet(maps: list[str], told: dict[str, str], *, key: str, about: str = "") -> None:
    """Draws the map.

    Args: its drawings as SVG, for a phone and for a desk; what is told of each place, by
    id; its key; what it shows, in words.
    """
    ask = f"{about} {ASK}".strip() if told else ""
    _component()(data={"maps": maps, "told": told, "ask": ask}, key=key)


def picture(draw: Callable[[float], str], key: str) -> None:
    """A map that tells nothing on a tap. Args: what draws it at a width; its key."""
    ground_sheet([draw(WIDTH), draw(DESK_WIDTH)], {}, key=key)
