"""Which draft is drawn on: that of the ground in use, taken up from the disk on a new page."""

import dataclasses
from pathlib import Path

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.kept_drafts import drop_draft, holds_more, kept_drafts, unsaved_drafts
from core.ground.files.rescue import without_file
from core.ground.parse import VERSION
from core.ground.store import Opened
from core.ground.versions import what_changed
from pages.ui import data, state
from pages.ui.draw.page_draft import LATER, PageDraft, begun, going_on

DRAFTS = "drafts"  # by the path of the property's file
TAKEN_UP = "Changes that were not saved before are here again."
LEFT = "What is drawn here is not lost: save it under a name."


def path_drawn() -> Path:
    """The file that is drawn on: the ground in use, and one that is gone while something
    that was drawn on it is left."""
    lost = state.lost_path()
    if lost and (str(lost) in st.session_state.get(DRAFTS, {}) or unsaved_drafts(lost)):
        return lost
    return state.ground_path()


def in_use() -> PageDraft:
    """The draft of the ground in use. Raises: BadProperty."""
    drafts = st.session_state.setdefault(DRAFTS, {})
    path = path_drawn()
    draft = drafts.get(str(path))
    try:
        opened = data.opened(path)
    except StandWindError as fault:
        draft = draft or _left(path)
        if draft is None:
            raise
        draft.lost, draft.conflict = _lost_words(path, fault), ""
        return put_in_use(draft)
    if draft is None:
        draft = put_in_use(_taken_up(path, opened))
    elif draft.base_hash != opened.content_hash and not draft.unsaved:
        draft = put_in_use(begun(path, opened))
    draft.lost, draft.only_look = "", _later_words(path, opened)
    return draft


def file_of(draft: PageDraft) -> Opened:
    """The file as it is now; one that is gone or broken, as the draft knew it."""
    return without_file(draft.saved, draft.path.name) if draft.lost else data.opened(draft.path)


def _later_words(path: Path, opened: Opened) -> str:
    version = opened.document["property"]["version"]
    if version <= VERSION:
        return ""
    return f"{path.name} is of version {version}, newer than this program's {VERSION}. {LATER}"


def _lost_words(path: Path, fault: StandWindError) -> str:
    if path.exists():
        return f"{fault.text()} {LEFT}"
    return f"{path.name} is gone: it was moved or taken out of your folder. {LEFT}"


def _left(path: Path) -> PageDraft | None:
    """What is on the disk of a drawing whose file is gone or broken."""
    for one in unsaved_drafts(path):
        draft = going_on(path, one)
        draft.tell(TAKEN_UP)
        return draft
    return None


def put_in_use(draft: PageDraft) -> PageDraft:
    """Makes a draft the one of its property on this page."""
    st.session_state[DRAFTS][str(draft.path)] = draft
    return draft


def _taken_up(path: Path, opened: Opened) -> PageDraft:
    """A new page goes on where the last one was: at what was not saved, else at its undo."""
    kept, _ = kept_drafts(path)
    for one in kept:
        if holds_more(one, opened.document):
            draft = going_on(path, one)
            draft.tell(TAKEN_UP)
            return draft
    draft = begun(path, opened)
    for one in kept:
        if what_changed(opened.document, one.draft.document):
            drop_draft(path, one.key, one.mark)  # undo of what was saved over since
        else:
            draft.draft = dataclasses.replace(one.draft, document=opened.document)
            draft.goes_on_from = (one.key, one.mark)
            return draft
    return draft
