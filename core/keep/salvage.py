"""What can still be read of a damaged journal, and where the damaged file is put."""

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from core.ground.looking import refuse_changes

BESIDE = ("", "-wal", "-shm")  # SQLite's own files of one journal
TABLES = ("weather", "entries", "former")


def state_of(path: Path) -> tuple:
    """Changes whenever a journal does. Args: its file.

    The second file is there, and empty, while anybody reads: that is no change."""
    found = []
    for ending in BESIDE[:2]:
        with contextlib.suppress(OSError):
            status = path.with_name(path.name + ending).stat()
            if status.st_size:
                found.append((ending, status.st_mtime_ns, status.st_size))
    return tuple(found)


def put_aside(path: Path) -> Path:
    """Gives a damaged file, with what belongs to it, another name. Raises: OSError; OnlyLooking."""
    refuse_changes()
    aside = _free_name(path)
    for ending in BESIDE:
        source = path.with_name(path.name + ending)
        if source.exists():
            source.rename(aside.with_name(aside.name + ending))
    return aside


def readable(base: sqlite3.Connection) -> dict[str, list]:
    """The rows of a damaged journal that can be read, table by table."""
    saved: dict[str, list] = {table: [] for table in TABLES}
    for table in TABLES:
        with contextlib.suppress(sqlite3.Error):
            for row in _rows(base, table):
                saved[table].append(row)
    return {table: rows for table, rows in saved.items() if rows}


def refill(base: sqlite3.Connection, saved: dict[str, list]) -> None:
    """Puts saved rows into a new journal. Args: it, within a transaction; rows by table.

    What points at something that was lost points at nothing.
    """
    base.execute("pragma defer_foreign_keys = on")
    for table, rows in saved.items():
        marks = ", ".join("?" * len(rows[0]))
        base.executemany(f"insert or ignore into {table} values ({marks})", rows)
    base.execute("update entries set of = null where of not in (select id from entries)")
    base.execute("update entries set weather = null where weather not in (select key from weather)")
    base.execute("delete from former where entry not in (select id from entries)")


def _rows(base: sqlite3.Connection, table: str) -> Iterator[tuple]:
    """Rows one by one, past those that can't be read."""
    last = base.execute(f"select max(rowid) from {table}").fetchone()[0] or 0
    for rowid in range(1, last + 1):
        with contextlib.suppress(sqlite3.Error):
            yield from base.execute(f"select * from {table} where rowid = ?", (rowid,)).fetchall()


def _free_name(path: Path) -> Path:
    names = (path.with_name(f"{path.stem}.damaged-{n}{path.suffix}") for n in range(1, 10_000))
    return next(p for p in names if not p.exists())
