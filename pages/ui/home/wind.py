"""The wind of the home screen: typed, pointed at, typical, of a file, or a forecast."""

import dataclasses
import datetime
from dataclasses import dataclass

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from core.angles import POINTS_16
from core.errors import BadWind, NoForecast
from core.ground.layout import Property
from core.ground.store import data_folder, demo_path
from core.weather.entry import BEAUFORT, EXAMPLE_WIND, parse_wind, sign_words
from core.weather.files.typical import typical_hours
from core.weather.given import Given, given_now, keep_given
from core.weather.given_file import drop_file
from core.weather.hours import Hours
from core.weather.services.live import forecast_for
from pages.ui import state
from pages.ui.choice import one_of
from pages.ui.home import kept_file
from pages.ui.home.forecast import OWN_FILE, file_panel, forecast_panel

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
        return AskedWind(_pointed())
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
    cloud = _cloud(sky)
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


def remember_given(ground: Property, asked: AskedWind, until_s: float | None) -> None:
    """Keeps a wind that was typed, or a file, until the sit is over that it was given for.

    Args: the property; the wind; the end of the sit [epoch s], None for one without a minute.
    """
    if asked.of_file:
        kept_file.remember(OWN_FILE, ground, until_s)
        return
    now_s = state.now_s()
    held = given_now(ground.uid, now_s)
    looking = state.ground_path() == demo_path()  # the demo keeps nothing
    if looking or not asked.words or until_s is None or until_s <= now_s:
        return
    drop_file(ground.uid)  # the words are what is meant now
    if held is not None and held.text == asked.words:
        return
    cloud = st.session_state.get("cloud") or NO_CLOUD
    since_s = asked.hours.fetched_s if asked.hours is not None else now_s
    keep_given(ground.uid, Given(asked.words, cloud, since_s or now_s, until_s))


def is_example(asked: AskedWind) -> bool:
    """Whether the wind is the demo's own. Args: the wind."""
    return asked.hours is not None and asked.hours.source == EXAMPLE_WIND


def say_example() -> None:
    """On the demo: that the wind is an example, and two presses that lead to another."""
    with st.container(horizontal=True, key="example", vertical_alignment="center"):
        st.caption("An example wind.")
        st.button("A typical day", key="take_typical", on_click=_take, args=("by", TYPICAL))
        st.button("Give the wind", key="give_wind", on_click=_take, args=("wind", ""))


def _take(key: str, value: str) -> None:
    st.session_state[key] = value
    state.afresh()


def type_here() -> None:
    """A line for the wind on a page that has none."""
    st.text_input("The wind now, in your words", key="wind_here", on_change=_typed_here)
    st.caption(WRITTEN)


def _typed_here() -> None:
    if words := st.session_state["wind_here"].strip():
        _take("by", TYPED)
        _take("wind", words)


def _pointed() -> Hours:
    """A point of the compass and a sign of its strength, for those without a gauge."""
    point = one_of(
        st.pills, "It comes from", POINTS_16, default="NW", key="point", on_change=state.afresh
    )
    forces = [f.force for f in BEAUFORT[:9]]
    signs = {f.force: sign_words(f) for f in BEAUFORT}
    force = st.selectbox(
        "What it moves",
        forces,
        index=2,
        key="sign",
        format_func=signs.get,
        on_change=state.afresh,
        **state.KEPT,
    )
    return parse_wind("calm" if force == 0 else f"{point} B{force}", _cloud())


NO_CLOUD = "not known"
CLOUDS = {NO_CLOUD: None, "clear": 0.0, "some": 0.3, "half": 0.5, "overcast": 1.0}


def _cloud(first: str = NO_CLOUD) -> float | None:
    first = first if first in CLOUDS else NO_CLOUD
    word = one_of(st.segmented_control, "Cloud", list(CLOUDS), default=first, key="cloud")
    return CLOUDS[word]


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
