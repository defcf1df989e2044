"""Saving the draft over its file or as a property of its own, and going back to the file."""

import dataclasses

import streamlit as st

from core.errors import SaveConflict, StandWindError
from core.ground.drawing.draft import changed
from core.ground.files.rescue import of_this_version
from core.ground.store import Opened, demo_path, new_path, save_property
from core.keep.log import copy_journal
from pages.ui import data, state
from pages.ui.draw.in_use import DRAFTS, file_of, in_use, put_in_use
from pages.ui.draw.page_draft import PageDraft, begun, drop, keep_on_disk


def save(name: str = "") -> None:
    """Saves the draft: over its file, or as a property of its own under a name.

    Where the file was changed meanwhile nothing is written, and the screen offers both.
    """
    draft = in_use()
    if draft.lost and not name:
        draft.tell(f"Not saved. {draft.lost}", trouble=True)
        return
    try:
        # the hash of what the draft was begun from: the store then sees a later change
        opened = dataclasses.replace(file_of(draft), content_hash=draft.base_hash)
        drawn = _named(draft, opened, name)
        saved = save_property(
            opened, drawn, new_path(name) if name else None, now_s=int(state.now_s())
        )
        if name:
            copy_journal(opened.property.uid, saved.property.uid)
    except SaveConflict as conflict:
        draft.conflict = conflict.text()
    except StandWindError as fault:
        draft.tell(f"Not saved. {fault.text()}", trouble=True)
    else:
        draft = _as_copy(draft, saved) if name else _saved_over(draft, saved)
        draft.tell(f"Saved: {saved.property.name}, revision {saved.property.revision}.")


def _named(draft: PageDraft, opened: Opened, name: str) -> dict:
    """What is to be saved, under its new name where it gets one."""
    rules = {**draft.document["property"], **({"name": name} if name else {})}
    if draft.lost and "uid" not in opened.document["property"]:
        rules.pop("uid", None)  # another file has it now
    return {**draft.document, "property": rules}


def copy_later(name: str) -> None:
    """Makes a property of this version of one of a later version, under a name."""
    draft = in_use()
    opened = data.opened(draft.path)
    try:
        document = of_this_version(opened)
        document = {**document, "property": {**document["property"], "name": name}}
        saved = save_property(opened, document, new_path(name), now_s=int(state.now_s()))
        copy_journal(opened.property.uid, saved.property.uid)
    except StandWindError as fault:
        draft.tell(f"Not saved. {fault.text()}", trouble=True)
        return
    state.use_ground(saved.path)
    in_use().tell(f"Saved: {saved.property.name}. The other stays as it is.")


def _as_copy(draft: PageDraft, saved: Opened) -> PageDraft:
    """The draft of the new property, with the same thing chosen."""
    drop(draft)
    st.session_state[DRAFTS].pop(str(draft.path))  # the file it came from is as it was
    state.use_ground(saved.path)
    copy = in_use()
    copy.picked = draft.picked
    return copy


def _saved_over(draft: PageDraft, saved: Opened) -> PageDraft:
    draft.base_hash, draft.saved, draft.conflict = saved.content_hash, saved.document, ""
    draft.draft = dataclasses.replace(draft.draft, document=saved.document)
    keep_on_disk(draft)
    return draft


def throw_away() -> None:
    """Goes back to the file as it was saved: a step that can be undone, but where the
    file was changed meanwhile, for then there is no way back to the draft."""
    draft = in_use()
    if draft.lost:
        drop(draft)
        st.session_state[DRAFTS].pop(str(draft.path))
        if not draft.path.exists():
            state.use_ground(demo_path())
        return
    opened = data.opened(draft.path)
    if draft.base_hash == opened.content_hash:
        draft.draft = changed(draft.draft, draft.saved, "threw away what was not saved")
        draft.tell("As saved again. Undo brings yours back.")
        keep_on_disk(draft)
        return
    drop(draft)
    put_in_use(begun(draft.path, opened)).tell("As saved again.")
