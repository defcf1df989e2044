"""Season winds, piece by piece: what is asked, how long it takes, what is found."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import streamlit as st

from core.ground.layout import Property
from core.season.review import HALVES, SeasonAnswer, judge_season
from core.weather.files.history import read_history
from core.weather.files.recognise import listed
from core.weather.files.typical import typical_year
from core.weather.hours import Hours
from core.weather.reading.packed import LARGEST_MB
from core.weather.reading.reader import HISTORY as HISTORY_FILES
from pages.ui import data, frame, own_files, state
from pages.ui.choice import one_of
from pages.ui.season import own_history

TYPICAL, FILES, OWN = "typical year", "files of a station", "my own ground"
BOTH, WHOLE, OTHER = "both", "the whole season", "other dates"
BAR_AFTER_S = 1.0
HISTORY = own_files.FileSlot(
    "history_files",
    "Files of a station, all years together",
    "leave_history",
    "Leave these files out",
    f"Bring the files of a station near you: {listed(HISTORY_FILES, 'or')}. They stay on this "
    "machine, in use while this page is open. Or take the typical year.",
    LARGEST_MB,
    several=True,
)


@dataclass(frozen=True, eq=False)
class AskedSeason:
    """One season to judge; `question` tells it from others."""

    weather: Hours
    span: tuple[str, str] | None
    kinds: tuple[str, ...]
    question: tuple


def ask(ground: Property, path: Path) -> AskedSeason | None:
    """Which wind, which dates, which sits. Args: the property and its file.

    Returns: None where files are still to be brought, or leave something open, which is
    asked in place. Raises: BadWeather.
    """
    with st.container(horizontal=True, gap="small", vertical_alignment="bottom"):
        by = one_of(
            st.segmented_control,
            "Wind history",
            [TYPICAL, FILES, OWN],
            default=TYPICAL,
            key="winds_by",
        )
        with st.popover("Sits and dates"):
            sit = one_of(
                st.segmented_control, "Sits", [BOTH, *HALVES], default=BOTH, key="season_sit"
            )
            span = _dates(ground)
    if span:
        st.caption(frame.plain(f"Only the sits from {span[0]} to {span[1]} (month-day)."))
    weather, named = _history(by, ground)
    if weather is None:
        return None
    kinds = HALVES if sit == BOTH else (sit,)
    return AskedSeason(weather, span, kinds, (str(path), data.stamp(path), named, span, kinds))


def _history(by: str, ground: Property) -> tuple[Hours | None, tuple]:
    """The hours, and what tells them from others."""
    if by == TYPICAL:
        return typical_year(), (TYPICAL,)
    if by == OWN:
        return own_history.panel(ground)
    files = own_files.brought(HISTORY)
    if not files:
        return None, ()
    weather = own_files.hours_from(HISTORY, files, ground, read_history)
    if weather is None:
        return None, ()
    if weather.notes:
        st.caption(" ".join(frame.plain(f"{note}.") for note in weather.notes))
    return weather, own_files.question(HISTORY)


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


def judged(asked: AskedSeason, path: Path) -> SeasonAnswer:
    """The season, judged once and kept while the same is asked. Args: what is asked; the
    property's file. Raises: BadRequest, NoForecast, NoSun."""

    def make() -> SeasonAnswer:
        return with_bar(
            lambda told: judge_season(
                data.scene(path),
                asked.weather,
                span=asked.span,
                kinds=asked.kinds,
                progress=told,
            ),
            "Judging every sit",
        )

    return kept("season_answer", asked.question, make)


def kept(key: str, question: tuple, make: Callable[[], Any]) -> Any:
    """What takes long, kept while the same is asked; of the typical year for every visitor.

    Args: its key; what is asked; what answers it.
    """
    keep = data.for_all if question[2] == (TYPICAL,) else state.kept_while
    return keep(key, question, make)


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
