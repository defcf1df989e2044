"""What is asked on the home screen: the sit, and the wind."""

import dataclasses
import datetime
from dataclasses import dataclass

import streamlit as st

from core.angles import POINTS_16
from core.answer.coming import next_reachable
from core.errors import NoForecast
from core.ground.layout import Property
from core.ground.store import data_folder, demo_path
from core.sit.clock import SITS
from core.weather.entry import BEAUFORT, EXAMPLE_WIND, parse_wind
from core.weather.files.typical import typical_hours
from core.weather.hours import Hours
from core.weather.services.live import forecast_for
from pages.ui import frame, state
from pages.ui.choice import one_of
from pages.ui.home.forecast import file_panel, forecast_panel

SIT_SAID = {"morning": "morning", "evening": "evening", "all-day": "all day"}
TYPED, POINTED, TYPICAL, FILE, LIVE = "type it", "point", "typical day", "file", "forecast"
NOBODY = "anyone"
FIRST_SEASON = "the season of the day"
EXAMPLE = "NW 8"  # what the demo starts with


@dataclass(frozen=True, slots=True)
class AskedSit:
    """One sit to answer."""

    date: datetime.date
    sit: str
    hunter: str | None
    weapon: str | None


def ask_sit(ground: Property) -> AskedSit:
    """Day, sit, hunter and weapon, behind one button. Args: the property."""
    first = state.kept_default("first_sit", lambda: next_reachable(ground, state.now_s()))
    with st.popover("Day and sit", width="stretch"):
        date = st.date_input("Day", value=first[0], key="date", on_change=_afresh, **state.KEPT)
        sit = one_of(
            st.segmented_control,
            "Sit",
            SITS,
            default=first[1],
            key="sit",
            format_func=SIT_SAID.get,
            on_change=_afresh,
        )
        hunter = weapon = None
        if ground.people:
            names = [NOBODY, *(p.name for p in ground.people)]
            hunter = st.selectbox("Who sits", names, key="hunter", **state.KEPT)
        weapons = list(dict.fromkeys(s.weapon for s in ground.seasons))
        if len(weapons) > 1:
            weapon = st.selectbox("Season", [FIRST_SEASON, *weapons], key="weapon", **state.KEPT)
    return AskedSit(
        date, sit, None if hunter == NOBODY else hunter, None if weapon == FIRST_SEASON else weapon
    )


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
            on_change=_afresh,
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
        "Wind", value="" if own else EXAMPLE, key="wind", on_change=_afresh, **state.KEPT
    )
    st.caption("NW 8 · nw 8-12 mph gust 20 · 315 at 4 m/s · W B3 · calm · variable 3")
    if not words:
        return None
    hours = parse_wind(words, _cloud())
    return hours if own or words != EXAMPLE else dataclasses.replace(hours, source=EXAMPLE_WIND)


def _pointed() -> Hours:
    """A point of the compass and a sign of its strength, for those without a gauge."""
    point = one_of(
        st.pills, "It comes from", POINTS_16, default="NW", key="point", on_change=_afresh
    )
    forces = [f.force for f in BEAUFORT[:9]]
    signs = {f.force: f"{f.sign} ({f.low_mph:.0f} to {f.high_mph:.0f} mph)" for f in BEAUFORT}
    force = st.selectbox(
        "What it moves",
        forces,
        index=2,
        key="sign",
        format_func=signs.get,
        on_change=_afresh,
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


def _afresh() -> None:
    """Another sit or wind: the first choice heads the screen again."""
    state.choose("stand", "")


def ask_others(ground: Property, asked: AskedSit) -> dict[str, str]:
    """Who else sits where today. Args: the property; the sit.

    Returns: names by the id of the stand each has taken.
    """
    stands = {stand.id: stand.name for stand in ground.stands}
    taken: dict[str, str] = {}
    for i, person in enumerate(p for p in ground.people if p.name != asked.hunter):
        where = st.selectbox(
            frame.plain(person.name),
            ["", *stands],
            key=f"seat{i}",
            format_func=lambda x: stands.get(x, "not out today"),
            **state.KEPT,
        )
        if where:
            taken[where] = person.name
    return taken
