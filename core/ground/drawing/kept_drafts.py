"""Drafts kept on the disk, so that a reload, a lost signal or an empty battery loses none.

Each open page has a file of its own, in `drafts/NAME/` beside the property `NAME.json`:
two pages never write over each other. It holds what the draft was begun from, the
document as it is drawn, and what can be undone and redone. A draft is a help, not a
save: a disk that takes nothing loses this help and nothing else, and the page says so.

Steps share nearly all of their features, so each feature is written once, in `parts`;
a document is the numbers of its parts.
"""

import contextlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from core.errors import BadProperty, SaveBusy
from core.ground.atomic import clear_temporary, make_folder, write_atomic
from core.ground.drawing.draft import Draft, Step
from core.ground.drawing.edits import model_of
from core.ground.jsontext import MOST_BYTES, read_json
from core.ground.lock import only_saver
from core.ground.parse import read_document
from core.ground.store import content_hash, data_folder, demo_path
from core.ground.versions import what_changed

FOLDER, ENDING = "drafts", ".json"
WAIT_S = 1.0  # a finger that draws does not wait for a save


@dataclass(frozen=True)
class KeptDraft:
    """A draft on the disk.

    `key` is the page that keeps it; `base` the hash of the file it was begun from and
    `saved` that file's document; `mark` changes whenever it is kept anew.
    """

    key: str
    base: str
    saved: dict
    draft: Draft
    mark: str = ""


def _folder(path: Path) -> Path:
    """A property's own: a file that is named like the demo's does not share with it."""
    demo = demo_path()
    named = path.stem == demo.stem or path.stem.endswith(ENDING)
    name = path.stem + ENDING if named and path != demo else path.stem
    return data_folder() / FOLDER / name


def _place(path: Path, key: str) -> Path:
    return _folder(path) / f"{key}.json"


def keep_draft(path: Path, kept: KeptDraft) -> bool:
    """Keeps a draft of a property.

    Args: the property's file; the draft. Returns: whether the disk took it. The oldest
    steps are left out where they would make the file too large to be read again.
    """
    try:
        data = _written(kept)
        make_folder(_folder(path))
        with only_saver(_folder(path) / "lock", WAIT_S):
            clear_temporary(_folder(path))
            write_atomic(_place(path, kept.key), data)
    except (OSError, ValueError, SaveBusy):
        return False
    return True


def drop_draft(path: Path, key: str, mark: str = "") -> None:
    """Forgets a draft of a property.

    Args: the property's file; whose draft; its mark, to leave it where it was kept
    anew since.
    """
    place = _place(path, key)
    with contextlib.suppress(OSError, SaveBusy), only_saver(_folder(path) / "lock", WAIT_S):
        if not mark or content_hash(place.read_bytes()) == mark:
            place.unlink()


def kept_drafts(path: Path, but: str = "") -> tuple[tuple[KeptDraft, ...], tuple[Path, ...]]:
    """The drafts of a property, the one kept last first.

    Args: the property's file; a key that is left aside. Returns: the drafts, and the
    files that should be drafts and cannot be read.
    """
    kept, broken = [], []
    places = [place for place in _folder(path).glob("*.json") if place.stem != but]
    for place in sorted(places, key=_age, reverse=True):
        try:
            data = place.read_bytes()
            kept.append(_read(place.stem, data))
        except OSError:
            continue  # another page has just forgotten it
        except (BadProperty, LookupError, TypeError, AttributeError, ValueError):
            broken.append(place)
    return tuple(kept), tuple(broken)


def drawn_without_file() -> tuple[Path, ...]:
    """Files of properties that are gone while drafts of them hold what is saved nowhere."""
    try:
        names = sorted(folder.name for folder in (data_folder() / FOLDER).iterdir())
    except OSError:
        return ()
    paths = [
        data_folder() / (name if name.endswith(ENDING) else name + ENDING)
        for name in names
        if name != demo_path().stem
    ]
    return tuple(path for path in paths if not path.exists() and unsaved_drafts(path))


