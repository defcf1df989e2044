"""How long a stand has rested: what the log tells of sits, work and winded deer near it.

The load of a stand is the sum over what happened of m e^(-days / rest days): m is 1 for a
sit, 2 where a deer was winded on it, and half a point for a piece of work by day; half of
each for stands that share its bed, its food or its way in. Common practice, no source; the
rest days are a setting of each part of the season.
"""

import datetime
import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from core.keep.entries import SEEN, SIT, WORK, Entry

SIT_LOAD, WORK_LOAD, WINDED_LOAD = 1.0, 0.5, 2.0
SHARED = 0.5  # of what happened at a stand that shares a bed, food or a way in


@dataclass(frozen=True, slots=True)
class Use:
    """Something that happened at a stand, or at a place that stands share."""

    where: str  # id of a stand, or of the feature that was worked on
    date: datetime.date
    load: float


def uses(entries: Iterable[Entry], before: datetime.date, *, evening: bool = True) -> list[Use]:
    """What loads the stands, the sits before a date and on it.

    Args: entries of the log; the local date that is asked about; whether its morning has
    been before: else nothing of that day counts, and of its sits only those of the morning.
    A plan that nobody said was sat does not count. A sit on which a deer was winded counts
    as that, once.
    """
    entries = list(entries)
    winded = {e.of for e in entries if e.kind == SEEN and e.get("winded") and e.of}
    found = []
    for entry in entries:
        date = datetime.date.fromisoformat(entry.date)
        if date > before or (date == before and not _earlier(entry, evening)):
            continue
        if entry.kind == SIT and not entry.get("planned"):
            load = WINDED_LOAD if entry.id in winded else SIT_LOAD
            found.append(Use(entry.get("stand"), date, load))
        elif entry.kind == SEEN and entry.get("winded") and not entry.of and entry.get("stand"):
            found.append(Use(entry.get("stand"), date, WINDED_LOAD))
        elif entry.kind == WORK and entry.get("daytime") is not False and entry.get("feature"):
            found.append(Use(entry.get("feature"), date, WORK_LOAD))
    return found


def _earlier(entry: Entry, evening: bool) -> bool:
    """Whether something of the day that is asked about was before the sit asked about."""
    return evening and (entry.kind != SIT or entry.get("sit") == "morning")


def loads(
    used: Iterable[Use],
    on: datetime.date,
    rest_days: float,
    shared: Mapping[str, Collection[str]],
) -> dict[str, float]:
    """The load of each stand on a date.

    Args: what happened; the date; days in which a load falls to a third; for each stand the
    ids of what it shares: other stands, and the beds, food and ways that are its own.
    Returns: loads by stand id, 0 for one at which nothing happened.
    """
    by_place: dict[str, float] = defaultdict(float)
    for use in used:
        days = (on - use.date).days
        if days >= 0:
            by_place[use.where] += use.load * math.exp(-days / rest_days)
    return {
        stand: by_place[stand] + SHARED * sum(by_place[other] for other in others if other != stand)
        for stand, others in shared.items()
    }


def last_sat(
    entries: Iterable[Entry], on: datetime.date, *, evening: bool = True
) -> dict[str, int]:
    """Days since each stand was last sat; stands never sat are missing.

    Args: entries of the log; the date that is asked about; whether a sit of that morning
    has been before.
    """
    found: dict[str, int] = {}
    for entry in entries:
        if entry.kind != SIT or entry.get("planned"):
            continue
        days = (on - datetime.date.fromisoformat(entry.date)).days
        if days > 0 or (days == 0 and _earlier(entry, evening)):
            stand = entry.get("stand")
            found[stand] = min(days, found.get(stand, days))
    return found
