"""What a learner has practised: how many situations, how many right, and what went wrong.

One small JSON file in the user's own folder, replaced as a whole.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from core.errors import StandWindError
from core.ground.atomic import make_folder, write_atomic
from core.ground.lock import only_saver
from core.ground.store import data_folder

FORMAT, VERSION = "stand-and-wind-tally", 1
FOLDER, FILE = "learn", "tally.json"  # not beside the property files, which end alike
WAY_IN, SIT, TRAIL, CALM, SAFETY, STAYED = "way-in", "sit", "trail", "calm", "safety", "stayed-home"
REASONS = (WAY_IN, SIT, TRAIL, CALM, SAFETY, STAYED)


class BadTally(StandWindError):
    """A tally file that can't be read."""


@dataclass(frozen=True)
class Tally:
    """Counts so far. `by_reason`: misses, by why they were misses."""

    tried: int = 0
    right: int = 0
    by_reason: dict[str, int] = field(default_factory=lambda: dict.fromkeys(REASONS, 0))

    @property
    def to_practise(self) -> list[str]:
        """Reasons that were missed, most often first."""
        order = [r for r in REASONS if self.by_reason[r]]
        return sorted(order, key=lambda r: -self.by_reason[r])


def tally_path() -> Path:
    """The file, which may not be there yet."""
    return data_folder() / FOLDER / FILE


def read_tally() -> Tally:
    """The tally so far; an empty one where none was kept.

    Raises: BadTally where the file can't be read or is not a tally.
    """
    path = tally_path()
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Tally()
    except (OSError, ValueError, RecursionError) as fault:
        raise _bad(path, f"can't be read ({type(fault).__name__})") from fault
    return _checked(path, kept)


def add_to_tally(right: bool, reasons: Iterable[str]) -> Tally:
    """Counts one situation.

    Args: whether the pick was right; why not, of REASONS.
    Returns: the tally with it. Raises: BadTally; SaveBusy; ValueError for another reason; OSError.
    """
    why = list(dict.fromkeys(reasons))
    unknown = set(why) - set(REASONS)
    if unknown:
        raise ValueError(f"no reasons of the tally: {sorted(unknown)}")
    make_folder(tally_path().parent)
    with only_saver(tally_path().with_suffix(".lock")):
        old = read_tally()
        counts = {r: old.by_reason[r] + (r in why) for r in REASONS}
        new = Tally(old.tried + 1, old.right + bool(right), counts)
        _write(new)
    return new


def clear_tally() -> None:
    """Starts again from nothing, whatever the file holds. Raises: SaveBusy; OSError."""
    make_folder(tally_path().parent)
    with only_saver(tally_path().with_suffix(".lock")):
        _write(Tally())


def _write(tally: Tally) -> None:
    kept = {
        "format": FORMAT,
        "version": VERSION,
        "tried": tally.tried,
        "right": tally.right,
        "by_reason": tally.by_reason,
    }
    write_atomic(tally_path(), (json.dumps(kept, indent=1) + "\n").encode())


def _checked(path: Path, kept) -> Tally:
    """A tally from parsed JSON; what is not one is refused with the value in it."""
    if not isinstance(kept, dict) or kept.get("format") != FORMAT:
        raise _bad(path, "is not a tally")
    if kept.get("version") != VERSION:
        raise _bad(path, f"has version {kept.get('version')!r}, this program reads {VERSION}")
    counts = kept.get("by_reason", {})
    if not isinstance(counts, dict):
        raise _bad(path, f"by_reason is {counts!r}")
    numbers: dict[str, Any] = {"tried": kept.get("tried"), "right": kept.get("right")}
    numbers |= {r: counts.get(r, 0) for r in REASONS}
    for name, value in numbers.items():
        if not isinstance(value, int) or isinstance(value, bool) or value < 0:
            raise _bad(path, f"{name} is {value!r}, not a count")
    return Tally(numbers["tried"], numbers["right"], {r: numbers[r] for r in REASONS})


def _bad(path: Path, what: str) -> BadTally:
    return BadTally(f"the tally {what}", path.name, "Clear it to start again.")
