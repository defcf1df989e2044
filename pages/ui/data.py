"""What the pages read: property files and their geometry. The only caches."""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import streamlit as st

from core.ground.layout import Property
from core.ground.store import Opened, open_property
from core.judge.order import log_since
from core.keep.damaged.salvage import state_of
from core.keep.entries import Entry
from core.keep.journal import Journal
from core.keep.log import journal_path, open_journal, weather_of
from core.land.kept import land_of
from core.log.judged_before import judged_before
from core.log.ledger import Ledger, ledger
from core.sit.scene import Scene

LOG_MENDED = "log_mended"  # what was put right when a log was opened


def opened(path: Path) -> Opened:
    """A property file, read again whenever it has changed.

    Args: its path. Raises: BadProperty.
    """
    return _opened(str(path), _stamp(path))


def scene(path: Path) -> Scene:
    """The ground made ready for sums, kept until its file changes.

    Args: path of the property file. Raises: BadProperty.
    """
    return _scene(str(path), _stamp(path))


def log(ground: Property, since: str = "") -> tuple[Entry, ...] | None:
    """The entries of a ground's log, kept until it is written to; None without a log.

    Args: the ground; the first local date. Raises: BadJournal.
    """
    path = journal_path(ground.uid)
    stamps = state_of(path)
    if not path.exists():
        return None
    entries, notes = _log(str(path), ground.uid, since, stamps)
    if notes:  # told by whatever screen it is, for as long as the tab is open
        st.session_state[LOG_MENDED] = " ".join(notes)
    return entries


def log_at(ground: Property, stand: str) -> tuple[Entry, ...]:
    """The entries of one stand, of all years. Args: the ground; its id. Raises: BadJournal."""
    path = journal_path(ground.uid)
    return _log_at(str(path), ground.uid, stand, state_of(path)) if path.exists() else ()


@st.cache_resource(max_entries=16, show_spinner=False)
def _log_at(path: str, uid: str, stand: str, stamps) -> tuple[Entry, ...]:  # noqa: ARG001 (key)
    with Journal(Path(path), uid) as journal:
        return tuple(journal.at_stand(stand))


def from_log(ground: Property, what: str, read: Callable[[Journal | None], Any]) -> Any:
    """What a look into the log told, kept until it is written to.

    Args: the ground; what is asked, which with the ground tells it whole; what reads it from
    the journal, None where there is none. Raises: BadJournal.
    """
    path = journal_path(ground.uid)
    return _from_log(str(path), ground.uid, what, state_of(path), read)


@st.cache_resource(max_entries=8, show_spinner=False)
def _from_log(path: str, uid: str, what: str, stamps, _read) -> Any:  # noqa: ARG001 (key)
    if not Path(path).exists():
        return _read(None)
    with Journal(Path(path), uid) as journal:
        return _read(journal)


def log_before(ground: Property, date: datetime.date) -> tuple[Entry, ...] | None:
    """What can still tell at a date, and when each stand was sat last before that.

    Args: the ground; the date. Returns, raises: as `log`.
    """
    since, stands = log_since(ground, date).isoformat(), [s.id for s in ground.stands]
    late = log(ground, since)
    if late is None:
        return None
    what = f"last sits {stands} {since}"
    early = from_log(ground, what, lambda log: log.last_sits(stands, since) if log else [])
    return (*early, *late)


def air_ledger(path: Path, since: str) -> Ledger:
    """The air ledger of a ground, kept until the ground or its log changes.

    Args: path of the property file; the first local date. Raises: BadProperty, BadJournal.
    """
    journal = journal_path(_opened(str(path), _stamp(path)).property.uid)
    return _ledger(str(path), _stamp(path), since, state_of(journal))


@st.cache_resource(max_entries=4, show_spinner=False)
def _ledger(path: str, stamp, since: str, stamps) -> Ledger:  # noqa: ARG001 (key)
    scene = _scene(path, stamp)
    if not journal_path(scene.ground.uid).exists():
        return Ledger((), ())
    with open_journal(scene.ground.uid) as journal:
        entries = journal.entries(since=since)
        before = judged_before(scene.ground, scene.heights)
        return ledger(entries, scene.ground, weather_of(journal), scene, before)


@st.cache_resource(max_entries=8, show_spinner=False)
def _log(path: str, uid: str, since: str, stamps) -> tuple:  # noqa: ARG001 (key)
    with Journal(Path(path), uid) as journal:
        return tuple(journal.entries(since=since)), journal.notes


def _stamp(path: Path) -> tuple[int, int]:
    try:
        status = path.stat()
    except OSError:
        return (0, 0)  # opening it then says what is wrong
    return (status.st_mtime_ns, status.st_size)


@st.cache_resource(max_entries=4, show_spinner=False)
def _opened(path: str, stamp: tuple[int, int]) -> Opened:  # noqa: ARG001 (part of the key)
    return open_property(path)


@st.cache_resource(max_entries=4, show_spinner=False)
def _scene(path: str, stamp: tuple[int, int]) -> Scene:
    opened = _opened(path, stamp)
    return Scene(opened.property, land_of(opened)[0])


def stamp(path: Path) -> tuple[int, int]:
    """Changes whenever a file does. Args: its path."""
    return _stamp(path)


def for_all(key: str, question: tuple, make: Callable[[], Any]) -> Any:
    """An answer that took long, worked out once for every visitor. Args: its key; what is
    asked, which tells it whole; what answers it."""
    return _for_all(key, question, make)


@st.cache_resource(max_entries=12, show_spinner=False)
def _for_all(key: str, question: tuple, _make: Callable[[], Any]) -> Any:  # noqa: ARG001 (key)
    return _make()
