"""What other tabs, or earlier visits, have drawn on the same ground and not saved.

No tab writes over another's draft: each is kept apart, and can be looked at from here.
"""

from pathlib import Path
from typing import Any

import streamlit as st

from core.ground.drawing.kept_drafts import Kept, drop_draft, holds_more, kept_drafts
from core.ground.versions import what_changed
from pages.ui import data, frame
from pages.ui.draw import session

LABEL = "Another tab's changes"
TOLD = (
    "Another tab, or an earlier visit, changed this ground and did not save. That is kept "
    "apart from what you draw here. Showing it puts yours aside in the same way."
)
NOW = "These are the other changes. The ones before are kept too."
NOT_NOW = "Not shown: the disk takes no draft, and yours would be lost. Save it first."


def others(own: dict[str, Any]) -> None:
    """A button with what others keep; nothing where they keep nothing. Args: the draft."""
    kept, broken = kept_drafts(Path(own["path"]), but=own["key"])
    found = [one for one in kept if _differs(one, own)]
    if not found and not broken:
        return
    with st.popover(LABEL, width="content"):
        if found:
            st.caption(TOLD)
        for one in found:
            changes = what_changed(one.saved, one.draft["document"])
            listed(list(changes))
            st.button(
                "Show these on the map", key=f"take-{one.key}", on_click=_take_up, args=(one.key,)
            )
            st.button(
                "Throw these away", key=f"forget-{one.key}", on_click=_forget, args=(one.key,)
            )
        for place in broken:
            st.caption(f"This draft can't be read and is left as it is: {frame.plain(str(place))}")


def _differs(one: Kept, own: dict[str, Any]) -> bool:
    saved = data.opened(Path(own["path"])).document
    differs = what_changed(own["draft"]["document"], one.draft["document"])
    return bool(differs) and holds_more(one, saved)


def listed(changes: list[str]) -> None:
    """Changes in words, one a line. Args: the changes."""
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in changes))


def _take_up(key: str) -> None:
    """Goes on with another draft; this one stays on the disk."""
    own = session.held()
    path = Path(own["path"])
    if session.unsaved(own) and not own["from"][0]:  # else it lies there already
        session.keep(own)
        if not own["kept"]:
            session.say(own, NOT_NOW, trouble=True)
            return
    for one in kept_drafts(path)[0]:
        if one.key == key:
            own = {**session.begun(path, data.opened(path)), **session.going_on(one)}
            st.session_state[session.DRAFTS][str(path)] = own
            session.say(own, NOW)


def _forget(key: str) -> None:
    own = session.held()
    drop_draft(Path(own["path"]), key)
    session.say(own, "Thrown away.")
