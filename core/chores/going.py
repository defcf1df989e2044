"""Where a visit goes: a place of the ground, the spots at which one works there, the way in."""

import dataclasses
import math
from dataclasses import dataclass

import numpy as np
import shapely

from core.chores.beside import features_by_id, shape_of
from core.errors import BadRequest
from core.ground.layout import Lane, Property, Stand
from core.land.kept import KeptLand
from core.sit.scene import IN, Scene, Way

VISITOR = "visitor"
EVERY_M, MOST_PLACES = 25.0, 40  # along a line or round an area


@dataclass(frozen=True, eq=False)
class Visit:
    """A place to go to: its ground with a seat there, where one works, the way there."""

    scene: Scene
    name: str
    work: Way  # its middles are the places at which one works
    way: Way | None


def find_place(ground: Property, named: str) -> str:
    """The id of a feature by its id or name. Args: the ground; as typed. Raises: BadRequest."""
    features = features_by_id(ground)
    if named in features:
        return named
    found = [i for i, f in features.items() if f.name.casefold() == named.strip().casefold()]
    if len(found) != 1:
        what = "is the name of several places" if found else "is no place of this ground"
        known = ", ".join(list(features)[:12])
        raise BadRequest(f"'{named[:40]}' {what}", "--at", f"Use an id, such as: {known}.")
    return found[0]


def visit_to(
    ground: Property, place: str, by: str | None = None, heights: KeptLand | None = None
) -> Visit:
    """A visit to a place of the ground.

    Args: the ground; the id of a feature; the id of the way in, the nearest by default; the
    heights of the ground where there are some.
    Missing: without any way in the walk is not judged. Raises: BadRequest for a way in
    that is none.
    """
    plain = Scene(dataclasses.replace(ground, stands=()))
    feature = features_by_id(ground)[place]
    shape = shape_of(feature, plain.plane)
    lane = _lane(plain, shape, by)
    line = None if lane is None else plain.lane_lines[lane.id]
    at_m = np.array(_entry(shape, line).coords[0])
    lon, lat = (float(x) for x in plain.plane.to_lonlat(*at_m))
    cover = feature.cover if isinstance(feature, Stand) else lane.cover if lane else "edge"
    seat = Stand(VISITOR, VISITOR, (lon, lat), "ground-blind", 0.0, cover)
    lanes = () if lane is None else (dataclasses.replace(lane, stands=(VISITOR,), way="both"),)
    scene = Scene(dataclasses.replace(ground, stands=(seat,), lanes=lanes), heights)
    ways = scene.ways(seat, IN)
    return Visit(
        scene, feature.name or place, _work(scene, shape, cover), ways[0] if ways else None
    )


def _lane(scene: Scene, shape, by: str | None) -> Lane | None:
    lanes = [lane for lane in scene.ground.lanes if lane.way != "out"]
    if by is not None:
        for lane in scene.ground.lanes:
            if by in (lane.id, lane.name):
                return lane
        known = ", ".join(lane.id for lane in scene.ground.lanes) or "none"
        raise BadRequest(f"'{by[:40]}' is no way in", "--by", f"Ways in here: {known}.")
    far = [(scene.lane_lines[lane.id].distance(shape), lane.id, lane) for lane in lanes]
    return min(far)[2] if far else None


def _entry(shape, line) -> shapely.Point:
    """Where one comes to a place: its point nearest to the way, else somewhere in it."""
    if line is None:
        return (
            shape.interpolate(0.0)
            if shape.length and not shape.area
            else (shape.representative_point())
        )
    return shapely.Point(shapely.shortest_line(shape, line).coords[0])


def _work(scene: Scene, shape, cover: str) -> Way:
    """The places at which one works, as a walk that stays there."""
    line = shape.exterior if shape.geom_type == "Polygon" else shape
    if line.length == 0:
        points = np.array([line.coords[0]])
    else:
        n = min(MOST_PLACES, max(2, math.ceil(line.length / EVERY_M) + 1))
        shares = np.linspace(0.0, 1.0, n)
        points = shapely.get_coordinates(
            shapely.line_interpolate_point(line, shares, normalized=True)
        )
    return Way(
        lane=Lane(VISITOR, VISITOR, ((0.0, 0.0),) * 2, (VISITOR,), cover=cover),
        direction=IN,
        path_m=points,
        minutes=len(points),
        length_m=float(line.length),
        crosses=(),
        middles_m=points,
        beds=scene.beds,
        zones=scene.area_zones,
    )
