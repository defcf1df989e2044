"""The next sits of a forecast: each its first choice, how likely it holds, and plan B."""

import datetime

import streamlit as st

from core.answer.chances import Misses
from core.answer.coming import next_sits
from core.answer.one_sit import SitAnswer
from core.chance.shares import with_chances
from core.say.chance.words import later_text
from core.say.headline import sit_line
from core.say.words import VERDICTS_SAID, at_time, wind_text
from core.show.compared import group_word
from core.sit.verdicts import GO
from pages.ui import frame, state
from pages.ui.home.hold import misses
from pages.ui.home.sit import weapon_asked

KEPT_S = 600.0


def coming(answer: SitAnswer) -> None:
    """The next six sits of a forecast, each a way to its answer. Args: the answer."""
    st.header("The next sits")
    sit = answer.sit
    if sit.weather.kind != "forecast":
        st.caption("Needs a forecast: from a file or from the network, under Wind.")
        return
    weapon = weapon_asked(sit.scene.ground, sit.clock.date)
    every_s = state.now_s() // KEPT_S  # a sit that began meanwhile is no longer offered
    own = misses(answer)
    question = (answer.judged, answer.sit, weapon, every_s, own)
    for later in state.kept_while("coming", question, lambda: _likely(answer, weapon, own)):
        clock = later.sit.clock
        with st.container(key=f"coming-{clock.date.isoformat()}-{clock.sit}", gap=None):
            st.button(
                frame.plain(f"{sit_line(later.sit, short=True)}: {wind_text(later.sit)}"),
                key=f"go-{clock.date.isoformat()}-{clock.sit}",
                type="tertiary",
                width="stretch",
                on_click=_look_at,
                args=(clock.date, clock.sit),
            )
            st.caption(frame.plain(coming_line(later)))


def _likely(answer: SitAnswer, weapon: str | None, own: Misses | None) -> list[SitAnswer]:
    """The next sits with their chances."""
    sit, now_s = answer.sit, state.now_s()
    found = next_sits(
        sit.scene,
        sit.weather,
        now_s,
        hunter=sit.hunter.name if sit.hunter else None,
        weapon=weapon,
        log=sit.sits.log,
        taken=answer.taken,
    )
    return with_chances(found, now_s, own)


def _look_at(date: datetime.date, sit: str) -> None:
    st.session_state["date"], st.session_state["sit"] = date, sit
    state.afresh()


def coming_line(later: SitAnswer) -> str:
    """A later sit in a line: its first choice, and when to leave for it. Args: its answer."""
    best = later.best
    if best is None:
        return "No stands."
    told = f"{frame.GLYPHS[best.verdict]} {group_word(best.group)}: {best.stand.name}"
    word = VERDICTS_SAID[best.verdict]
    told += "" if word == group_word(best.group) else f" ({word})"
    if best.group == GO and best.leave_truck_s is not None:
        told += f", leave {at_time(later.sit, best.leave_truck_s)}"
    return f"{told}. {later_text(later)}".rstrip()
