"""What a drawn thing measures, said while it is drawn: yards, minutes in the dark, acres."""

import shapely

from core.ground.drawing.edits import feature_of, model_of
from core.ground.features import Model
from core.ground.layout import Area, Corridor, Lane, Line, Mark, Stand
from core.ground.plan import Plane
from core.sit.scene import walk_minutes
from core.units import M_PER_YD, MPS_PER_MPH, SQ_M_PER_ACRE

NEAR_TRAIL_YD = 150.0  # trails farther from a stand are not told
MOST_TRAILS = 4
DEFAULT_WALK_MPH = 1.5  # common practice, no source: as in the property file


def measured(document: dict, id_: str) -> list[str]:
    """What a feature of a draft measures, in short sentences.

    Args:
        document: a property's document, saved or not.
        id_: the feature's id; an unknown one has nothing to say.

    Raises: BadProperty where the feature itself is broken.
    """
    feature = feature_of(document, id_)
    if feature is None:
        return []
    model, plane = model_of(document, feature), Plane(tuple(document["property"]["center"]))
    if isinstance(model, Stand):
        return _near_stand(document, model, plane)
    if isinstance(model, Lane):
        return [_lane_said(document, model, _length_m(model.line, plane))]
    if isinstance(model, Corridor):
        return [f"{_yards(_length_m(model.line, plane))} long, {model.width_ft:g} ft wide"]
    return [_extent_said(model, plane)]


def _yards(metres: float) -> str:
    return f"{metres / M_PER_YD:,.0f} yd"


def _length_m(line: Line, plane: Plane) -> float:
    return float(shapely.LineString(plane.points(line)).length)


def _near_stand(document: dict, stand: Stand, plane: Plane) -> list[str]:
    """Trails near a stand, the nearest first, and whether they are in its range."""
    at = shapely.Point(plane.points([stand.at])[0])
    near = []
    for item in document["features"]:
        if item["properties"]["kind"] != "corridor":
            continue
        line = shapely.LineString(plane.points([p[:2] for p in item["geometry"]["coordinates"]]))
        yards = line.distance(at) / M_PER_YD
        if yards <= NEAR_TRAIL_YD:
            near.append((yards, str(item["properties"].get("name") or item["id"])))
    if not near:
        return [f"no trail within {NEAR_TRAIL_YD:.0f} yd"]
    told = [
        f"{name} {yards:.0f} yd{'' if round(yards) <= stand.range_yd else ', out of range'}"
        for yards, name in sorted(near)[:MOST_TRAILS]
    ]
    return ["; ".join(told)]


def _lane_said(document: dict, lane: Lane, length_m: float) -> str:
    sit = document["property"].get("sit") or {}
    mph = float(sit.get("walk_mph") or DEFAULT_WALK_MPH)
    minutes = walk_minutes(lane, length_m, length_m, 0.0, mph * MPS_PER_MPH)
    said_time = "" if lane.minutes is None else ", your own time"
    return f"{_yards(length_m)} long, {minutes} min in the dark{said_time}"


def _acres_said(ring: Line, holes: tuple[Line, ...], plane: Plane) -> str:
    area = shapely.Polygon(plane.points(ring), [plane.points(hole) for hole in holes])
    return f"{area.area / SQ_M_PER_ACRE:.1f} acres"


def _extent_said(model: Model, plane: Plane) -> str:
    """The size of an area, the length of a line, nothing for a point."""
    if isinstance(model, Area):
        return _acres_said(model.ring, model.holes, plane)
    if isinstance(model, Mark) and model.geometry == "Polygon":
        return _acres_said(model.points, model.holes, plane)
    if isinstance(model, Mark) and model.geometry == "LineString":
        return f"{_yards(_length_m(model.points, plane))} long"
    return "one place"
