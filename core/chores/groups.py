"""Chores put together: by kind, by month, by place."""

import datetime
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from core.chores.due import COMING, OVERDUE, Chore

MONTHS = 12


@dataclass(frozen=True, slots=True)
class Month:
    """A month, and how many chores of each kind lie in it."""

    first: datetime.date
    counts: dict[str, int]


def by_kind(found: Iterable[Chore]) -> dict[str, list[Chore]]:
    """Chores by their kind, kinds in the order of the first of each."""
    groups: dict[str, list[Chore]] = defaultdict(list)
    for chore in found:
        groups[chore.kind].append(chore)
    return dict(groups)


def by_place(found: Iterable[Chore]) -> dict[str, list[Chore]]:
    """Chores by the feature they are done to; those of the whole ground under an empty id."""
    groups: dict[str, list[Chore]] = defaultdict(list)
    for chore in found:
        groups[chore.feature].append(chore)
    return dict(groups)


def soon(
    found: Iterable[Chore], today: datetime.date, days: int
) -> tuple[list[Chore], list[Chore]]:
    """Coming chores that open within some days, and those that open later.

    Args: chores; the local date; how many days are soon.
    """
    near: list[Chore] = []
    far: list[Chore] = []
    for chore in found:
        if chore.state == COMING:
            (near if (chore.opens - today).days <= days else far).append(chore)
    return near, far


def year_ahead(found: Iterable[Chore], today: datetime.date) -> list[Month]:
    """The twelve months from this one, with the windows that lie in each.

    Args: chores; the local date. What is overdue lies in this month.
    """
    months = [Month(_month(today, n), {}) for n in range(MONTHS)]
    for chore in found:
        opens = today if chore.state == OVERDUE else max(chore.opens, today)
        due = max(opens, chore.due)
        for n, month in enumerate(months):
            if month.first <= due and opens < _month(today, n + 1):
                month.counts[chore.kind] = month.counts.get(chore.kind, 0) + 1
    return months


def _month(today: datetime.date, later: int) -> datetime.date:
    n = today.year * 12 + today.month - 1 + later
    return datetime.date(n // 12, n % 12 + 1, 1)
