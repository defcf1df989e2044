"""A weather file that somebody brought for a sit, kept on this machine until that sit is over.

As a wind that was typed (`core.weather.given`): it opens again in a new tab and after a
restart, with what was answered about it. One for each ground; it is no part of the ground.
"""

import contextlib
import hashlib
import json
from dataclasses import asdict, dataclass
from pathlib import Path

from core.ground.atomic import make_folder, write_atomic
from core.ground.looking import OnlyLooking, refuse_changes
from core.ground.store import data_folder
from core.weather.answers import Answers

STEM, ENDING = "wind-file-", ".kept"


@dataclass(frozen=True, slots=True)
class GivenFile:
    """A weather file: its bytes and name, what was answered about it, when it was given, and
    when the sit ends that it was given for."""

    data: bytes
    name: str
    answers: Answers
    given_s: float
    until_s: float


def keep_file(uid: str, given: GivenFile) -> bool:
    """Keeps a weather file for a ground; what is over by then is dropped.

    Args: the property's uid; the file. Returns: whether it is kept: not on a disk that can't
    be written to, nor where a screen only looks.
    """
    told = {
        "name": given.name,
        "answers": asdict(given.answers),
        "given_s": given.given_s,
        "until_s": given.until_s,
    }
    with contextlib.suppress(OSError, OnlyLooking):
        make_folder(data_folder())
        write_atomic(_path(uid), json.dumps(told).encode() + b"\n" + given.data)
        for path in data_folder().glob(f"{STEM}*{ENDING}"):
            other = _read(path)
            if other is None or other.until_s <= given.given_s:
                path.unlink()
        return True
    return False


def file_now(uid: str, now_s: float) -> GivenFile | None:
    """The weather file that still holds for a ground. Args: the property's uid; the clock
    [epoch s].

    Missing: None where none was given, its sit is over, or what was kept can't be read.
    """
    given = _read(_path(uid))
    return given if given is not None and given.given_s <= now_s < given.until_s else None


def drop_file(uid: str) -> None:
    """Keeps the weather file of a ground no longer. Args: the property's uid."""
    with contextlib.suppress(OSError, OnlyLooking):
        if _path(uid).exists():
            refuse_changes()
            _path(uid).unlink()


def _path(uid: str) -> Path:
    # a uid is what a file says of itself: no part of it may lead elsewhere
    return data_folder() / f"{STEM}{hashlib.sha256(uid.encode()).hexdigest()[:16]}{ENDING}"


def _read(path: Path) -> GivenFile | None:
    with contextlib.suppress(OSError, ValueError, TypeError, KeyError, AttributeError):
        head, _, data = path.read_bytes().partition(b"\n")
        told = json.loads(head)
        columns = tuple((str(what), str(name)) for what, name in told["answers"].pop("columns"))
        answers = Answers(**told["answers"], columns=columns)
        times = float(told["given_s"]), float(told["until_s"])
        return GivenFile(data, str(told["name"]), answers, *times)
    return None
