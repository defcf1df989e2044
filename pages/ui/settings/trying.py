"""One change that waits: what it makes of the next answer, and the buttons that keep it."""

from typing import Any

import streamlit as st

from core.answer.coming import next_reachable
from core.answer.one_sit import answer_sit
from core.criticism.common_wind import typical_common_wind
from core.criticism.whole_ground import review, still_said
from core.errors import StandWindError
from core.ground.drawing.setting_table import LIMITS, SETTINGS
from core.ground.drawing.settings import (
    with_item,
    with_range_everywhere,
    with_value,
)
from core.ground.layout import Property
from core.ground.parse import property_from_document
from core.ground.store import Opened
from core.land.kept import land_of
from core.say.tried_setting import tried_criticism, tried_lines
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from core.weather.given import given_now
from pages.ui import frame, keeping, state

WAITING = "setting_waiting"  # the change that is tried, as plain values
USUAL_WIND = "NW 8"  # where nobody gave a wind for the sit

Waiting = dict[str, Any]


def wait_for(done: str, kind: str, **values: Any) -> None:
    """A change is to be tried. Args: what is done, in words; value, item or range; the rest."""
    st.session_state[WAITING] = {"done": done, "kind": kind, **values}


def changed(document: dict, waiting: Waiting) -> dict:
    """The document with a change that waits. Args: both. Raises: BadProperty."""
    if waiting["kind"] == "value":
        setting = next(
            s for s in SETTINGS if (s.group, s.name) == (waiting["group"], waiting["name"])
        )
        return with_value(document, setting, waiting["value"])
    members = waiting["members"]
    after = with_item(document, waiting["what"], waiting["at"], members)
    if waiting["kind"] == "range":
        return with_range_everywhere(after, members["name"], members["range_yd"])
    return after


def waiting_change(opened: Opened, keep: keeping.Keep | None) -> None:
    """What waits, tried on the next answer. Args: the ground; how its changes are kept."""
    waiting = st.session_state.get(WAITING)
    if waiting is None:
        return
    with st.container(border=True, key="setting_tried"):
        st.markdown(f"**{frame.plain(waiting['done'])}**")
        try:
            after = changed(opened.document, waiting)
            lines = _tried(opened, after, waiting)
        except StandWindError as fault:
            st.error(frame.plain(fault.text()))
            st.button("Leave it", key="setting_leave", on_click=_leave)
            return
        for line in lines:
            st.markdown(frame.plain(line))
        with st.container(horizontal=True, key="setting_keep_row"):
            st.button(
                "Keep it",
                key="setting_keep",
                type="primary",
                on_click=_keep,
                args=(opened, waiting, keep),
            )
            st.button("Leave it", key="setting_leave", on_click=_leave)


def _tried(opened: Opened, after: dict, waiting: Waiting) -> list[str]:
    """What it changes: the criticism by its limits, else the next answer."""
    heights = land_of(opened)[0]
    changed_ground = property_from_document(after, "the settings")
    scenes = [Scene(ground, heights) for ground in (opened.property, changed_ground)]
    if waiting.get("group") == LIMITS:
        wind = typical_common_wind(opened.property)
        return tried_criticism(*(still_said(s.ground, review(s, wind)) for s in scenes))
    return _next_answer(opened.property, scenes)


def _next_answer(before: Property, scenes: list[Scene]) -> list[str]:
    """The next answer before and after, in the wind that was given, else in a usual one."""
    now = state.now_s()
    if not before.stands:
        return ["No stands yet: there is no answer to try it on."]
    date, sit = next_reachable(before, now)
    given = given_now(before.uid, now)
    try:
        wind = parse_wind(given.text if given else USUAL_WIND)
        both = [answer_sit(prepare_sit(scene, wind, date, sit)) for scene in scenes]
    except StandWindError as fault:
        return [f"The next answer can't be tried: {fault.text()}"]
    return tried_lines(*both)


def _keep(opened: Opened, waiting: Waiting, keep: keeping.Keep | None) -> None:
    keeping.keep_now(opened, lambda d: changed(d, waiting), waiting["done"], keep, then=_leave)


def _leave() -> None:
    st.session_state.pop(WAITING, None)
    turn = st.session_state.get("setting_turn", 0)
    st.session_state["setting_turn"] = turn + 1  # the fields show again what holds


def turn() -> int:
    """Changes whenever something was kept or left, so that fields begin anew."""
    return st.session_state.get("setting_turn", 0)
