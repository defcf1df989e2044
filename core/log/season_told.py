"""A season told from the log: sits, hours and deer by stand, wind and hour, each with its count.

No rating and no prediction: what was written down, added up.
"""

import datetime
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from core.angles import point_name
from core.ground.layout import Mark, Property
from core.keep.entries import AIR, HARVEST, SEEN, SIGN, SIT, Entry
from core.log.offers import told_wind_deg
from core.log.stays import place_of

NO_WIND = "wind not known"
SEEN_AT = ("trail", "plot", "stand")
MOST_MARKS = 60  # on one drawing


@dataclass(frozen=True, slots=True)
class ToldRow:
    """Some sits: how many, their hours, and on how many of those told of deer were seen.

    `timed` of them have both times; `known` of them said what was seen, `with_deer` some.
    """

    name: str
    sits: int
    timed: int
    hours: float
    known: int
    with_deer: int
    deer: int


@dataclass(frozen=True, slots=True)
class SeasonTold:
    """What the log has of some days. `hours`: deer by the hour of the clock they were seen at."""

    total: ToldRow
    by_stand: tuple[ToldRow, ...]
    by_wind: tuple[ToldRow, ...]
    hours: tuple[tuple[int, int], ...]
    harvest: tuple[Entry, ...]


def season_told(entries: Iterable[Entry], first: str, last: str) -> SeasonTold:
    """The log of some days, added up. Args: entries; first and last local date, as ISO."""
    some = [e for e in entries if first <= e.date <= last]
    sits = [e for e in some if e.kind == SIT and not e.get("planned")]
    of_sit: dict[str, list[Entry]] = {}
    for entry in some:
        if entry.of:
            of_sit.setdefault(entry.of, []).append(entry)

    def rows(key: Callable[[Entry], str]) -> tuple[ToldRow, ...]:
        groups: dict[str, list[Entry]] = {}
        for sit in sits:
            groups.setdefault(key(sit), []).append(sit)
        found = [_row(name, group, of_sit) for name, group in groups.items()]
        return tuple(sorted(found, key=lambda row: (-row.sits, row.name)))

    at: dict[int, int] = {}
    for entry in some:
        if entry.kind == SEEN and entry.get("at"):
            hour = int(entry.get("at")[11:13])
            at[hour] = at.get(hour, 0) + entry.get("count", 1)
    return SeasonTold(
        total=_row("", sits, of_sit),
        by_stand=rows(lambda sit: str(sit.get("stand"))),
        by_wind=rows(lambda sit: _wind_of(sit, of_sit.get(sit.id, []))),
        hours=tuple(sorted(at.items())),
        harvest=tuple(e for e in some if e.kind == HARVEST),
    )


def _row(name: str, sits: list[Entry], of_sit: dict[str, list[Entry]]) -> ToldRow:
    hours = [h for sit in sits if not math.isnan(h := _hours(sit))]
    seen = [[e for e in of_sit.get(sit.id, []) if e.kind == SEEN] for sit in sits]
    known = [bool(s) or bool(sit.get("nothing_seen")) for sit, s in zip(sits, seen, strict=True)]
    deer = sum(e.get("count", 1) for s in seen for e in s)
    with_deer = sum(bool(s) for s in seen)
    return ToldRow(name, len(sits), len(hours), sum(hours), sum(known), with_deer, deer)


def _hours(sit: Entry) -> float:
    """How long a sit was; NaN where a time is missing or they don't follow each other. [h]"""
    if not (sit.get("from") and sit.get("to")):
        return math.nan
    first, last = (datetime.datetime.fromisoformat(sit.get(name)) for name in ("from", "to"))
    hours = (last - first).total_seconds() / 3600.0
    return hours if 0 < hours <= 24 else math.nan


def _wind_of(sit: Entry, belonging: list[Entry]) -> str:
    """The point a sit's wind came from: as felt, else as told."""
    felt = [e.get("from_deg") for e in belonging if e.kind == AIR]
    deg = next((d for d in felt if d is not None), None)
    deg = told_wind_deg(sit, None) if deg is None else deg
    return NO_WIND if deg is None else point_name(round(deg / 45.0) * 45.0)


def years_of(entries: Iterable[Entry]) -> list[str]:
    """Years with anything of a place, the latest first. Args: entries."""
    return sorted({e.date[:4] for e in entries if e.kind in (SIGN, SEEN)}, reverse=True)


def marks_of_year(entries: Iterable[Entry], ground: Property, year: str) -> list[Mark]:
    """Sign and sightings of a year as marks for a map: sign each, sightings by their place.

    Args: entries; the property; the year. What has no place is left out; of more than sixty,
    those of the most deer, then the latest sign.
    """
    entries = [e for e in entries if e.date.startswith(year)]
    seen: dict[str, int] = {}
    for entry in entries:
        where = next((entry.get(n) for n in SEEN_AT if entry.get(n)), None)
        if entry.kind == SEEN and where:
            seen[where] = seen.get(where, 0) + entry.get("count", 1)
    found = []
    for where, n in sorted(seen.items(), key=lambda item: (-item[1], item[0])):
        at = place_of(ground, where)
        if at is not None:
            found.append(Mark(f"seen {where}", f"{n} seen", "other", "Point", (at,)))
    for entry in reversed(entries):
        at = entry.get("place") or place_of(ground, entry.get("feature") or entry.get("stand"))
        if entry.kind == SIGN and at is not None:
            found.append(Mark(entry.id, entry.get("what"), "sign", "Point", (tuple(at),)))
    return found[:MOST_MARKS]
