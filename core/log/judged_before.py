"""What the ledger found of each stay before, kept in the user's folder: a saving of time alone.

What a stay gave follows from the stay, the tables kept near it, the ground, its heights and the
rules; it is found again under a hash of all of them. A file that is missing or spoiled is made
anew, and where none can be written all works as without.
"""

import contextlib
import functools
import hashlib
import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from core.errors import StandWindError
from core.ground.atomic import make_folder, write_atomic
from core.ground.home import data_folder
from core.ground.layout import Property
from core.land.kept import KeptLand

FOLDER, START, ENDING = "cache", "ledger-", ".json"
MOST_STAYS, MOST_FILES = 3000, 8
CORE = Path(__file__).resolve().parents[1]
# a change of any of them makes all anew
RULES = (
    *("air", "judge", "land", "log", "sit", "sky", "weather/hours.py", "weather/plain.py"),
    *("angles.py", "units.py", "ground/plan.py", "ground/place.py", "ground/layout.py"),
)


@dataclass(frozen=True, slots=True)
class Gave:
    """What one stay gave: minutes by place and part, and minutes that were not judged."""

    lays: tuple[tuple[str, str, float], ...] = ()
    left_out: tuple[tuple[str, float], ...] = ()


@dataclass
class JudgedBefore:
    """The stays of one ground that were judged before, and those that are new."""

    place: Path | None  # None: nothing is kept
    gave: dict[str, Gave] = field(default_factory=dict)
    new: bool = False

    def get(self, key: str) -> Gave | None:
        """What a stay gave; None where it was never judged. Args: its key."""
        return self.gave.get(key)

    def put(self, key: str, gave: Gave) -> None:
        """Notes what a stay gave. Args: its key; what."""
        self.gave[key] = gave
        self.new = True

    def keep(self) -> None:
        """Writes what is new; where that can't be, it is judged again another time."""
        if not self.new or self.place is None:
            return
        latest = list(self.gave.items())[-MOST_STAYS:]
        told = {key: [gave.lays, gave.left_out] for key, gave in latest}
        with contextlib.suppress(OSError):
            make_folder(self.place.parent, even_looking=True)
            write_atomic(self.place, json.dumps(told).encode(), even_looking=True)
            files = self.place.parent.glob(f"{START}*{ENDING}")
            for old in sorted(files, key=lambda p: p.stat().st_mtime)[:-MOST_FILES]:
                old.unlink()


def judged_before(
    ground: Property, heights: KeptLand | None, folder: Path | None = None
) -> JudgedBefore:
    """What is kept of a ground as it is now.

    Args: the property; its heights, None without; the user's folder, their own by default.
    """
    try:
        where = folder or data_folder()
    except StandWindError:  # there is no such folder, which others say
        return JudgedBefore(None)
    land = None if heights is None else (heights.sha256, heights.use, heights.surface)
    code = hashlib.sha256(repr((ground, land, _rules())).encode()).hexdigest()[:16]
    place = where / FOLDER / f"{START}{code}{ENDING}"
    return JudgedBefore(place, _read(place))


def key_of(stay: Any, tables: list[str]) -> str:
    """The key of a stay. Args: it; keys of the weather kept near it, which tell it whole."""
    return hashlib.sha256(repr((stay, tables)).encode()).hexdigest()[:24]


def _read(place: Path) -> dict[str, Gave]:
    try:
        told = json.loads(place.read_bytes())
        return {
            key: Gave(
                tuple((str(where), str(part), float(m)) for where, part, m in lays),
                tuple((str(why), float(m)) for why, m in left_out),
            )
            for key, (lays, left_out) in told.items()
        }
    except (OSError, ValueError, TypeError, AttributeError, RecursionError):
        return {}


@functools.lru_cache(maxsize=1)
def _rules() -> str:
    """A hash of the rules' own source."""
    code = hashlib.sha256()
    for name in RULES:
        path = CORE / name
        for file in sorted(path.rglob("*.py")) if path.is_dir() else [path]:
            code.update(file.read_bytes())
    return code.hexdigest()
