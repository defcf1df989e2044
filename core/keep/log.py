"""The log of a property: where its journal lies, what it holds, and a copied ground's log."""

import hashlib
from collections.abc import Callable
from pathlib import Path

from core.ground.store import data_folder
from core.keep.entries import Entry
from core.keep.journal import WAIT_S, Journal
from core.weather.hours import Hours
from core.weather.plain import hours_from_plain

FOLDER, ENDING = "journal", ".sqlite"


def journal_path(uid: str, folder: Path | None = None) -> Path:
    """Where the journal of a property lies; it need not be there yet.

    Args: the property's uid; the user's folder, their own by default.
    """
    safe = "".join(c for c in uid if c.isascii() and (c.isalnum() or c == "-"))[:64]
    if safe != uid or not safe:  # a uid of another make: never a path, never another's file
        safe = "x" + hashlib.sha256(uid.encode()).hexdigest()[:32]
    return (folder or data_folder()) / FOLDER / f"{safe}{ENDING}"


def open_journal(uid: str, folder: Path | None = None, wait_s: float = WAIT_S) -> Journal:
    """The journal of a property. Args: as for `journal_path` and `Journal`. Raises: BadJournal."""
    return Journal(journal_path(uid, folder), uid, wait_s)


def kept_entries(uid: str, folder: Path | None = None) -> list[Entry]:
    """The entries of a property; none where nothing was ever kept, and no file is made then.

    Args: as for `journal_path`. Raises: BadJournal.
    """
    if not journal_path(uid, folder).exists():
        return []
    with open_journal(uid, folder) as journal:
        return journal.entries()


def copy_journal(uid: str, new_uid: str, folder: Path | None = None) -> bool:
    """Gives a copied property the entries of the one it came from.

    Args: both uids. Returns: whether there were any. Raises: BadJournal.
    """
    found = kept_entries(uid, folder)
    if not found:
        return False
    with open_journal(uid, folder) as source, open_journal(new_uid, folder) as target:
        keys = {entry.get("weather") for entry in found} - {None}
        for key in sorted(keys):
            table = source.weather(key)
            if table is not None:
                target.keep_weather(table)
        target.add(found)
    return True


def weather_of(journal: Journal) -> Callable[[str], Hours | None]:
    """What gives the hours kept under a key; None where they can't be read.

    Args: an open journal.
    """

    def hours(key: str) -> Hours | None:
        plain = journal.weather(key)
        try:
            return None if plain is None else hours_from_plain(plain)
        except (TypeError, ValueError, KeyError, AttributeError):
            return None  # of another make: the wind is then not known, and said so

    return hours
