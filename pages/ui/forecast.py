"""The wind from a forecast service or from a file, for the screens that need hours."""

import hashlib

import streamlit as st

from core.errors import StandWindError
from core.ground.layout import Property
from core.weather.age import stale_note
from core.weather.answers import Answers
from core.weather.hours import Hours
from core.weather.recognise import read_weather
from core.weather.sources import AUTO, METEO, NWS, SOURCES, where_it_goes
from pages.ui import fetching, frame, state
from pages.ui.asking import answered

SOURCE_SAID = {AUTO: "what fits the place", NWS: "Weather Service", METEO: "Open-Meteo"}
FILE = "weather_bytes"  # name and bytes of the weather file in use
READ = "weather_read"  # of what file and answers, and the hours read
LEAVE_OUT = "Leave this file out"


def forecast_panel(ground: Property) -> Hours | None:
    """The live forecast: fetched on a button, else the kept one, with its age.

    Args: the property. Returns: its hours; None where none is kept yet. Says where the
    request goes before anything is asked.
    """
    source = st.segmented_control(
        "Source", SOURCES, default=AUTO, key="source", required=True,
        format_func=SOURCE_SAID.get, **state.KEPT,
    )  # fmt: skip
    st.caption(frame.plain(where_it_goes(ground.center, source)))
    with st.container(horizontal=True, key="get"):
        get = st.button("Get the forecast", key="get_forecast", type="primary")
        camp = st.button("Get the next days for camp", key="get_camp")
    kept = fetching.fetched(ground, source, camp) if get or camp else None
    kept = kept or fetching.last_kept(ground, source)
    if kept is None:
        return None
    fetching.say(kept, ground)
    return kept.hours


def file_panel(ground: Property | None = None) -> Hours | None:
    """A weather file of the user's own; what it leaves open is asked, not guessed.

    Args: the property, whose zone is offered first. Returns: the hours; None where there
    is no file yet, a question is open, or it can't be used (which is said).
    """
    st.file_uploader(
        "Weather file", key="weather_file", on_change=_take_file, max_upload_size=10,
        help="A forecast or a wind history: see the README for the formats.",
    )  # fmt: skip
    if FILE not in st.session_state:
        st.write("No weather file yet. It stays on this machine.")
        return None
    name, data = st.session_state[FILE]
    with st.container(horizontal=True, key="own_file"):
        st.write(f"In use: {frame.plain(name)}")
        st.button(LEAVE_OUT, key="leave_file", on_click=_leave_file)
    try:
        hours = _read(name, data, ground.timezone if ground else None)
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return None
    if hours is not None:
        _say_file(hours)
    return hours


def _take_file() -> None:
    """The file is kept while the session lasts: the widget forgets it on another page."""
    given = st.session_state.get("weather_file")
    if given is None:
        _leave_file()
    else:
        st.session_state[FILE] = (given.name, given.getvalue())


def _leave_file() -> None:
    st.session_state.pop(FILE, None)
    st.session_state.pop(READ, None)


def _read(name: str, data: bytes, likely_zone: str | None) -> Hours | None:
    """The hours of a file, with its questions asked. Raises: StandWindError."""
    mark = hashlib.sha256(data).hexdigest()[:12]

    def read(answers: Answers) -> Hours:
        asked = (name, mark, answers)
        return state.kept_while(READ, asked, lambda: read_weather(data, name, answers))

    return answered(read, Answers(likely_zone=likely_zone), mark)


def _say_file(hours: Hours) -> None:
    stale = stale_note(hours, state.now_s())
    if stale:
        st.warning(frame.plain(f"{stale}."))
    count = f"{len(hours)} hour" if len(hours) == 1 else f"{len(hours)} hours"
    notes = [frame.plain(f"{note}.") for note in hours.notes]
    st.caption(" ".join([frame.plain(f"{hours.source or hours.format}: {count}."), *notes]))
