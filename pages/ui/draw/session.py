"""The draft of the ground in use: begun, changed, undone, saved; one a property.

It lies in the session as plain values, and with its undo on the disk, so that a page
left, a reload or a lost signal costs nothing. Each page keeps a draft of its own.
"""

import dataclasses
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import streamlit as st

from core.errors import SaveConflict, StandWindError
from core.ground.drawing.draft import changed, new_draft, redone, undone
from core.ground.drawing.gestures import acted
from core.ground.drawing.kept_drafts import Kept, drop_draft, holds_more, keep_draft, kept_drafts
from core.ground.store import Opened, new_path, save_property
from core.ground.versions import what_changed
from pages.ui import data, state

DRAFTS = "drafts"  # by the path of the property's file
MAP = "ground_map"  # the component's own key
TAKEN_UP = "Changes that were not saved before are here again."


def held() -> dict[str, Any]:
    """The draft of the ground in use with what belongs to it. Raises: BadProperty."""
    drafts = st.session_state.setdefault(DRAFTS, {})
    path = state.ground_path()
    opened = data.opened(path)
    own = drafts.get(str(path))
    if own is None:
        own = drafts[str(path)] = _taken_up(path, opened)
    elif own["base"] != opened.content_hash and not unsaved(own):
        own = drafts[str(path)] = begun(path, opened)
    return own


def begun(path: Path, opened: Opened) -> dict[str, Any]:
    """A draft in which nothing was done. Args: the property's file, as path and opened."""
    return {
        "path": str(path),
        "base": opened.content_hash,
        "saved": opened.document,
        "draft": new_draft(opened.document),
        "picked": "",
        "said": "",
        "trouble": False,
        "tab": "",
        "done": 0,
        "conflict": "",
        "key": uuid.uuid4().hex,
        "from": ("", ""),
        "kept": True,
    }


def _taken_up(path: Path, opened: Opened) -> dict[str, Any]:
    """A new page goes on where the last one was: at what was not saved, else at its undo."""
    kept, _ = kept_drafts(path)
    for one in kept:
        if holds_more(one, opened.document):
            return {**begun(path, opened), **going_on(one), "said": TAKEN_UP}
    own = begun(path, opened)
    for one in kept:
        if what_changed(opened.document, one.draft["document"]):
            drop_draft(path, one.key, one.mark)  # undo of what was saved over since
        else:
            draft = {**one.draft, "document": opened.document}
            return {**own, "draft": draft, "from": (one.key, one.mark)}
    return own


def going_on(kept: Kept) -> dict[str, Any]:
    """What a draft has of one from the disk, which it replaces once it is changed."""
    return {
        "base": kept.base,
        "saved": kept.saved,
        "draft": kept.draft,
        "from": (kept.key, kept.mark),
    }


def document() -> dict:
    """The document as it is drawn now, saved or not; not to be changed in place."""
    return held()["draft"]["document"]


def unsaved(own: dict[str, Any]) -> list[str]:
    """What differs from the saved file, in words; nothing where nothing does."""
    return list(what_changed(own["saved"], own["draft"]["document"]))


def apply(act: Callable[[dict], dict], said: str, picked: str | None = None) -> bool:
    """Changes the draft by a function of its document. Returns: whether it did.

    Args: the function; what is done, in words; what is chosen after it, None for the
    same as before. What it refuses is shown on the map.
    """
    own = held()
    try:
        own["draft"] = changed(own["draft"], act(own["draft"]["document"]), said)
    except StandWindError as fault:
        say(own, fault.text(), trouble=True)
        return False
    own["picked"] = own["picked"] if picked is None else picked
    say(own, said)
    keep(own)
    return True


def complain(text: str) -> None:
    """Shows what is wrong with something typed; the draft stays. Args: the words."""
    say(held(), text, trouble=True)


def say(own: dict, text: str, *, trouble: bool = False) -> None:
    """Tells something under the map."""
    own["said"], own["trouble"] = text, trouble


def keep(own: dict) -> None:
    """Puts a draft on the disk, in place of the one that it went on from."""
    kept = Kept(own["key"], own["base"], own["saved"], own["draft"])
    own["kept"] = keep_draft(Path(own["path"]), kept)
    if own["kept"]:
        _drop_from(own)


