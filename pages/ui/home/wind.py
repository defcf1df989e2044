"""The wind of the home screen: typed, pointed at, typical, of a file, or a forecast."""

import dataclasses
import datetime

import streamlit as st

from core.angles import POINTS_16
from core.errors import NoForecast
from core.ground.layout import Property
from core.ground.store import data_folder, demo_path
from core.weather.entry import BEAUFORT, EXAMPLE_WIND, parse_wind
from core.weather.files.typical import typical_hours
from core.weather.hours import Hours
from core.weather.services.live import forecast_for
from pages.ui import state
from pages.ui.choice import one_of
from pages.ui.home.forecast import file_panel, forecast_panel

TYPED, POINTED, TYPICAL, FILE, LIVE = "type it", "point", "typical day", "file", "forecast"


EXAMPLE = "NW 8"  # what the demo starts with


def ask_wind(ground: Property, date: datetime.date) -> Hours | None:
    """The wind, by any of the ways to tell it, behind one button.

    Args: the property; the day, for a typical one. Returns: hours; None where nothing
    was given yet. Raises: BadWind, BadWeather.
    """
    with st.popover("Wind", width="stretch"):
        by = one_of(
            st.segmented_control,
            "The wind comes from",
            [TYPED, POINTED, TYPICAL, FILE, LIVE],
            key="by",
            default=_first_way(ground),
            on_change=state.afresh,
        )
        if by == TYPED:
            return _typed()
        if by == POINTED:
            return _pointed()
        if by == TYPICAL:
            st.caption(
                "The hours of this calendar day in a typical year at Greensboro, North "
                "Carolina. Not a forecast, and not for other country."
            )
            return typical_hours(date)
        return file_panel(ground) if by == FILE else forecast_panel(ground)


def _typed() -> Hours | None:
    own = state.ground_path() != demo_path()
    words = st.text_input(
        "Wind", value="" if own else EXAMPLE, key="wind", on_change=state.afresh, **state.KEPT
    )
    st.caption("NW 8 · nw 8-12 mph gust 20 · 315 at 4 m/s · W B3 · calm · variable 3")
    if not words:
        return None
    hours = parse_wind(words, _cloud())
    return hours if own or words != EXAMPLE else dataclasses.replace(hours, source=EXAMPLE_WIND)


def _pointed() -> Hours:
    """A point of the compass and a sign of its strength, for those without a gauge."""
    point = one_of(
        st.pills, "It comes from", POINTS_16, default="NW", key="point", on_change=state.afresh
    )
    forces = [f.force for f in BEAUFORT[:9]]
    signs = {f.force: f"{f.sign} ({f.low_mph:.0f} to {f.high_mph:.0f} mph)" for f in BEAUFORT}
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


def _cloud() -> float | None:
    said = {"not known": None, "clear": 0.0, "some": 0.3, "half": 0.5, "overcast": 1.0}
    word = one_of(st.segmented_control, "Cloud", list(said), default="not known", key="cloud")
    return said[word]


def _first_way(ground: Property) -> str:
    """A forecast kept for this ground is what one means; else the wind is typed."""

    def kept() -> str:
        try:
            forecast_for(ground.center, data_folder(), now_s=state.now_s(), offline=True)
        except NoForecast:
            return TYPED
        return LIVE

    return state.kept_default(f"first_way_{ground.uid}", kept)
