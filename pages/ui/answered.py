"""When the screen was answered: told once it is old, and where no newer answer can come.

A phone sleeps in a pocket and walks out of reach. Its page stays as it was; the style sheet
shows this line as soon as the browser has lost the server, and another once nothing was heard
for minutes. The line is a part that asks again
by itself, and so a phone that comes back into reach is answered anew, with the wind it gave.
"""

import datetime
import time
from zoneinfo import ZoneInfo

import streamlit as st

from core.errors import StandWindError
from core.say.words import clock_text
from core.weather.age import ago_words
from pages.ui import data, state

AGAIN_S = 300
LATE_S = 120
OLD_S = 1800.0


def say_when() -> None:
    """The line, at the foot of the window. Shown only when it is needed."""
    answered_s = state.now_s()
    with st.container(key="answered", gap=None):
        _told(answered_s, _clock(answered_s))


@st.fragment(run_every=AGAIN_S)
def _told(answered_s: float, clock: str) -> None:
    age_s = state.now_s() - answered_s
    words = "Out of reach of the machine that keeps this ground. "
    old = f"Answered {ago_words(age_s)}. A tap on anything asks anew." if age_s >= OLD_S else ""
    st.html(
        f'<p class="lost" role="status">{words}What you see was answered at {clock}. It goes on '
        "by itself in reach. If it does not, the program was started anew: open the link that it "
        "shows now.</p>" + (f'<p class="old">{old}</p>' if old else "") + _late(clock)
    )


def _late(clock: str) -> str:
    """What the style sheet shows once this part was not made anew for longer than it takes to
    ask again: a connection may be dead for minutes before a browser knows."""
    heard = time.time()  # it tells this piece of the page from the last: its waiting begins anew
    return (
        f'<p class="late" data-heard="{heard:.3f}" style="animation-delay: {AGAIN_S + LATE_S}s">'
        f"Nothing heard for over {(AGAIN_S + LATE_S) // 60} minutes. What you see was answered at "
        f"{clock}.</p>"
    )


def _clock(time_s: float) -> str:
    """Time and day by the ground's clock; by this machine's where the ground can't be read."""
    try:
        timezone = data.opened(state.ground_path()).property.timezone
    except StandWindError:
        at = datetime.datetime.fromtimestamp(time_s).astimezone()
        return f"{at:%H:%M}, {at:%a} {at.day} {at:%b}"
    at = datetime.datetime.fromtimestamp(time_s, ZoneInfo(timezone))
    return f"{clock_text(time_s, timezone)}, {at:%a} {at.day} {at:%b}"
