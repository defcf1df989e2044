"""What the parts of the learning screen share: the wind's controls, rows, pictures."""

import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import streamlit as st

from core.angles import POINTS_16
from core.ground.layout import Property
from core.learn.classroom import teaching_date
from core.learn.turn_the_wind import STRENGTHS, strength_words
from core.say.words import VERDICTS_SAID
from core.sit.verdicts import CANT, GO, STAY
from pages.ui import frame, state
from pages.ui.choice import one_of

STYLE = Path(__file__).with_name("learn.css").read_text(encoding="utf-8")
GROUPS = {GO: "Go", CANT: "Can't call", STAY: "Stay out"}


def style() -> None:
    """The looks of this screen, over those of every page."""
    st.html(f"<style>{STYLE}</style>")


def teaching_day(ground: Property) -> datetime.date:
    """The date that is taught: today, or the next day of a season. Args: the property."""
    now = datetime.datetime.fromtimestamp(state.now_s(), tz=ZoneInfo(ground.timezone))
    return teaching_date(ground, now.date())


def wind_controls() -> tuple[str, str]:
    """The wind in large steps. Returns: one of the sixteen points, and a strength."""
    point = one_of(
        st.pills, "The wind comes from", POINTS_16, default="NW", key="learn_point", wrap=True
    )
    strength = one_of(
        st.segmented_control,
        "How hard it blows",
        list(STRENGTHS),
        default="steady",
        key="learn_strength",
    )
    st.caption(frame.plain(strength_words(strength)))
    return point, strength


def verdict_line(verdict: int) -> str:
    """Mark, in the one blue, and word of a verdict. Args: the verdict. Returns: Markdown."""
    return f":primary[{frame.GLYPHS[verdict]}] {frame.plain(VERDICTS_SAID[verdict])}"


def no_stands(words: tuple[str, ...]) -> tuple[str, ...]:
    """Says that there is nothing to learn from yet. Args, returns: the part's own words."""
    st.markdown("No stands yet. Draw one on the Map page.")
    return words
