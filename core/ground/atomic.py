"""Replacing a file so that at every moment the old one or the new one is whole.

The new bytes go to a temporary file in the same folder, are flushed to the disk, and
take the old file's name in one step; then the folder itself is flushed. A process that
is killed in between leaves the old file and at most a temporary one.
"""

import contextlib
import os
import shutil
import tempfile
import time
from pathlib import Path

from core.ground.looking import refuse_changes

REPLACE_TRIES = 8
FIRST_WAIT_S = 0.02
TEMPORARY = ".saving"


def write_atomic(path: Path, data: bytes, *, new: bool = False, even_looking: bool = False) -> None:
    """Bytes to a file, whole or not at all.

    Args: the file; the bytes; whether there must be no file of that name yet, not even
    one that came while the bytes were written; whether it may be written where only
    looking is allowed, as a forecast that was fetched.
    Raises: OSError, of which FileExistsError for such a one; the old file then stands.
    OnlyLooking.
    """
    if not even_looking:
        refuse_changes()
    handle, name = tempfile.mkstemp(TEMPORARY, f".{path.name}.", path.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        with contextlib.suppress(OSError):  # a new file has no rights to take over
            shutil.copymode(path, name)
        (_place_new if new else _replace)(name, path)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise
    _sync_folder(path.parent)


def make_folder(folder: Path, *, even_looking: bool = False) -> None:
    """A folder that is still there after a power cut.

    Args: the folder; as in `write_atomic`. Raises: OSError; OnlyLooking for one that is new.
    """
    new = [place for place in (folder, *folder.parents) if not place.exists()]
    if new and not even_looking:
        refuse_changes()
    folder.mkdir(parents=True, exist_ok=True)
    for place in new:
        _sync_folder(place.parent)


def clear_temporary(folder: Path, name: str = "") -> None:
    """Removes what killed saves of a file, or of all of a folder, have left.

    Args:
        folder: where they lie.
        name: the file's name; empty for every file there.

    Only while the lock of those files is held: a save at work has one too.
    """
    start = f".{name}." if name else "."
    for left in folder.iterdir():
        if left.name.startswith(start) and left.name.endswith(TEMPORARY):
            with contextlib.suppress(OSError):
                left.unlink()


def _place_new(source: str, target: Path) -> None:
    """The name for a file that had none, in one step that fails where it is taken."""
    try:
        os.link(source, target)
    except FileExistsError:
        raise
    except OSError:  # a disk without links
        if target.exists():
            raise FileExistsError(str(target)) from None
        _replace(source, target)
    else:
        Path(source).unlink()


def _replace(source: str, target: Path) -> None:
    """os.replace, tried again for a moment where a scanner holds the file (Windows)."""
    for attempt in range(REPLACE_TRIES):
        try:
            os.replace(source, target)  # noqa: PTH105 - the step that tests record
            return
        except PermissionError:
            if attempt == REPLACE_TRIES - 1:
                raise
            time.sleep(FIRST_WAIT_S * 2**attempt)


def _sync_folder(folder: Path) -> None:
    """The folder's own entry to the disk; Windows has no way to, and needs none."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
