"""When each chore was last done: by the ground's own dates and by the log."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from core.chores.kinds import CAMERA, CHECK, KINDS, SHOTS, TRIM
from core.ground.layout import Property
from core.keep.entries import VISIT, WORK, Entry

# what notes of a sentence call it, and the chore's name
AS_NOTED = {"limed": "lime", "seeded": "seed", "mowed": "mow"}
VISITS = {"trimming": TRIM, "camera": CAMERA}


@dataclass(frozen=True, slots=True)
class LastDone:
    """The last time of a chore. `future` is a date that has not been yet, and is not believed."""

    date: datetime.date | None = None
    minutes: float | None = None
    times: int = 0  # days on which it was done, as far as they are kept
    future: datetime.date | None = None


Done = dict[tuple[str, str], list[tuple[datetime.date, float | None]]]


def all_done(ground: Property, entries: Iterable[Entry]) -> Done:
    """Dates and minutes of everything done, by (kind, feature id or "").

    Args: the ground; entries of its log.
    """
    found: Done = {}
    stands = {s.id for s in ground.stands}
    cameras = {m.id for m in ground.marks if m.kind == "camera"}

    def keep(kind: str, feature: str, day: str, minutes: float | None = None) -> None:
        if kind == TRIM and feature in stands:
            kind = SHOTS
        if kind == CHECK and feature in cameras:
            kind = CAMERA
        found.setdefault((kind, feature), []).append((datetime.date.fromisoformat(day), minutes))

    for kind, feature, day in _of_ground(ground):
        keep(kind, feature, day)
    for entry in entries:
        if entry.removed:
            continue
        if entry.kind == WORK:
            what = entry.get("what")
            where = entry.get("feature") or entry.get("stand") or ""
            keep(AS_NOTED.get(what, what), where, entry.date, entry.get("minutes"))
        elif entry.kind == VISIT and entry.get("what") in VISITS:
            where = entry.get("feature") or entry.get("lane") or entry.get("stand") or ""
            keep(VISITS[entry.get("what")], where, entry.date)
    return found


def _of_ground(ground: Property) -> Iterable[tuple[str, str, str]]:
    """Kind, feature and day of every date that the property file holds."""
    for kind in KINDS.values():
        if kind.dated:
            for trail in ground.corridors:
                if getattr(trail, kind.dated):
                    yield kind.name, trail.id, getattr(trail, kind.dated)
    for group in (ground.stands, ground.lanes, ground.corridors, ground.areas, ground.marks):
        for feature in group:
            for name, day in feature.done:
                yield name, feature.id, day
    for name, day in ground.work.done:
        yield name, "", day


def last_done(done: Done, kind: str, feature: str, today: datetime.date) -> LastDone:
    """The last time of one chore up to a day. Args: `all_done`; its kind; its feature; the day."""
    times = done.get((kind, feature), [])
    past = [(day, minutes) for day, minutes in times if day <= today]
    ahead = [day for day, _ in times if day > today]
    future = min(ahead) if ahead else None
    if not past:
        return LastDone(future=future)
    last = max(day for day, _ in past)
    took = max((m for day, m in past if day == last and m is not None), default=None)
    if took is None:  # how long it took the time before says something too
        took = max(((d, m) for d, m in past if m is not None), default=(None, None))[1]
    return LastDone(last, took, len({day for day, _ in past}), future)
