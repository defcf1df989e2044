"""Notes that are half written: kept in the user's folder, so that a reload loses none of them."""

import json
from pathlib import Path

from core.ground.atomic import make_folder, write_atomic
from core.keep.log import journal_path

ENDING = ".half-written.json"
MOST_LETTERS, MOST_NOTES = 20_000, 20


def half_written(uid: str, key: str, folder: Path | None = None) -> str:
    """A note as it was left; empty without one.

    Args: the property's uid; what the note is about; the user's folder, their own by default.
    """
    return _all(_path(uid, folder)).get(key, "")


def keep_half_written(uid: str, key: str, text: str, folder: Path | None = None) -> None:
    """Keeps a note as it is now; an empty one goes. Args: as `half_written`; the text.

    Raises: OSError; OnlyLooking.
    """
    path = _path(uid, folder)
    notes = {name: told for name, told in _all(path).items() if name != key}
    if text.strip():
        notes[key] = text[:MOST_LETTERS]
    kept = dict(list(notes.items())[-MOST_NOTES:])
    if kept != _all(path):
        make_folder(path.parent)
        write_atomic(path, json.dumps(kept, ensure_ascii=False).encode())


def _path(uid: str, folder: Path | None) -> Path:
    return journal_path(uid, folder).with_suffix(ENDING)


def _all(path: Path) -> dict[str, str]:
    """What is kept; a file that is none holds nothing."""
    try:
        told = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    notes = told.items() if isinstance(told, dict) else ()
    return {name: text for name, text in notes if isinstance(text, str)}
