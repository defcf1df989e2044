"""The wind of the home screen: typed, pointed at, typical, of a file, or a forecast."""

import dataclasses
import datetime
from dataclasses import dataclass

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from core.errors import BadWind, NoForecast
from core.ground.layout import Property
from core.ground.store import data_folder, demo_path
from core.weather.entry import EXAMPLE_WIND, parse_wind
from core.weather.files.typical import typical_hours
from core.weather.given import given_now
from core.weather.hours import Hours
from core.weather.services.live import forecast_for
from pages.ui import state
from pages.ui.choice import one_of
from pages.ui.home import kept_file
from pages.ui.home.forecast import file_panel, forecast_panel
from pages.ui.home.signs import NO_CLOUD, ask_cloud, pointed

TYPED, POINTED, TYPICAL, FILE, LIVE = "type it", "point", "typical day", "file", "forecast"
EXAMPLE = "NW 8"  # what the demo starts with
UNDERSTOOD = "wind_understood"  # the last words that were a wind, by ground
WRITTEN = (
    "NW 8 · nw 8-12 gusting 20 · 8 mph from the south · 315 at 4 m/s · W B3 · calm · "
    "light and variable"
)


@dataclass(frozen=True, slots=True)
class AskedWind:
    """What was asked: hours, None where nothing was given yet, and what was not understood."""

    hours: Hours | None
    trouble: str = ""
    words: str = ""  # as typed, and understood
    of_file: bool = False
    below: DeltaGenerator | None = None  # room under the ways to tell it


def ask_wind(ground: Property, date: datetime.date) -> AskedWind:
    """The wind, by any of the ways to tell it, behind one button.

    Args: the property; the day, for a typical one. Raises: BadWeather.
    """
    with st.popover("Wind", width="stretch"):
        told = _told(ground, date)
        return dataclasses.replace(told, below=st.container())


def _told(ground: Property, date: datetime.date) -> AskedWind:
    by = one_of(
        st.segmented_control,
        "The wind comes from",
        [TYPED, POINTED, TYPICAL, FILE, LIVE],
        key="by",
        default=_first_way(ground),
        on_change=state.afresh,
    )
    if by == TYPED:
        return _typed(ground)
    if by == POINTED:
        return AskedWind(pointed())
    if by == TYPICAL:
        st.caption(
            "The hours of this calendar day in a typical year at Greensboro, North "
            "Carolina. Not a forecast, and not for other country."
        )
        return AskedWind(typical_hours(date))
    if by == FILE:
        return AskedWind(file_panel(ground), of_file=True)
    return AskedWind(forecast_panel(ground))


def _typed(ground: Property) -> AskedWind:
    own = state.ground_path() != demo_path()
    held = given_now(ground.uid, state.now_s())
    given, sky = state.kept_default(
        f"wind_given_{ground.uid}", lambda: (held.text, held.cloud) if held else ("", NO_CLOUD)
    )
    first = given or ("" if own else EXAMPLE)
    words = st.text_input("Wind", value=first, key="wind", on_change=state.afresh, **state.KEPT)
    st.caption(WRITTEN)
    cloud = ask_cloud(sky)
    try:
        hours, trouble = (parse_wind(words, cloud) if words else None), ""
        st.session_state[f"{UNDERSTOOD}_{ground.uid}"] = words
    except BadWind as fault:
        words, trouble = st.session_state.get(f"{UNDERSTOOD}_{ground.uid}", first), fault.text()
        hours = parse_wind(words, cloud) if words else None
    if hours is not None and words == EXAMPLE and not (own or given):
        return AskedWind(dataclasses.replace(hours, source=EXAMPLE_WIND), trouble)
    if hours is None:
        return AskedWind(None, trouble)
    was_held = held is not None and held.text == words
    since_s = held.given_s if was_held else state.kept_default(f"since_{words}", state.now_s)
    return AskedWind(dataclasses.replace(hours, fetched_s=since_s), trouble, words)


def _first_way(ground: Property) -> str:
    """A wind that was given for this sit is what one means, else a kept forecast."""

    def kept() -> str:
        if kept_file.held_file(ground) is not None:
            return FILE
        if given_now(ground.uid, state.now_s()) is not None:
            return TYPED
        try:
            forecast_for(ground.center, data_folder(), now_s=state.now_s(), offline=True)
        except NoForecast:
            return TYPED
        return LIVE

    return state.kept_default(f"first_way_{ground.uid}", kept)
