"""A season told: sits, hours and deer with their counts; sign on the map; harvest."""

import dataclasses

import streamlit as st

from core.ground.layout import Property
from core.log.season_told import SeasonTold, marks_of_year, season_told, years_of
from core.say.log.ledger import season_first
from core.say.log.season import harvest_row, hours_text, row_text
from core.show.map import property_map
from core.sit.scene import Scene
from pages.ui import frame
from pages.ui.ground_sheet import picture
from pages.ui.log import kept

SEASON, ALL = "this season", "all years"


def season(ground: Property) -> None:
    """The season, told once it is wanted. Args: the ground."""
    entries = kept.entries_of(ground)
    if not entries:
        return
    if st.toggle("Tell the season", key="season_told"):
        span = st.segmented_control("Of", [SEASON, ALL], key="season_span", default=SEASON)
        today = kept.local_now(ground).date()
        first = "" if span == ALL else season_first(ground, today).isoformat()
        told = season_told(entries, first, today.isoformat())
        _counts(told, ground)
        _harvest(told, ground)
        years = years_of(entries)
        if years:
            year = st.selectbox("Sign and sightings of", years, key="season_year")
            marks = marks_of_year(entries, ground, year)
            drawn = dataclasses.replace(ground, marks=(*ground.marks, *marks))
            scene = Scene(drawn)
            picture(lambda wide: property_map(scene, name="told", width=wide), "told_map")


def _counts(told: SeasonTold, ground: Property) -> None:
    st.markdown(frame.plain(row_text(told.total, "In all")))
    by_stand = [row_text(row, ground.name_of(row.name)) for row in told.by_stand]
    by_wind = [row_text(row, row.name) for row in told.by_wind]
    for line in (*by_stand, *by_wind):
        st.markdown(f"- {frame.plain(line)}")
    if said := hours_text(told):
        st.markdown(frame.plain(said))
    st.caption("What was written, added up. It says nothing of what deer will do.")


def _harvest(told: SeasonTold, ground: Property) -> None:
    if told.harvest:
        rows = [harvest_row(entry, ground) for entry in told.harvest]
        st.table([{k: frame.plain(v) for k, v in row.items()} for row in rows])
