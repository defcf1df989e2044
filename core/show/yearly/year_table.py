"""The year of work as a straight table: a row for each kind of chore, a column a month."""

import datetime
from collections.abc import Iterable

from core.chores.due import Chore
from core.chores.groups import by_kind, year_ahead
from core.say.work.chores import KINDS_SAID
from core.show.template import filled


def year_table(found: Iterable[Chore], today: datetime.date) -> str:
    """The table as HTML. Args: chores; the local date. Returns: it, its words escaped."""
    found = list(found)
    months = year_ahead(found, today)
    kinds = sorted(by_kind(found), key=lambda kind: list(KINDS_SAID).index(kind))
    rows = [
        (KINDS_SAID[kind], [month.counts.get(kind, 0) for month in months])
        for kind in kinds
        if any(kind in month.counts for month in months)
    ]
    return filled("year.html", months=[f"{m.first:%b}" for m in months], rows=rows)
