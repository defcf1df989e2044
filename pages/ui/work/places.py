"""The work of one place, done and to do."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.due import Chore
from core.chores.groups import by_kind, by_place
from core.ground.layout import Property
from core.ground.looking import only_looking
from pages.ui import keeping, state
from pages.ui.work.listing import group
from pages.ui.work.own import leave_out_button
from pages.ui.work.story import the_story

WHOLE = "The whole ground"


def by_places(found: list[Chore], ground: Property, path: Path, today: datetime.date) -> None:
    """A place is chosen, and its work listed. Args: chores; ground and file; the local date."""
    keeping.show_note()
    places = by_place(found)
    ids = sorted(places, key=lambda id_: (id_ != "", ground.name_of(id_).casefold()))
    chosen = st.selectbox(
        "Place",
        ids,
        format_func=lambda id_: ground.name_of(id_) if id_ else WHOLE,
        key="work_place",
        **state.KEPT,
    )
    if any(chosen == trail.id for trail in ground.corridors):
        the_story(ground, path, chosen, found, today)
    for kind, chores in by_kind(places.get(chosen, [])).items():
        group(f"place {kind}", chores, ground, path, today, {})
        if chosen and not only_looking():
            leave_out_button(chores[0].key, path)
