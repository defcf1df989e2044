"""Chores as a calendar that a phone takes: one whole-day entry each, the same one every time.

Source: [rfc5545], written by the icalendar library.
"""

import datetime

from core.chores.due import DONE, OVERDUE, Chore
from core.ground.layout import Property
from core.harmless import harmless
from core.say.work.chores import cautions, title, why

# a new reading must not go under an older one: minutes since then
COUNTED_FROM = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)


def uid_of(chore: Chore, ground: Property) -> str:
    """What a calendar knows a chore by, from year to year. Args: it; its ground."""
    import hashlib

    # names of the owner's own may hold anything; a calendar's id should not
    told = hashlib.sha256(f"{ground.uid}\n{chore.key}".encode()).hexdigest()[:32]
    return f"{told}@stand-and-wind"


def calendar_text(
    found: list[Chore], ground: Property, today: datetime.date, now_s: float
) -> bytes:
    """The chores as a calendar file.

    Args: chores; their ground; the local date; the clock. [epoch s]
    Returns: its bytes. Days are whole days without a zone: the same in every zone. What is
    overdue stands on the day asked about.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", "-//Stand & Wind//chores//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", f"Work: {harmless(ground.name)}")
    for chore in found:
        calendar.add_component(_event(chore, ground, today, now_s))
    return calendar.to_ical()


def _event(chore: Chore, ground: Property, today: datetime.date, now_s: float):
    from icalendar import Event

    at = datetime.datetime.fromtimestamp(int(now_s), datetime.UTC)
    first, last = (today, today) if chore.state == OVERDUE else (chore.opens, chore.due)
    late = "Overdue: " if chore.state == OVERDUE else ""
    event = Event()
    event.add("uid", uid_of(chore, ground))
    event.add("dtstamp", at)
    event.add("last-modified", at)
    event.add("sequence", max(0, int((at - COUNTED_FROM).total_seconds() // 60)))
    event.add("summary", harmless(f"{late}{title(chore, ground)}"))
    event.add("description", _described(chore, ground, today))
    event.add("dtstart", first)
    event.add("dtend", last + datetime.timedelta(days=1))  # the first day that is not of it
    event.add("transp", "TRANSPARENT")  # it takes no time from anything else
    event.add("categories", ["done" if chore.state == DONE else "work"])
    return event


def _described(chore: Chore, ground: Property, today: datetime.date) -> str:
    lines = [why(chore, ground, today), *cautions(chore, ground)]
    return "\n".join(harmless(line) for line in lines if line)
