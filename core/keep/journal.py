"""The journal: what happened on a ground, kept for good in one SQLite file a property.

Only this file opens it. What was changed keeps its former text; what was removed stays, hidden.
Each call is one transaction, flushed to the disk before it returns: a process that is killed
loses at most what it was writing. What is left of a damaged file goes on in a new one.
"""

import contextlib
import datetime
import gzip
import hashlib
import json
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from core.ground.atomic import make_folder
from core.ground.looking import only_looking, refuse_changes
from core.keep.damaged.salvage import is_cut, is_empty, put_aside, readable, refill, state_of
from core.keep.entries import Entry
from core.keep.rows import (
    AT_STAND,
    FELT,
    FORMER,
    LAST_SIT,
    OF_CALLS,
    ONE,
    asked_entries,
    entry_from,
    new_row,
    values_text,
)
from core.keep.schema import (
    VERSION,
    BadJournal,
    connect,
    fault_said,
    is_damage,
    migrate,
    refuse_others,
    version_of,
)

WAIT_S = 5.0
_SOUND: dict[Path, tuple] = {}  # journals that were found in order, and their state then


class Journal:
    """An open journal. Use it in a `with`. `notes` says what was put right on opening.

    Args: its file, made where it is missing; the property's uid; how long to wait for another
    writer [s]; whether somebody named it: if it is no journal, it stays. Raises: BadJournal.
    """

    def __init__(self, path: Path, uid: str, wait_s: float = WAIT_S, named: bool = False) -> None:
        self.path, self.uid, self.wait_s = path, uid, wait_s
        self.notes: tuple[str, ...] = ()
        if not path.exists():
            refuse_changes()
        elif named:
            refuse_others(path)
        try:
            make_folder(path.parent)
        except OSError as fault:
            raise BadJournal(
                f"its folder can't be made ({fault.strerror})", path.name, "Free the place."
            ) from fault
        self._open()

    def __enter__(self) -> "Journal":
        return self

    def __exit__(self, *_) -> None:
        self.close()

    def close(self) -> None:
        """Lets go of the file."""
        self._base.close()

    def entries(
        self, kind: str | None = None, *, since: str = "", removed: bool = False
    ) -> list[Entry]:
        """Entries by date and by when they were written.

        Args: a kind, or all; the first local date; with those that were removed.
        """
        return self._entries(*asked_entries(kind, since, removed))

    def at_stand(self, stand: str) -> list[Entry]:
        """All of one stand and its sits, these outlined without felt air. Args: id of the stand."""
        return self._entries(AT_STAND, [stand] * 2)

    def last_sits(self, stands: Iterable[str], before: str) -> list[Entry]:
        """The last sit of each stand before a date. Args: ids of stands; the local date."""
        return [e for stand in stands for e in self._entries(LAST_SIT, [stand, before])]

    def of_calls(self) -> list[Entry]:
        """What tells whether calls came true: felt air, deer that winded, and outlined sits."""
        return self._entries(OF_CALLS, [])

    def felt(self) -> list[Entry]:
        """Felt air, and its sits."""
        return self._entries(FELT, [])

    def entry(self, id_: str) -> Entry:
        """One entry, removed ones too. Raises: BadJournal where there is none."""
        found = self._entries(ONE, [id_])
        if not found:
            raise BadJournal(
                f"no entry has the id '{id_[:40]}'", "the log", "See `log list` for the ids."
            )
        return found[0]

    def former(self, id_: str) -> list[Entry]:
        """What an entry said before each change, the oldest first."""
        return self._entries(FORMER, [id_])

    def weather(self, key: str) -> Any | None:
        """A weather table that was kept with an entry, as plain data; None without it."""
        rows = self._read("select packed from weather where key = ?", [key])
        return json.loads(gzip.decompress(rows[0][0])) if rows else None

    def weather_keys(self) -> list[str]:
        """Keys of all tables that were kept."""
        return [row[0] for row in self._read("select key from weather order by key", [])]

    # --- writing ---

    def add(self, entries: Iterable[Entry], now: str = "") -> list[str]:
        """Keeps entries, all or none. One whose id is there already is left as it is.

        Args: checked entries; the ISO time they are written at, the clock's by default.
        Returns: the ids that are new. Raises: BadJournal.
        """
        now = now or _now()
        new = []
        with self._writing() as base:
            for entry in entries:
                done = base.execute(
                    "insert or ignore into entries values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    new_row(entry, now),
                )
                new += [entry.id] * done.rowcount
        return new

    def change(self, entry: Entry, now: str = "") -> Entry:
        """Replaces an entry; what it said before is kept.

        Args: the entry with its id and its new values; the ISO time, the clock's by default.
        Returns: the entry as kept. Raises: BadJournal where there is none.
        """
        now, old = now or _now(), self.entry(entry.id)
        with self._writing() as base:
            base.execute(
                "insert into former values (?, ?, ?, ?, ?, ?)",
                (old.id, old.kind, old.date, values_text(old), old.changed, now),
            )
            base.execute(
                "update entries set kind = ?, date = ?, told = ?, of = ?, weather = ?, changed = ? "
                "where id = ?",
                (
                    entry.kind,
                    entry.date,
                    values_text(entry),
                    entry.of,
                    entry.get("weather"),
                    now,
                    entry.id,
                ),
            )
        return self.entry(entry.id)

    def add_former(self, id_: str, former: Iterable[Entry]) -> None:
        """Keeps what an entry said before, as another journal had it. Args: its id; as `former`
        gives it. Raises: BadJournal."""
        rows = [(id_, e.kind, e.date, values_text(e), e.written, e.changed) for e in former]
        with self._writing() as base:
            base.executemany("insert into former values (?, ?, ?, ?, ?, ?)", rows)

    def remove(self, id_: str, now: str = "") -> None:
        """Hides an entry, with what belongs to it. Raises: BadJournal where there is none."""
        self._set_removed(id_, now or _now())

    def bring_back(self, id_: str) -> None:
        """Shows a removed entry again, with what was hidden with it. Raises: BadJournal."""
        self._set_removed(id_, None)

    def keep_weather(self, table: Any) -> str:
        """Keeps a weather table once. Args: plain data. Returns: its key. Raises: BadJournal."""
        text = json.dumps(table, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
        key = hashlib.sha256(text.encode()).hexdigest()[:32]
        packed = gzip.compress(text.encode(), mtime=0)
        with self._writing() as base:
            base.execute("insert or ignore into weather values (?, ?)", (key, packed))
        return key

    # --- within ---

    def _set_removed(self, id_: str, when: str | None) -> None:
        old = self.entry(id_)
        same = old.removed  # what went with it comes back with it, and nothing else
        with self._writing() as base:
            base.execute(
                "update entries set removed = ? where (id = ? or of = ?) and removed is ?",
                (when, id_, id_, same),
            )

    def _open(self) -> None:
        if is_cut(self.path):
            self._start_anew()
            return
        if is_empty(self.path):
            self.notes = ("The file of the log was empty: the log begins anew.",)
        try:
            self._base = connect(self.path, self.wait_s)
            self._migrate()
            if not self._sound():
                raise sqlite3.DatabaseError("malformed")
        except sqlite3.OperationalError as fault:
            raise fault_said(fault, self.path.name, self.wait_s) from fault
        except sqlite3.DatabaseError:
            self._start_anew()

    def _migrate(self) -> None:
        version = version_of(self._base)
        if version > VERSION:
            self._base.close()
            raise BadJournal(
                f"is of version {version}, this program reads {VERSION}",
                self.path.name,
                "Open it with the later program.",
            )
        if version < VERSION and not (version and only_looking()):  # an older one reads as well
            with self._writing() as base:
                migrate(base, self.uid)

    def _sound(self) -> bool:
        """Whether SQLite finds its pages in order; looked at once for each state of the file."""
        place, state = self.path.absolute(), state_of(self.path)
        if _SOUND.get(place) != state:
            if self._base.execute("pragma quick_check(1)").fetchone()[0] != "ok":
                return False
            _SOUND[place] = state
        return True

    def _start_anew(self) -> None:
        """A damaged journal is put aside; what can be read of it goes into a new one."""
        with contextlib.suppress(AttributeError, sqlite3.Error):
            self._base.close()
        aside = put_aside(self.path)
        saved = readable(aside)
        self._base = connect(self.path, self.wait_s)
        self._migrate()
        with self._writing() as base:
            refill(base, saved)
        n = len(saved.get("entries", ()))
        self.notes = (
            f"The log was damaged. It was put aside as {aside.name}; "
            f"{n} {'entry' if n == 1 else 'entries'} could be read and went on here.",
        )

    def _entries(self, asked: str, told: list) -> list[Entry]:
        """Entries; a row that is spoiled within is found here alone, and starts it anew."""
        try:
            return [entry_from(row) for row in self._read(asked, told)]
        except ValueError:
            self._start_anew()
            return [entry_from(row) for row in self._read(asked, told)]

    def _read(self, asked: str, told: list) -> list:
        try:
            return self._base.execute(asked, told).fetchall()
        except sqlite3.Error as fault:
            if is_damage(fault):
                raise ValueError(str(fault)) from fault
            raise fault_said(fault, self.path.name, self.wait_s) from fault

    @contextlib.contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction, whole or not at all. Raises: BadJournal, OnlyLooking."""
        refuse_changes()
        try:
            self._base.execute("begin immediate")
            yield self._base
            self._base.execute("commit")
        except sqlite3.Error as fault:
            self._undo()
            raise fault_said(fault, self.path.name, self.wait_s) from fault
        except BaseException:
            self._undo()
            raise

    def _undo(self) -> None:
        with contextlib.suppress(sqlite3.Error):
            self._base.execute("rollback")


def _now() -> str:
    return datetime.datetime.now(datetime.UTC).astimezone().isoformat(timespec="seconds")
