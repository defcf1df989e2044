"""Everything brought in on another machine: what is not there yet, after a look.

What is here already stays as it is; a ground that differs is left, or saved over it on
request, the former one kept as its earlier version.
"""

import dataclasses
import datetime
from collections.abc import Iterable
from pathlib import Path
from typing import IO

from core.ground.atomic import make_folder, write_atomic
from core.ground.home import data_folder, new_path
from core.ground.looking import refuse_changes
from core.ground.store import Opened, open_property, save_property
from core.ground.versions import versions_folder
from core.keep.entries import Entry
from core.keep.journal import Journal
from core.keep.log import journal_path, open_journal
from core.log.look_into import (
    OLD,
    OTHER,
    SAME,
    Ground,
    Log,
    archive_of,
    bytes_of,
    is_land,
    look_into,
)
from core.log.tables import counted
from core.log.whole import GROUNDS, KEPT


def bring_in(stream: IO[bytes], where: str, *, replace: bool = False) -> list[str]:
    """Brings in what is not here yet.

    Args: the file; its name; whether a ground that differs is saved over the one that is here.
    Returns: what was done, in words. Raises: BadArchive, as `save_property`, BadJournal,
    OnlyLooking.
    """
    refuse_changes()
    look = look_into(stream, where)
    said: list[str] = []
    with archive_of(stream, where) as archive:
        for ground in look.grounds:
            said.append(_bring_ground(archive, ground, replace))
        for log in look.logs:
            said.append(_bring_log(log))
        for name in look.settings:
            target = data_folder() / name
            make_folder(target.parent)
            write_atomic(target, bytes_of(archive, KEPT + name))
    if look.settings:
        said.append(f"{counted(len(look.settings), 'file')} of kept weather and settings came in.")
    return [*said, *look.notes]


def _bring_ground(archive, ground: Ground, replace: bool) -> str:
    name = ground.opened.property.name
    if ground.here == SAME:
        return f"{name} was here already."
    now_s = 0
    if ground.here == OTHER and ground.path is not None:
        if not replace:
            return f"{name} is here and different: yours stays as it is."
        own = open_property(ground.path)
        save_property(own, ground.opened.document, now_s=_saved_s(ground.opened, now_s))
        return f"{name} is as in the file; yours is its earlier version."
    path = new_path(Path(ground.name).stem)
    make_folder(path.parent)
    if ground.versions:
        make_folder(versions_folder(path))
    for member in ground.versions:
        found = OLD.fullmatch(member)
        if found:
            write_atomic(versions_folder(path) / found[2], bytes_of(archive, member))
    for member in archive.namelist():
        land = data_folder() / member[len(GROUNDS) :]
        if is_land(member) and not land.exists():
            write_atomic(land, bytes_of(archive, member))
    write_atomic(path, bytes_of(archive, GROUNDS + ground.name))
    n = len(ground.versions)
    return f"{name} came in as {path.name}, with {n} earlier version{'s' if n != 1 else ''}."


def _saved_s(opened: Opened, default: int) -> int:
    text = opened.property.saved_utc
    if not text:
        return default
    return int(datetime.datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp())


def _bring_log(log: Log) -> str:
    """Adds what a log has and this one has not; what is here stays."""
    was_here = journal_path(log.uid).exists()
    with open_journal(log.uid) as journal:
        new, differ = merge(journal, log)
    said = f"{counted(new)} came into the log" + ("" if was_here else ", which is new")
    if not differ:
        return f"{said}."
    is_, stays = ("is", "stays") if differ == 1 else ("are", "stay")
    return f"{said}; {differ} {is_} here and different: yours {stays}."


def merge(journal: Journal, log: Log) -> tuple[int, int]:
    """Puts a log into a journal. Args: it; the log.

    Returns: how many entries are new, and how many are there with other words and stay.
    Raises: BadJournal.
    """
    have = {e.id: e for e in journal.entries(removed=True)}
    keys = set(journal.weather_keys())
    for key, table in log.weather.items():
        if key not in keys and isinstance(table, dict):
            keys.add(journal.keep_weather(table))
    ids = set(have) | {e.id for e in log.entries}
    fresh = [tied(e, ids, keys) for e in log.entries if e.id not in have]
    new = set(journal.add(_parents_first(fresh)))
    for id_ in new & set(log.former):
        journal.add_former(id_, log.former[id_])
    differ = [e for e in log.entries if e.id in have and dict(e.values) != dict(have[e.id].values)]
    return len(new), len(differ)


def loose_text(entries: Iterable[Entry], ids: Iterable[str]) -> str:
    """What is said of entries whose sits are missing; empty without any.

    Args: the entries of a table; ids of the log.
    """
    entries = list(entries)
    there = {e.id for e in entries} | set(ids)
    n = sum(e.of is not None and e.of not in there for e in entries)
    if not n:
        return ""
    one, they = ("entry belongs", "it") if n == 1 else ("entries belong", "they")
    return (
        f"{n} {one} to sits that are not in the log: bring in the table of sits first, "
        f"or {they} stand alone."
    )


def add_new(journal: Journal, entries: Iterable[Entry]) -> int:
    """Adds the entries of a table that are not there yet. Args: the journal; them.

    Returns: how many are new. Raises: BadJournal.
    """
    entries = list(entries)
    ids = {e.id for e in journal.entries(removed=True)} | {e.id for e in entries}
    keys = set(journal.weather_keys())
    return len(journal.add(_parents_first([tied(e, ids, keys) for e in entries])))


def _parents_first(entries: list[Entry]) -> list[Entry]:
    return sorted(entries, key=lambda e: e.of is not None)


def tied(entry: Entry, ids: set[str], keys: set[str]) -> Entry:
    """An entry that points at nothing that is not there. Args: it; ids; keys of weather."""
    values = dict(entry.values)
    if values.get("weather") not in keys:
        values.pop("weather", None)
    return dataclasses.replace(entry, values=values, of=entry.of if entry.of in ids else None)
