"""Where still air goes from a stand, by the names of what lies along its way."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import shapely

from core.angles import point_name
from core.ground.layout import Property
from core.ground.plan import Plane
from core.land.still_way import EDGE, FLAT, POOL, StillWay
from core.units import M_PER_YD

BESIDE_M = 25.0  # a draw or water this near is the way's own
ALONG_M = 40.0  # over at least so much of the way; ours
PASSES_M = 30.0  # a bed or food this near is passed; ours
DRAWS = ("draw", "water")


@dataclass(frozen=True, slots=True)
class Passed:
    """A feature on a way: its id, name and kind, how it is met, and how far along the ground."""

    id: str
    name: str
    kind: str
    how: str  # along, through or past
    along_m: float


@dataclass(frozen=True, slots=True)
class StillAir:
    """The way of still air as it is told: first heading, what it meets, how it ends."""

    toward_deg: float
    met: tuple[Passed, ...]
    ends: str
    length_m: float


def still_air(way: StillWay, ground: Property, plane: Plane) -> StillAir | None:
    """What a way meets, in order.

    Args: a way; the ground; its plane. Returns: None for a way that goes nowhere.
    Source: distances are ours.
    """
    if len(way.points_m) < 3:
        return None
    line = shapely.LineString(way.points_m)
    first = way.points_m[min(4, len(way.points_m) - 1)] - way.points_m[0]
    toward = float(np.degrees(np.arctan2(first[0], first[1])) % 360.0)
    met = sorted(
        (*_draws(line, ground, plane), *_areas(line, ground, plane)), key=lambda one: one.along_m
    )
    return StillAir(toward, tuple(met), way.ends, way.length_m)


def _draws(line, ground: Property, plane: Plane) -> list[Passed]:
    """Draws and water that the way follows; a mouth that it only passes is none of them."""
    beside = [
        (mark, shapely.LineString(plane.points(mark.points)).buffer(BESIDE_M))
        for mark in ground.marks
        if mark.kind in DRAWS and mark.geometry == "LineString"
    ]
    met, left = [], line
    while beside:
        parts = [shapely.intersection(left, shape) for _, shape in beside]
        firsts = [_first_m(line, part) if part.length >= ALONG_M else np.inf for part in parts]
        k = int(np.argmin(firsts))
        if firsts[k] == np.inf:
            break
        mark, shape = beside.pop(k)
        left = shapely.difference(left, shape)
        met.append(Passed(mark.id, mark.name or mark.id, mark.kind, "along", firsts[k]))
    return met


def _first_m(line, part) -> float:
    """Where along a line a part of it begins. [m]"""
    ends = shapely.points(shapely.get_coordinates(part))
    return float(shapely.line_locate_point(line, ends).min())


def _areas(line, ground: Property, plane: Plane) -> Iterator[Passed]:
    for area in ground.areas:
        shape = shapely.Polygon(plane.points(area.ring), [plane.points(h) for h in area.holes])
        away = shapely.distance(line, shape)
        if away > PASSES_M:
            continue
        near = shapely.intersection(line, shape.buffer(max(away, 0.0) + 1.0))
        how = "through" if away == 0.0 else "past"
        yield Passed(area.id, area.name or area.id, area.kind, how, _first_m(line, near))


def still_text(
    told: StillAir | None,
    *,
    up: bool = False,
    whose: str = "Still air",
    toward: str = "",
    like: Mapping[str, str] | None = None,
) -> str:
    """A way in one sentence: slides down to the WSW, turns along Dry Draw, passes Cane.

    Args: what it meets, None for flat ground; whether it is the way up a sunlit slope; how
    the sentence begins; another word for where it first goes; how strongly places get it, by
    their ids, where that is known.
    """
    if told is None:
        return "The ground is level here: still air has no way of its own."
    verb = "climbs to the" if up else "slides down to the"
    parts = [f"{whose} {verb} {toward or point_name(told.toward_deg)}"]
    parts += [_meeting(one, (like or {}).get(one.id, "")) for one in told.met]
    return ", ".join(parts) + _end(told) + "."


def _meeting(one: Passed, like: str) -> str:
    yards = f"{_tens(one.along_m / M_PER_YD)} yd"
    if one.how == "along":
        return f"turns along {one.name} after {yards}"
    verb = "goes through" if one.how == "through" else "passes"
    return f"{verb} {one.name}, {yards} along the ground" + (f" ({like})" if like else "")


def _tens(yards: float) -> int:
    return max(10, round(yards / 10.0) * 10)


def _end(told: StillAir) -> str:
    if told.ends == POOL:
        return " and lies in the low ground there"
    if told.ends == FLAT:
        return " and ends on level ground"
    if told.ends == EDGE:
        return " and leaves the heights that are known"
    return ""
