"""Criticism of corridors, beds and trucks: width, exits, trails, size, nearness."""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from core.angles import point_name, separation_deg
from core.criticism.common_wind import CommonWind
from core.criticism.finding import Finding, finding
from core.ground.layout import Corridor
from core.ground.plan import bearing_deg
from core.sit.before import JOIN_M
from core.sit.scene import Scene
from core.units import M_PER_YD, SQ_M_PER_ACRE

UPWIND_WITHIN_DEG = 45.0
SAME_TRUCK_YD = 20.0


def corridor_findings(scene: Scene) -> Iterator[Finding]:
    """What is to be said of each corridor. Args: the ground's scene."""
    limits = scene.ground.limits
    for corridor in scene.ground.corridors:
        width = corridor.width_ft
        if width > limits.widest_ft:
            text = f"it is {width:g} ft wide, over {limits.widest_ft:g}"
            yield finding("corridor-wide", corridor, width, "ft", text)
        if width < limits.narrowest_ft:
            text = f"it is {width:g} ft wide, under {limits.narrowest_ft:g}"
            yield finding("corridor-narrow", corridor, width, "ft", text)
        yards, most = scene.corridor_lines[corridor.id].length / M_PER_YD, limits.no_exit_over_yd
        if yards > most and not _has_exit(scene, corridor):
            text = f"it is {yards:.0f} yd long, over {most:g}, with no side exit"
            yield finding("corridor-no-exit", corridor, yards, "yd", text)


def _has_exit(scene: Scene, corridor: Corridor) -> bool:
    """Whether another trail meets it away from its own ends."""
    line = scene.corridor_lines[corridor.id]
    ends = shapely.MultiPoint([line.coords[0], line.coords[-1]])
    meets = []
    for name, other in scene.corridor_lines.items():
        if name == corridor.id:
            continue
        crossed = shapely.get_coordinates(line.intersection(other))
        meets += [shapely.Point(at) for at in crossed]
        tips = (shapely.Point(other.coords[0]), shapely.Point(other.coords[-1]))
        meets += [line.interpolate(line.project(t)) for t in tips if line.distance(t) <= JOIN_M]
    return any(ends.distance(at) > JOIN_M for at in meets)


def bed_findings(scene: Scene) -> Iterator[Finding]:
    """What is to be said of each bed. Args: the ground's scene."""
    trails, limits = list(scene.corridor_lines.values()), scene.ground.limits
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        if area.kind != "bedding":
            continue
        acres = polygon.area / SQ_M_PER_ACRE
        if acres > limits.bed_acres:
            text = f"it is {acres:.1f} acres, over {limits.bed_acres:g}"
            yield finding("bed-large", area, acres, "acres", text)
        if area.held == "never":
            continue
        yards = min((polygon.distance(t) for t in trails), default=None)
        if yards is None:
            yield finding("bed-no-trail", area, 0.0, "trails", "no trail is drawn to it")
        elif yards > limits.trail_within_yd * M_PER_YD:
            yards /= M_PER_YD
            near = f"the nearest: {yards:.0f} yd"
            text = f"no trail comes within {limits.trail_within_yd:g} yd ({near})"
            yield finding("bed-no-trail", area, yards, "yd", text)


@dataclass(frozen=True, eq=False)
class Truck:
    """Where a truck stands: a truck mark, or the start of a lane without one."""

    id: str
    name: str
    at: shapely.Geometry


def truck_findings(scene: Scene, wind: CommonWind | None) -> Iterator[Finding]:
    """What is to be said of each truck. Args: the scene; the common wind, if known."""
    far_yd, near_yd = scene.ground.air.clean_beyond_yd, scene.ground.limits.truck_off_bed_yd
    for truck in _trucks(scene):
        for area, polygon in zip(scene.areas, scene.polygons, strict=True):
            if area.kind != "bedding" or area.held == "never":
                continue
            yards = truck.at.distance(polygon) / M_PER_YD
            if yards <= near_yd:
                text = f"the truck is {yards:.0f} yd from {area.name}, within {near_yd:g}"
                yield finding("truck-near-bed", truck, yards, "yd", text, area.id)
            elif wind and yards <= far_yd and _upwind(truck, polygon, wind):
                text = (
                    f"the truck is {yards:.0f} yd upwind of {area.name} on the common wind, "
                    f"{point_name(wind.from_deg)} ({wind.source})"
                )
                yield finding("truck-upwind", truck, yards, "yd", text, area.id)


def _upwind(truck: Truck, polygon, wind: CommonWind) -> bool:
    toward = bearing_deg(
        shapely.get_coordinates(truck.at.centroid)[0],
        shapely.get_coordinates(polygon.centroid)[0],
    )
    return bool(separation_deg(toward, wind.from_deg + 180.0) <= UPWIND_WITHIN_DEG)


def _trucks(scene: Scene) -> list[Truck]:
    trucks = [
        Truck(m.id, m.name, _shape(scene.plane.points(m.points), m.geometry))
        for m in scene.ground.marks
        if m.kind == "truck"
    ]
    for lane in scene.ground.lanes:
        start = shapely.Point(scene.plane.points(lane.line[:1])[0])
        near = any(t.at.distance(start) <= SAME_TRUCK_YD * M_PER_YD for t in trucks)
        if lane.by == "foot" and not near:
            trucks.append(Truck(lane.id, lane.name, start))
    return trucks


def _shape(points_m, geometry: str):
    shapes = {"LineString": shapely.LineString, "Polygon": shapely.Polygon}
    return shapes[geometry](points_m) if geometry in shapes else shapely.Point(points_m[0])
