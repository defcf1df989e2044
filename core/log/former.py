"""A table of former years as entries: which column is what is known by its name, or asked."""

import datetime
import json
import re
import uuid
from collections import Counter
from collections.abc import Sequence
from zoneinfo import ZoneInfo

from core.errors import BadRequest, Choice, NeedsAnswer
from core.ground.layout import Property
from core.keep.entries import NOTE, SEEN, SIT, BadEntry, Entry, entry_of
from core.keep.names import find_names, names_of
from core.log.tables import MOST_BYTES, ReadIn, entries_from, is_own, rows_of
from core.weather.answers import Answers
from core.weather.clocks.date_order import order_told, settle_order
from core.weather.clocks.stamps import date_of, parse_stamp

# what a column can be, and the names under which each is known
KNOWN = {
    "date": ("date", "day", "datum", "when"),
    "stand": ("stand", "location", "seat", "blind", "place"),
    "half": ("half", "sit", "am/pm", "time of day", "session"),
    "time": ("time", "clock", "at", "hour"),
    "count": ("count", "number", "deer", "seen", "how many"),
    "kind": ("sex", "doe/buck", "buck/doe"),
    "yards": ("yards", "yd", "distance", "range"),
    "winded": ("winded", "busted", "smelled"),
    "note": ("note", "notes", "comment", "comments", "remarks"),
}
NEEDED = ("date",)
HALVES = {
    "am": "morning",
    "a.m.": "morning",
    "morning": "morning",
    "dawn": "morning",
    "pm": "evening",
    "p.m.": "evening",
    "evening": "evening",
    "dusk": "evening",
    "afternoon": "evening",
    "all day": "all-day",
    "all-day": "all-day",
    "day": "all-day",
}
DEER = {"doe": "doe", "does": "doe", "buck": "buck", "bucks": "buck", "fawn": "fawn"}
YES = ("yes", "y", "x", "true", "1", "winded")
SAMPLE_LETTERS = 30


def columns_of(header: Sequence[str], named: Sequence[tuple[str, str]]) -> dict[str, int]:
    """Which column is what. Args: the header; what the user named, over what is known.

    Raises: BadRequest for a column that is not there.
    """
    low = [" ".join(cell.casefold().replace("_", " ").split()) for cell in header]
    found: dict[str, int] = {}
    for what, names in KNOWN.items():
        at = next((low.index(name) for name in names if name in low), None)
        if at is not None and at not in found.values():
            found[what] = at
    for what, name in named:
        at = _named(name, low)
        if at is None:
            raise BadRequest(
                f"there is no column '{name}'", "--column", f"There are: {', '.join(header)}."
            )
        found = {k: v for k, v in found.items() if v != at} | {what: at}
    return found


def _named(name: str, low: list[str]) -> int | None:
    key = " ".join(name.casefold().replace("_", " ").split())
    if key in low:
        return low.index(key)
    return int(name) - 1 if name.isdigit() and 1 <= int(name) <= len(low) else None


