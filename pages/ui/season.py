"""Season winds, piece by piece: what is asked, how long it takes, what is found."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import streamlit as st

from core.ground.layout import Property
from core.sits.season import HALVES, SeasonAnswer, judge_season
from core.weather.hours import Hours
from core.weather.typical import typical_year
from pages.ui import data, state

TYPICAL, FILES = "typical year", "files of a station"
BOTH, WHOLE, OTHER = "both", "the whole season", "other dates"
BAR_AFTER_S = 1.0
FILE_HELP = "ISD-Lite, Global Hourly, ASOS, TMY3 or EPW; the years of one station together"
TYPICAL_SAYS = (
    "A typical year at Greensboro, North Carolina, put together from real months. It shows how "
    "the page works; for other country bring files of a station near you."
)


@dataclass(frozen=True, eq=False)
class Asked:
    """One season to judge; `question` tells it from others."""

    weather: Hours
    span: tuple[str, str] | None
    halves: tuple[str, ...]
    question: tuple


def ask(ground: Property, path: Path) -> Asked | None:
    """Which wind, which dates, which sits. Args: the property and its file.

    Returns: None where files are still to be brought. Raises: BadWeather.
    """
    by = st.segmented_control(
        "Wind history", [TYPICAL, FILES], default=TYPICAL, key="winds_by", required=True,
        **state.KEPT,
    )  # fmt: skip
    weather, named = _history(by)
    with st.container(horizontal=True, gap="small"):
        sit = st.segmented_control(
            "Sits", [BOTH, *HALVES], default=BOTH, key="season_sit", required=True, **state.KEPT
        )
        span = _dates(ground)
    if weather is None:
        return None
    halves = HALVES if sit == BOTH else (sit,)
    return Asked(weather, span, halves, (str(path), data.stamp(path), named, span, halves))


def _history(by: str) -> tuple[Hours | None, tuple]:
    if by == TYPICAL:
        st.caption(TYPICAL_SAYS)
        return typical_year(), ("typical",)
    files = st.file_uploader(FILE_HELP, accept_multiple_files=True, key="history_files")
    if not files:
        return None, ()
    weather = data.history(tuple((f.getvalue(), f.name) for f in files))
    for note in weather.notes[:4]:
        st.caption(note)
    return weather, tuple((f.name, f.size, f.file_id) for f in files)


def _dates(ground: Property) -> tuple[str, str] | None:
    parts = {f"{p.name} ({p.first} to {p.last})": (p.first, p.last) for p in ground.parts}
    choice = st.selectbox("Dates", [WHOLE, *parts, OTHER], key="season_part", **state.KEPT)
    if choice == WHOLE:
        return None
    if choice != OTHER:
        return parts[choice]
    season = ground.seasons[0] if ground.seasons else None
    with st.container(horizontal=True, gap="small"):
        first = st.text_input(
            "From (month-day)", season.first if season else "09-15", key="season_from", **state.KEPT
        )
        last = st.text_input(
            "To (month-day)", season.last if season else "01-01", key="season_to", **state.KEPT
        )
    return first, last


def judged(asked: Asked, path: Path) -> SeasonAnswer:
    """The season, judged once and kept while the same is asked. Args: what is asked; the
    property's file. Raises: BadRequest, NoForecast, NoSun."""

    def make() -> SeasonAnswer:
        return with_bar(
            lambda told: judge_season(
                data.scene(path), asked.weather, span=asked.span, halves=asked.halves,
                progress=told,
            ),
            "Judging every sit",
        )  # fmt: skip

    return state.kept_while("season_answer", asked.question, make)


def with_bar(work: Callable, words: str):
    """Does something, under a progress bar once it has taken a second.

    Args: what takes a function to tell the share done; words of the bar.
    """
    started, bars, place = time.monotonic(), [], st.empty()

    def told(share: float) -> None:
        if not bars and time.monotonic() - started > BAR_AFTER_S:
            bars.append(place.progress(0.0, words))
        for bar in bars:
            bar.progress(min(1.0, share), words)

    found = work(told)
    place.empty()
    return found
