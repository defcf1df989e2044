"""One ground made ready for sums: places, parts before the shot, ways, points.

Nothing here knows the wind or the date; a scene is made once for a property and
keeps what it has worked out.
"""

import dataclasses
import functools
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
import shapely.ops

from core.angles import wrap_deg
from core.ground.layout import Lane, Mark, Property, Stand
from core.ground.plan import (
    Plane,
    Receptors,
    Zone,
    bearing_deg,
    receptors,
    zone_of_area,
    zone_of_lines,
)
from core.sits.before import parts_before_shot, reach_m, travelled
from core.units import M_PER_YD, MPS_PER_MPH, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]

STRAIGHT_OVER_M = 20.0 * M_PER_YD  # nearer, the owner's minutes hold to the stand
IN, OUT = "in", "out"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a feature lies from a stand. NaN bearing: on top of it."""

    id: str
    kind: str
    bearing_deg: float
    distance_m: float
    inside: bool


@dataclass(frozen=True, eq=False)
class Way:
    """A walk between truck and stand, in the order it is walked.

    `middles_m` is where the hunter is in the middle of each minute.
    """

    lane: Lane
    direction: str
    path_m: Floats  # (point, 2)
    minutes: int
    length_m: float
    crosses: tuple[str, ...]
    closest_bed_m: float  # NaN without beds
    middles_m: Floats  # (minute, 2)
    zones: list[Zone]  # the areas

    @functools.cached_property
    def receptors(self) -> Receptors:
        """Points the air of the walk may reach; sources: the middle of each minute."""
        return receptors(self.middles_m, self.zones)


class Scene:
    """A property in local metres, with the geometry that answers are made from.

    Places are kept by name, so that ties never fall to the order in the file.
    """

    def __init__(self, ground: Property) -> None:
        self.ground = ground = _by_name(ground)
        self.plane = Plane(ground.center)
        points = self.plane.points
        self.stands_m = points([s.at for s in ground.stands])
        self.areas = ground.areas
        self.polygons = [
            shapely.Polygon(points(a.ring), [points(h) for h in a.holes]) for a in ground.areas
        ]
        self.area_zones = [zone_of_area(p) for p in self.polygons]
        self.corridors_m = {c.id: points(c.line) for c in ground.corridors}
        self.corridor_lines = {k: shapely.LineString(v) for k, v in self.corridors_m.items()}
        self.lane_lines = {lane.id: shapely.LineString(points(lane.line)) for lane in ground.lanes}
        self._kept: dict = {}

    def _keep(self, key, make):
        if key not in self._kept:
            self._kept[key] = make()
        return self._kept[key]

    def index(self, stand: Stand) -> int:
        """Row of a stand in the file's order."""
        order = self._keep("order", lambda: {s.id: i for i, s in enumerate(self.ground.stands)})
        return order[stand.id]

    def area_of(self, mark: Mark) -> shapely.Polygon:
        """A mark that is an area, without its holes. [m]"""
        points = self.plane.points
        return shapely.Polygon(points(mark.points), [points(hole) for hole in mark.holes])

    def places(self, stand: Stand) -> dict[str, Place]:
        """Every bed, food, corridor and lane as it lies from a stand, by id."""
        return self._keep(("places", stand.id), lambda: self._places(stand))

    def _places(self, stand: Stand) -> dict[str, Place]:
        at_m = self.stands_m[self.index(stand)]
        point = shapely.Point(at_m)
        found = {}
        for area, polygon in zip(self.areas, self.polygons, strict=True):
            middle = np.array([polygon.centroid.x, polygon.centroid.y])
            found[area.id] = _place(
                area.id, area.kind, at_m, middle, polygon.distance(point), polygon.covers(point)
            )
        for kind, lines in (("corridor", self.corridor_lines), ("lane", self.lane_lines)):
            for name, line in lines.items():
                near = np.asarray(line.interpolate(line.project(point)).coords[0])
                found[name] = _place(name, kind, at_m, near, line.distance(point), False)
        return found

    def corridors_in_range(self, stand: Stand, range_yd: float) -> tuple[str, ...]:
        """Ids of the day corridors within range, distances to the whole yard."""
        places = self.places(stand)
        return tuple(
            c.id
            for c in self.ground.corridors
            if c.use != "night" and places[c.id].distance_m <= reach_m(range_yd)
        )

    def food_in_range(self, stand: Stand, range_yd: float) -> bool:
        """Whether any food lies within range of a stand."""
        places = self.places(stand)
        return any(
            a.kind == "food" and places[a.id].distance_m <= reach_m(range_yd) for a in self.areas
        )

    def before_shot(self, stand: Stand, range_yd: float, ends: tuple[str, ...]) -> dict[str, Zone]:
        """Per corridor in range, the parts deer walk before the shot, as a zone."""
        return self._keep(
            ("before", stand.id, range_yd, ends), lambda: self._before(stand, range_yd, ends)
        )

    def _before(self, stand: Stand, range_yd: float, ends: tuple[str, ...]) -> dict[str, Zone]:
        at_m = self.stands_m[self.index(stand)]
        zones = {}
        for name in self.corridors_in_range(stand, range_yd):
            parts = []
            for end in ends:
                lines = self._keep(
                    ("travelled", end),
                    lambda end=end: {k: travelled(v, end) for k, v in self.corridors_m.items()},
                )
                parts += parts_before_shot(lines, name, at_m, reach_m(range_yd))
            if parts:
                zones[name] = zone_of_lines(parts)
        return zones

    def stand_receptors(
        self, stand: Stand, range_yd: float, ends: tuple[str, ...]
    ) -> tuple[list[str], Receptors]:
        """Points the air of one stand may reach: all areas, then corridors by id.

        Returns: ids of the corridors, in the order of their zones after the areas;
        and the points, one source.
        """
        return self._keep(
            ("points", stand.id, range_yd, ends),
            lambda: self._stand_receptors(stand, range_yd, ends),
        )

    def _stand_receptors(self, stand: Stand, range_yd: float, ends: tuple[str, ...]):
        before = self.before_shot(stand, range_yd, ends)
        at_m = self.stands_m[self.index(stand)]
        names, n_areas = list(before), len(self.areas)
        areas = self._keep(("areas", stand.id), lambda: receptors(at_m, self.area_zones))
        trails = receptors(at_m, [before[n] for n in names])
        return names, Receptors(
            distance_m=np.concatenate([areas.distance_m, trails.distance_m]),
            bearing_deg=np.concatenate([areas.bearing_deg, trails.bearing_deg]),
            group=np.concatenate([areas.group, trails.group + n_areas]),
            n_sources=1,
            n_zones=max(1, n_areas + len(names)),
        )

    def ways(self, stand: Stand, direction: str) -> tuple[Way, ...]:
        """Every drawn way in or out of a stand."""
        return self._keep(("ways", stand.id, direction), lambda: self._ways(stand, direction))

    def _ways(self, stand: Stand, direction: str) -> tuple[Way, ...]:
        return tuple(
            self._way(stand, lane, direction)
            for lane in self.ground.lanes
            if stand.id in lane.stands and lane.way in (direction, "both")
        )

    def _way(self, stand: Stand, lane: Lane, direction: str) -> Way:
        at_m = self.stands_m[self.index(stand)]
        line = self.lane_lines[lane.id]
        along_m = line.project(shapely.Point(at_m))  # the first of several nearest points
        on_lane = np.asarray(shapely.ops.substring(line, 0.0, along_m).coords)[:, :2]
        path_m = np.vstack([on_lane, at_m])
        straight_m = math.dist(on_lane[-1], at_m)
        minutes = walk_minutes(
            lane, line.length, along_m, straight_m, self.ground.sit.walk_mph * MPS_PER_MPH
        )
        path = shapely.LineString(path_m)
        if direction == OUT:
            path = path.reverse()
        shares = (np.arange(minutes) + 0.5) / minutes
        sources = shapely.line_interpolate_point(path, shares, normalized=True)
        beds = [p for a, p in zip(self.areas, self.polygons, strict=True) if a.kind == "bedding"]
        return Way(
            lane=lane,
            direction=direction,
            path_m=np.asarray(path.coords),
            minutes=minutes,
            length_m=path.length,
            crosses=tuple(k for k, c in self.corridor_lines.items() if path.intersects(c)),
            closest_bed_m=min((path.distance(b) for b in beds), default=math.nan),
            middles_m=shapely.get_coordinates(sources),
            zones=self.area_zones,
        )

    def crosses_before_shot(self, way: Way, stand: Stand, range_yd: float, ends) -> tuple[str, ...]:
        """In-range corridors whose part before the shot a way crosses or touches."""
        path = shapely.LineString(way.path_m)
        hit = []
        for name, zone in self.before_shot(stand, range_yd, ends).items():
            if shapely.intersects(path, _as_lines(zone)).any():
                hit.append(name)
        return tuple(hit)


