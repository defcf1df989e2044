"""Entries as tables of their own and back: one CSV for a kind or for all, and what has a place
as GeoJSON. A cell that a table program would run is defused, and comes back as it was written.
"""

import csv
import functools
import io
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from core.ground import fields as f
from core.ground.layout import Property
from core.harmless import from_cell, whole_cell
from core.keep.entries import COMMON, FIELDS, KINDS, BadEntry, Entry, entry_of
from core.keep.typed_values import typed
from core.log.stays import place_of

HEAD = ("id", "kind", "date", "of", "written")
OWN = HEAD[:3]  # columns by which a table of this program is known
MOST_BYTES = 50_000_000
PLACES = ("feature", "stand", "trail", "plot")  # members that name where something was


@dataclass(frozen=True, slots=True)
class ReadIn:
    """What a table held: entries, and what was left out or taken for granted, in words."""

    entries: tuple[Entry, ...]
    notes: tuple[str, ...] = ()


def counted(n: int, one: str = "entry") -> str:
    """Such as `2 entries`. Args: how many; of what, a word that takes an s but for entry."""
    return f"{n} {one if n == 1 else 'entries' if one == 'entry' else f'{one}s'}"


def names_of(kinds: Iterable[str]) -> list[str]:
    """Names of what entries of some kinds hold, each once. Args: the kinds."""
    return list(dict.fromkeys(x.name for kind in kinds for x in (*FIELDS[kind], *COMMON)))


def entries_csv(entries: Iterable[Entry], kind: str | None = None) -> str:
    """A table with a line for each entry.

    Args: entries; a kind, or None for all of them in one table. Raises: BadEntry.
    """
    if kind is not None and kind not in FIELDS:
        raise BadEntry(f"'{f.printable(kind)}' is no kind", "--kind", f"One of {', '.join(KINDS)}.")
    names = names_of([kind] if kind else KINDS)
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow([*HEAD, *names])
    for entry in entries:
        if kind in (None, entry.kind):
            head = (entry.id, entry.kind, entry.date, entry.of or "", entry.written)
            values = [*head, *(_text(entry.get(name)) for name in names)]
            table.writerow([whole_cell(value) for value in values])
    return out.getvalue()


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value == int(value):
        return str(int(value))
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def rows_of(text: str, where: str) -> list[list[str]]:
    """Header and lines of a table. Args: its text; its name for messages. Raises: BadEntry.

    Cells are parted by commas, semicolons or tabs, whichever the first line has most of.
    """
    head = text.lstrip("\ufeff").partition("\n")[0]
    separator = max(",;\t", key=head.count)
    try:
        rows = list(csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=separator))
    except csv.Error as fault:
        raise BadEntry(f"is no table ({fault})", where, "Save it as CSV.") from None
    rows = [row for row in rows if any(cell.strip() for cell in row)]
    if len(rows) < 2:
        raise BadEntry("has no line below a header", where, "Look at the file.")
    return rows


def is_own(header: Sequence[str]) -> bool:
    """Whether a table is one that this program wrote. Args: its first line."""
    return set(OWN) <= {cell.strip() for cell in header}


def entries_from(rows: list[list[str]], where: str) -> ReadIn:
    """The entries of a table that this program wrote.

    Args: its header and lines; its name. A line that can't be an entry is left out and told.
    """
    header = [cell.strip() for cell in rows[0]]
    found, notes = [], []
    for n, row in enumerate(rows[1:], 2):
        cells = {name: from_cell(c) for name, c in zip(header, row, strict=False) if c != ""}
        kind = cells.pop("kind", "")
        told = {name: cells.pop(name, "") for name in ("id", "date", "of", "written")}
        try:
            id_ = f.text(told["id"])[:64]
            values = {name: _value(kind, name, cell) for name, cell in cells.items()}
            found.append(
                entry_of(
                    kind,
                    told["date"],
                    values,
                    of=told["of"] or None,
                    id_=id_ or None,
                    now=told["written"],
                )
            )
        except BadEntry as fault:
            notes.append(f"{where}, line {n} is left out: {fault.what}.")
    return ReadIn(tuple(found), tuple(notes))


def _value(kind: str, name: str, cell: str) -> Any:
    """A cell as the kind of value that its member takes; the text where none fits."""
    check = next((x.check for x in (*FIELDS.get(kind, ()), *COMMON) if x.name == name), None)
    if check is None:
        return cell
    for read in (str, typed, _json):
        value = read(cell)
        try:
            check(value)
        except f.Fault:
            continue
        return value
    return cell


def _json(cell: str) -> Any:
    try:
        return json.loads(cell)
    except (ValueError, RecursionError):
        return cell


def entries_geojson(entries: Iterable[Entry], ground: Property) -> tuple[str, int]:
    """What has a place, as one GeoJSON FeatureCollection of points, and how many have one.

    Args: entries; the property. Source: [rfc7946].
    """
    where = functools.cache(lambda id_: place_of(ground, id_) if id_ else None)
    features = []
    for entry in entries:
        at = entry.get("place") or next(
            (p for name in PLACES if (p := where(entry.get(name)))), None
        )
        if at is None:
            continue
        told = {n: v for n, v in entry.values.items() if n not in ("told", "place", "weather")}
        features.append(
            {
                "type": "Feature",
                "id": entry.id,
                "geometry": {"type": "Point", "coordinates": [round(x, 7) for x in at]},
                "properties": {"kind": entry.kind, "date": entry.date, **told},
            }
        )
    collection = {"type": "FeatureCollection", "features": features}
    return json.dumps(collection, ensure_ascii=False, indent=1) + "\n", len(features)