def column_answers(words: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Columns as the command line names them. Args: such as `date=Day`. Raises: BadRequest."""
    pairs = []
    for word in words:
        what, _, name = word.partition("=")
        if what.strip() not in KNOWN or not name.strip():
            raise BadRequest(
                f"'{word}' names no column",
                "--column",
                f"Write it like date=Day, with one of {', '.join(KNOWN)}.",
            )
        pairs.append((what.strip(), name.strip()))
    return tuple(pairs)


def former_entries(
    rows: list[list[str]], ground: Property, where: str, answers: Answers, now: str
) -> ReadIn:
    """The entries that a table of former years tells of.

    Args: header and lines; the property; the file's name; what was answered; the ISO time.
    Returns: a sit for each stand, date and half, what was seen on it, and notes.
    Raises: NeedsAnswer where it stays open which column is the date, or in which order dates
    are written; BadRequest for a column that is not there.
    """
    header = [cell.strip() for cell in rows[0]]
    columns = columns_of(header, answers.columns)
    lacking = tuple(what for what in NEEDED if what not in columns)
    if lacking:
        raise _ask(header, rows, lacking, columns, where)
    cells = [_cell(row, columns["date"]) for row in rows[1:]]
    lines = list(range(2, len(rows) + 1))
    stamps = [parse_stamp(cell) for cell in cells]
    told = order_told(header[columns["date"]])
    order, remarks = settle_order(stamps, cells, lines, where, told, answers)
    notes = [*_not_taken(header, rows, columns), *(str(remark) for remark in remarks)]
    table = _Former(ground, columns, now)
    for line, row, stamp, cell in zip(lines, rows[1:], stamps, cells, strict=True):
        date = None if stamp is None else date_of(stamp, order)
        if date is None:
            notes.append(f"{where}, line {line} is left out: '{cell[:SAMPLE_LETTERS]}' is no date.")
            continue
        try:
            table.take(row, date)
        except BadEntry as fault:
            notes.append(f"{where}, line {line} is left out: {fault.what}.")
    for name in sorted(table.strange):
        notes.append(f"No stand is called '{name}': its lines are kept as notes.")
    return ReadIn(tuple(table.entries), tuple(notes))


def read_in(data: bytes, ground: Property, where: str, answers: Answers, now: str) -> ReadIn:
    """The entries of a table, of this program's own or of former years.

    Args: the file's bytes; the property; its name; what was answered; the ISO time.
    Raises: BadEntry where it is no table; as `former_entries`.
    """
    if len(data) > MOST_BYTES:
        raise BadEntry(f"has over {MOST_BYTES / 1e6:.0f} MB", where, "Choose another file.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    rows = rows_of(text, where)
    if is_own(rows[0]):
        return entries_from(rows, where)
    return former_entries(rows, ground, where, answers, now)


def _ask(header, rows, lacking, columns: dict[str, int], where: str) -> NeedsAnswer:
    taken = set(columns.values())
    choices = tuple(
        Choice(name or str(i + 1), _sample(rows, i))
        for i, name in enumerate(header)
        if i not in taken
    )
    may = tuple(what for what in KNOWN if what not in columns and what not in lacking)
    return NeedsAnswer(
        "it is open which column is the date", where, "columns", choices, needs=lacking, may=may
    )


def _not_taken(header: list[str], rows, columns: dict[str, int]) -> list[str]:
    """What is said of columns that hold something and are of no use here."""
    left = [
        header[i] or str(i + 1)
        for i in range(len(header))
        if i not in columns.values() and any(_cell(row, i) for row in rows[1:])
    ]
    return [f"Columns that are not taken: {', '.join(left)}."] if left else []


def _sample(rows: list[list[str]], i: int) -> str:
    cells = [c for row in rows[1:20] if (c := _cell(row, i))]
    return ", ".join(c[:SAMPLE_LETTERS] for c in cells[:3]) or "empty"


def _cell(row: Sequence[str], i: int) -> str:
    return row[i].strip() if i < len(row) else ""


class _Former:
    """The entries of a table as they are made, a line at a time."""

    def __init__(self, ground: Property, columns: dict[str, int], now: str) -> None:
        self.ground, self.columns, self.now = ground, columns, now
        self.names = tuple(n for n in names_of(ground) if n.kind == "stand")
        self.entries: list[Entry] = []
        self.sits: dict[tuple[str, str, str], Entry] = {}
        self.strange: set[str] = set()
        self.times: Counter[str] = Counter()

    def take(self, row: Sequence[str], date: datetime.date) -> None:
        """One line. Args: its cells; its date. Raises: BadEntry."""
        told = {what: _cell(row, i) for what, i in self.columns.items()}
        day, text = date.isoformat(), told.get("note", "")
        stand = self._stand(told.get("stand", ""))
        at = self._at(date, told.get("time", ""))
        half = HALVES.get(told.get("half", "").casefold(), "")
        half = half or ("" if at is None else "morning" if at.hour < 12 else "evening")
        if stand is None or not half:
            words = [w for w in (told.get("stand"), told.get("half"), text) if w]
            said = ", ".join(words) or "a day out"
            parent = self._keep(NOTE, day, {"text": said[:4000], "stand": stand})
        else:
            key = (day, half, stand)
            if key not in self.sits:
                self.sits[key] = self._keep(SIT, day, {"stand": stand, "sit": half, "text": text})
            parent = self.sits[key]
        self._seen(told, day, parent, at)

    def _seen(self, told: dict[str, str], day: str, parent: Entry, at) -> None:
        number = re.search(r"\d+", told.get("count", ""))
        count = int(number[0]) if number else None
        winded = told.get("winded", "").casefold() in YES
        if not count and not winded:
            return
        yards = re.search(r"\d+(?:\.\d+)?", told.get("yards", ""))
        values = {
            "count": count or None,
            "deer": DEER.get(told.get("kind", "").casefold(), "unknown"),
            "at": at.isoformat() if at else None,
            "yards": float(yards[0]) if yards else None,
            "winded": True if winded else None,
            "stand": parent.get("stand"),
        }
        self._keep(SEEN, day, values, of=parent.id if parent.kind == SIT else None)

    def _keep(self, kind: str, day: str, values: dict, of: str | None = None) -> Entry:
        given = {name: value for name, value in values.items() if value not in (None, "")}
        # read a second time, a line is the same entry: it is then there already
        told = json.dumps([self.ground.uid, kind, day, given, of], sort_keys=True)
        self.times[told] += 1
        id_ = uuid.uuid5(uuid.NAMESPACE_OID, f"{told} {self.times[told]}").hex
        entry = entry_of(kind, day, given, of=of, id_=id_, now=self.now)
        self.entries.append(entry)
        return entry

    def _stand(self, name: str) -> str | None:
        """Id of the stand of a name; None without one, or where it is not certain."""
        if not name:
            return None
        found = find_names(name, self.names)
        if len(found) == 1 and len(found[0].fits) == 1:
            return found[0].fits[0].id
        self.strange.add(name[:SAMPLE_LETTERS])
        return None

    def _at(self, date: datetime.date, clock: str) -> datetime.datetime | None:
        stamp = parse_stamp(f"{date.isoformat()} {clock}") if clock else None
        if stamp is None or stamp.seconds is None or stamp.seconds >= 86400:
            return None
        midnight = datetime.datetime.combine(date, datetime.time(), ZoneInfo(self.ground.timezone))
        hours, rest = divmod(stamp.seconds, 3600)
        return midnight.replace(hour=hours, minute=rest // 60)
