"""Everything in one file: grounds with their versions and heights, logs, settings and kept
weather as one zip. Logs lie in it as plain JSON, so that no foreign database is ever opened.
"""

import json
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

from core.errors import BadProperty
from core.ground.home import data_folder, own_properties
from core.ground.store import open_property
from core.ground.versions import FOLDER as VERSIONS
from core.ground.versions import numbered
from core.keep.entries import Entry
from core.keep.journal import Journal
from core.keep.log import ENDING, FOLDER, journal_path, open_journal
from core.log.tables import counted

FORMAT, VERSION = "stand-wind-everything", 1
HEAD = "what-is-in-it.json"
GROUNDS, LOGS, KEPT = "grounds/", "logs/", "kept/"
SETTINGS = ("in-use.txt", "wind-given.json")
KEPT_FOLDERS = ("forecasts", "learn")
LEFT = re.compile(r"(^|/)(http-cache|\.)")  # what is made anew, or hidden
LAND = re.compile(r"[^/\\\x00-\x1f]{1,200}\.land-[0-9a-f]{12}\.tif")


def everything_to(out: IO[bytes]) -> list[str]:
    """Writes all that the user's folder holds. Args: where to, a binary stream.

    Returns: what went in, in words. Raises: BadJournal, OSError.
    """
    told: list[str] = []
    grounds: list[dict] = []
    logs: list[dict] = []
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in own_properties():
            n = _put_ground(archive, path)
            grounds.append({"file": path.name, "versions": n})
            told.append(f"{path.name} with {n} earlier version{'s' if n != 1 else ''}")
            log = _log_of(path)
            if log is not None:
                logs.append(_put_log(archive, log, len(logs)))
                told.append(f"its log, {counted(len(log['entries']))}")
        for log in _other_logs({journal_path(log["uid"]) for log in logs}):
            logs.append(_put_log(archive, log, len(logs)))
            told.append(f"a log of a ground that lies elsewhere, {counted(len(log['entries']))}")
        kept = list(_kept_files())
        for name, path in kept:
            archive.write(path, KEPT + name)
        told.append(f"settings and kept weather, {counted(len(kept), 'file')}")
        head = {"format": FORMAT, "version": VERSION, "grounds": grounds, "logs": logs}
        archive.writestr(HEAD, json.dumps(head, ensure_ascii=False, indent=1))
    return told


def _put_ground(archive: zipfile.ZipFile, path: Path) -> int:
    """One ground with its versions and heights. Returns: how many versions."""
    archive.write(path, GROUNDS + path.name)
    for land in sorted(path.parent.iterdir()):
        if LAND.fullmatch(land.name) and land.name.startswith(path.stem):
            archive.write(land, GROUNDS + land.name)
    versions = numbered(path)
    for number, place in versions:
        archive.write(place, f"{GROUNDS}{VERSIONS}/{path.name}/{number:06d}.json")
    return len(versions)


def _log_of(path: Path) -> dict[str, Any] | None:
    """The log of a ground as plain data; None where it has none or can't be read."""
    try:
        uid = open_property(path).property.uid
    except BadProperty:
        return None
    if not journal_path(uid).exists():
        return None
    with open_journal(uid) as journal:
        return log_data(journal)


def _put_log(archive: zipfile.ZipFile, log: dict[str, Any], others: int) -> dict[str, str]:
    name = f"{LOGS}{others + 1}.json"
    archive.writestr(name, json.dumps(log, ensure_ascii=False))
    return {"file": name, "uid": log["uid"]}


def _other_logs(put_in: set[Path]) -> Iterator[dict[str, Any]]:
    """Logs of grounds that are not among the user's own, as the demo's and broken ones."""
    for path in sorted((data_folder() / FOLDER).glob(f"*{ENDING}")):
        if path in put_in or journal_path(path.stem) != path:  # or one that was put aside
            continue
        with open_journal(path.stem) as journal:
            yield log_data(journal)


def log_data(journal: Journal) -> dict[str, Any]:
    """A whole journal as plain data. Args: an open one. Raises: BadJournal."""
    entries = journal.entries(removed=True)
    former = {e.id: [entry_data(old) for old in journal.former(e.id)] for e in entries}
    return {
        "uid": journal.uid,
        "entries": [entry_data(e) for e in entries],
        "former": {id_: olds for id_, olds in former.items() if olds},
        "weather": {key: journal.weather(key) for key in journal.weather_keys()},
    }


def entry_data(entry: Entry) -> dict[str, Any]:
    """An entry as plain data, its values apart. Args: the entry."""
    return {
        "id": entry.id,
        "kind": entry.kind,
        "date": entry.date,
        "values": dict(entry.values),
        "of": entry.of,
        "written": entry.written,
        "changed": entry.changed,
        "removed": entry.removed,
    }


def _kept_files() -> Iterator[tuple[str, Path]]:
    """Settings and kept weather: their names within the user's folder, and where they lie."""
    home = data_folder()
    for name in SETTINGS:
        if (home / name).is_file():
            yield name, home / name
    for folder in KEPT_FOLDERS:
        for path in sorted((home / folder).rglob("*")):
            name = path.relative_to(home).as_posix()
            if path.is_file() and not path.is_symlink() and not LEFT.search(name):
                yield name, path
