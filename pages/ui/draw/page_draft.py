"""The draft of the ground in use: begun, taken up from the disk, kept there; one a property.

It lies in the session, and with its undo on the disk, so that a page left, a reload or a
lost signal costs nothing. Each page keeps a draft of its own.
"""

import dataclasses
import uuid
from pathlib import Path

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.draft import Draft
from core.ground.drawing.kept_drafts import (
    KeptDraft,
    drop_draft,
    holds_more,
    keep_draft,
    kept_drafts,
    unsaved_drafts,
)
from core.ground.files.rescue import without_file
from core.ground.parse import VERSION
from core.ground.store import Opened
from core.ground.versions import what_changed
from pages.ui import data, state

DRAFTS = "drafts"  # by the path of the property's file
TAKEN_UP = "Changes that were not saved before are here again."
LEFT = "What is drawn here is not lost: save it under a name."
LATER = "It is looked at here, and not changed."


@dataclasses.dataclass(slots=True)
class PageDraft:
    """A draft with what an open page knows of it.

    `base_hash` and `saved` are hash and document of the file that it was begun from.
    `goes_on_from` is the draft on the disk, as (key, mark), which it replaces once it is
    changed; `is_kept` whether the disk took the last change. `lost` says why the file
    can't be read any more, `only_look` why it may not be saved over; mostly empty.
    """

    path: Path
    base_hash: str
    saved: dict
    draft: Draft
    key: str  # of this page: its name among the drafts on the disk
    goes_on_from: tuple[str, str] = ("", "")
    is_kept: bool = True
    picked: str = ""  # id of the feature that is chosen
    note: str = ""  # told under the map
    is_trouble: bool = False
    lost: str = ""
    only_look: str = ""
    conflict: str = ""  # why the file could not be saved over
    map_tab: str | None = ""  # the browser tab whose gestures were done, and how many of them
    gestures_done: int = 0
    tapped: tuple[float, float] | None = None  # where the map was tapped last, (lon, lat)

    @property
    def document(self) -> dict:
        """The document as it is drawn now, saved or not; not to be changed in place."""
        return self.draft.document

    @property
    def unsaved(self) -> list[str]:
        """What differs from the saved file, in words; nothing where nothing does."""
        return list(what_changed(self.saved, self.document))

    @property
    def is_locked(self) -> bool:
        """Whether what is drawn is of a later version, of which this program knows too little."""
        return self.document["property"]["version"] > VERSION

    def tell(self, text: str, *, trouble: bool = False) -> None:
        """Tells something under the map."""
        self.note, self.is_trouble = text, trouble


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


def begun(path: Path, opened: Opened) -> PageDraft:
    """A draft in which nothing was done. Args: the property's file, as path and opened."""
    draft = Draft(opened.document)
    return PageDraft(path, opened.content_hash, opened.document, draft, uuid.uuid4().hex)


def going_on(path: Path, kept: KeptDraft) -> PageDraft:
    """A draft from the disk, which this one replaces once it is changed."""
    return PageDraft(
        path,
        kept.base,
        kept.saved,
        kept.draft,
        uuid.uuid4().hex,
        goes_on_from=(kept.key, kept.mark),
    )


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


def keep_on_disk(draft: PageDraft) -> None:
    """Puts a draft on the disk, in place of the one that it went on from."""
    kept = KeptDraft(draft.key, draft.base_hash, draft.saved, draft.draft)
    draft.is_kept = keep_draft(draft.path, kept)
    if draft.is_kept:
        _drop_replaced(draft)


def drop(draft: PageDraft) -> None:
    """Takes a draft off the disk, and the one that it went on from."""
    drop_draft(draft.path, draft.key)
    _drop_replaced(draft)


def _drop_replaced(draft: PageDraft) -> None:
    if draft.goes_on_from[0]:
        drop_draft(draft.path, *draft.goes_on_from)
        draft.goes_on_from = ("", "")