def _by_name(ground: Property) -> Property:
    """The same property, its areas, corridors and lanes in the order of their names."""

    def ordered(features):
        return tuple(sorted(features, key=lambda x: (x.name, x.id)))

    return dataclasses.replace(
        ground, areas=ordered(ground.areas), corridors=ordered(ground.corridors),
        lanes=ordered(ground.lanes),
    )  # fmt: skip


def _as_lines(zone: Zone):
    return shapely.linestrings(np.stack([zone.a_m, zone.b_m], axis=1))


def _place(name, kind, at_m, toward_m, distance_m, inside) -> Place:
    bearing = float(bearing_deg(at_m, toward_m))
    if np.allclose(at_m, toward_m, atol=1e-9):
        bearing = math.nan
    return Place(name, kind, bearing, 0.0 if inside else float(distance_m), bool(inside))


def walk_minutes(
    lane: Lane, lane_m: float, along_m: float, straight_m: float, walk_mps: float
) -> int:
    """Whole minutes of a walk, rounded up, at least one.

    Args:
        lane: with the owner's own minutes for the whole lane, if known.
        lane_m: length of the lane. [m]
        along_m: the part of it that is walked. [m]
        straight_m: from the lane to the stand. [m]
        walk_mps: walking speed. [m/s]
    """
    if lane.minutes is None:
        minutes = (along_m + straight_m) / walk_mps / SECONDS_PER_MINUTE
    else:
        minutes = lane.minutes * along_m / lane_m
        if straight_m > STRAIGHT_OVER_M:
            minutes += straight_m / walk_mps / SECONDS_PER_MINUTE
    return max(1, math.ceil(minutes - 1e-6))  # a rounding crumb is not a minute


def relation(wind_from_deg: float, place: Place) -> str | None:
    """Where a place lies from the stand in a wind: upwind, crosswind, downwind.

    To 45 degrees upwind, from 135 degrees downwind. Returns None inside a place
    or on top of it, and the word "none" without a direction.
    """
    if place.inside or math.isnan(place.bearing_deg):
        return None
    if math.isnan(wind_from_deg):
        return "none"
    turn = float(wrap_deg(wind_from_deg - place.bearing_deg))
    turn = round(min(turn, 360.0 - turn), 9)
    return "upwind" if turn <= 45 else "downwind" if turn >= 135 else "crosswind"
