"""A forecast from its service or from the kept ones, and what is said of it."""

import dataclasses
import datetime
from zoneinfo import ZoneInfo

import streamlit as st

from core.errors import NoForecast
from core.ground.layout import Property
from core.ground.store import data_folder
from core.say.words import clock_text
from core.weather.services.kept import Kept
from core.weather.services.live import age_words, fetch_camp_days, forecast_for, notes_on
from core.weather.services.sources import METEO
from core.weather.services.station import station_words
from pages.ui import frame, state

TROUBLE = "forecast_trouble"  # (ground, source) of the last fetch that failed, and why


def fetched(ground: Property, source: str, camp: bool) -> Kept | None:
    """Asks the service while a bar shows how far the time limit is used.

    Args: the property; the source; whether for camp. Returns: None where none came.
    """
    bar = st.progress(0.0, text="Asking for the forecast")
    st.session_state.pop(TROUBLE, None)
    ask = fetch_camp_days if camp else forecast_for
    try:
        kept = ask(
            ground.center,
            data_folder(),
            now_s=state.now_s(),
            source=source,
            progress=lambda words, part: bar.progress(part, text=frame.plain(words)),
        )
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


def last_kept(ground: Property, source: str) -> Kept | None:
    """The kept forecast; what went wrong with the last fetch is still said.

    Args: the property; the source. Returns: None where none is kept.
    """
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


def say(kept: Kept, ground: Property) -> None:
    """Its age, its end, the last station report and where it is from."""
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
