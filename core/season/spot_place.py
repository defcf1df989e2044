"""Where a spot lies, by what an owner knows there: where lines meet, where they end, marks."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from core.angles import point_name, wrap_deg
from core.ground.plan import bearing_deg
from core.sit.scene import Scene
from core.units import M_PER_YD

AT_IT_YD = 5  # nearer, a spot is at the place
KNOWN_POINTS = ("truck", "sign", "camera", "water", "other")
KNOWN_LINES = ("boundary", "water", "draw", "other")


@dataclass(frozen=True, slots=True)
class Known:
    """A place that has words of its own, in local metres."""

    words: str
    east_m: float
    north_m: float


def spot_words(scene: Scene, at_m) -> str:
    """A spot by the nearest place that has words, as "30 yd N of where A meets B".

    Args: the scene; the spot in local metres, shape (2,). Missing: empty on a ground without
    a named line, mark or stand.
    """
    known = scene.kept("known", lambda: list(_known(scene)))
    if not known:
        return ""
    places = np.array([(k.east_m, k.north_m) for k in known])
    far_yd = np.hypot(*(places - at_m).T) / M_PER_YD
    nearest = int(far_yd.argmin())
    yards = round(float(far_yd[nearest]) / 5) * 5
    if yards <= AT_IT_YD:
        return f"at {known[nearest].words}"
    way = point_name(float(wrap_deg(bearing_deg(places[nearest], np.asarray(at_m, float)))))
    return f"{yards} yd {way} of {known[nearest].words}"


def _known(scene: Scene) -> Iterator[Known]:
    lines = _lines(scene)
    for (a, one), (b, other) in itertools.combinations(lines, 2):
        for east, north in _met(one, other):
            yield Known(f"where {a} meets {b}", east, north)
    for name, line in scene.corridor_lines.items():
        for end, at in (("bed", line.coords[0]), ("far", line.coords[-1])):
            yield Known(f"the {end} end of {scene.ground.name_of(name)}", *at[:2])
    for mark in scene.ground.marks:
        if mark.geometry == "Point" and mark.kind in KNOWN_POINTS and mark.name:
            yield Known(mark.name, *map(float, scene.plane.points(mark.points)[0]))
    for stand, at in zip(scene.ground.stands, scene.stands_m, strict=True):
        yield Known(stand.name, *map(float, at))


def _lines(scene: Scene) -> list[tuple[str, shapely.LineString]]:
    name = scene.ground.name_of
    lines = [(name(k), line) for k, line in scene.corridor_lines.items()]
    lines += [(name(k), line) for k, line in scene.lane_lines.items()]
    for mark in scene.ground.marks:
        if mark.kind in KNOWN_LINES and mark.geometry != "Point" and mark.name:
            points = scene.plane.points(mark.points)
            ring = [*points, points[0]] if mark.geometry == "Polygon" else points
            lines.append((mark.name, shapely.LineString(ring)))
    return lines


def _met(one: shapely.LineString, other: shapely.LineString) -> list[tuple[float, float]]:
    """Where two lines cross or touch; the middle of what they share."""
    met = one.intersection(other)
    parts = getattr(met, "geoms", [met]) if not met.is_empty else []
    return [tuple(part.centroid.coords[0][:2]) for part in parts]
