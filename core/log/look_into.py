"""What a file of everything holds, before anything of it is brought in.

Nothing in it is trusted: only names of our own making are taken, sizes are bounded, grounds
and entries are checked as if typed.
"""

import json
import re
import zipfile
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from core.errors import StandWindError
from core.ground import fields as f
from core.ground.home import data_folder, own_properties
from core.ground.store import Opened, open_property, parse_property
from core.ground.versions import FOLDER as VERSIONS
from core.keep.entries import BadEntry, Entry, entry_of
from core.log.tables import counted
from core.log.whole import FORMAT, GROUNDS, HEAD, KEPT, LAND, LOGS, VERSION

MOST_FILES, MOST_BYTES, MOST_TOTAL = 20_000, 60_000_000, 1_000_000_000
GROUND = re.compile(re.escape(GROUNDS) + r"([^/\\\x00-\x1f]{1,200}\.json)")
OLD = re.compile(re.escape(GROUNDS + VERSIONS) + r"/([^/\\\x00-\x1f]{1,200}\.json)/(\d{6,9}\.json)")
LOG = re.compile(re.escape(LOGS) + r"\d{1,6}\.json")
SETTING = re.compile(
    re.escape(KEPT)
    + r"((?:forecasts|learn)/(?:[A-Za-z0-9_+,.-]{1,80}/){0,3}[A-Za-z0-9_+,.-]{1,80})"
)
NEW, SAME, OTHER = "new", "the same", "another"


class BadArchive(StandWindError):
    """A file of everything that can't be used as it is."""


@dataclass(frozen=True, slots=True)
class Ground:
    """A ground in the file: what it is here, NEW, SAME or OTHER, and the file that is here."""

    name: str
    opened: Opened
    here: str
    path: Path | None
    versions: tuple[str, ...]  # names of members


@dataclass(frozen=True, slots=True)
class Log:
    """A log in the file."""

    uid: str
    entries: tuple[Entry, ...]
    former: dict[str, tuple[Entry, ...]]
    weather: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Look:
    """What a file of everything holds, and what would become of it."""

    grounds: tuple[Ground, ...]
    logs: tuple[Log, ...]
    settings: tuple[str, ...]  # names within the user's folder that are not here yet
    notes: tuple[str, ...]

    def lines(self) -> list[str]:
        """The look in words."""
        said = [f"{g.opened.property.name}: {_HERE[g.here]}" for g in self.grounds]
        said += [f"A log of {counted(len(log.entries))}" for log in self.logs]
        said += [f"{counted(len(self.settings), 'file')} of kept weather and settings"]
        return said + list(self.notes)


_HERE = {NEW: "not here yet", SAME: "here already, the same", OTHER: "here already, and different"}


def look_into(stream: IO[bytes], where: str) -> Look:
    """What a file of everything holds; nothing is changed.

    Args: the file, a binary stream; its name. Raises: BadArchive.
    """
    with archive_of(stream, where) as archive:
        names = set(archive.namelist())
        _check_head(archive, where)
        notes: list[str] = []
        here = _own_by_uid()
        grounds = [_ground(archive, n, here, notes) for n in sorted(names) if GROUND.fullmatch(n)]
        logs = [_log(archive, name, notes) for name in sorted(names) if LOG.fullmatch(name)]
        known = {HEAD} | {n for n in names if GROUND.fullmatch(n) or OLD.fullmatch(n)}
        known |= {n for n in names if LOG.fullmatch(n) or is_land(n)}
        settings = [m[1] for n in sorted(names) if (m := SETTING.fullmatch(n)) and _tame(m[1])]
        strange = {n for n in names if not n.endswith("/")} - known - {KEPT + n for n in settings}
        strange -= {f"{KEPT}in-use.txt", f"{KEPT}wind-given.json"}  # of that machine alone
        if strange:
            notes.append(f"{len(strange)} files of other names are left out.")
        home = data_folder()
        wanted = tuple(n for n in settings if not (home / n).exists())
    found = tuple(g for g in grounds if g)
    return Look(found, tuple(x for x in logs if x), wanted, tuple(notes))


def archive_of(stream: IO[bytes], where: str) -> zipfile.ZipFile:
    """The zip, its size bounded. Args: the file; its name. Raises: BadArchive."""
    try:
        stream.seek(0)
        archive = zipfile.ZipFile(stream)
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        raise BadArchive(
            "is no zip, or a broken one", where, "Choose the file as it was."
        ) from None
    infos = archive.infolist()
    sizes = [one.file_size for one in infos]  # no more than so much is ever taken of each
    if len(infos) > MOST_FILES or sum(sizes) > MOST_TOTAL or max(sizes, default=0) > MOST_BYTES:
        raise BadArchive("holds more than this program ever writes", where, "Choose another.")
    twice = [name for name, n in Counter(archive.namelist()).items() if n > 1]
    if twice:
        raise BadArchive(f"holds two files named '{f.printable(twice[0])}'", where, "Make it anew.")
    return archive


