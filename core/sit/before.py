"""The part of a corridor that deer walk before the shot.

The first stretch in range, as deer travel; its nearest point to the stand is the
shot; from there back against their travel for 150 yards of trail, along every
corridor that joins on the way.
"""

import heapq
import math

import numpy as np
import numpy.typing as npt
from shapely import LineString, Point
from shapely.ops import substring

from core.units import M_PER_YD

Floats = npt.NDArray[np.float64]

FOLLOW_M = 150.0 * M_PER_YD  # common practice, no source
JOIN_M = 10.0 * M_PER_YD
FOOD_END, BEDDING_END = "food", "bedding"
TOUCH_M = 1e-6


def reach_m(range_yd: float) -> float:
    """Range as a radius: distances count to the whole yard. [m]"""
    return (range_yd + 0.5) * M_PER_YD - TOUCH_M


def travelled(line_m: Floats, from_end: str) -> LineString:
    """A corridor as deer walk it: from its food end or from its bedding end."""
    return LineString(line_m[::-1] if from_end == FOOD_END else line_m)


def first_stretch_m(line: LineString, at_m: Floats, radius_m: float) -> tuple[float, float] | None:
    """Where a line first lies within a radius of a point: start and end along it. [m]"""
    coords = np.asarray(line.coords)
    a, d = coords[:-1], np.diff(coords, axis=0)
    length = np.hypot(d[:, 0], d[:, 1])
    along = np.concatenate([[0.0], np.cumsum(length)])
    current: list[float] | None = None
    for i in np.flatnonzero(length > 0):
        span = _inside(a[i] - at_m, d[i], radius_m)
        if span is None:
            continue
        start, end = along[i] + span[0] * length[i], along[i] + span[1] * length[i]
        if current and start > current[1] + TOUCH_M:
            break
        current = [current[0] if current else start, end]
    return (current[0], current[1]) if current else None


def _inside(offset_m: Floats, d: Floats, radius_m: float) -> tuple[float, float] | None:
    """Shares of a segment inside a circle round the origin."""
    a, b = float(d @ d), float(offset_m @ d)
    root = b * b - a * (float(offset_m @ offset_m) - radius_m**2)
    if root < 0:
        return None
    low, high = (-b - math.sqrt(root)) / a, (-b + math.sqrt(root)) / a
    low, high = max(low, 0.0), min(high, 1.0)
    return (low, high) if low <= high else None


def parts_before_shot(
    lines: dict[str, LineString], corridor_id: str, at_m: Floats, radius_m: float
) -> list[Floats]:
    """The lines deer walk before the shot, in local metres.

    Args:
        lines: every corridor as deer travel it, by id (`travelled`).
        corridor_id: the corridor in range.
        at_m: the stand. Shape (2,).
        radius_m: range, see `reach_m`.

    Returns: polylines of shape (point, 2); empty where nothing is in range.
    """
    line = lines[corridor_id]
    stretch = first_stretch_m(line, at_m, radius_m)
    if stretch is None:
        return []
    within = substring(line, *stretch)
    shot_m = stretch[0] + (within.project(Point(at_m)) if within.length else 0.0)
    return _followed(lines, corridor_id, shot_m)


def _followed(lines: dict[str, LineString], name: str, at_along_m: float) -> list[Floats]:
    """Every way back from a place on a corridor, the one with most trail left first.

    A place reached again leads nowhere new: so the order in the file tells nothing, and
    many ends at one place are followed once each.
    """
    found: list[Floats] = []
    seen: set[tuple[str, int]] = set()
    ways = [(0.0, 1, name, at_along_m, frozenset([name]))]
    while ways:
        used_m, _, name, at_along_m, walked = heapq.heappop(ways)
        if (name, round(at_along_m)) in seen:
            continue
        seen.add((name, round(at_along_m)))
        low = max(0.0, at_along_m - (FOLLOW_M - used_m))
        part = substring(lines[name], low, at_along_m)
        found.append(np.asarray(part.coords)[:, :2])
        for other, join_m, more_m in _joins(lines, lines[name], part, low, at_along_m, walked):
            so_far_m = round(used_m + more_m, 3)  # a rounding crumb is no order
            heapq.heappush(ways, (so_far_m, len(walked) + 1, other, join_m, walked | {other}))
    return found


def _joins(lines, line, part, low, at_along_m, walked):
    """Corridors that join a followed part: (id, place along it, trail used)."""
    ends = [s for s in (0.0, line.length) if low - TOUCH_M <= s <= at_along_m + TOUCH_M]
    for other, other_line in lines.items():
        if other in walked or part.distance(other_line) > JOIN_M:
            continue
        for end in ends:
            point = line.interpolate(end)
            if other_line.distance(point) <= JOIN_M:
                yield other, other_line.project(point), max(0.0, at_along_m - end)
        for end in (0.0, other_line.length):
            point = other_line.interpolate(end)
            if part.distance(point) <= JOIN_M:
                on_part = part.project(point) if part.length else 0.0
                yield other, end, at_along_m - low - on_part