def unsaved_drafts(path: Path) -> tuple[KeptDraft, ...]:
    """Drafts that hold more than the file they were begun from. Args: the property's file."""
    return tuple(one for one in kept_drafts(path)[0] if what_changed(one.saved, one.draft.document))


def _age(place: Path) -> int:
    try:
        return place.stat().st_mtime_ns
    except OSError:
        return 0


def holds_more(kept: KeptDraft, document: dict) -> bool:
    """Whether a draft holds something that is saved nowhere.

    Args: the draft; the property's document as it is saved now.
    """
    drawn = kept.draft.document
    return bool(what_changed(kept.saved, drawn)) and bool(what_changed(document, drawn))


# --- written and read


class _Parts:
    """The features and other members of documents, each once."""

    def __init__(self) -> None:
        self.parts: list = []
        self.by_text: dict[str, int] = {}
        self.by_id: dict[int, int] = {}  # the documents live as long as this does

    def number(self, part: Any) -> int:
        if id(part) not in self.by_id:
            text = json.dumps(part, ensure_ascii=False, allow_nan=False)
            if text not in self.by_text:
                self.by_text[text] = len(self.parts)
                self.parts.append(part)
            self.by_id[id(part)] = self.by_text[text]
        return self.by_id[id(part)]

    def packed(self, document: dict) -> dict:
        return {
            name: [self.number(f) for f in value] if name == "features" else self.number(value)
            for name, value in document.items()
        }

    def steps(self, steps: Sequence[Step]) -> list[dict]:
        return [{"said": s.done, "document": self.packed(s.document)} for s in steps]


def _written(kept: KeptDraft) -> bytes:
    """Raises: ValueError for NaN and Infinity, which no JSON has."""
    draft, most = kept.draft, len(kept.draft.past) + len(kept.draft.future)
    while True:
        pool = _Parts()
        packed = {
            "base": kept.base,
            "saved": pool.packed(kept.saved),
            "document": pool.packed(draft.document),
            "past": pool.steps(draft.past[-most:] if most else ()),
            "future": pool.steps(draft.future[-most:] if most else ()),
            "parts": pool.parts,
        }
        data = json.dumps(packed, ensure_ascii=False, allow_nan=False).encode("utf-8")
        if len(data) <= MOST_BYTES or not most:
            return data
        most //= 2


def _read(key: str, data: bytes) -> KeptDraft:
    """Raises: BadProperty, LookupError, TypeError, AttributeError, ValueError."""
    packed = read_json(data, key)
    parts = packed["parts"]
    saved, document = _unpacked(packed["saved"], parts), _unpacked(packed["document"], parts)
    # a lane may wait for its stands in a draft; all else must be sound
    read_document({**document, "features": [f for f in document["features"] if _is_whole(f)]})
    try:
        past, future = (_steps(packed[way], parts) for way in ("past", "future"))
        _check_steps((*past, *future))
        draft = Draft(document, past, future)
    except (BadProperty, LookupError, TypeError, AttributeError, ValueError):
        draft = Draft(document)  # what is drawn counts for more than the way there
    return KeptDraft(key, str(packed["base"]), saved, draft, content_hash(data))


def _unpacked(packed: dict, parts: list) -> dict:
    return {
        name: [parts[i] for i in at] if name == "features" else parts[at]
        for name, at in packed.items()
    }


def _steps(packed: list, parts: list) -> tuple[Step, ...]:
    return tuple(Step(str(step["said"]), _unpacked(step["document"], parts)) for step in packed)


def _check_steps(steps: Sequence[Step]) -> None:
    """Each feature and each set of rules once, however many steps share it."""
    seen: set[int] = set()
    for step in steps:
        document = step.document
        if id(document["property"]) not in seen:
            read_document({**document, "features": []})
        for feature in document["features"]:
            if id(feature) not in seen:
                model_of(document, feature)
        seen |= {id(document["property"]), *map(id, document["features"])}


def _is_whole(feature: dict) -> bool:
    members = feature["properties"]
    return members["kind"] != "lane" or bool(members.get("stands"))
