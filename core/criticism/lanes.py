"""Criticism of lanes: what they cross, pass and leave, and when they are walked.

A way in is walked in the dark of the morning and by the light of the afternoon, a
way out the other way about. Near a bed the drawn lane is measured as far as it is
walked; the seat's own nearness is not the lane's fault by day.
"""

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
import shapely.ops

from core.criticism.finding import Finding, finding
from core.criticism.stands import boundary, ground_inside
from core.ground.layout import CriticismLimits, Lane, Stand
from core.sit.before import BEDDING_END, FOOD_END
from core.sit.scene import IN, Scene
from core.sit.ways import crossed_before_shot
from core.units import M_PER_YD

NEARER_BY_YD = 10.0
OUTSIDE_OVER_YD = 5.0  # a line drawn by hand or by GPS strays that much
SITS_OF_END = ((FOOD_END, "morning"), (BEDDING_END, "evening"))


@dataclass(frozen=True, eq=False)
class WalkedLane:
    """A lane as it is walked to one stand, and by which light."""

    stand: Stand
    line: shapely.Geometry  # local metres; a point where none of the lane is walked
    seat: shapely.Geometry
    dark: bool
    day: bool
    morning_dark: bool


def lane_findings(scene: Scene) -> Iterator[Finding]:
    """What is to be said of each lane. Args: the ground's scene."""
    for lane in scene.ground.lanes:
        walks = [_walk(scene, lane, s) for s in _served(scene, lane)]
        if not walks:
            continue
        yield from _crossings(scene, lane)
        for area, polygon in zip(scene.areas, scene.polygons, strict=True):
            if area.held == "never":
                continue
            if area.kind == "bedding":
                yield from _bed(lane, walks, area, polygon, scene.ground.limits)
            else:
                yield from _food(lane, walks, area, polygon, scene.ground.limits)
        yield from _leaves(scene, lane, walks)


def _served(scene: Scene, lane: Lane) -> list[Stand]:
    return [s for s in scene.ground.stands if s.id in lane.stands and not s.closed]


def _sat(stand: Stand, sit: str, but: tuple[str, ...] = ("not-now",)) -> bool:
    """Whether a stand is sat of a morning or evening in any part of the season."""
    words = [getattr(stand.wanted, sit)]
    at = ("morning", "evening").index(sit)
    words += [pair[at] for _, pair in stand.wanted.by_part if pair[at] is not None]
    return any(word not in but for word in words)


def _walk(scene: Scene, lane: Lane, stand: Stand) -> WalkedLane:
    line = scene.lane_lines[lane.id]
    seat = shapely.Point(scene.stands_m[scene.index(stand)])
    morning, evening = _sat(stand, "morning"), _sat(stand, "evening")
    goes_in, goes_out = lane.way != "out", lane.way != "in"
    return WalkedLane(
        stand=stand,
        line=shapely.ops.substring(line, 0.0, line.project(seat)),
        seat=seat,
        dark=(goes_in and morning) or (goes_out and evening),
        day=(goes_in and evening) or (goes_out and morning),
        # "watch" in the morning: the owner does not count on that seat then
        morning_dark=goes_in and _sat(stand, "morning", ("not-now", "watch")),
    )


def _crossings(scene: Scene, lane: Lane) -> Iterator[Finding]:
    """Trails that the way in crosses where deer walk before the shot, one finding each."""
    crossed: dict[str, list[tuple[float, str]]] = {}
    for stand, (end, sit) in itertools.product(_served(scene, lane), SITS_OF_END):
        if not _sat(stand, sit):
            continue
        seat = shapely.Point(scene.stands_m[scene.index(stand)])
        for way in (w for w in scene.ways(stand, IN) if w.lane.id == lane.id):
            path = shapely.LineString(way.path_m)
            for name in crossed_before_shot(scene, way, stand, (end,)):
                part = scene.before_shot(stand, stand.range_yd, (end,))[name]
                places = shapely.union_all(shapely.intersection(path, part.lines))
                yards = float(seat.distance(places)) / M_PER_YD
                crossed.setdefault(name, []).append((yards, f"{stand.name}, {sit}"))
    for name, told in crossed.items():
        yards, who = min(told)[0], "; ".join(words for _, words in told)
        trail = scene.ground.name_of(name)
        text = f"it crosses {trail} before the shot, {yards:.0f} yd from the seat ({who})"
        yield finding("lane-crosses", lane, yards, "yd", text, name)


def _bed(
    lane: Lane, walks: list[WalkedLane], area, polygon, limits: CriticismLimits
) -> Iterator[Finding]:
    inside_m = max(polygon.intersection(w.line).length for w in walks)
    if inside_m > 0:
        yards = inside_m / M_PER_YD
        text = f"it runs through {area.name} for {yards:.0f} yd"
        yield finding("lane-through-bed", lane, yards, "yd", text, area.id)
        return
    dark = [w.line.distance(polygon) for w in walks if w.dark]
    by_day = [
        w.line.distance(polygon)
        for w in walks
        if w.day
        and area.held != "night"
        and w.seat.distance(polygon) - w.line.distance(polygon) > NEARER_BY_YD * M_PER_YD
    ]
    kinds = (
        ("lane-near-bed-dark", dark, limits.walk_dark_yd, "in the dark"),
        ("lane-near-bed-day", by_day, limits.walk_day_yd, "by day"),
    )
    for code, distances, limit, light in kinds:
        yards = min(distances, default=math.inf) / M_PER_YD
        if yards <= limit:
            text = f"it passes {yards:.0f} yd from {area.name} {light}, within {limit:g}"
            yield finding(code, lane, yards, "yd", text, area.id)
            return


def _food(
    lane: Lane, walks: list[WalkedLane], area, polygon, limits: CriticismLimits
) -> Iterator[Finding]:
    if area.held == "day":
        return
    distances = [w.line.distance(polygon) for w in walks if w.morning_dark]
    yards = min(distances, default=math.inf) / M_PER_YD
    if yards <= limits.walk_dark_yd:
        text = (
            f"it passes {yards:.0f} yd from {area.name} in the morning dark, "
            f"within {limits.walk_dark_yd:g}"
        )
        yield finding("lane-past-food", lane, yards, "yd", text, area.id)


def _leaves(scene: Scene, lane: Lane, walks: list[WalkedLane]) -> Iterator[Finding]:
    inside, line = ground_inside(scene), boundary(scene)
    names = ", ".join(w.stand.name for w in walks)
    if inside is not None:
        kept = inside.buffer(OUTSIDE_OVER_YD * M_PER_YD)
        yards = max(w.line.difference(kept).length for w in walks) / M_PER_YD
        if yards > 0:
            text = f"to {names} it runs {yards:.0f} yd outside the boundary"
            yield finding("lane-leaves", lane, yards, "yd", text)
    elif line is not None and any(w.line.intersects(line) for w in walks):
        crossings = max(len(shapely.get_coordinates(w.line.intersection(line))) for w in walks)
        text = f"to {names} it crosses the boundary"
        yield finding("lane-leaves", lane, float(crossings), "crossings", text)
