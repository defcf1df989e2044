"""Done, as the log and the property's own dates keep it."""

import datetime
from typing import Any

from core.chores.due import Chore, noted_as
from core.chores.kinds import CAMERA, KINDS
from core.ground.drawing.edits import feature_of, told
from core.ground.yearly.members import with_work
from core.keep.entries import VISIT, WORK, Entry, entry_of


def done_entry(chore: Chore, day: datetime.date, minutes: float | None, now: str) -> Entry:
    """What the log keeps of a chore that was done.

    Args: the chore; the local date; how long it took, None where nobody says; the ISO time.
    """
    where = {"feature": chore.feature} if chore.feature else {}
    if chore.kind == CAMERA:
        return entry_of(VISIT, day.isoformat(), {"what": "camera", **where}, now=now)
    took = {} if minutes is None else {"minutes": minutes}
    values = {"what": noted_as(chore), **where, **took}
    return entry_of(WORK, day.isoformat(), values, now=now)


def _member(chore: Chore) -> tuple[str, ...]:
    """The member of a feature that keeps a chore's date."""
    kind = KINDS.get(chore.kind)
    return (kind.dated,) if kind is not None and kind.dated else ("done", noted_as(chore))


def date_in(document: dict, chore: Chore) -> str | None:
    """The date that a document has of a chore; None where it has none. Args: both."""
    if chore.feature:
        feature = feature_of(document, chore.feature) or {"properties": {}}
        members: Any = feature["properties"]
        path = _member(chore)
    else:
        members, path = document["property"].get("work") or {}, ("done", noted_as(chore))
    for name in path:
        members = members.get(name) if isinstance(members, dict) else None
    return members if isinstance(members, str) else None


def with_date(document: dict, chore: Chore, day: str | None) -> dict:
    """A document with a chore's date; the old one is left as it was.

    Args: a property's document; the chore; YYYY-MM-DD, None to take the date out.
    Raises: BadProperty where the ground has no such feature.
    """
    if chore.feature:
        return told(document, chore.feature, _member(chore), day)
    work = document["property"].get("work") or {}
    done = {name: d for name, d in (work.get("done") or {}).items() if name != noted_as(chore)}
    if day is not None:
        done[noted_as(chore)] = day
    return with_work(document, done=done or None)
