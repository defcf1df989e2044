"""Will it hold: the chance of the sit that is looked at, and plan B.

The tables that many winds are judged by take a moment for each ground. The first answer of a
ground is on the screen before they are made; later answers have their chances at once.
"""

import streamlit as st

from core.answer.chances import Misses
from core.answer.one_sit import SitAnswer, StandSit
from core.chance.own_pairs import misses_here
from core.chance.shares import TOO_FAR, why_none, with_chances
from core.ground.store import data_folder
from core.say.chance.words import changed_text, count_text
from core.show.chance.ten_mornings import chance_html
from core.show.chance.wind_ticks import ticks_told, wind_ticks
from core.show.palette import DARK
from core.units import SECONDS_PER_HOUR
from core.weather.services.kept import kept_files
from core.weather.services.runs import runs_stamp
from core.weather.services.sources import rounded
from pages.ui import data, frame, state

LIKELY, READY = "likely", "tables for many winds"


def at_once(answer: SitAnswer) -> SitAnswer:
    """The answer with its chances where they take no waiting; else as it is.

    Args: the answer by the forecast alone.
    """
    ready = READY in answer.sit.scene.kept("ready", set)
    # what is too far out may still be told by the runs of a model, which are read later
    none = why_none(answer, state.now_s())
    return likely(answer) if ready or none not in ("", TOO_FAR) else answer


def likely(answer: SitAnswer) -> SitAnswer:
    """The answer with its chances, worked out once. Args: the answer by the forecast alone."""

    own = misses(answer)

    def made() -> SitAnswer:
        found = with_chances([answer], state.now_s(), own)[0]
        if found.chances is not None and not found.chances.none:
            answer.sit.scene.kept("ready", set).add(READY)
        return found

    return state.kept_while(LIKELY, (answer, own), made)


def misses(answer: SitAnswer) -> Misses | None:
    """How far forecasts miss here by what was kept and felt; None for what is no forecast.

    Args: the answer.
    """
    weather, ground = answer.sit.weather, answer.sit.scene.ground
    if weather.kind != "forecast":
        return None
    folder, now_s, place = data_folder(), state.now_s(), rounded(ground.center)
    kept = kept_files(folder, place)
    newest = (len(kept), kept[0].name if kept else "", runs_stamp(folder, place))
    hour = now_s // SECONDS_PER_HOUR  # runs that have grown old are dropped
    question = (ground.air.forecast_miss_times, weather.format, *newest, hour)
    return data.from_log(
        ground,
        f"misses {question}",
        lambda log: misses_here(weather, ground, folder, log.felt() if log else (), now_s=now_s),
    )


def hold(answer: SitAnswer, seat: StandSit, shown: SitAnswer) -> None:
    """The sentence, ten marks, plan B and the winds that may come.

    Args: an answer with its chances; the stand that is looked at; the answer as the rest of
    the screen has it.
    """
    chances = answer.chances
    if chances is None or answer.sit.weather.kind != "forecast":
        return
    st.html(chance_html(answer, seat))
    if chances.none == TOO_FAR:
        st.caption("Fetch how far forecasts part, under Wind: then it can be told.")
    if shown.chances is None and (changed := changed_text(shown, answer)):
        st.caption(frame.plain(changed))
    if chances.shares(seat.stand.id) is None:
        return
    st.image(wind_ticks(answer, seat, DARK), width="stretch", alt=ticks_told(answer, seat))
    st.caption(
        "Above the line: the winds it works with, full. Below: where the wind came from in "
        f"{chances.draws} draws, longer where more fall; the arrow is the forecast."
    )
    ground = answer.sit.scene.ground
    if count := data.from_log(
        ground, "count", lambda log: count_text(log.of_calls() if log else ())
    ):
        st.caption(frame.plain(count))
