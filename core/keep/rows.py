"""Entries as rows of the journal and back, and what is asked of its tables."""

import json
from typing import Any

from core.keep.entries import Entry

ENTRIES = "select id, kind, date, told, of, written, changed, removed from entries"
IN_ORDER = " order by date, written, rowid"
ONE = f"{ENTRIES} where id = ?"
FORMER = (
    "select entry, kind, date, told, null, changed, until, null from former "
    "where entry = ? order by rowid"
)
# what scores and counts take of a sit: of its long answer the call alone
_CALLS = ("verdict", "source", "group", "chance")
_OUTLINE = "json_object({}, 'told', json_object({}))".format(
    ", ".join(
        f"'{n}', json_extract(told, '$.{n}')"
        for n in ("who", "stand", "sit", "planned", "nothing_seen")
    ),
    ", ".join(f"'{n}', json_extract(told, '$.told.{n}')" for n in _CALLS),
)
_FELT = "from entries where kind = 'air' and removed is null"
_OUTLINES = (  # whole where air was felt that day: it is held against each hour that was told
    "select id, kind, date, case when kind = 'sit' and json_type(told, '$.told') = 'object' "
    f"and date not in (select date {_FELT}) and id not in (select of {_FELT} and of is not null) "
    f"then {_OUTLINE} else told end, of, written, changed, removed from entries"
)
_OF_STAND = "select id from entries where json_extract(told, '$.stand') = ?"
AT_STAND = (  # two looks by their indexes: an `or` of both would read every row
    f"{_OUTLINES} where removed is null and id in "
    f"({_OF_STAND} union select id from entries where of in ({_OF_STAND})){IN_ORDER}"
)
LAST_SIT = (
    f"{_OUTLINES} where json_extract(told, '$.stand') = ? and kind = 'sit' and removed is null "
    "and json_extract(told, '$.planned') is not 1 and date < ? order by date desc limit 1"
)
_WINDED = "from entries where kind = 'seen' and json_extract(told, '$.winded') and removed is null"
OF_CALLS = (
    f"{_OUTLINES} where removed is null and id in (select id {_FELT} union select of {_FELT} "
    f"union select id {_WINDED} union select of {_WINDED}){IN_ORDER}"
)
FELT = (
    f"{ENTRIES} where removed is null and id in "
    f"(select id {_FELT} union select of {_FELT}){IN_ORDER}"
)


def asked_entries(kind: str | None, since: str, removed: bool) -> tuple[str, list[str]]:
    """The query for entries, and what fills it. Args: as `Journal.entries`."""
    where, told = ["date >= ?"], [since]
    if kind is not None:
        where.append("kind = ?")
        told.append(kind)
    if not removed:
        where.append("removed is null")
    return f"{ENTRIES} where {' and '.join(where)}{IN_ORDER}", told


def entry_from(row: tuple) -> Entry:
    """An entry from a row of `ENTRIES`. Args: the row."""
    id_, kind, date, told, of, written, changed, removed = row
    return Entry(id_, kind, date, json.loads(told), of, written, changed, removed)


def values_text(entry: Entry) -> str:
    """What was filled in as the journal keeps it. Args: an entry."""
    return json.dumps(dict(entry.values), ensure_ascii=False, separators=(",", ":"))


def new_row(entry: Entry, now: str) -> tuple[Any, ...]:
    """A row of the table of entries. Args: an entry; the ISO time, where it has none of its own."""
    stamp = entry.written or now
    return (
        entry.id,
        entry.kind,
        entry.date,
        values_text(entry),
        entry.of,
        entry.get("weather"),
        stamp,
        entry.changed or stamp,
        entry.removed,
    )
