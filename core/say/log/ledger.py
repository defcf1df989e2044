"""The air ledger in words and as plain data."""

import datetime
from collections.abc import Mapping

from core.ground.layout import Property
from core.keep.entries import SIT, Entry
from core.log.ledger import WALK, Ledger
from core.sit.dates import season_on

LEAST_TOLD_MIN = 60.0  # of air in two weeks before the home screen says so
LINE_DAYS = 14
SPANS = ((14, "14 days"), (30, "30 days"))


def span_text(minutes: float) -> str:
    """Such as `40 min` or `3 h 40`. Args: minutes."""
    hours, rest = divmod(round(minutes), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def days_back(today: datetime.date, days: int) -> datetime.date:
    """The first of the last days, today the last. Args: today; how many."""
    return today - datetime.timedelta(days=days - 1)


def season_first(ground: Property, today: datetime.date) -> datetime.date:
    """The first day of the season that is on, else of the last year. Args: ground; today."""
    season = season_on(ground, today, None)
    if season is None:
        return days_back(today, 365)
    month, day = (int(part) for part in season.first.split("-"))
    year = today.year - (f"{today:%m-%d}" < season.first)
    return datetime.date(year, month, min(day, 28) if month == 2 else day)


def most_from(ledger: Ledger, place: str, entries: Mapping[str, Entry], ground: Property) -> str:
    """What gave most of the air on a place: sitting at a stand, or walking to it.

    Args: the ledger; id of a place in it; entries by id; the property.
    """
    told: dict[tuple[str, str], float] = {}
    for lay in ledger.lays:
        if lay.place == place:
            entry = entries[lay.entry]
            stand = entry.get("stand") or entry.get("feature") or ""
            key = (_doing(entry, lay.part), stand)
            told[key] = told.get(key, 0.0) + lay.minutes
    doing, stand = max(sorted(told), key=lambda key: told[key])
    return f"{doing} {ground.name_of(stand)}" if stand else doing


def _doing(entry: Entry, part: str) -> str:
    if part == WALK:
        return "walking to and from"
    return "sitting at" if entry.kind == SIT else "work at"


def home_line(ledger: Ledger, entries: Mapping[str, Entry], ground: Property, today) -> str:
    """The place that had most of the owner's air in two weeks; empty where that is little.

    Args: the ledger; entries by id; the property; the local date.
    """
    lately = ledger.since(days_back(today, LINE_DAYS), today)
    for place, minutes in lately.minutes().items():
        if minutes < LEAST_TOLD_MIN:
            break
        source = most_from(lately, place, entries, ground)
        name = ground.name_of(place)
        return f"{name}: {span_text(minutes)} of you in {LINE_DAYS} days, most from {source}."
    return ""


def ledger_lines(
    ledger: Ledger, entries: Mapping[str, Entry], ground: Property, today: datetime.date, days: int
) -> list[str]:
    """A line for each place that had air, and what could not be judged.

    Args: the ledger; entries by id; the property; the local date; how many days back.
    """
    span = ledger.since(days_back(today, days), today)
    lines = [
        f"{ground.name_of(place)}: {span_text(minutes)}, most from "
        f"{most_from(span, place, entries, ground)}"
        for place, minutes in span.minutes().items()
    ]
    if not lines:
        lines = [f"In {days} days no air of yours is known to have lain on a bed or plot."]
    return lines + left_out_lines(span)


def left_out_lines(ledger: Ledger) -> list[str]:
    """What could not be judged, by why. Args: the ledger of some days."""
    told: dict[str, tuple[int, float]] = {}
    for one in ledger.left_out:
        n, minutes = told.get(one.why, (0, 0.0))
        told[one.why] = (n + 1, minutes + one.minutes)
    return [
        f"Not judged: {n} {'entry' if n == 1 else 'entries'}"
        f"{f', {span_text(minutes)}' if minutes else ''}: {why}."
        for why, (n, minutes) in sorted(told.items())
    ]


def ledger_dict(ledger: Ledger, ground: Property, today: datetime.date, days: int | None) -> dict:
    """The ledger of `log ledger --json`: hours by place, entry and day.

    Args: the ledger; the property; the local date; how many days back, None for the season.
    """
    first = season_first(ground, today) if days is None else days_back(today, days)
    span = ledger.since(first, today)
    places = []
    for place, minutes in span.minutes().items():
        by_entry: dict[str, float] = {}
        by_day: dict[str, float] = {}
        for lay in (x for x in span.lays if x.place == place):
            by_entry[lay.entry] = by_entry.get(lay.entry, 0.0) + lay.minutes
            day = lay.date.isoformat()
            by_day[day] = by_day.get(day, 0.0) + lay.minutes
        kinds = {a.id: a.kind for a in ground.areas}
        places.append(
            {
                "id": place,
                "kind": kinds[place],
                "hours": _hours(minutes),
                "from": [{"entry": e, "hours": _hours(m)} for e, m in by_entry.items()],
                "by_day": [{"date": d, "hours": _hours(m)} for d, m in sorted(by_day.items())],
            }
        )
    left_out = [{"entry": x.entry, "why": x.why, "hours": _hours(x.minutes)} for x in span.left_out]
    return {"since": first.isoformat(), "places": places, "not_judged": left_out}


def _hours(minutes: float) -> float:
    return round(minutes / 60.0, 3)
