"""Property files for tests: GeoJSON documents laid out in yards from a centre.

`document(stand("oak", 0, 0), bed("cane", square(200, -100, 40)))` is a whole file;
`load` reads one into models. Places are (east, north) in yards from the centre.
"""

import copy
import json
import math

from core.ground.layout import Property
from core.ground.plan import Plane
from core.ground.store import Opened, parse_property, property_from_document
from core.units import M_PER_YD

CENTER = (-79.9, 36.1)  # lon, lat
SEASON = {"weapon": "bow", "first": "09-13", "last": "01-01", "checked_on": "2026-08-01"}
RULES = {
    "format": "stand-and-wind",
    "version": 1,
    "uid": "00000000-0000-4000-8000-000000000001",
    "revision": 1,
    "name": "Test ground",
    "timezone": "America/New_York",
    "center": list(CENTER),
    "elevation_m": 240,
    "seasons": [SEASON],
}


def lonlat(east_yd: float, north_yd: float, center=CENTER) -> list[float]:
    """[lon, lat] of a place some yards from the centre, to 7 decimals."""
    lon, lat = Plane(center).to_lonlat(east_yd * M_PER_YD, north_yd * M_PER_YD)
    return [round(float(lon), 7), round(float(lat), 7)]


def feature(id_: str, kind: str, shape: str, coordinates, **properties) -> dict:
    """A feature; its name is its id in title case unless given."""
    properties = {"kind": kind, "name": id_.replace("-", " ").title(), **properties}
    return {
        "type": "Feature",
        "id": id_,
        "geometry": {"type": shape, "coordinates": coordinates},
        "properties": properties,
    }


def stand(id_: str, east_yd: float, north_yd: float, *, center=CENTER, **properties) -> dict:
    """A stand at a place."""
    return feature(id_, "stand", "Point", lonlat(east_yd, north_yd, center), **properties)


def lane(id_: str, line_yd, stands, *, center=CENTER, **properties) -> dict:
    """A lane through places, the truck first, to the stands of some ids."""
    line = [lonlat(*place, center) for place in line_yd]
    return feature(id_, "lane", "LineString", line, stands=list(stands), **properties)


def corridor(id_: str, line_yd, *, center=CENTER, **properties) -> dict:
    """A corridor through places, the bedding end first."""
    line = [lonlat(*place, center) for place in line_yd]
    return feature(id_, "corridor", "LineString", line, **properties)


def area(id_: str, kind: str, *rings_yd, center=CENTER, **properties) -> dict:
    """An area: its outline, then its holes, without closing places; wound right."""
    rings = []
    for index, ring_yd in enumerate(rings_yd):
        turns_left = _area_yd2(ring_yd) > 0
        ring_yd = list(ring_yd) if turns_left == (index == 0) else list(ring_yd)[::-1]
        ring = [lonlat(*place, center) for place in ring_yd]
        rings.append([*ring, ring[0]])
    return feature(id_, kind, "Polygon", rings, **properties)


def bed(id_: str, ring_yd, **properties) -> dict:
    """A bedding area."""
    return area(id_, "bedding", ring_yd, **properties)


def food(id_: str, ring_yd, **properties) -> dict:
    """A food plot."""
    return area(id_, "food", ring_yd, **properties)


def square(east_yd: float, north_yd: float, size_yd: float) -> list[tuple[float, float]]:
    """A square ring round a place, counter-clockwise, not closed."""
    half = size_yd / 2
    corners = ((-half, -half), (half, -half), (half, half), (-half, half))
    return [(east_yd + e, north_yd + n) for e, n in corners]


def circle(east_yd: float, north_yd: float, radius_yd: float, points: int = 24):
    """A round ring, counter-clockwise, not closed."""
    turns = [2 * math.pi * i / points for i in range(points)]
    return [(east_yd + radius_yd * math.cos(t), north_yd + radius_yd * math.sin(t)) for t in turns]


def document(*features: dict, **rules) -> dict:
    """A property file of some features; keywords replace members of `property`."""
    return {
        "type": "FeatureCollection",
        "property": copy.deepcopy({**RULES, **rules}),
        "features": copy.deepcopy(list(features)),
    }


def whole_ground(**rules) -> dict:
    """A small ground with one of every kind that the sums use."""
    return document(
        stand("oak", 0, 0, seat="ladder", wanted={"morning": "best", "evening": "good"}),
        stand("gum", 150, 60, seat="climber", downhill_deg=180, grade_pct=12),
        lane("north-way", [(0, 400), (0, 200), (0, 10)], ["oak"]),
        lane("east-way", [(400, 60), (160, 60)], ["gum", "oak"], way="out"),
        corridor("main", [(-200, -20), (0, -20), (180, 40)]),
        bed("cane", square(-240, -20, 60)),
        food("clover", square(230, 40, 50)),
        area("line", "boundary", square(0, 0, 1200)),
        feature("gate", "truck", "Point", lonlat(0, 402)),
        **rules,
    )


def as_bytes(document_: dict) -> bytes:
    """A document as the bytes of a file."""
    return json.dumps(document_).encode()


def opened(document_: dict) -> Opened:
    """A document as if opened from a file."""
    return parse_property(as_bytes(document_), "test.json")


def load(document_: dict) -> Property:
    """The models of a document."""
    return property_from_document(document_, "test.json")


def _area_yd2(ring) -> float:
    pairs = zip(ring, [*ring[1:], ring[0]], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2