def _drop_from(own: dict) -> None:
    if own["from"][0]:
        drop_draft(Path(own["path"]), *own["from"])
        own["from"] = ("", "")


def _drop(own: dict) -> None:
    drop_draft(Path(own["path"]), own["key"])
    _drop_from(own)


def take_gestures() -> None:
    """Does what the map sent: each gesture once, in its order."""
    own, sent = held(), (st.session_state.get(MAP) or {}).get("ops")
    if not isinstance(sent, dict):
        return
    if sent.get("tab") != own["tab"]:
        own["tab"], own["done"] = sent.get("tab"), 0
    for gesture in sent.get("list", []):
        if gesture["n"] > own["done"]:
            own["done"] = gesture["n"]
            _do(own, gesture)


def _do(own: dict, gesture: dict) -> None:
    act = gesture.get("act")
    if act == "pick":
        pick(str(gesture.get("id", "")))
        own["tapped"] = _place(gesture.get("at"))
    elif act in ("undo", "redo"):
        step_back() if act == "undo" else step_forth()
    else:
        try:
            done = acted(own["draft"]["document"], gesture)
        except StandWindError as fault:
            say(own, fault.text(), trouble=True)
            return
        apply(lambda _: done.document, done.said, done.picked)


def _place(at: Any) -> tuple[float, float] | None:
    """Where a tap fell, (lon, lat); None for what is no place."""
    try:
        lon, lat = (float(number) for number in at)
    except (TypeError, ValueError):
        return None
    return (lon, lat) if abs(lon) <= 180 and abs(lat) <= 90 else None


def pick(id_: str) -> None:
    """Chooses a feature; empty for none."""
    own = held()
    own["picked"] = id_
    say(own, "")


def step_back() -> None:
    """Undoes the last step, and says which it was."""
    _step(undone, "past", "Undone")


def step_forth() -> None:
    """Does the step again that was undone last, and says which it was."""
    _step(redone, "future", "Done again")


def _step(step: Callable, ways: str, word: str) -> None:
    own = held()
    if own["draft"][ways]:
        said = own["draft"][ways][-1]["said"]
        own["draft"] = step(own["draft"])
        say(own, f"{word}: {said}")
        keep(own)


def save(name: str = "") -> None:
    """Saves the draft: over its file, or as a property of its own under a name.

    Where the file was changed meanwhile nothing is written, and the screen offers both.
    """
    own = held()
    path, drawn = Path(own["path"]), own["draft"]["document"]
    # the hash of what the draft was begun from: the store then sees a later change
    opened = dataclasses.replace(data.opened(path), content_hash=own["base"])
    if name:
        drawn = {**drawn, "property": {**drawn["property"], "name": name}}
    try:
        saved = save_property(
            opened, drawn, new_path(name) if name else None, now_s=int(state.now_s())
        )
    except SaveConflict as conflict:
        own["conflict"] = conflict.text()
    except StandWindError as fault:
        say(own, f"Not saved. {fault.text()}", trouble=True)
    else:
        _after_save(own, saved, is_copy=bool(name))


def _after_save(own: dict, saved: Opened, *, is_copy: bool) -> None:
    if is_copy:
        picked = own["picked"]
        _drop(own)
        st.session_state[DRAFTS].pop(own["path"])  # the file it came from is as it was
        state.use_ground(saved.path)
        own = held()
        own["picked"] = picked
    else:
        draft = {**own["draft"], "document": saved.document}
        own.update(base=saved.content_hash, saved=saved.document, draft=draft, conflict="")
        keep(own)
    say(own, f"Saved: {saved.property.name}, revision {saved.property.revision}.")


def throw_away() -> None:
    """Goes back to the file as it was saved: a step that can be undone, but where the
    file was changed meanwhile, for then there is no way back to the draft."""
    own = held()
    path = Path(own["path"])
    opened = data.opened(path)
    if own["base"] == opened.content_hash:
        own["draft"] = changed(own["draft"], own["saved"], "threw away what was not saved")
        say(own, "As saved again. Undo brings yours back.")
        keep(own)
        return
    _drop(own)
    own = st.session_state[DRAFTS][own["path"]] = begun(path, opened)
    say(own, "As saved again.")
