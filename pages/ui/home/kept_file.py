"""A weather file that was brought: it outlives a restart, until the sit is over."""

import streamlit as st

from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.store import demo_path
from core.weather.given_file import GivenFile, drop_file, file_now, keep_file
from pages.ui import own_files, state
from pages.ui.own_files import FileSlot


def held_file(ground: Property) -> GivenFile | None:
    """The file that is kept for a ground; None for the demo, which keeps nothing."""
    on_demo = state.ground_path() == demo_path()
    return None if on_demo else file_now(ground.uid, state.now_s())


def put_back(slot: FileSlot, ground: Property) -> GivenFile | None:
    """Takes a kept file into use, once in a session that has none. Args: its place; the ground.

    Returns: the kept file where it is the one in use.
    """
    once = f"{slot.key}_put_back_{ground.uid}"
    first = not st.session_state.get(once)
    st.session_state[once] = True
    held = held_file(ground)
    if held is None:
        return None
    if first and not st.session_state.get(slot.kept):
        own_files.put_back(slot, [(held.data, held.name)])
    return held if _in_use(slot) == (held.data, held.name) else None


def leave(ground: Property) -> None:
    """Keeps no file any more, as none is in use. Args: the ground."""
    if held_file(ground) is not None:
        drop_file(ground.uid)


def remember(slot: FileSlot, ground: Property, until_s: float | None) -> None:
    """Keeps the file in use until a sit is over. Args: as `put_back`; the end of the sit
    [epoch s], None for one without a minute."""
    now_s, file = state.now_s(), _in_use(slot)
    on_demo = state.ground_path() == demo_path()
    if on_demo or file is None or until_s is None or until_s <= now_s:
        return
    held, answers = held_file(ground), own_files.answers_of(slot)
    alike = held is not None and (held.data, held.name, held.answers) == (*file, answers)
    if held is not None and alike:
        if held.until_s >= until_s:
            return
        now_s = held.given_s
    keep_file(ground.uid, GivenFile(*file, answers, now_s, until_s))


def how_long(*, for_sit: bool) -> str:
    """How long a file stays that is in use, in words. Args: whether a sit is judged by it."""
    if not for_sit or state.ground_path() == demo_path() or only_looking():
        return "It is kept while this page is open; after a restart, bring it again."
    return "It is kept on this machine until the sit is over, through a restart too."


def _in_use(slot: FileSlot) -> tuple[bytes, str] | None:
    files = st.session_state.get(slot.kept) or ()
    return files[0] if files else None
