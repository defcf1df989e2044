"""Try a tree: what a spot would be for the sit that is asked about, and over a season."""

import dataclasses
import functools
from collections.abc import Callable
from typing import Any

import streamlit as st

from core.answer.tryout import (
    Tried,
    on_its_slope,
    season_share,
    spot,
    tried_dates,
    try_sit,
)
from core.criticism.common_wind import near_typical
from core.errors import StandWindError
from core.ground.heights.slope_at import slope_text
from core.ground.layout import COVERS, LIES, SEATS, LonLat, Property, Stand
from core.ground.store import Opened
from core.land.kept import KeptLand, land_of
from core.say.tryout import share_line, tried_lines, with_stand
from core.show.map import sit_map
from core.weather.files.typical import typical_hours
from pages.ui import frame, keeping
from pages.ui.ground_sheet import picture
from pages.ui.home.sit import ask_sit
from pages.ui.home.wind import ask_wind

LON, LAT = "try_lon", "try_lat"  # of the spot; a tap on a map sets them by `try_here`
SEASON = "try_season"
HELD: dict[str, Any] = {"persist_state": "session"}
# wide enough that a phone shows each whole, on a line of its own
DEGREES: dict[str, Any] = {"step": 0.0001, "format": "%.5f", "width": 220, **HELD}


def try_here(lon: float, lat: float) -> None:
    """Moves the spot. For callbacks, as of a tap on a map. Args: its place. [deg]"""
    st.session_state[LON], st.session_state[LAT] = round(lon, 5), round(lat, 5)


def tryout_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """A spot and its answer. Args: the property; where a new stand is kept, None saves."""
    keeping.show_note()
    ground = opened.property
    heights = land_of(opened)[0]
    stand = on_its_slope(_ask_spot(ground), heights)
    if stand.grade_pct is not None:
        slope = slope_text(stand.downhill_deg, stand.grade_pct)
        st.caption(f"Slope here, by your heights: {slope}.")
    with st.container(horizontal=True):
        asked = ask_sit(ground)
        told = _said(lambda: ask_wind(ground, asked.date))
    wind = told.hours if told is not None else None
    if told is not None and told.trouble:
        st.error(frame.plain(told.trouble))
    if wind is None:
        st.write("Press Wind and say it, to be told what this spot would be.")
    else:
        _said(
            lambda: _show(
                try_sit(ground, stand, wind, asked.date, asked.sit, asked.hunter, heights)
            )
        )
    _said(lambda: _season(opened, stand, asked.date.year, heights))
    change = functools.partial(with_stand, stand=stand)
    st.button(
        "Hang a stand here",
        key="try_keep",
        disabled=not keeping.ready(opened, keep),
        on_click=keeping.keep_now,
        args=(opened, change, "A stand hangs where you tried.", keep),
    )


def _said(do: Callable[[], Any]) -> Any:
    """Does it; an error that the user can put right is shown, and the page goes on."""
    try:
        return do()
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return None


def _ask_spot(ground: Property) -> Stand:
    if LON not in st.session_state:
        try_here(*ground.center)
    with st.container(horizontal=True):
        lat = st.number_input("Latitude", -90.0, 90.0, key=LAT, **DEGREES)
        lon = st.number_input("Longitude", -180.0, 180.0, key=LON, **DEGREES)
    at: LonLat = (lon, lat)
    with st.container(horizontal=True):
        seat = st.selectbox("Seat", SEATS, key="try_seat", **HELD)
        usual = spot(at, seat).height_ft
        height = st.number_input(
            "Height, feet", 0.0, 100.0, usual, 1.0, key=f"try_height_{seat}", format="%.0f"
        )
        lies = st.selectbox("Lies on", LIES, index=LIES.index("flat"), key="try_lies", **HELD)
    cover = st.segmented_control(
        "Cover", COVERS, default="timber", key="try_cover", required=True, **HELD
    )
    return spot(at, seat, height, cover=cover, lies=lies)


def _show(tried: Tried) -> None:
    first, *rest = tried_lines(tried)
    words, drawing = st.columns(2)
    with words:
        st.subheader(frame.plain(first))
        for line in rest:
            st.write(frame.plain(line))
    with drawing:
        picture(lambda wide: sit_map(tried.sit, tried.own, name="try", width=wide), "try_map")


def _season(opened: Opened, stand: Stand, year: int, heights: KeptLand | None) -> None:
    """Counted on a press, because it takes some seconds; kept until the spot changes."""
    ground = opened.property
    asked = repr((ground.uid, ground.revision, dataclasses.astuple(stand), year))
    if st.button("Over the season's winds", key="try_count"):
        with st.spinner("Trying the season, day by day…"):
            shares = season_share(ground, stand, typical_hours, tried_dates(ground, year), heights)
        st.session_state[SEASON] = (asked, [share_line(share) for share in shares])
    kept, lines = st.session_state.get(SEASON, ("", []))
    if kept != asked:
        return
    for line in lines:
        st.write(frame.plain(line))
    st.caption("The winds are those of a typical year at Greensboro, North Carolina.")
    if not near_typical(ground):
        st.warning("That is not near your ground: take the count as an example.")
