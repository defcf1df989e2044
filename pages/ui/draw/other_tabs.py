"""What other tabs, or earlier visits, have drawn on the same ground and not saved.

No tab writes over another's draft: each is kept apart, and can be looked at from here.
"""

import streamlit as st

from core.ground.drawing.kept_drafts import KeptDraft, drop_draft, holds_more, kept_drafts
from core.ground.versions import what_changed
from pages.ui import frame
from pages.ui.draw.in_use import file_of, in_use, put_in_use
from pages.ui.draw.page_draft import PageDraft, going_on, keep_on_disk

LABEL = "Another tab's changes"
TOLD = (
    "Another tab, or an earlier visit, changed this ground and did not save. That is kept "
    "apart from what you draw here. Showing it puts yours aside in the same way."
)
NOW = "These are the other changes. The ones before are kept too."
NOT_NOW = "Not shown: the disk takes no draft, and yours would be lost. Save it first."


def other_drafts(draft: PageDraft) -> None:
    """A button with what others keep; nothing where they keep nothing. Args: the draft."""
    kept, broken = kept_drafts(draft.path, but=draft.key)
    differing = [one for one in kept if _differs(one, draft)]
    if not differing and not broken:
        return
    with st.popover(LABEL, width="content"):
        if differing:
            st.caption(TOLD)
        for one in differing:
            _offer(one)
        for place in broken:
            st.caption(f"This draft can't be read and is left as it is: {frame.plain(str(place))}")


def _offer(one: KeptDraft) -> None:
    change_list(list(what_changed(one.saved, one.draft.document)))
    st.button("Show these on the map", key=f"take-{one.key}", on_click=_take_up, args=(one.key,))
    st.button("Throw these away", key=f"forget-{one.key}", on_click=_forget, args=(one.key,))


def _differs(one: KeptDraft, draft: PageDraft) -> bool:
    saved = file_of(draft).document
    return bool(what_changed(draft.document, one.draft.document)) and holds_more(one, saved)


def change_list(changes: list[str]) -> None:
    """Changes in words, one a line. Args: the changes."""
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in changes))


def _take_up(key: str) -> None:
    """Goes on with another draft; this one stays on the disk."""
    draft = in_use()
    if draft.unsaved and not draft.goes_on_from[0]:  # else it lies there already
        keep_on_disk(draft)
        if not draft.is_kept:
            draft.tell(NOT_NOW, trouble=True)
            return
    for one in kept_drafts(draft.path)[0]:
        if one.key == key:
            put_in_use(going_on(draft.path, one)).tell(NOW)


def _forget(key: str) -> None:
    draft = in_use()
    drop_draft(draft.path, key)
    draft.tell("Thrown away.")
