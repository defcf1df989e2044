"""The one writer for what a command gives: a page, a table, a map file.

Whole or not at all, and never in place of what somebody made: a property, an earlier
version or a draft of one, a journal, the file that was read. They are told by what is in
them, not by their names. Any other file is replaced only where that was asked for.
"""

import mmap
import os
import re
from collections.abc import Collection
from pathlib import Path

from core.errors import BadRequest
from core.ground.atomic import write_atomic
from core.ground.parse import FORMAT
from core.ground.store import data_folder
from core.ground.versions import FOLDER as VERSIONS

OWN_JSON = re.compile(rb'"format"\s*:\s*"' + FORMAT.encode())
# heads of SQLite's files: the database, its journal, its write-ahead log
SQLITE = (
    b"SQLite format 3\0",
    b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7",
    b"\x37\x7f\x06\x82",
    b"\x37\x7f\x06\x83",
)
BESIDE_SQLITE = ("-journal", "-wal", "-shm")
# folders of the program's own inside the user's folder
OWN_FOLDERS = ("drafts", "forecasts", "history", "journal", "learn")
WINDOWS_DEVICE = re.compile(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\..*)?")
ELSEWHERE = "Choose another name."


def check_output(
    path: str | Path, *, replace: bool = False, inputs: Collection[str | Path] = ()
) -> Path:
    """That something may be written to a place; asked before the work is begun.

    Args:
        path: where to.
        replace: whether a file that is there may be overwritten.
        inputs: files that are read for it; none of them is ever overwritten.

    Returns: the file itself, where the name is that of a link.

    Raises: BadRequest, with the reason; nothing was changed.
    """
    place, name = _resolved(Path(path)), str(path)
    _refuse_folders(place, name)
    if not _is_there(place, name):
        return place
    if not place.is_file():
        what = "a folder" if place.is_dir() else "a device or a pipe"
        raise BadRequest(f"it is {what}, not a file", name, ELSEWHERE)
    if any(_same_file(place, Path(one)) for one in inputs):
        raise BadRequest("it is the file that is read", name, ELSEWHERE)
    kept = what_is_kept(place)
    if kept:
        raise BadRequest(f"it is {kept}, which is never overwritten", name, ELSEWHERE)
    if not replace:
        raise BadRequest(
            "there is a file of that name already",
            name,
            "Choose another name, or overwrite it with --replace.",
        )
    return place


def write_output(
    path: str | Path, data: bytes, *, replace: bool = False, inputs: Collection[str | Path] = ()
) -> None:
    """Writes what a command gives: all of it, or nothing.

    Args: as `check_output`, and the bytes.
    Raises: BadRequest; what was there is then as it was.
    """
    place = check_output(path, replace=replace, inputs=inputs)
    try:
        write_atomic(place, data, new=not replace)
    except FileExistsError:
        raise BadRequest(
            "a file of that name came meanwhile", str(path), "Choose another name."
        ) from None
    except OSError as fault:
        raise BadRequest(
            f"can't be written ({fault.strerror or fault}); nothing was changed",
            str(path),
            "Choose a place with room that you may write to.",
        ) from fault


def what_is_kept(place: Path) -> str:
    """What a file is that must never be overwritten; empty for any other.

    Args: a file that is there. Raises: BadRequest where it cannot be looked at.
    """
    try:
        with place.open("rb") as stream:
            head = stream.read(16)
            if head.startswith(SQLITE) or _beside_sqlite(place):
                return "a journal (a database)"
            if head and _holds_own_json(stream):
                return "a property or another file that this program keeps"
    except OSError as fault:
        raise BadRequest(
            f"what is there can't be looked at ({fault.strerror or fault})", str(place), ELSEWHERE
        ) from fault
    return ""


def _holds_own_json(stream) -> bool:
    """Broken files count too: what is left of a property may be all that is left of it."""
    with mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as data:
        return OWN_JSON.search(data) is not None


def _beside_sqlite(place: Path) -> bool:
    stem = next((s for s in BESIDE_SQLITE if place.name.endswith(s)), "")
    base = place.with_name(place.name.removesuffix(stem))
    if not stem or not base.is_file():
        return False
    with base.open("rb") as stream:
        return stream.read(16) == SQLITE[0]


def _resolved(path: Path) -> Path:
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError) as fault:
        raise BadRequest(f"is no name of a file ({fault})", str(path), ELSEWHERE) from None


def _is_there(place: Path, name: str) -> bool:
    try:
        place.lstat()
    except FileNotFoundError:
        return False
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or fault
        raise BadRequest(f"can't be written ({said})", name, ELSEWHERE) from None
    return True


def _refuse_folders(place: Path, name: str) -> None:
    if not place.name or (os.name == "nt" and WINDOWS_DEVICE.fullmatch(place.name)):
        raise BadRequest("is no name of a file", name, ELSEWHERE)
    if not place.parent.is_dir():
        raise BadRequest("its folder is not there", name, "Make the folder first.")
    home, above = data_folder().resolve(), place.parent.parent
    is_own = (above.name == VERSIONS and place.parent.suffix == ".json") or any(
        place.is_relative_to(home / folder) for folder in OWN_FOLDERS
    )
    if is_own:
        raise BadRequest(
            "its folder holds what this program keeps, such as earlier versions",
            name,
            "Choose another folder.",
        )


def _same_file(place: Path, other: Path) -> bool:
    try:
        return place.samefile(other)
    except OSError:
        return False
