"""What can still be read of a damaged journal, and where the damaged file is put."""

import contextlib
import datetime
import gzip
import hashlib
import json
import sqlite3
import zlib
from collections.abc import Iterator
from pathlib import Path

from core.ground.looking import refuse_changes
from core.keep.damaged.raw_pages import pages_of, rows_of_leaves
from core.keep.entries import FIELDS
from core.keep.schema import BadJournal

BESIDE = ("", "-wal", "-shm")  # SQLite's own files of one journal
WEATHER_TABLE, ENTRIES_TABLE, FORMER_TABLE = TABLES = ("weather", "entries", "former")
LEAST_FILE_BYTES = 512  # one page, the smallest there is
LEAST_ROW_BYTES = 20  # no row of any table is shorter


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


def is_cut(path: Path) -> bool:
    """Whether a journal's file is shorter than any journal, and not just begun. Args: it.

    SQLite would take it for a new one, and drop what lies beside it."""
    try:
        size = path.stat().st_size
    except OSError:
        return False
    return size < LEAST_FILE_BYTES and bool(size or state_of(path))


def is_empty(path: Path) -> bool:
    """Whether a journal's file is there and holds nothing. Args: it."""
    try:
        return path.stat().st_size == 0
    except OSError:
        return False


def put_aside(path: Path) -> Path:
    """Gives a damaged file, with what belongs to it, another name. Args: it. Returns: its new
    place. Raises: BadJournal; OnlyLooking."""
    refuse_changes()
    aside = _free_name(path)
    try:
        for ending in BESIDE:
            source = path.with_name(path.name + ending)
            if source.exists():
                source.rename(aside.with_name(aside.name + ending))
    except OSError as fault:
        what = f"is damaged and can't be put aside ({fault.strerror})"
        raise BadJournal(what, path.name, "Free the place.") from fault
    return aside


def readable(path: Path) -> dict[str, list]:
    """The rows of a damaged journal that can be read, table by table. Args: its file.

    As SQLite reads them, and then what is left on pages that it can't find.
    """
    saved: dict[str, dict[tuple, tuple]] = {table: {} for table in TABLES}
    main, wal = (_bytes_of(path.with_name(path.name + ending)) for ending in BESIDE[:2])
    if main:  # of an empty file SQLite drops what lies beside it
        address = f"{path.absolute().as_uri()}?mode=ro"
        with (
            contextlib.suppress(sqlite3.Error),
            contextlib.closing(sqlite3.connect(address, uri=True)) as base,
        ):
            for row in (r for table in TABLES for r in _rows(base, table, len(main))):
                _take(saved, row)
    for pages in pages_of(main, wal):
        for row in rows_of_leaves(pages):
            _take(saved, row)
    return {table: list(rows.values()) for table, rows in saved.items() if rows}


def _bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _take(saved: dict[str, dict[tuple, tuple]], row: tuple) -> None:
    """Puts a row into its table, which its own columns tell; of two of one entry the later."""
    table = _table_of(row)
    if table is None:
        return
    key = row if table == FORMER_TABLE else row[:1]
    was = saved[table].get(key)
    if was is None or (table == ENTRIES_TABLE and was[7] < row[7]):
        saved[table][key] = row


def _table_of(row: tuple) -> str | None:
    """The table of a whole row; None for what is none of this program's."""
    texts = all(isinstance(v, str) for v in row[:4])
    with contextlib.suppress(ValueError, OSError, EOFError, zlib.error, RecursionError):
        if len(row) == 2 and isinstance(row[0], str) and isinstance(row[1], bytes):
            whole = hashlib.sha256(gzip.decompress(row[1])).hexdigest()
            return WEATHER_TABLE if whole.startswith(row[0]) and row[0] else None
        if texts and len(row) in (6, 9) and row[0] and row[1] in FIELDS:
            stamps = row[4:6] if len(row) == 6 else row[6:8]
            datetime.date.fromisoformat(row[2])
            if isinstance(json.loads(row[3]), dict) and all(isinstance(v, str) for v in stamps):
                return FORMER_TABLE if len(row) == 6 else ENTRIES_TABLE
    return None


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


def _rows(base: sqlite3.Connection, table: str, size: int) -> Iterator[tuple]:
    """Rows one by one, past those that can't be read. Args: how long the file is [bytes]."""
    last = 0
    with contextlib.suppress(sqlite3.Error):
        last = base.execute(f"select max(rowid) from {table}").fetchone()[0] or 0
    for rowid in range(1, min(last, size // LEAST_ROW_BYTES) + 1):
        with contextlib.suppress(sqlite3.Error):
            yield from base.execute(f"select * from {table} where rowid = ?", (rowid,)).fetchall()


def _free_name(path: Path) -> Path:
    names = (path.with_name(f"{path.stem}.damaged-{n}{path.suffix}") for n in range(1, 10_000))
    return next(p for p in names if not p.exists())
