"""What a weather file leaves open, asked on the screen and never guessed."""

import dataclasses
from collections.abc import Callable
from typing import Any, TypeVar

import streamlit as st

from core.errors import NeedsAnswer
from core.weather.answers import Answers, zone_of
from pages.ui import frame

Read = TypeVar("Read")  # what a reader gives, such as hours
QUESTION = {
    "zone": "Which time zone are its times in?",
    "speed_unit": "Which unit is its wind in?",
    "dayfirst": "Which date is it?",
    "columns": "Say which column is what.",
    "yearfirst": "Which date is it?",
    "direction_sense": "What does it say of the wind?",
    "direction_unit": "What do its directions count in?",
    "hour_label": "Which part of the hour does it name?",
    "far_hours": "Leave those hours out?",
    "elsewhere": "Use it here?",
}
MOST_QUESTIONS = 14  # some are asked twice: two columns, a zone that does not fit
OTHER_ZONE = "another zone"
COLUMN = {
    "time": "The time",
    "clock": "The time of day, if it is apart from the date",
    "from": "Where the wind comes from",
    "speed": "The wind speed",
    "gust": "The gust",
    "cloud": "The cloud, in percent",
    "half": "Morning or evening",
    "count": "How many deer",
    "kind": "Doe or buck",
}
NO_COLUMN = "not in this file"
STAYS: dict[str, Any] = {"persist_state": "session"}  # through a visit to another page


def answered(read: Callable[[Answers], Read], answers: Answers, key: str) -> Read | None:
    """What a reader gives once all that it leaves open is answered.

    Args: the reader; the answers to begin with; what tells these questions from others'.
    Returns: None while a question is open. Raises: StandWindError.
    """
    for turn in range(MOST_QUESTIONS):
        try:
            return read(answers)
        except NeedsAnswer as question:
            asks_columns = question.asks == "columns"
            answer = (_ask_columns if asks_columns else _ask)(question, f"{key}_{turn}")
            if answer is None:
                return None
            if asks_columns:
                answer = (*answers.columns, *answer)
            answers = dataclasses.replace(answers, **{question.asks: answer})
    return read(answers)


def _ask_columns(question: NeedsAnswer, key: str) -> tuple[tuple[str, str], ...] | None:
    """Columns chosen by what is in them; None until all that is needed is named."""
    holds = {choice.value: choice.means for choice in question.choices}
    st.write(frame.plain(f"{_sentence(question.what)} {QUESTION['columns']}"))
    named = {}
    for word in (*question.needs, *question.may):
        needed = word in question.needs
        named[word] = st.selectbox(
            COLUMN.get(word, f"The {word}"),
            [*holds] if needed else [NO_COLUMN, *holds],
            index=None if needed else 0,
            key=f"column_{word}_{key}",
            placeholder="Choose its column",
            format_func=lambda name: f"{name}: {holds[name]}" if name in holds else name,
            **STAYS,
        )
    if None in named.values():
        return None
    return tuple((word, name) for word, name in named.items() if name != NO_COLUMN)


def _ask(question: NeedsAnswer, key: str) -> str | bool | None:
    """One open question as choices, each with what it would mean; None until answered."""
    means = {choice.value: choice.means for choice in question.choices}
    options = [*means, OTHER_ZONE] if question.asks == "zone" else list(means)
    st.write(frame.plain(_sentence(question.what)))

    def said(value: str) -> str:
        if value == OTHER_ZONE:
            return OTHER_ZONE
        alone = question.asks not in ("zone", "speed_unit")
        return frame.plain(means[value] if alone else f"{value}: {means[value]}")

    value = st.radio(
        QUESTION[question.asks],
        options,
        index=None,
        key=f"{question.asks}_{key}",
        format_func=said,
        **STAYS,
    )
    if value == OTHER_ZONE:
        value = st.text_input("Zone, such as America/Denver or -07:00", key=f"other_{key}", **STAYS)
        value = value.strip() or None
        if value:
            zone_of(value, "the zone")
    if value is not None and question.asks in ("dayfirst", "yearfirst"):
        return value == "yes"
    return value


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
