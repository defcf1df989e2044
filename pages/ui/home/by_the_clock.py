"""The sit by the clock: the ruler of the stand looked at, and all stands beside it."""

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit
from core.say.pieces.told import SPANS, clock_lines
from core.show.hours.dusk_clock import dusk_clock
from core.show.hours.until import until_html, until_rows
from core.show.palette import DARK
from pages.ui import frame, state

MOST_STANDS = 40


def by_the_clock(answer: SitAnswer, seat: StandSit) -> None:
    """When the air goes where, and which stand can be sat until when.

    Args: the answer; the stand that is looked at.
    """
    drawn = dusk_clock(answer.sit, seat, DARK)
    if not drawn:
        return
    lines = clock_lines(answer.sit, seat)
    rows = state.kept_while("until", (answer,), lambda: until_rows(answer, MOST_STANDS))
    with st.container(key="clock_ruler"):
        half = SPANS[answer.sit.clock.sit].removeprefix("all ")
        st.header(frame.plain(f"{seat.stand.name}, the {half} by the clock"))
        st.image(drawn, width="stretch", alt=" ".join(lines))
        with st.expander("The same in words"):
            st.markdown("\n".join(f"- {frame.plain(line)}" for line in lines))
    with st.container(key="clock_stands"):
        st.header("Which stand until when")
        st.html(until_html(answer, rows, seat.stand.id))
