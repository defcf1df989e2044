"""The wind of one's own ground over the years: fetched in one press, kept, stopped and gone on."""

from collections.abc import Iterator

import streamlit as st

from core.errors import NoForecast
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.store import data_folder
from core.say.words import noted
from core.weather.hours import Hours
from core.weather.services import history_press, station_years
from core.weather.services.autumns import history_folder, modelled_history
from core.weather.services.history_press import Got
from core.weather.services.sources import rounded
from pages.ui import data, frame, state
from pages.ui.choice import one_of

MODELLED, MEASURED = "modelled, for this place", "measured, at a station"
STATIONS, TOLD, OPEN = "history_stations", "history_told", "stations_open"


def panel(ground: Property) -> tuple[Hours | None, tuple]:
    """The presses, and the kept wind that is looked at. Args: the property.

    Returns: its hours and what tells them from others; None where none is kept yet.
    """
    if not only_looking():
        _presses(ground)
    if told := st.session_state.get(TOLD):
        st.warning(frame.plain(told))
    by = kept(ground)
    if not by:
        st.write("No wind of this ground is kept yet.")
        return None, ()
    which = next(iter(by))
    if len(by) > 1:
        which = one_of(
            st.segmented_control, "Which wind", list(by), default=MEASURED, key="own_wind"
        )
    st.caption(" ".join(map(frame.plain, noted(by[which].notes))))
    return by[which], ("own", which, _stamp(ground))


def kept(ground: Property) -> dict[str, Hours]:
    """The kept histories of a ground, read again whenever they have changed."""

    def read() -> dict[str, Hours]:
        place = rounded(ground.center)
        found = {
            MODELLED: modelled_history(data_folder(), place),
            MEASURED: station_years.measured_history(data_folder(), place),
        }
        return {name: hours for name, hours in found.items() if hours is not None}

    return state.kept_while("own_history", (ground.center, _stamp(ground)), read)


def _stamp(ground: Property) -> tuple:
    files = sorted(history_folder(data_folder(), rounded(ground.center)).glob("*.gz"))
    return tuple((file.name, data.stamp(file)) for file in files)


def _presses(ground: Property) -> None:
    center, now_s, folder = ground.center, state.now_s(), data_folder()
    years = one_of(
        st.segmented_control, "Autumns", history_press.YEARS, default=10, key="history_years"
    )
    st.caption(frame.plain(history_press.said_before(center, years)))
    if st.button("Get the wind of this ground", key="get_history", type="primary"):
        run_press(
            history_press.fetch_autumns(ground.seasons, center, years, folder, now_s=now_s),
            "Asking for the first autumn",
        )
    with st.expander(
        "Measured wind of a station near by", expanded=st.session_state.get(OPEN, False)
    ):
        st.caption(
            "Reports of an airfield: measured, but not on your ground. Asks www.ncei.noaa.gov for "
            "its list of stations, which tells it nothing of your ground. In the public domain."
        )
        if st.button("List the five nearest", key="list_stations", on_click=_stay_open):
            with frame.guarded():
                st.session_state[STATIONS] = station_years.nearest_stations(center, now_s=now_s)
        for station in st.session_state.get(STATIONS, ()):
            line = station_years.station_line(station, ground.elevation_m or None)
            st.markdown(frame.plain(line))
            if st.button(f"Get its last {years} autumns", key=f"get_{station.id}"):
                st.caption(frame.plain(station_years.said_before(station.id)))
                run_press(
                    station_years.fetch_station(
                        ground.seasons, center, years, station.id, folder, now_s=now_s
                    ),
                    "Asking for the first year",
                )


def _stay_open() -> None:
    """What was asked for in a fold is not hidden by it."""
    st.session_state[OPEN] = True


def run_press(press: Iterator[Got], first: str, told: str = TOLD) -> None:
    """One press, told as it goes; any other tap stops it, and what came is kept.

    Args: the press; what is said first; where what went wrong is kept.
    """
    st.session_state.pop(told, None)
    st.button("Stop. What came is kept", key="stop_history")
    bar = st.progress(0.0, text=first)
    got = None
    try:
        for got in press:
            bar.progress(got.done / got.of, text=frame.plain(got.words))
        if got is None:
            st.caption("All of it is kept: nobody was asked.")
    except (NoForecast, OSError) as fault:
        st.session_state[told] = fault.text() if isinstance(fault, NoForecast) else str(fault)
    bar.empty()
