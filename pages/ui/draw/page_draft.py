"""The draft of the ground in use: begun, taken up from the disk, kept there; one a property.

It lies in the session, and with its undo on the disk, so that a page left, a reload or a
lost signal costs nothing. Each page keeps a draft of its own.
"""

import dataclasses
import uuid
from pathlib import Path

from core.ground.drawing.draft import Draft
from core.ground.drawing.kept_drafts import KeptDraft, drop_draft, keep_draft
from core.ground.parse import VERSION
from core.ground.store import Opened
from core.ground.versions import what_changed

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
