"""A trail's own story: what it serves, what has grown since the cut, what was done and seen."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.due import Chore
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.store import data_folder
from core.say.work.chores import day_text
from core.say.work.story import NO_STORY, Growth, trail_said
from core.weather.hours import Hours
from core.weather.services import whole_years
from core.weather.services.autumns import history_folder
from core.weather.services.kept import kept_files
from core.weather.services.sources import rounded
from core.weather.services.whole_years import kept_days
from pages.ui import data, frame, own_files, state
from pages.ui.home import forecast
from pages.ui.log import kept
from pages.ui.season import own_history

SHOWN = 12
TOLD = "days_told"  # what went wrong in getting temperatures


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
    if said.growth is not None and not only_looking():
        _press(ground, said.growth, today)
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
    """Hours with temperatures, the best first: what is kept, and what lies on other screens."""
    place, now_s, folder = rounded(ground.center), state.now_s(), data_folder()
    years = history_folder(folder, place)
    kept_now = [*sorted(years.glob("*.gz")), *kept_files(folder, place)[:1]]
    found = state.kept_while(
        "kept_temperatures",
        (ground.center, [(file.name, data.stamp(file)) for file in kept_now]),
        lambda: kept_days(folder, place, now_s),
    )
    held = st.session_state.get("season_answer")
    reviewed = [held[1].weather] if held is not None and held[0][0] == str(path) else []
    return [*found, *reviewed, *own_files.read_now(forecast.OWN_FILE, ground)]


def _press(ground: Property, growth: Growth, today: datetime.date) -> None:
    """Temperatures since the cut, fetched when asked."""
    if said := st.session_state.get(TOLD):
        st.warning(frame.plain(said))
    if growth.is_whole or not whole_years.years_of(growth.since, today):
        return
    with st.expander("Temperatures since the cut"):
        st.caption(frame.plain(whole_years.said_before(ground.center, growth.since, today)))
        if st.button("Get them", key="get_days"):
            press = whole_years.fetch_years(
                ground.center, growth.since, data_folder(), now_s=state.now_s()
            )
            own_history.run_press(press, "Asking for the first year", TOLD)
            st.session_state.pop("kept_temperatures", None)
            st.button("Show what has grown", key="show_days", type="primary")
