"""The wind from a forecast service or from a file, for the screens that need hours."""

import streamlit as st

from core.errors import NoForecast, StandWindError
from core.ground.layout import Property
from core.ground.store import data_folder
from core.weather.age import stale_note
from core.weather.files.recognise import read_weather
from core.weather.hours import Hours
from core.weather.services import runs
from core.weather.services.live import noted_hours
from core.weather.services.sources import AUTO, METEO, NWS, SOURCES, rounded, where_it_goes
from pages.ui import frame, own_files, state
from pages.ui.choice import one_of
from pages.ui.home import fetching, kept_file

SOURCE_SAID = {AUTO: "what fits the place", NWS: "Weather Service", METEO: "Open-Meteo"}
OWN_FILE = own_files.FileSlot(
    "weather_file",
    "Weather file",
    "leave_file",
    "Leave this file out",
    "No weather file yet. It stays on this machine.",
    10,
    help="A forecast or a wind history: see the README for the formats.",
)


def forecast_panel(ground: Property) -> Hours | None:
    """The live forecast: fetched on a button, else the kept one, with its age.

    Args: the property. Returns: its hours; None where none is kept yet. Says where the
    request goes before anything is asked.
    """
    source = one_of(
        st.segmented_control,
        "Source",
        SOURCES,
        default=AUTO,
        key="source",
        format_func=SOURCE_SAID.get,
    )
    st.caption(frame.plain(where_it_goes(ground.center, source)))
    with st.container(horizontal=True, key="get"):
        get = st.button("Get the forecast", key="get_forecast", type="primary")
        camp = st.button("Get the next days for camp", key="get_camp")
    kept = fetching.fetched(ground, source, camp) if get or camp else None
    kept = kept or fetching.last_kept(ground, source)
    if kept is None:
        return None
    fetching.say(kept, ground)
    _runs_press(ground)
    return noted_hours(kept, ground.center)


def _runs_press(ground: Property) -> None:
    """How far forecasts part: a press of its own, with what it asks said before."""
    st.markdown("**How far forecasts part**")
    st.caption(frame.plain(f"{runs.FOR_WHAT} {runs.said_before(ground.center)}"))
    now_s, folder = state.now_s(), data_folder()
    if st.button("Fetch how far forecasts part", key="get_runs"):
        try:
            runs.fetch_runs(ground.center, folder, now_s=now_s)
        except NoForecast as fault:
            st.warning(frame.plain(fault.text()))
    found = runs.kept_runs(folder, rounded(ground.center), now_s)
    if found is not None:
        st.write(frame.plain(f"{runs.runs_words(found, now_s)}."))
        st.caption(f"[{runs.CREDIT}]({runs.CREDIT_LINK}) ({runs.LICENCE}).")


def file_panel(ground: Property, *, for_sit: bool = True) -> Hours | None:
    """A weather file of the user's own; what it leaves open is asked, not guessed.

    Args: the property, whose zone is offered first and for which the file has to be; whether
    it is for a sit, which keeps it until it is over.
    Returns: the hours; None where there is no file yet, a question is open, or it can't be
    used (which is said).
    """
    held = kept_file.put_back(OWN_FILE, ground)
    files = own_files.brought(OWN_FILE)
    if not files:
        kept_file.leave(ground)
        return None
    st.caption(kept_file.how_long(for_sit=for_sit))
    try:
        hours = own_files.hours_from(
            OWN_FILE,
            files,
            ground,
            lambda f, a: read_weather(*f[0], a),
            held.answers if held else None,
        )
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return None
    if hours is not None:
        _say_file(hours)
    return hours


def _say_file(hours: Hours) -> None:
    stale = stale_note(hours, state.now_s())
    if stale:
        st.warning(frame.plain(f"{stale}."))
    count = f"{len(hours)} hour" if len(hours) == 1 else f"{len(hours)} hours"
    notes = [frame.plain(f"{note}.") for note in hours.notes]
    st.caption(" ".join([frame.plain(f"{hours.source or hours.format}: {count}."), *notes]))
