"""Which of the user's properties was in use last, so that it opens first."""

import contextlib

from core.ground.atomic import make_folder, write_atomic
from core.ground.looking import OnlyLooking
from core.ground.store import data_folder

FILE = "in-use.txt"
LONGEST = 100


def remembered() -> str:
    """Name of the property last in use; empty for the demo.

    Returns: the file's name without its ending. Missing: empty where nothing was
    kept, or what was kept can't be read.
    """
    with contextlib.suppress(OSError, UnicodeDecodeError):
        return (data_folder() / FILE).read_text(encoding="utf-8").strip()[:LONGEST]
    return ""


def remember(name: str) -> None:
    """Keeps the name of the property in use. Args: the file's name without its ending.

    A disk that can't be written to loses this convenience and nothing else.
    """
    with contextlib.suppress(OSError, OnlyLooking):
        make_folder(data_folder())
        write_atomic(data_folder() / FILE, name.encode())
