"""Ends of lines that are meant to touch: a lane's at its stand, a corridor's at a bed.

A finger is about 20 pixels wide; what lies that near on the map is taken as meant. The
screen says how many metres that is.
"""

import math
from dataclasses import dataclass

import shapely

from core.ground.fields import printable
from core.ground.kinds import LINE, POINT, POLYGON
from core.ground.plan import Floats, Plane

WORDS = {"lane": "way", "corridor": "trail", "bedding": "bed"}  # on the screen


@dataclass(frozen=True)
class Snapped:
    """A line with its ends where they belong, and what they were joined to, in words."""

    geometry: dict
    joins: tuple[str, ...]


def snapped(
    document: dict, kind: str, geometry: dict, within_m: float, own_id: str = ""
) -> Snapped:
    """A line's ends put on what they are near; all else as it came.

    A lane's first end goes to a truck and its last to a stand. A corridor's ends go to
    the edge of a bed or of food, or to another corridor; inside an area they stay.

    Args:
        document: a property's document.
        kind: the line's kind.
        geometry: GeoJSON.
        within_m: how near is near. [m]
        own_id: the line's own id, if it has one.
    """
    if geometry["type"] != LINE or kind not in ("lane", "corridor"):
        return Snapped(geometry, ())
    plane = Plane(tuple(document["property"]["center"]))
    places, joins = list(geometry["coordinates"]), []
    for end in (0, -1):
        wanted = _wanted(kind, end)
        others = [
            item
            for item in document["features"]
            if item["properties"]["kind"] in wanted and item["id"] != own_id
        ]
        at_m = plane.points([places[end][:2]])[0]
        found = _nearest(others, plane, at_m, within_m)
        if found is not None:
            item, place_m = found
            lon, lat = plane.to_lonlat(*place_m)
            places[end] = [float(lon), float(lat)]
            joins.append(f"{'start' if end == 0 else 'end'} joined to {told_name(item)}")
    if len(places) == 2 and math.dist(places[0][:2], places[1][:2]) == 0:
        return Snapped(geometry, ())  # both ends at one place: leave it as it was drawn
    return Snapped({**geometry, "coordinates": places}, tuple(joins))


def told_name(feature: dict) -> str:
    """A feature in a sentence on the screen: its name, and what it is."""
    members = feature["properties"]
    name = members.get("name")
    called = name if isinstance(name, str) and name.strip() else feature["id"]
    return f"{printable(called)} ({WORDS.get(members['kind'], members['kind'])})"


def _wanted(kind: str, end: int) -> tuple[str, ...]:
    if kind == "lane":
        return ("truck",) if end == 0 else ("stand",)
    return ("bedding", "food", "corridor")


def _nearest(others: list[dict], plane: Plane, at_m: Floats, within_m: float):
    """The nearest feature within reach, and the place of it to go to."""
    point, best, reach_m = shapely.Point(at_m), None, within_m
    for item in others:
        shape = _shape(item["geometry"], plane)
        if isinstance(shape, shapely.Polygon):
            if shape.covers(point):
                return None  # it ends inside already
            shape = shape.boundary
        distance_m = shape.distance(point)
        if distance_m <= reach_m:
            nearest = shapely.shortest_line(shape, point).coords[0]
            best, reach_m = (item, nearest), distance_m
    return best


def _shape(geometry: dict, plane: Plane) -> shapely.Geometry:
    places = geometry["coordinates"]
    if geometry["type"] == POINT:
        return shapely.Point(plane.points([places[:2]])[0])
    if geometry["type"] == POLYGON:
        rings = [plane.points([p[:2] for p in ring]) for ring in places]
        return shapely.Polygon(rings[0], rings[1:])
    return shapely.LineString(plane.points([p[:2] for p in places]))
