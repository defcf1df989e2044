"""Criticism of stands: the shot, the way in, the place, the height."""

import math
from collections.abc import Iterator

import shapely

from core.criticism.finding import Finding, finding
from core.ground.layout import Mark, Stand
from core.sit.before import reach_m
from core.sit.scene import IN, Scene
from core.units import M_PER_YD

MEANT_RANGES = 2.0  # a trail within twice the range was likely meant as the shot
HIGHEST_FT = 16.0


def stand_findings(scene: Scene) -> Iterator[Finding]:
    """What is to be said of each stand that is not closed. Args: the ground's scene."""
    line = boundary(scene)
    for stand in scene.ground.stands:
        if stand.closed:
            continue
        yield from _shot(scene, stand)
        if not scene.ways(stand, IN):
            yield finding("stand-no-way-in", stand, 0.0, "lanes", "no lane leads to it")
        yield from _place(scene, stand, line)
        if stand.height_ft > HIGHEST_FT:
            text = f"its seat is {stand.height_ft:g} ft up, over {HIGHEST_FT:g}"
            yield finding("stand-high", stand, stand.height_ft, "ft", text)


def _shot(scene: Scene, stand: Stand) -> Iterator[Finding]:
    places = scene.places(stand)
    trails = [
        (places[c.id].distance_m / M_PER_YD, c) for c in scene.ground.corridors if c.brings_shot
    ]
    yards, trail = min(trails, key=lambda t: t[0], default=(math.inf, None))
    limit, close = stand.range_yd, scene.ground.limits.close_shot_yd
    if trail is not None and yards * M_PER_YD <= reach_m(limit):
        if yards < close:
            text = f"its shot to {trail.name} is {yards:.1f} yd, under {close:g}"
            yield finding("shot-close", stand, yards, "yd", text, trail.id)
    elif trail is not None and yards <= MEANT_RANGES * limit:
        text = f"its shot to {trail.name} is {yards:.0f} yd, beyond its range of {limit:g}"
        yield finding("shot-far", stand, yards, "yd", text, trail.id)
    elif not scene.food_in_range(stand, limit):
        told = f"the nearest trail, {trail.name}, is {yards:.0f} yd off" if trail else "none drawn"
        text = f"no day trail or food within its range of {limit:g} yd ({told})"
        measure = (yards, "yd") if trail else (0.0, "trails")
        yield finding("stand-no-shot", stand, *measure, text)


def _place(scene: Scene, stand: Stand, line) -> Iterator[Finding]:
    at = shapely.Point(scene.stands_m[scene.index(stand)])
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        if area.kind == "bedding" and polygon.covers(at):
            text = f"it hangs inside {area.name}"
            yield finding("stand-in-bed", stand, 0.0, "yd", text, area.id)
    if line is None:
        return
    yards = line.distance(at) / M_PER_YD
    inside = ground_inside(scene)
    if inside is not None and not inside.covers(at):
        yield finding(
            "stand-near-line", stand, yards, "yd", f"it hangs {yards:.0f} yd outside the boundary"
        )
    elif line.distance(at) <= reach_m(stand.range_yd):
        text = f"the boundary is {yards:.0f} yd off, within its range of {stand.range_yd:g}"
        yield finding("stand-near-line", stand, yards, "yd", text)


def boundary(scene: Scene):
    """The boundary's lines in local metres; None where none is drawn."""
    marks = [m for m in scene.ground.marks if m.kind == "boundary" and m.geometry != "Point"]
    return shapely.union_all([_line(scene, m) for m in marks]) if marks else None


def ground_inside(scene: Scene):
    """The area inside the boundary in local metres; None where none is drawn as an area."""
    marks = [m for m in scene.ground.marks if m.kind == "boundary" and m.geometry == "Polygon"]
    return shapely.union_all([scene.area_of(m) for m in marks]) if marks else None


def _line(scene: Scene, mark: Mark):
    if mark.geometry == "Polygon":
        return scene.area_of(mark).boundary
    return shapely.LineString(scene.plane.points(mark.points))
