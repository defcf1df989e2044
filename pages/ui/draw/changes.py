"""What changes the draft of the ground in use: the form, gestures on the map, undo, a choice."""

from collections.abc import Callable
from typing import Any

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.draft import changed, redone, undone
from core.ground.drawing.gestures import acted
from pages.ui.draw.in_use import in_use
from pages.ui.draw.page_draft import LATER, PageDraft, keep_on_disk

MAP = "ground_map"  # the component's own key


def apply(act: Callable[[dict], dict], done: str, picked: str | None = None) -> bool:
    """Changes the draft by a function of its document. Returns: whether it did.

    Args: the function; what is done, in words; what is chosen after it, None for the
    same as before. What it refuses is shown on the map.
    """
    draft = in_use()
    if draft.is_locked:
        draft.tell(draft.only_look or LATER, trouble=True)
        return False
    try:
        draft.draft = changed(draft.draft, act(draft.document), done)
    except StandWindError as fault:
        draft.tell(fault.text(), trouble=True)
        return False
    draft.picked = draft.picked if picked is None else picked
    draft.tell(done)
    keep_on_disk(draft)
    return True


def complain(text: str) -> None:
    """Shows what is wrong with something typed; the draft stays. Args: the words."""
    in_use().tell(text, trouble=True)


def pick(id_: str) -> None:
    """Chooses a feature; empty for none."""
    draft = in_use()
    draft.picked = id_
    draft.tell("")


def take_gestures() -> None:
    """Does what the map sent: each gesture once, in its order."""
    draft, sent = in_use(), (st.session_state.get(MAP) or {}).get("ops")
    if not isinstance(sent, dict):
        return
    if sent.get("tab") != draft.map_tab:
        draft.map_tab, draft.gestures_done = sent.get("tab"), 0
    for gesture in sent.get("list", []):
        if gesture["n"] > draft.gestures_done:
            draft.gestures_done = gesture["n"]
            _do(draft, gesture)


def _do(draft: PageDraft, gesture: dict) -> None:
    act = gesture.get("act")
    if act == "pick":
        pick(str(gesture.get("id", "")))
        draft.tapped = _place(gesture.get("at"))
    elif act == "undo":
        step_back()
    elif act == "redo":
        step_forth()
    else:
        try:
            done = acted(draft.document, gesture)
        except StandWindError as fault:
            draft.tell(fault.text(), trouble=True)
            return
        apply(lambda _: done.document, done.words, done.picked)


def _place(at: Any) -> tuple[float, float] | None:
    """Where a tap fell, (lon, lat); None for what is no place."""
    try:
        lon, lat = (float(number) for number in at)
    except (TypeError, ValueError):
        return None
    return (lon, lat) if abs(lon) <= 180 and abs(lat) <= 90 else None


def step_back() -> None:
    """Undoes the last step, and says which it was."""
    draft = in_use()
    if draft.draft.past:
        done = draft.draft.past[-1].done
        draft.draft = undone(draft.draft)
        draft.tell(f"Undone: {done}")
        keep_on_disk(draft)


def step_forth() -> None:
    """Does the step again that was undone last, and says which it was."""
    draft = in_use()
    if draft.draft.future:
        done = draft.draft.future[-1].done
        draft.draft = redone(draft.draft)
        draft.tell(f"Done again: {done}")
        keep_on_disk(draft)
