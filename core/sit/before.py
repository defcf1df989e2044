"""The part of a corridor that deer walk before the shot.

The first stretch in range, as deer travel; its nearest point to the stand is the
shot; from there back against their travel for 150 yards of trail, along every
corridor that joins on the way.
"""

import heapq
import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString
from shapely.ops import substring

from core.units import M_PER_YD

Floats = npt.NDArray[np.float64]
Span = tuple[float, float]

FOLLOW_M = 150.0 * M_PER_YD  # common practice, no source
JOIN_M = 10.0 * M_PER_YD
FOOD_END, BEDDING_END = "food", "bedding"
# the ends that deer may come from: one of the two, or both
ENDS = ((FOOD_END,), (BEDDING_END,), (FOOD_END, BEDDING_END))
FROM_FOOD, FROM_BEDDING, FROM_BOTH = range(3)
TOUCH_M = 1e-6
MOST_WAYS = 300  # ways back from one shot: more than any ground has


def reach_m(range_yd: float) -> float:
    """Range as a radius: distances count to the whole yard. [m]"""
    return (range_yd + 0.5) * M_PER_YD - TOUCH_M


def travelled(line_m: Floats, from_end: str) -> LineString:
    """A corridor as deer walk it: from its food end or from its bedding end."""
    return LineString(line_m[::-1] if from_end == FOOD_END else line_m)


class Approach(NamedTuple):
    """One trail as deer come along it from one of its ends."""

    trail: str  # its id
    end: str


class Pass(NamedTuple):
    """A stretch of a line within a radius of a point, and where it is nearest. [m]"""

    from_m: float
    to_m: float
    at_m: float


def passes(line: LineString, at_m: Floats, radius_m: float) -> list[Pass]:
    """Every stretch of a line within a radius of a point, in order along the line.

    Args: the line; the point, shape (2,); the radius. [m]
    """
    coords = np.asarray(line.coords)
    a, d = coords[:-1] - at_m, np.diff(coords, axis=0)
    length = np.hypot(d[:, 0], d[:, 1])
    along = np.concatenate([[0.0], np.cumsum(length)])
    found: list[Pass] = []
    near_m = math.inf
    for i in np.flatnonzero(length > 0):
        span = _inside(a[i], d[i], radius_m)
        if span is None:
            continue
        start, nearest, end = (float(along[i] + share * length[i]) for share in span)
        far_m = math.hypot(*(a[i] + d[i] * span[1]))
        if found and start <= found[-1].to_m + TOUCH_M:
            last = found.pop()
            start, nearest = last.from_m, nearest if far_m < near_m - TOUCH_M else last.at_m
            near_m = min(near_m, far_m)
        else:
            near_m = far_m
        found.append(Pass(start, end, nearest))
    return found


def _inside(offset_m: Floats, d: Floats, radius_m: float) -> tuple[float, float, float] | None:
    """Shares of a segment inside a circle round the origin, with the nearest between them."""
    a, b = float(d @ d), float(offset_m @ d)
    root = b * b - a * (float(offset_m @ offset_m) - radius_m**2)
    if root < 0:
        return None
    low, high = max((-b - math.sqrt(root)) / a, 0.0), min((-b + math.sqrt(root)) / a, 1.0)
    return (low, min(max(-b / a, low), high), high) if low <= high else None


class Joins(NamedTuple):
    """Where deer may change from one corridor to others: shapes (join,).

    It can be done on a stretch of the one, at best at `at_m`; the other one is reached at
    a place of `Trails.places`.
    """

    from_m: Floats
    to_m: Floats
    at_m: Floats
    place: npt.NDArray[np.int64]


class Arrival(NamedTuple):
    """A place reached on a way back; in the order in which they are followed."""

    used_m: float  # trail from the shot to here
    n_walked: int
    place: int
    walked: int  # corridors of this way back, a bit for each

    def leads_to_all_of(self, other: "Arrival") -> bool:
        """Whether another one at the same place leads nowhere else.

        Only where this one has as much trail left and has walked a part of what the
        other has: else the other may still follow what this one may not.
        """
        return not self.walked & ~other.walked and self.used_m <= other.used_m + TOUCH_M


