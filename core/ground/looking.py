"""Looking only: a screen that was opened to look may change nothing, whatever it asks.

Refused where it is written, not on the screens: files and folders in `core.ground.atomic`,
saves in `core.ground.lock`, the log in `core.keep.journal`. A forecast that was asked for may
be kept, with its cache: it is no change of the ground.
"""

import os

from core.errors import StandWindError

LOOK_VARIABLE = "STAND_WIND_LOOK"


class OnlyLooking(StandWindError):
    """A change that was asked for where only looking is allowed."""


def only_looking() -> bool:
    """Whether this process was started to look only."""
    return os.environ.get(LOOK_VARIABLE) == "1"


def refuse_changes() -> None:
    """Called before anything is written. Raises: OnlyLooking in a process that only looks."""
    if only_looking():
        raise OnlyLooking(
            "this screen was opened to look, and changes nothing",
            "",
            "Make changes on the machine that keeps the ground.",
        )
