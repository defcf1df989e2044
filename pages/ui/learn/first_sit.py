"""First sit for a guest: which seat, this evening, and who sits near."""

import streamlit as st

from core.answer.one_sit import answer_sit
from core.learn.classroom import date_text
from core.learn.first_sit import GuestSit, guest_sits
from core.learn.turn_the_wind import turned_wind
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from pages.ui import frame
from pages.ui.learn import parts

WORDS = ("stand", "go", "stay-out", "cant-call", "clean", "like", "common-practice")
FIRST = (
    "Before the guest climbs: a full-body harness from the ground up, an unloaded weapon on the "
    "haul line, and who is where. Local rules come first."
)


def show(scene: Scene) -> tuple[str, ...]:
    """The part. Args: the ground. Returns: keys of the words it uses."""
    st.markdown(FIRST)
    if not scene.ground.stands:
        return parts.no_stands(WORDS)
    point, strength = parts.wind_controls()
    date = parts.teaching_day(scene.ground)
    answer = answer_sit(prepare_sit(scene, turned_wind(point, strength), date, "evening"))
    guests = guest_sits(answer)
    good = [g for g in guests if g.fits]
    st.header(_headline(good), anchor=False)
    st.caption(
        f"{date_text(date)}, evening: the walk in is by daylight (common practice). "
        "A wind you turned, not a forecast."
    )
    for one in good:
        _row(one)
    with st.expander(f"Not for a first sit today ({len(guests) - len(good)})"):
        for one in guests:
            if not one.fits:
                _row(one)
    return WORDS


def _headline(good: list[GuestSit]) -> str:
    if not good:
        return "No seat for a guest in this wind"
    return f"First: {frame.plain(good[0].seat.stand.name)}"


def _row(one: GuestSit) -> None:
    verdict = parts.verdict_line(one.seat.verdict)
    st.markdown(f"**{frame.plain(one.seat.stand.name)}** · {verdict}")
    for line in one.why:
        st.markdown(f"- {frame.plain(line)}")
