"""What a weather file leaves open, asked on the screen and never guessed."""

import dataclasses
from collections.abc import Callable

import streamlit as st

from core.errors import NeedsAnswer
from core.weather.answers import Answers, zone_of
from core.weather.hours import Hours
from pages.ui import frame

QUESTION = {
    "zone": "Which time zone are its times in?",
    "speed_unit": "Which unit is its wind in?",
    "dayfirst": "Which date is it?",
}
OTHER_ZONE = "another zone"


def answered(read: Callable[[Answers], Hours], answers: Answers, key: str) -> Hours | None:
    """What a reader gives once all that it leaves open is answered.

    Args: the reader; the answers to begin with; what tells these questions from others'.
    Returns: None while a question is open. Raises: StandWindError.
    """
    for turn in range(len(QUESTION)):
        try:
            return read(answers)
        except NeedsAnswer as question:
            answer = _ask(question, f"{key}_{turn}")
            if answer is None:
                return None
            answers = dataclasses.replace(answers, **{question.asks: answer})
    return read(answers)


def _ask(question: NeedsAnswer, key: str) -> str | bool | None:
    """One open question as choices, each with what it would mean; None until answered."""
    means = {choice.value: choice.means for choice in question.choices}
    options = [*means, OTHER_ZONE] if question.asks == "zone" else list(means)
    st.write(frame.plain(f"{question.what}."))

    def said(value: str) -> str:
        if value == OTHER_ZONE:
            return OTHER_ZONE
        told = means[value] if question.asks == "dayfirst" else f"{value}: {means[value]}"
        return frame.plain(told)

    value = st.radio(
        QUESTION[question.asks], options, index=None, key=f"{question.asks}_{key}",
        format_func=said,
    )  # fmt: skip
    if value == OTHER_ZONE:
        value = st.text_input("Zone, such as America/Denver or -07:00", key=f"other_{key}")
        value = value.strip() or None
        if value:
            zone_of(value, "the zone")
    if value is not None and question.asks == "dayfirst":
        return value == "yes"
    return value
