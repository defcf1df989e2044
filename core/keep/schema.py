"""The tables of a journal, how an earlier version gets them, and what can go wrong."""

import contextlib
import sqlite3
from pathlib import Path

from core.errors import StandWindError
from core.ground.looking import only_looking

APPLICATION_ID = 0x53574A31  # marks a file as a journal of this program
MARK_AT, HEAD_BYTES = 68, 100  # where SQLite's format has that mark, big-endian; its head
VERSION = 4
# the steps from each version to the next; never changed, only added to
MIGRATIONS = (
    (
        """create table meta (name text primary key, value text not null)""",
        """create table weather (key text primary key, packed blob not null)""",
        """create table entries (
            id text primary key,
            kind text not null,
            date text not null,
            told text not null,
            of text references entries (id),
            weather text references weather (key),
            written text not null,
            changed text not null,
            removed text)""",
        """create index by_date on entries (date)""",
        """create index by_sit on entries (of)""",
        """create table former (
            entry text not null references entries (id),
            kind text not null,
            date text not null,
            told text not null,
            changed text not null,
            until text not null)""",
    ),
    ("""create index by_stand on entries (json_extract(told, '$.stand'))""",),
    (
        """create index by_kind on entries (kind, date)""",
        """create index by_winded on entries (of) where kind = 'seen'
            and json_extract(told, '$.winded')""",
    ),
    (
        """create index by_last_sit on entries (json_extract(told, '$.stand'), date)
            where kind = 'sit' and removed is null and json_extract(told, '$.planned') is not 1""",
    ),
)


def connect(path: Path, wait_s: float) -> sqlite3.Connection:
    """A journal's file, opened; one that is missing is made. Args: it; how long another writer
    is waited for [s]. Raises: sqlite3.Error."""
    base = sqlite3.connect(path, timeout=wait_s, isolation_level=None)
    try:
        base.execute(f"pragma busy_timeout = {round(wait_s * 1000)}")
        base.execute(f"pragma {'query_only = on' if only_looking() else 'journal_mode = wal'}")
        base.execute("pragma synchronous = full")
        base.execute("pragma foreign_keys = on")
    except BaseException:
        base.close()
        raise
    return base


def version_of(base: sqlite3.Connection) -> int:
    """The version of an open journal; 0 for a new file."""
    return base.execute("pragma user_version").fetchone()[0]


def migrate(base: sqlite3.Connection, uid: str) -> None:
    """Brings a journal to this version. Args: it, within a transaction; the property's uid."""
    version = version_of(base)
    for steps in MIGRATIONS[version:]:
        for step in steps:
            base.execute(step)
    if version == 0:
        base.execute("insert into meta values ('property', ?)", (uid,))
        base.execute(f"pragma application_id = {APPLICATION_ID}")
    base.execute(f"pragma user_version = {VERSION}")


class BadJournal(StandWindError):
    """A journal that can't be opened or written."""


def is_damage(fault: sqlite3.Error) -> bool:
    """Whether an error of SQLite tells of a spoiled file. Args: it."""
    text = str(fault)
    return any(word in text for word in ("malformed", "not a database", "decode to UTF-8"))


def fault_said(fault: sqlite3.Error, name: str, wait_s: float) -> BadJournal:
    """What SQLite refuses, in words. Args: its error; the file; how long was waited. [s]"""
    text = str(fault)
    if "locked" in text or "busy" in text:
        what = f"another window is writing to it, for over {wait_s:g} seconds"
        return BadJournal(what, "the log", "Try again in a moment.")
    if "full" in text:
        what = "the disk is full; nothing was written"
        return BadJournal(what, "the log", "Make room and try again.")
    if "readonly" in text or "unable to open" in text:
        return BadJournal(f"can't be written ({text})", name, "Free the place.")
    return BadJournal(f"can't be used ({text})", name, "Open it again.")


def refuse_others(path: Path) -> None:
    """Refuses a file that is no journal of this program. Args: it. Raises: BadJournal."""
    if not path.is_file():
        raise BadJournal("it is no file", path.name, "Look at its name.")
    try:
        with path.open("rb") as file:
            head = file.read(HEAD_BYTES)
    except OSError as fault:
        raise BadJournal(
            f"can't be read ({fault.strerror})", path.name, "Look at its rights."
        ) from fault
    if head and not (is_journal(head) and _mark(path, head) == APPLICATION_ID):
        raise BadJournal("it is no journal of this program", path.name, "Look at its name.")


def _mark(path: Path, head: bytes) -> int:
    """The mark of a SQLite file; of a damaged one that in its head."""
    try:
        address = f"{path.absolute().as_uri()}?mode=ro"
        with contextlib.closing(sqlite3.connect(address, uri=True)) as base:
            return base.execute("pragma application_id").fetchone()[0]
    except sqlite3.Error:
        return int.from_bytes(head[MARK_AT : MARK_AT + 4])


def is_journal(data: bytes) -> bool:
    """Whether a file begins as a SQLite file does. Args: its first bytes."""
    return data.startswith(b"SQLite format 3\x00")
