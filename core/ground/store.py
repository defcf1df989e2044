"""Opening and saving property files: nothing is lost, and nobody overwrites silently."""

import datetime
import hashlib
import uuid
from dataclasses import dataclass
from pathlib import Path

from core.errors import BadProperty, SaveConflict, StandWindError
from core.ground.atomic import clear_temporary, make_folder, write_atomic
from core.ground.home import data_folder, new_path, own_properties
from core.ground.jsontext import MOST_BYTES, read_json, write_json
from core.ground.layout import Property
from core.ground.lock import only_saver
from core.ground.parse import property_from_document, read_document
from core.ground.versions import (
    Version,
    drop_old_versions,
    keep_version,
    list_versions,
    numbered,
    versions_folder,
)

__all__ = [
    "Opened",
    "Version",
    "data_folder",
    "demo_path",
    "list_versions",
    "new_path",
    "open_property",
    "open_version",
    "own_properties",
    "parse_property",
    "property_from_document",
    "save_property",
]
DEMO = Path(__file__).resolve().parents[2] / "demo_property.json"


@dataclass(frozen=True)
class Opened:
    """A property file as it was opened.

    `document` is the whole parsed file, with every member that the program does not
    know, in order, and rings wound as they should be; copy it before changing it.
    `content_hash` is the SHA-256 of the bytes that were read. `read_only`: it is the
    demo, or its version is newer than this program's. `mended` says what was put right
    or is not used.
    """

    property: Property
    document: dict
    path: Path | None
    content_hash: str
    read_only: bool
    mended: tuple[str, ...]


def demo_path() -> Path:
    """The demo's own file, which is never written to."""
    return DEMO


def content_hash(data: bytes) -> str:
    """SHA-256 of some bytes, as hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def parse_property(data: bytes, where: str, path: Path | None = None) -> Opened:
    """A property from the bytes of its file. Raises: BadProperty.

    Args:
        data: the whole file.
        where: its name, for messages.
        path: where it was read from; None for bytes that have no file.
    """
    read = read_document(read_json(data, where), where)
    read_only = read.newer or (path is not None and _is_demo(path))
    return Opened(read.property, read.document, path, content_hash(data), read_only, read.mended)


def open_property(path: str | Path) -> Opened:
    """A property from its file. Raises: BadProperty."""
    path = Path(path)
    return parse_property(_read(path), path.name, path)


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            # one byte over is enough to see that a file is too large
            return stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise BadProperty(
            f"the file cannot be opened: {error.strerror or error}",
            str(path),
            "Check the name, and that it is a file you may read.",
        ) from None


def open_version(path: str | Path, number: int) -> Opened:
    """An earlier version of a file, read-only.

    To go back to it, save its document over the file as it is opened now.

    Raises: BadProperty where there is no such version, or it cannot be read.
    """
    path = Path(path)
    place = dict(numbered(path)).get(number)
    if place is None:
        told = ", ".join(str(n) for n, _ in numbered(path)) or "none"
        raise BadProperty(f"there is no version {number}", path.name, f"Kept are: {told}.")
    opened = parse_property(_read(place), f"{path.name}, version {number}", place)
    return Opened(opened.property, opened.document, place, opened.content_hash, True, opened.mended)


def save_property(
    opened: Opened, document: dict, path: str | Path | None = None, *, now_s: int
) -> Opened:
    """Saves a document, atomically, and keeps what the file held before.

    Args:
        opened: what was opened, with the hash of its bytes and its revision.
        document: the document to save, changed or not; it is checked first.
        path: where to; None is where it was opened from. Another file is a copy, gets
            an own uid, and must not be there yet.
        now_s: the clock, epoch seconds UTC.

    Returns: the file as it now is, with the next revision.

    Raises: BadProperty for a document that could not be opened again or a file that is
        read-only, SaveConflict where the file on disk is not the one that was opened,
        StandWindError where it cannot be written; the file then is as it was.
    """
    path = Path(path) if path is not None else opened.path
    if path is None:
        raise BadProperty("there is no file name to save under", "", "Choose a name.")
    is_copy = opened.path is not None and not _same_file(path, opened.path)
    _refuse_read_only(opened, path, is_copy=is_copy)
    data = _written(_stamped(opened, document, path.name, now_s, is_copy=is_copy), path.name)
    saved = parse_property(data, path.name, path)
    try:
        _write(opened, path.resolve(), data)
    except OSError as error:
        raise StandWindError(
            f"the file could not be saved: {error.strerror or error}",
            str(path),
            "It is as it was. Make room or mend the folder's rights, and save again.",
        ) from error
    return saved


def _refuse_read_only(opened: Opened, path: Path, *, is_copy: bool) -> None:
    if _is_demo(path):
        raise BadProperty(
            "the demo is read-only", path.name, "Save it as a property of your own, under a name."
        )
    if opened.read_only and not is_copy:
        raise BadProperty(
            "it was opened read-only", path.name, "Save it under another name, or open it anew."
        )


def _stamped(opened: Opened, document: dict, where: str, now_s: int, *, is_copy: bool) -> dict:
    """A checked document with the next revision, the time, and an own uid for a copy."""
    read = read_document(document, where)
    if read.newer:
        raise BadProperty(
            f"the file is of version {read.document['property']['version']}, newer than this "
            "program's: it is read-only",
            where,
            "Use a newer program to change it.",
        )
    saved = datetime.datetime.fromtimestamp(now_s, datetime.UTC)
    stamp = {
        "revision": opened.property.revision + 1,
        "saved_utc": saved.strftime("%Y-%m-%dT%H:%M:%SZ"),
    }
    if is_copy or not read.property.uid:
        stamp["uid"] = str(uuid.uuid4())
    return {**read.document, "property": {**read.document["property"], **stamp}}


def _written(document: dict, where: str) -> bytes:
    try:
        return write_json(document)
    except ValueError:
        raise BadProperty(
            "a member that this program does not use holds NaN or Infinity",
            where,
            "JSON has no such number: take it out.",
        ) from None


def _write(opened: Opened, path: Path, data: bytes) -> None:
    make_folder(versions_folder(path))
    with only_saver(versions_folder(path) / "lock"):
        old = path.read_bytes() if path.exists() else None
        _refuse_conflict(opened, path, old)
        clear_temporary(path.parent, path.name)
        clear_temporary(versions_folder(path))
        if old is not None:
            keep_version(path, old)
        write_atomic(path, data)
        drop_old_versions(path)


def _refuse_conflict(opened: Opened, path: Path, old: bytes | None) -> None:
    is_same = opened.path is not None and _same_file(path, opened.path)
    if not is_same and old is None:
        return
    if not is_same:
        raise SaveConflict("there is a file of that name already", path.name, "Choose another.")
    if old is None:
        raise SaveConflict(
            "the file is gone: it was moved or taken out since it was opened",
            path.name,
            "Save yours under another name.",
        )
    if content_hash(old) != opened.content_hash:
        raise SaveConflict(
            "the file was changed since it was opened, by another tab or program",
            path.name,
            "Save yours under another name to keep both, or open the file anew.",
        )


def _is_demo(path: Path) -> bool:
    return _same_file(path, DEMO)


def _same_file(a: Path, b: Path) -> bool:
    return a.resolve() == b.resolve()
