"""The wind that somebody gave for a sit, kept on this machine until that sit is over.

It opens again in a new tab and after a restart, with its age; a wind of yesterday never does.
"""

import contextlib
import json
from dataclasses import asdict, dataclass

from core.ground.atomic import make_folder, write_atomic
from core.ground.looking import OnlyLooking
from core.ground.store import data_folder

FILE = "wind-given.json"


@dataclass(frozen=True, slots=True)
class GivenWind:
    """A wind in words, when it was given, and when the sit ends that it was given for."""

    text: str
    cloud: str  # a word for it, as it was chosen
    given_s: float
    until_s: float


def keep_given(uid: str, given: GivenWind) -> None:
    """Keeps a wind for a ground. Args: the property's uid; the wind.

    What is over by then is dropped. A disk that can't be written to loses this convenience
    and nothing else.
    """
    held = {k: g for k, g in _held().items() if g.until_s > given.given_s}
    held[uid] = given
    told = json.dumps({k: asdict(g) for k, g in held.items()})
    with contextlib.suppress(OSError, OnlyLooking):
        make_folder(data_folder())
        write_atomic(data_folder() / FILE, told.encode())


def given_now(uid: str, now_s: float) -> GivenWind | None:
    """The wind that still holds for a ground. Args: the property's uid; the clock [epoch s].

    Missing: None where none was given, its sit is over, or what was kept can't be read.
    """
    given = _held().get(uid)
    return given if given is not None and given.given_s <= now_s < given.until_s else None


def _held() -> dict[str, GivenWind]:
    with contextlib.suppress(OSError, ValueError, TypeError, AttributeError):
        told = json.loads((data_folder() / FILE).read_text(encoding="utf-8"))
        return {uid: _checked(GivenWind(**values)) for uid, values in told.items()}
    return {}


def _checked(given: GivenWind) -> GivenWind:
    """A wind as it was kept. Raises: TypeError where somebody wrote something else."""
    words = isinstance(given.text, str) and isinstance(given.cloud, str)
    if not words or not all(isinstance(n, int | float) for n in (given.given_s, given.until_s)):
        raise TypeError("not a wind")
    return given