class Trails:
    """Every corridor as deer travel it, and where they join.

    Args: the lines by id (`travelled`).
    """

    def __init__(self, lines: Mapping[str, LineString]) -> None:
        self.lines = dict(lines)
        self._bit = {name: 1 << i for i, name in enumerate(self.lines)}
        self.joins, self.places = _joins(self.lines)

    def before_shot(self, corridor_id: str, at_m: Floats, radius_m: float) -> list[Floats]:
        """The lines deer walk before the shot, in local metres.

        Args:
            corridor_id: the corridor in range.
            at_m: the stand. Shape (2,).
            radius_m: range, see `reach_m`.

        Returns: polylines of shape (point, 2), no place in two of them; empty where
        nothing is in range.
        """
        in_range = passes(self.lines[corridor_id], at_m, radius_m)
        if not in_range:
            return []
        spans = self.followed(corridor_id, in_range[0].at_m)
        return [
            np.asarray(substring(self.lines[name], *span).coords)[:, :2]
            for name in sorted(spans)
            for span in spans[name]
        ]

    def followed(self, corridor_id: str, from_m: float) -> dict[str, list[Span]]:
        """What is followed from a place on a corridor, over every way back.

        Args: the corridor; the place along it. [m]
        Returns: spans along each corridor, in order, none touching another. [m]
        """
        first = (corridor_id, from_m)
        reached = self._ways_back(first) or self._any_ways_back(first)
        found: dict[str, list[Span]] = {}
        for place, used_m in reached:
            name, at_m = self.places[place] if place >= 0 else first
            found.setdefault(name, []).append((_low_m(used_m, at_m), at_m))
        return {name: _merged(spans) for name, spans in found.items()}

    def _ways_back(self, first: tuple[str, float]) -> list[tuple[int, float]]:
        """Places reached and the trail used, on ways that take no corridor twice.

        Returns: none where there are more ways than any ground has.
        """
        ways = [Arrival(0.0, 1, -1, self._bit[first[0]])]
        found = {-1: [*ways]}
        followed = 0
        while ways:
            way = heapq.heappop(ways)
            if way not in found[way.place]:  # a better one took its stead
                continue
            followed += 1
            if followed > MOST_WAYS:
                return []
            for onward in self._onward(way, first):
                others = found.setdefault(onward.place, [])
                if not any(x.leads_to_all_of(onward) for x in others):
                    others[:] = [x for x in others if not onward.leads_to_all_of(x)]
                    others.append(onward)
                    heapq.heappush(ways, onward)
        return [(way.place, way.used_m) for ways in found.values() for way in ways]

    def _onward(self, way: Arrival, first: tuple[str, float]) -> Iterator[Arrival]:
        """Where deer came from onto what is followed from an arrival."""
        places, used_m = self._reached(way.place, way.used_m, first)
        for place, used in zip(places.tolist(), used_m.tolist(), strict=True):
            bit = self._bit[self.places[place][0]]
            if not way.walked & bit:
                yield Arrival(used, way.n_walked + 1, place, way.walked | bit)

    def _reached(self, place: int, used_m: float, first: tuple[str, float]):
        """Places that the joins of a followed part lead to, and the trail used there. [m]"""
        name, at_m = self.places[place] if place >= 0 else first
        joins, low_m = self.joins[name], _low_m(used_m, at_m)
        on = (joins.to_m >= low_m - TOUCH_M) & (joins.from_m <= at_m + TOUCH_M)
        left_m = np.clip(joins.at_m[on], low_m, at_m)
        return joins.place[on], used_m + at_m - left_m

    def _any_ways_back(self, first: tuple[str, float]) -> list[tuple[int, float]]:
        """As `_ways_back`, but a corridor may be taken twice: some trail too much."""
        least_m = np.full(len(self.places) + 1, np.inf)  # the last one for the first place
        least_m[-1] = 0.0
        ways = [(0.0, -1)]
        while ways:
            used_m, place = heapq.heappop(ways)
            if used_m > least_m[place]:
                continue
            places, used = self._reached(place, used_m, first)
            better = used < least_m[places] - TOUCH_M
            np.minimum.at(least_m, places[better], used[better])
            for k in np.unique(places[better]).tolist():
                heapq.heappush(ways, (float(least_m[k]), k))
        known = np.flatnonzero(np.isfinite(least_m[:-1])).tolist()
        return [(-1, 0.0), *((k, float(least_m[k])) for k in known)]


def _low_m(used_m: float, at_m: float) -> float:
    """How far back a corridor is followed from a place, along it. [m]"""
    return max(0.0, at_m - (FOLLOW_M - used_m))


def _joins(lines: dict[str, LineString]) -> tuple[dict[str, Joins], list[tuple[str, float]]]:
    """By corridor, every place where an end of it or of another lies near the other.

    One that passes an end twice is joined twice. Returns also the places that joins lead
    to: corridors, and metres along them.
    """
    found: dict[str, list[tuple[float, float, float, int]]] = {name: [] for name in lines}
    names = list(lines)
    places = [(name, m) for name, line in lines.items() for m in (0.0, line.length)]
    ends = [lines[name].interpolate(m) for name, m in places]
    tree = shapely.STRtree(list(lines.values()))
    near = tree.query(ends, predicate="dwithin", distance=JOIN_M)
    for end, line in near.T.tolist():
        (whose, end_m), name = places[end], names[line]
        if whose == name:
            continue
        for here in passes(lines[name], shapely.get_coordinates(ends[end])[0], JOIN_M):
            found[name].append((*here, end))
            found[whose].append((end_m, end_m, end_m, len(places)))
            places.append((name, here.at_m))
    return {name: _as_arrays(rows) for name, rows in found.items()}, places


def _as_arrays(rows: list[tuple[float, float, float, int]]) -> Joins:
    from_m, to_m, at_m = np.array([row[:3] for row in rows], float).reshape(-1, 3).T
    return Joins(from_m, to_m, at_m, np.array([row[3] for row in rows], np.int64))


def _merged(spans: list[Span]) -> list[Span]:
    """Spans along a line, those that touch made one, in order. [m]"""
    found: list[Span] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + TOUCH_M:
            last = found.pop()
            low, high = last[0], max(high, last[1])
        found.append((low, high))
    return found
