"""One row of an entry's form: a widget for each kind of value, and its value back."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import streamlit as st

from core.ground.layout import Property
from core.keep.entries import (
    COMMON,
    DEER,
    FELT,
    FIELDS,
    HALVES,
    SEXES,
    SIGN,
    SIGNS,
    VISIT,
    VISITS,
)
from core.keep.names import PERSON, names_of

# kept with a sit as it was told then, or said on the map: not for the fingers
NOT_ASKED = ("told", "wind", "version", "weather", "planned", "place", "told_mps")
LABELS = {
    "sit": "half of the day",
    "way_in": "way in",
    "way_out": "way out",
    "nothing_seen": "no deer seen",
    "at": "at, by the clock",
    "from": "from, by the clock",
    "to": "to, by the clock",
    "came_from": "came from",
    "went_to": "went to",
    "recovered_yards": "recovered after, yards",
    "from_deg": "felt from, degrees",
    "told_from_deg": "told from, degrees",
    "felt": "the air",
    "feature": "where",
    "lane": "by which way",
    "age_years": "age by the jaw, years",
    "report_by": "report by",
    "text": "in your words",
}
CHOICES = {"sit": HALVES, "deer": DEER, "felt": FELT, "sex": SEXES}
WHAT = {VISIT: VISITS, SIGN: SIGNS}
PLACES = {
    "stand": ("stand",),
    "way_in": ("lane",),
    "way_out": ("lane",),
    "lane": ("lane",),
    "trail": ("corridor", "lane"),
    "plot": ("food", "bedding"),
    "feature": (),  # any
}
NUMBERS = (
    "count", "yards", "recovered_yards", "from_deg", "told_from_deg", "beaufort", "minutes",
    "pounds", "age_years",
)  # fmt: skip
WHOLE = ("count", "beaufort")
YES_NO = (
    "nothing_seen", "winded", "shot", "recovered", "fresh", "daytime", "reported",
)  # fmt: skip
DAY = "day it was kept under"  # beside the values, for times that nobody touched
CLOCKS, DATES = ("at", "from", "to"), ("report_by",)


@dataclass(frozen=True, slots=True)
class EntryRow:
    """A value of an entry: its name, what draws it, and what makes it of what the widget has."""

    name: str
    draw: Callable[[], Any]
    value: Callable[[Any], Any]


def rows_for(
    ground: Property, kind: str, date: datetime.date, values: dict, key: str
) -> list[EntryRow]:
    """The rows of an entry's form.

    Args: the ground; the kind; its local date; what is filled in, and under DAY its date so
    far; what keys begin with.
    """
    names = [x.name for x in (*FIELDS[kind], *COMMON) if x.name not in NOT_ASKED]
    return [_row(ground, kind, date, values, name, key) for name in dict.fromkeys(names)]


def _row(ground: Property, kind: str, date, values: dict, name: str, key: str) -> EntryRow:
    label = LABELS.get(name, name).capitalize()
    now, at = values.get(name), f"{key}_{name}"
    if name in PLACES:
        return EntryRow(name, lambda: _place(ground, label, PLACES[name], now, at), lambda v: v)
    choices = WHAT.get(kind, ()) if name == "what" else CHOICES.get(name, ())
    if choices:
        return EntryRow(name, lambda: _one_of(label, choices, now, at), lambda v: v)
    if name in YES_NO:
        said = None if now is None else "yes" if now else "no"
        return EntryRow(name, lambda: _one_of(label, ("yes", "no"), said, at), _yes)
    if name in NUMBERS:
        step = 1 if name in WHOLE else 0.5
        return EntryRow(name, lambda: _number(label, now, step, at), lambda v: v)
    if name in CLOCKS:
        zone = ZoneInfo(ground.timezone)
        was = now if date.isoformat() == values.get(DAY) else None
        return EntryRow(
            name, lambda: _clock(label, now, at), lambda v: _instant(v, date, zone, was)
        )
    if name in DATES:
        day = datetime.date.fromisoformat(now) if now else None
        return EntryRow(
            name,
            lambda: st.date_input(label, value=day, key=at),
            lambda v: v.isoformat() if v else None,
        )
    return EntryRow(
        name, lambda: st.text_input(label, value=now or "", key=at), lambda v: v or None
    )


def _place(ground: Property, label: str, kinds: tuple[str, ...], now, key: str):
    named = [n.id for n in names_of(ground) if n.kind != PERSON and (not kinds or n.kind in kinds)]
    some = [*dict.fromkeys([*named, *([now] if now else [])])]
    index = some.index(now) if now else None
    return st.selectbox(label, some, index=index, format_func=ground.name_of, key=key)


def _one_of(label: str, choices, now, key: str):
    return st.segmented_control(label, choices, default=now, key=key)


def _number(label: str, now, step: float, key: str):
    told = None if now is None else type(step)(now)
    return st.number_input(label, value=told, step=step, min_value=type(step)(0), key=key)


def _clock(label: str, now: str | None, key: str):
    told = datetime.datetime.fromisoformat(now).time().replace(tzinfo=None) if now else None
    return st.time_input(label, value=told, step=60, key=key)


def _yes(said: str | None) -> bool | None:
    return None if said is None else said == "yes"


def _instant(clock: datetime.time | None, date: datetime.date, zone: ZoneInfo, was: str | None):
    """A clock time as an instant of the day; one that was not touched stays as it is."""
    if clock is None:
        return None
    if was and datetime.datetime.fromisoformat(was).time() == clock:
        return was
    return datetime.datetime.combine(date, clock, zone).isoformat()
