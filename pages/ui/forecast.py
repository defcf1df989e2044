"""The wind from a forecast service or from a file, for the screens that need hours."""

import dataclasses
import datetime
import hashlib
from zoneinfo import ZoneInfo

import streamlit as st

from core.errors import NeedsAnswer, NoForecast, StandWindError
from core.ground.layout import Property
from core.ground.store import data_folder
from core.sits.words import clock_text
from core.weather.age import stale_note
from core.weather.answers import Answers, zone_of
from core.weather.hours import Hours
from core.weather.kept import Kept
from core.weather.live import age_words, fetch_camp_days, forecast_for, notes_on
from core.weather.recognise import read_weather
from core.weather.sources import AUTO, METEO, NWS, SOURCES, where_it_goes
from core.weather.station import station_words
from pages.ui import frame, state

SOURCE_SAID = {AUTO: "what fits the place", NWS: "Weather Service", METEO: "Open-Meteo"}
TROUBLE = "forecast_trouble"  # (ground, source) of the last fetch that failed, and why
FILE = "weather_bytes"  # name and bytes of the weather file in use
READ = "weather_read"  # of what file and answers, and the hours read
LEAVE_OUT = "Leave this file out"
QUESTION = {
    "zone": "Which time zone are its times in?",
    "speed_unit": "Which unit is its wind in?",
    "dayfirst": "Which date is it?",
}
OTHER_ZONE = "another zone"


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
    kept = _fetched(ground, source, camp) if get or camp else None
    kept = kept or _kept(ground, source)
    if kept is None:
        return None
    _say(kept, ground)
    return kept.hours


def _fetched(ground: Property, source: str, camp: bool) -> Kept | None:
    """Asks the service while a bar shows how far the time limit is used."""
    bar = st.progress(0.0, text="Asking for the forecast")
    st.session_state.pop(TROUBLE, None)
    ask = fetch_camp_days if camp else forecast_for
    try:
        kept = ask(
            ground.center, data_folder(), now_s=state.now_s(), source=source,
            progress=lambda words, part: bar.progress(part, text=frame.plain(words)),
        )  # fmt: skip
    except NoForecast as fault:
        st.session_state[TROUBLE] = (ground.center, source, fault.text())
        return None
    finally:
        bar.empty()
    if kept.trouble:
        st.session_state[TROUBLE] = (ground.center, source, kept.trouble)
    elif camp:
        st.success(f"Kept for camp until {_when(kept.horizon_s, ground)}. It opens without signal.")
    return kept


def _kept(ground: Property, source: str) -> Kept | None:
    """The kept forecast; what went wrong with the last fetch is still said."""
    center, of, trouble = st.session_state.get(TROUBLE, (None, None, None))
    trouble = trouble if (center, of) == (ground.center, source) else None
    try:
        kept = forecast_for(
            ground.center, data_folder(), now_s=state.now_s(), offline=True, source=source
        )
    except NoForecast as fault:
        if trouble:
            st.error(frame.plain(trouble))
        else:
            st.write(frame.plain(fault.text()))
        return None
    return dataclasses.replace(kept, trouble=trouble)


def _say(kept: Kept, ground: Property) -> None:
    now_s = state.now_s()
    if kept.trouble:
        st.warning(frame.plain(kept.trouble))
    age = frame.plain(f"{kept.name}, {age_words(kept, now_s)}")
    st.write(f"**{age}.** It ends {_when(kept.horizon_s, ground)}.")
    if kept.station and (said := station_words(kept.station, kept.hours, now_s)):
        st.write(frame.plain(said))
    words, link = kept.attribution
    licence = " (CC BY 4.0)" if kept.source == METEO else ""
    notes = [frame.plain(f"{note}.") for note in notes_on(kept, ground.center)]
    st.caption(" ".join([f"[{words}]({link}){licence}.", *notes]))


def _when(time_s: float, ground: Property) -> str:
    at = datetime.datetime.fromtimestamp(time_s, ZoneInfo(ground.timezone))
    return f"{at:%a} {at.day} {at:%b}, {clock_text(time_s, ground.timezone)}"


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
    answers = Answers(likely_zone=likely_zone)
    for _ in QUESTION:
        known = st.session_state.get(READ)
        try:
            if known is None or known[:2] != (mark, answers):
                hours = read_weather(data, name, answers)
                st.session_state[READ] = known = (mark, answers, hours)
            return known[2]
        except NeedsAnswer as question:
            answer = _ask(question, mark)
            if answer is None:
                return None
            answers = dataclasses.replace(answers, **{question.asks: answer})
    return read_weather(data, name, answers)


def _ask(question: NeedsAnswer, mark: str) -> str | bool | None:
    """One open question as choices, each with what it would mean; None until answered."""
    means = {choice.value: choice.means for choice in question.choices}
    options = [*means, OTHER_ZONE] if question.asks == "zone" else list(means)
    st.write(frame.plain(f"{question.what}."))

    def said(value: str) -> str:
        if value == OTHER_ZONE:
            return OTHER_ZONE
        told = means[value] if question.asks == "dayfirst" else f"{value}: {means[value]}"
        return frame.plain(told)

    value = st.radio(
        QUESTION[question.asks], options, index=None, key=f"{question.asks}_{mark}",
        format_func=said,
    )  # fmt: skip
    if value == OTHER_ZONE:
        value = st.text_input("Zone, such as America/Denver or -07:00", key=f"other_{mark}")
        value = value.strip() or None
        if value:
            zone_of(value, "the zone")
    if value is not None and question.asks == "dayfirst":
        return value == "yes"
    return value


def _say_file(hours: Hours) -> None:
    stale = stale_note(hours, state.now_s())
    if stale:
        st.warning(frame.plain(f"{stale}."))
    count = f"{len(hours)} hour" if len(hours) == 1 else f"{len(hours)} hours"
    notes = [frame.plain(f"{note}.") for note in hours.notes]
    st.caption(" ".join([frame.plain(f"{hours.source or hours.format}: {count}."), *notes]))