def bytes_of(archive: zipfile.ZipFile, name: str) -> bytes:
    """One file of the zip, its size bounded. Args: the zip; its name in it. Raises: BadArchive."""
    try:
        with archive.open(name) as stream:
            data = stream.read(MOST_BYTES + 1)
    except (zipfile.BadZipFile, KeyError, RuntimeError, OSError, EOFError, ValueError) as fault:
        raise BadArchive(f"can't be read ({fault})", name, "Make the file anew.") from None
    except Exception as fault:  # zlib and lzma have errors of their own for broken data
        raise BadArchive("is broken", name, "Make the file anew.") from fault
    if len(data) > MOST_BYTES:
        raise BadArchive("is larger than this program ever writes", name, "Choose another.")
    return data


def _json(archive: zipfile.ZipFile, name: str) -> dict:
    try:
        told = json.loads(bytes_of(archive, name))
    except (ValueError, RecursionError):
        told = None
    if not isinstance(told, dict):
        raise BadArchive("is not what this program writes", name, "Make the file anew.")
    return told


def _check_head(archive: zipfile.ZipFile, where: str) -> None:
    if HEAD not in archive.namelist() or _json(archive, HEAD).get("format") != FORMAT:
        raise BadArchive("is not a file of everything", where, "Make one with `log export`.")
    version = _json(archive, HEAD).get("version")
    if not isinstance(version, int) or version > VERSION:
        raise BadArchive(f"is of version {version}", where, "Open it with the later program.")


def _tame(name: str) -> bool:
    """Whether a name stays where it is told: no step of it leads up or is hidden."""
    return not any(part.startswith(".") for part in name.split("/"))


def is_land(name: str) -> bool:
    """Whether a name in the zip is that of heights beside a ground. Args: the name."""
    return name.startswith(GROUNDS) and LAND.fullmatch(name[len(GROUNDS) :]) is not None


def _own_by_uid() -> dict[str, Opened]:
    found: dict[str, Opened] = {}
    for path in own_properties():
        try:
            opened = open_property(path)
        except StandWindError:
            continue
        found.setdefault(opened.property.uid, opened)
    return found


def _ground(archive, name: str, here: dict[str, Opened], notes: list[str]) -> Ground | None:
    """A ground as it would be opened; one that can't be is left out and told."""
    file = name[len(GROUNDS) :]
    try:
        opened = parse_property(bytes_of(archive, name), file)
    except StandWindError as fault:
        notes.append(f"{file} is left out: {fault.what}.")
        return None
    own = here.get(opened.property.uid)
    same = own is not None and own.content_hash == opened.content_hash
    versions = [n for n in archive.namelist() if (m := OLD.fullmatch(n)) and m[1] == file]
    state = NEW if own is None else SAME if same else OTHER
    return Ground(file, opened, state, own.path if own else None, tuple(sorted(versions)))


def _log(archive, name: str, notes: list[str]) -> Log | None:
    told = _json(archive, name)
    uid, weather = told.get("uid"), told.get("weather")
    if not isinstance(uid, str) or not uid:
        notes.append(f"{name} is left out: it does not say whose log it is.")
        return None
    rows, bad = _entries(told.get("entries"))
    olds = told.get("former") if isinstance(told.get("former"), dict) else {}
    former = {id_: _entries(rows_)[0] for id_, rows_ in (olds or {}).items()}
    if bad:
        notes.append(f"{bad} entries of a log are left out: they are none.")
    return Log(uid, rows, former, weather if isinstance(weather, dict) else {})


def _entries(told: Any) -> tuple[tuple[Entry, ...], int]:
    """Checked entries of plain data, and how many were none."""
    found, bad = [], 0
    for row in told if isinstance(told, list) else []:
        try:
            stamps = [row.get(n) for n in ("id", "of", "written", "changed", "removed")]
            if not all(s is None or (isinstance(s, str) and len(s) <= 64) for s in stamps):
                raise BadEntry("has no text for its times", "the log", "")
            entry = entry_of(row.get("kind"), row.get("date"), row.get("values") or {})
            id_, of, written, changed, removed = stamps
            found.append(
                Entry(
                    id_ or entry.id,
                    entry.kind,
                    entry.date,
                    entry.values,
                    of,
                    written or "",
                    changed or "",
                    removed,
                )
            )
        except (StandWindError, AttributeError, TypeError):
            bad += 1
    return tuple(found), bad
