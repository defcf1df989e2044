"""What can be had of a property whose file is broken, gone, or of a later version."""

import dataclasses
from pathlib import Path

from core.errors import BadProperty, StandWindError
from core.ground.home import own_properties
from core.ground.parse import VERSION, read_document
from core.ground.store import Opened, content_hash, open_property, open_version, save_property
from core.ground.versions import list_versions


def restore_version(path: str | Path, number: int, *, now_s: int) -> Opened:
    """Goes back to an earlier version, whatever the file holds now; that is kept as a version.

    Args: the property's file, which may be broken or gone; the version's number; the
    clock, epoch seconds UTC.
    Raises: as `save_property`, and BadProperty for a version that is not there.
    """
    path = Path(path)
    earlier = open_version(path, number)
    try:
        opened = open_property(path)
    except BadProperty:
        opened = _as_if_whole(path, earlier)
    return save_property(opened, earlier.document, path, now_s=now_s)


def _as_if_whole(path: Path, earlier: Opened) -> Opened:
    """The file as its newest sound version knew it, with the hash of what it holds now."""
    known = [version.revision for version in list_versions(path)]
    newest = max((r for r in known if isinstance(r, int)), default=0)
    revision = max(newest, earlier.property.revision)
    prop = dataclasses.replace(earlier.property, revision=revision)
    try:
        held = content_hash(path.read_bytes())
    except FileNotFoundError:
        return dataclasses.replace(earlier, property=prop, path=None, read_only=False)
    except OSError as fault:
        raise StandWindError(
            f"the file can't be read: {fault.strerror or fault}",
            path.name,
            "Mend its rights first.",
        ) from None
    return dataclasses.replace(
        earlier, property=prop, path=path, content_hash=held, read_only=False
    )


def without_file(document: dict, where: str = "") -> Opened:
    """A document whose file is gone or broken, as if it had been opened from it.

    Saved under a name it stays the same property, with its uid, unless another of the
    user's files has that uid now.

    Args: the document; its name for messages. Raises: BadProperty.
    """
    read = read_document(document, where)
    rules = read.document["property"]
    if rules.get("uid") and rules["uid"] in _uids_in_use():
        rules = {name: value for name, value in rules.items() if name != "uid"}
    document = {**read.document, "property": rules}
    return Opened(read.property, document, None, "", read.newer, read.mended)


def _uids_in_use() -> set[str]:
    found = set()
    for path in own_properties():
        try:
            found.add(open_property(path).property.uid)
        except BadProperty:
            continue
    return found


def of_this_version(opened: Opened) -> dict:
    """The document of a later version as one of this program's, for a copy of its own.

    Every member stays. What this program does not know of them it does not use.

    Raises: BadProperty, with what this program cannot read in it.
    """
    rules = {**opened.document["property"], "version": VERSION}
    where = opened.path.name if opened.path else ""
    return read_document({**opened.document, "property": rules}, where).document
