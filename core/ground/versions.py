"""Earlier versions of a property file: kept beside it, listed, and compared.

They lie in `versions/NAME.json/` beside `NAME.json`, numbered upwards; the last 20 are kept.
"""

import contextlib
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from core.errors import BadProperty
from core.ground.atomic import write_atomic
from core.ground.features import label
from core.ground.fields import printable
from core.ground.jsontext import read_json
from core.ground.looking import refuse_changes

FOLDER = "versions"
KEPT = 20
NAME = re.compile(r"(\d{6,})\.json")


@dataclass(frozen=True)
class Version:
    """One earlier version; what cannot be read of it is None."""

    number: int
    path: Path
    revision: int | None
    saved_utc: str | None
    changes: tuple[str, ...]  # from it to the next later one
    is_sound: bool = True  # whether it can be read at all


def versions_folder(path: Path) -> Path:
    """Where the earlier versions of a file lie."""
    path = path.resolve()
    return path.parent / FOLDER / path.name


def numbered(path: Path) -> list[tuple[int, Path]]:
    """Number and place of each earlier version of a file, oldest first."""
    folder = versions_folder(path)
    if not folder.is_dir():
        return []
    found = ((NAME.fullmatch(entry.name), entry) for entry in folder.iterdir())
    return sorted((int(match.group(1)), entry) for match, entry in found if match)


def keep_version(path: Path, data: bytes) -> None:
    """Keeps the bytes of a file as its newest earlier version, once. Raises: OSError."""
    kept = numbered(path)
    # a save that was killed after this step and tried again must not push others out
    if kept and kept[-1][1].read_bytes() == data:
        return
    number = kept[-1][0] + 1 if kept else 1
    write_atomic(versions_folder(path) / f"{number:06d}.json", data)


def drop_old_versions(path: Path) -> None:
    """Removes all but the last 20. Raises: OnlyLooking."""
    refuse_changes()
    for _, old in numbered(path)[:-KEPT]:
        with contextlib.suppress(OSError):
            old.unlink()


def list_versions(path: str | Path) -> tuple[Version, ...]:
    """The earlier versions of a file, newest first, and what was changed after each."""
    path = Path(path)
    later = _document(path)
    versions = []
    for number, place in reversed(numbered(path)):
        document = _document(place)
        rules = document.get("property") if document else None
        rules = rules if isinstance(rules, dict) else {}
        changes = what_changed(document, later) if document and later else ()
        versions.append(
            Version(
                number,
                place,
                rules.get("revision"),
                rules.get("saved_utc"),
                changes,
                is_sound=document is not None,
            )
        )
        later = document
    return tuple(versions)


def _document(path: Path) -> dict | None:
    try:
        return read_json(path.read_bytes(), path.name)
    except (OSError, BadProperty):
        return None


def what_changed(before: dict, after: dict) -> tuple[str, ...]:
    """What was added, taken out and changed between two property documents, in words."""
    old, new = _by_id(before), _by_id(after)
    added = [f"added {_named(new[id_])}" for id_ in new if id_ not in old]
    taken = [f"took out {_named(old[id_])}" for id_ in old if id_ not in new]
    changed = [
        f"changed {_named(new[id_])}: {', '.join(told)}"
        for id_ in new
        if id_ in old and (told := _feature_changes(old[id_], new[id_]))
    ]
    told = _differing(before.get("property"), after.get("property"), {"revision", "saved_utc"})
    rules = [f"changed the property's {', '.join(told)}"] if told else []
    return (*added, *taken, *changed, *rules)


def _by_id(document: dict) -> dict[str, dict]:
    features = document.get("features")
    features = features if isinstance(features, list) else []
    return {str(item.get("id")): item for item in features if isinstance(item, dict)}


def _named(feature: dict) -> str:
    members = feature.get("properties")
    members = members if isinstance(members, dict) else {}
    name = members.get("name")
    kind = str(members.get("kind", "feature"))
    return label(printable(kind), str(feature.get("id")), name if isinstance(name, str) else "")


def _feature_changes(old: dict, new: dict) -> list[str]:
    moved = ["moved"] if old.get("geometry") != new.get("geometry") else []
    return moved + _differing(old.get("properties"), new.get("properties"), set())


def _differing(old: Any, new: Any, but: set[str]) -> list[str]:
    old, new = (side if isinstance(side, dict) else {} for side in (old, new))
    names = dict.fromkeys([*new, *old])
    return [printable(n) for n in names if n not in but and old.get(n) != new.get(n)]
