"""Drafts kept on the disk, so that a reload, a lost signal or an empty battery loses none.

One file a property, in `drafts/` beside the properties. It holds the document as it was
drawn and the hash of the file it was begun from. A draft is a help, not a save: a disk
that cannot be written to loses this help and nothing else.
"""

import contextlib
from pathlib import Path

from core.errors import BadProperty
from core.ground.atomic import make_folder, write_atomic
from core.ground.jsontext import read_json, write_json
from core.ground.parse import read_document
from core.ground.store import data_folder

FOLDER = "drafts"


def _place(path: Path) -> Path:
    return data_folder() / FOLDER / path.name


def keep_draft(path: Path, base_hash: str, document: dict) -> None:
    """Keeps a draft of a property.

    Args: the property's file; the hash of what it held; the document as it is drawn.
    """
    with contextlib.suppress(OSError, ValueError):
        make_folder(_place(path).parent)
        write_atomic(_place(path), write_json({"base": base_hash, "document": document}))


def kept_draft(path: Path) -> tuple[str, dict] | None:
    """The draft that was kept of a property: the hash and the document.

    Args: the property's file. Missing: None where there is none that can be used.
    """
    try:
        kept = read_json(_place(path).read_bytes(), path.name)
        document, base_hash = kept["document"], kept["base"]
        # a lane may wait for its stands in a draft; all else must be sound
        read_document({**document, "features": [f for f in document["features"] if _is_whole(f)]})
    except (OSError, BadProperty, KeyError, TypeError, AttributeError):
        return None
    return str(base_hash), document


def _is_whole(feature: dict) -> bool:
    members = feature["properties"]
    return members["kind"] != "lane" or bool(members.get("stands"))


def drop_draft(path: Path) -> None:
    """Forgets the draft of a property. Args: the property's file."""
    with contextlib.suppress(OSError):
        _place(path).unlink()
