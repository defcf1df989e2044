"""What is known of one trail: what was done to it and seen on it, what it serves."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

import shapely

from core.chores.beside import features_by_id, shape_of
from core.chores.kinds import KINDS
from core.chores.walking import JOIN_M
from core.ground.layout import Property
from core.ground.plan import Plane
from core.keep.entries import SEEN, SIGN, VISIT, WORK, Entry
from core.sit.scene import Scene

KINDS_TOLD = (WORK, VISIT, SIGN, SEEN)
NEAR_SIGN_M = 4 * JOIN_M  # sign with a place of its own belongs to a trail this near


@dataclass(frozen=True, slots=True)
class Told:
    """One thing of a trail's story: the day; the entry of the log, or the chore whose date the
    property keeps."""

    day: datetime.date
    entry: Entry | None
    chore: str = ""


@dataclass(frozen=True, slots=True)
class Serves:
    """Ids of the stands that have a trail in range, and of the beds and plots it touches."""

    stands: tuple[str, ...]
    areas: tuple[str, ...]


def story(ground: Property, entries: Iterable[Entry], trail: str) -> list[Told]:
    """What was done to a trail and seen on it, the latest first.

    Args: the ground; entries of its log; the trail's id. A date that the property keeps and
    the log tells is told once.
    """
    kept = list(entries)
    found = [Told(datetime.date.fromisoformat(e.date), e) for e in kept if _is_of(e, ground, trail)]
    in_log = {(t.day, t.entry.get("what")) for t in found if t.entry and t.entry.kind == WORK}
    feature = next(c for c in ground.corridors if c.id == trail)
    for kind in KINDS.values():
        day = getattr(feature, kind.dated) if kind.dated else None
        if day and (datetime.date.fromisoformat(day), kind.name) not in in_log:
            found.append(Told(datetime.date.fromisoformat(day), None, kind.name))
    return sorted(found, key=lambda t: t.day, reverse=True)


def _is_of(entry: Entry, ground: Property, trail: str) -> bool:
    if entry.removed or entry.kind not in KINDS_TOLD:
        return False
    if trail in (entry.get("feature"), entry.get("trail")):
        return True
    at = entry.get("place")
    if entry.kind != SIGN or entry.get("feature") or at is None:
        return False
    plane = Plane(ground.center)
    line = shape_of(features_by_id(ground)[trail], plane)
    return bool(line.distance(shapely.Point(plane.points([at])[0])) <= NEAR_SIGN_M)


def serves(scene: Scene, trail: str) -> Serves:
    """What a trail serves. Args: the scene; the trail's id."""
    line = shape_of(features_by_id(scene.ground)[trail], scene.plane)
    stands = tuple(
        s.id for s in scene.ground.stands if trail in scene.corridors_in_range(s, s.range_yd)
    )
    areas = tuple(
        area.id
        for area, shape in zip(scene.areas, scene.polygons, strict=True)
        if shape.distance(line) <= JOIN_M
    )
    return Serves(stands, areas)
