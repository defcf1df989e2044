"""A trail's own story: what it serves, what has grown since the cut, what was done and seen."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.due import Chore
from core.ground.layout import Property
from core.ground.store import data_folder
from core.say.work.chores import day_text
from core.say.work.story import NO_STORY, trail_said
from core.weather.hours import Hours
from core.weather.services.kept import kept_files, kept_since
from core.weather.services.sources import rounded
from pages.ui import data, frame, state
from pages.ui.log import kept
from pages.ui.season import own_history

BACK_DAYS = 800  # as long as kept forecasts are
DAY_S = 86400
SHOWN = 12


def the_story(
    ground: Property, path: Path, trail: str, found: list[Chore], today: datetime.date
) -> None:
    """The story of one trail. Args: the ground and its file; the trail's id; the ground's
    chores; the local date."""
    entries = kept.entries_of(ground)
    said = trail_said(data.scene(path), trail, entries, found, today, _tables(ground, path))
    st.markdown(frame.plain(said.serves))
    for line in said.grown:
        st.caption(frame.plain(line))
    st.subheader("Its story")
    for day, words in said.happened[:SHOWN]:
        st.markdown(f"{day_text(day)}: {frame.plain(words)}")
    if not said.happened:
        st.caption(NO_STORY)
    if len(said.happened) > SHOWN:
        with st.expander(f"{len(said.happened) - SHOWN} before these"):
            for day, words in said.happened[SHOWN:]:
                st.markdown(f"{day_text(day)}: {frame.plain(words)}")
    st.subheader("Its work")


def _tables(ground: Property, path: Path) -> list[Hours]:
    """Hours with temperatures, the best first: histories of the ground, then kept forecasts."""
    place, now_s = rounded(ground.center), state.now_s()
    held = st.session_state.get("season_answer")
    own = held is not None and held[0][0] == str(path) and held[1].weather.kind != "typical"
    reviewed = [held[1].weather] if own else []
    newest = kept_files(data_folder(), place)[:1]
    forecasts = state.kept_while(
        "kept_temperatures",
        (ground.center, newest),
        lambda: kept_since(data_folder(), place, now_s - BACK_DAYS * DAY_S),
    )
    return [*own_history.kept(ground).values(), *reviewed, *forecasts]
