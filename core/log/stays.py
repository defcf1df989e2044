"""Where and when the log has its owner on the ground: sits and visits as stays to be judged.

A visit to a place that is no stand is judged as a stay on foot there, at a seat that is not
in the property file.
"""

import dataclasses
import datetime
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from core.ground.layout import LonLat, Property, Stand
from core.keep.entries import SIT, VISIT, Entry
from core.sit.clock import NEVER_S, SITS, Clock, clocks
from core.sit.dates import dates_on
from core.sit.minutes import ALL_DAY, RowsIn, WindowRows, by_row, hours_of
from core.units import SECONDS_PER_MINUTE

LONGEST_S = 24 * 3600
NO_STAND, NO_PLACE = "the stand is no longer on the map", "no place was written"
NO_TIMES, WRONG_TIMES = "no times were written", "the times don't follow each other"


@dataclass(frozen=True, slots=True)
class Stay:
    """One sit or visit. Instants are epoch seconds, whole minutes."""

    entry: str
    date: datetime.date
    stand: str  # id, also of a place that was visited
    start_s: int
    end_s: int
    lane_in: str | None
    lane_out: str | None
    by_best_way: bool  # where no lane was written: the way the program would take, or no walk
    weather: str | None  # key of the table kept with it


@dataclass(frozen=True, slots=True)
class EntryNotJudged:
    """An entry that can't be judged, or hours of it, and why."""

    entry: str
    date: datetime.date
    why: str
    minutes: float = 0.0


@dataclass(frozen=True, eq=False)
class Stays:
    """What is to be judged: `ground` has the visited places as seats of their own."""

    ground: Property
    stays: tuple[Stay, ...]
    left_out: tuple[EntryNotJudged, ...]


def stays_of(entries: Iterable[Entry], ground: Property) -> Stays:
    """The stays that the log tells of. Args: its entries; the property.

    A sit without its times is taken to have lasted from its seat to the end of its window;
    a visit without them is left out, as are plans.
    """
    there = [e for e in entries if e.kind in (SIT, VISIT) and not e.get("planned")]
    windows = _windows(ground, [e for e in there if e.kind == SIT])
    known = {s.id for s in ground.stands}
    stays: list[Stay] = []
    left_out: list[EntryNotJudged] = []
    visited: dict[str, tuple[LonLat, set[str]]] = {}
    for entry in there:
        where = entry.get("stand") if entry.kind == SIT else _visited(entry, ground, visited)
        span = _span(entry, windows)
        why = ""
        if entry.kind == SIT and where not in known:
            why = NO_STAND
        elif where is None:
            why = NO_PLACE
        elif span is None:
            why = NO_TIMES
        elif not 0 < span[1] - span[0] <= LONGEST_S:
            why = WRONG_TIMES
        date = datetime.date.fromisoformat(entry.date)
        if why or span is None or where is None:
            left_out.append(EntryNotJudged(entry.id, date, why))
            continue
        lanes = (entry.get("way_in"), entry.get("way_out"))
        if entry.kind == VISIT:
            lanes = (entry.get("lane"),) * 2
        stays.append(
            Stay(entry.id, date, where, *span, *lanes, entry.kind == SIT, entry.get("weather"))
        )
    return Stays(_with_places(ground, visited), tuple(stays), tuple(left_out))


def _span(entry: Entry, windows: dict) -> tuple[int, int] | None:
    """From when to when, in whole minutes; None where that is not known."""
    first, last = (_instant(entry.get(name)) for name in ("from", "to"))
    if entry.kind == SIT:
        window = windows.get((entry.date, entry.get("sit")), (None, None))
        first = window[0] if first is None else first
        last = window[1] if last is None else last
    return None if first is None or last is None else (first, last)


def _instant(text: str | None) -> int | None:
    if not text:
        return None
    minutes = datetime.datetime.fromisoformat(text).timestamp() / SECONDS_PER_MINUTE
    return round(minutes) * SECONDS_PER_MINUTE


def _windows(ground: Property, sits: list[Entry]) -> dict[tuple[str, str], tuple[int, int]]:
    """Seat and end of each sit that lacks a time, by date and half."""
    found = {}
    for half in SITS:
        asked = (
            e.date for e in sits if e.get("sit") == half and not (e.get("from") and e.get("to"))
        )
        dates = [datetime.date.fromisoformat(d) for d in sorted(set(asked))]
        if not dates:
            continue
        clock: Clock = clocks(ground, dates_on(ground, dates), half)
        for i, date in enumerate(dates):
            found[date.isoformat(), half] = (int(clock.seated_s[i]), int(clock.end_s[i]))
    return found


def _visited(entry: Entry, ground: Property, visited: dict) -> str | None:
    """Id of the place of a visit, noted among those visited; None without one."""
    feature, lane = entry.get("feature") or entry.get("stand"), entry.get("lane")
    if feature in {s.id for s in ground.stands} and not lane:
        return feature
    at = entry.get("place") or place_of(ground, feature) or _lane_end(ground, lane)
    if at is None:
        return None
    id_ = f"visit {at[0]:.6f} {at[1]:.6f}"
    visited.setdefault(id_, (tuple(at), set()))[1].update([lane] if lane else [])
    return id_


def place_of(ground: Property, feature: str | None) -> LonLat | None:
    """A point that stands for a feature: where it is, or a point inside it; None for none.

    Args: the property; its id.
    """
    for stand in ground.stands:
        if stand.id == feature:
            return stand.at
    for area in ground.areas:
        if area.id == feature:
            return shapely.Polygon(area.ring, area.holes).representative_point().coords[0]
    lines = {trail.id: trail.line for trail in ground.corridors}
    lines |= {lane.id: lane.line for lane in ground.lanes}
    lines |= {mark.id: mark.points for mark in ground.marks}
    line = lines.get(feature or "")
    return line[len(line) // 2] if line else None


def _lane_end(ground: Property, lane: str | None) -> LonLat | None:
    return next((x.line[-1] for x in ground.lanes if x.id == lane), None)


def _with_places(ground: Property, visited: dict) -> Property:
    """The property with a seat on the ground at each place visited, at the end of its ways."""
    if not visited:
        return ground
    seats = tuple(
        Stand(id_, id_, at, height_ft=0.0, cover="edge") for id_, (at, _) in visited.items()
    )
    lanes = tuple(
        dataclasses.replace(
            lane, stands=(*lane.stands, *(i for i, (_, by) in visited.items() if lane.id in by))
        )
        for lane in ground.lanes
    )
    return dataclasses.replace(ground, stands=(*ground.stands, *seats), lanes=lanes)


def clock_of(ground: Property, stays: list[Stay], origin_s: int) -> Clock:
    """The clock of some stays: from when each was there to when it left.

    Args: the property; the stays; an instant at which an hour of the weather begins [epoch s].
    """
    dates = sorted({s.date for s in stays})
    whole = clocks(ground, dates_on(ground, dates), ALL_DAY, [dates.index(s.date) for s in stays])
    start, end = (np.array([getattr(s, name) for s in stays]) for name in ("start_s", "end_s"))
    row = hours_of((start, end), origin_s)
    minutes = RowsIn(row, (start[:, None], end[:, None])).minutes()
    none = np.zeros(minutes.shape)
    return dataclasses.replace(
        whole,
        whole_start_s=start,
        whole_end_s=end,
        open=np.ones(len(stays), bool),
        start_s=start,
        end_s=end,
        seated_s=start,
        opened_s=np.full(len(stays), NEVER_S),
        rows=WindowRows(*(by_row(v) for v in (*row, minutes, minutes, none, none))),
    )
