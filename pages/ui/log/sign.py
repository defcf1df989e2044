"""Sign on the map, by its age: what was found, where, and how long ago."""

import dataclasses

import streamlit as st

from core.ground.layout import Property
from core.keep.entries import SIGN
from core.log.sign_by_age import FRESH, OLD, SIGN_AGES, YEAR, signs_by_age
from core.show.map import property_map
from core.sit.scene import Scene
from pages.ui.ground_sheet import picture
from pages.ui.log import kept

AGES_SAID = {FRESH: "up to 30 days", YEAR: "up to a year", OLD: "older"}


def sign_on_the_map(ground: Property) -> None:
    """The map, once it is wanted. Args: the ground."""
    entries = [e for e in kept.entries_of(ground) if e.kind == SIGN]
    if not entries or not st.toggle("Sign on the map, by its age", key="sign_by_age"):
        return
    ages = st.pills(
        "How old",
        SIGN_AGES,
        default=SIGN_AGES,
        selection_mode="multi",
        format_func=AGES_SAID.__getitem__,
        key="sign_ages",
    )
    marks = signs_by_age(entries, ground, kept.local_now(ground).date(), tuple(ages))
    drawn = dataclasses.replace(ground, marks=(*ground.marks, *marks))
    scene = Scene(drawn)
    picture(lambda wide: property_map(scene, name="sign", width=wide), "sign_map")
    st.caption(
        "Full: up to 30 days. Dim: up to a year. Open: older. Sign of a trail or plot without a "
        "place of its own stands at its middle."
    )
