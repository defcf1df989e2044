"""Sign of the log as marks for a map, by its age."""

import datetime
from collections.abc import Iterable

from core.ground.layout import Mark, Property
from core.keep.entries import SIGN, Entry
from core.log.season_told import MOST_MARKS
from core.log.stays import place_of

FRESH, YEAR, OLD = "sign-fresh", "sign-year", "sign-old"  # up to 30 days, to a year, older
SIGN_AGES = (FRESH, YEAR, OLD)
FRESH_DAYS, YEAR_DAYS = 30, 365


def age_kind(days: int) -> str:
    """Which of SIGN_AGES sign is of. Args: its age [days]."""
    return FRESH if days <= FRESH_DAYS else YEAR if days <= YEAR_DAYS else OLD


def age_text(days: int) -> str:
    """An age on a map, as 12 d, 5 mo or 2 y. Args: [days]"""
    if days <= 2 * FRESH_DAYS:
        return f"{days} d"
    return f"{round(days / 30.44)} mo" if days < 2 * YEAR_DAYS else f"{days // YEAR_DAYS} y"


def signs_by_age(
    entries: Iterable[Entry], ground: Property, today: datetime.date, ages=SIGN_AGES
) -> list[Mark]:
    """Dated sign as marks, the newest first: what it is and its age, its kind of SIGN_AGES.

    Args: entries; the ground; the local date; the ages that are wanted. What has no place,
    and what is dated after today, is left out; at most sixty.
    """
    found = []
    for entry in sorted(entries, key=lambda e: e.date, reverse=True):
        if entry.kind != SIGN or entry.removed:
            continue
        days = (today - datetime.date.fromisoformat(entry.date)).days
        at = entry.get("place") or place_of(ground, entry.get("feature") or entry.get("stand"))
        if days < 0 or at is None or age_kind(days) not in ages:
            continue
        name = f"{entry.get('what')} {age_text(days)}"
        found.append(Mark(entry.id, name, age_kind(days), "Point", (tuple(at),)))
    return found[:MOST_MARKS]
