"""The form beside the map: the slope of a stand, and the places of a thing as text."""

from functools import partial
from typing import Any

import streamlit as st

from core.ground.drawing.edits import reshaped, told_all
from core.ground.drawing.gestures import named_of
from core.ground.latlon import EXAMPLE, places_from_text, text_from_places
from core.ground.layout import Stand
from pages.ui.draw import changes
from pages.ui.draw.in_use import in_use


def show_in_box(key: str, value: Any) -> None:
    """Sets only what differs: a box that is being typed in stays as it is."""
    if key not in st.session_state or st.session_state[key] != value:
        st.session_state[key] = value


def name_of(id_: str) -> str:
    """What a thing is called where something is said of it. Args: its id."""
    return named_of(in_use().document, id_)


def ask_slope(id_: str, model: Stand) -> None:
    """Both or neither: where the ground falls to, and how steeply."""
    keys = f"downhill-{id_}-{model.downhill_deg}", f"grade-{id_}-{model.grade_pct}"
    with st.form(f"slope-{id_}", border=False):
        st.number_input(
            "Downhill toward, degrees",
            0.0,
            360.0,
            model.downhill_deg,
            step=5.0,
            format="%g",
            key=keys[0],
            help="Where still night air would slide to. 180 is south.",
        )
        st.number_input(
            "Grade, percent", 0.0, 200.0, model.grade_pct, step=1.0, format="%g", key=keys[1]
        )
        st.form_submit_button("Keep the slope", on_click=_sloped, args=(id_, *keys))


def _sloped(id_: str, downhill_key: str, grade_key: str) -> None:
    both = [
        (("downhill_deg",), st.session_state[downhill_key]),
        (("grade_pct",), st.session_state[grade_key]),
    ]
    changes.apply(lambda d: told_all(d, id_, both), f"{name_of(id_)}: slope")


def ask_places(feature: dict) -> None:
    """Its places as text: the way to move a thing without a finger or a mouse."""
    id_, shape = feature["id"], feature["geometry"]["type"]
    key = f"places-{id_}"
    with st.expander("Coordinates"):
        show_in_box(key, text_from_places(feature["geometry"]))
        st.text_area(
            "Latitude, longitude; one place a line",
            key=key,
            height=140,
            help=f"Like {EXAMPLE}. Change the numbers, add or take out lines.",
            on_change=partial(_placed, id_, shape, key),
        )
        if len(feature["geometry"]["coordinates"]) > 1 and shape == "Polygon":
            st.caption("Its outline; its holes stay as they are.")


def _placed(id_: str, shape: str, key: str) -> None:
    text = st.session_state[key]
    changes.apply(
        lambda d: reshaped(d, id_, places_from_text(text, shape)), f"moved {name_of(id_)}"
    )
