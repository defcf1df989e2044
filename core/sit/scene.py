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

from core.ground.layout import Lane, Mark, Property, Stand
from core.ground.place import Place, Receptors, Shapes, places_from, receptors, shapes
from core.ground.plan import (
    Plane,
    Zone,
    Zones,
    zone_of_area,
    zone_of_lines,
    zones_as_one,
)
from core.land.kept import KeptLand
from core.sit.before import BEDDING_END, FOOD_END, Approach, Trails, reach_m, travelled
from core.sit.lately import Lately
from core.units import M_PER_YD, MPS_PER_MPH, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]

STRAIGHT_OVER_M = 20.0 * M_PER_YD  # nearer, the owner's minutes hold to the stand
IN, OUT = "in", "out"
KEPT_AIRS = 2  # strengths of a walk in so many airs


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
    middles_m: Floats  # (minute, 2)
    beds: Shapes
    zones: Zones  # the areas
    there: "Way | None" = None  # the same walk towards the stand
    lately: Lately = dataclasses.field(default_factory=lambda: Lately(KEPT_AIRS))

    @functools.cached_property
    def closest_bed_m(self) -> float:
        """From the walk to the nearest bed; NaN without beds. [m]"""
        far_m = shapely.distance(shapely.LineString(self.path_m), self.beds)
        return float(far_m.min()) if len(far_m) else math.nan

    @functools.cached_property
    def receptors(self) -> Receptors:
        """Points the air of the walk may reach; sources: the middle of each minute."""
        if self.there is not None:
            return self.there.receptors.turned()
        return receptors(self.middles_m, self.zones)

    def back(self) -> "Way":
        """The walk from the stand to the truck."""
        return dataclasses.replace(
            self,
            direction=OUT,
            path_m=self.path_m[::-1],
            middles_m=self.middles_m[::-1],
            there=self,
        )


class Scene:
    """A property in local metres, with the geometry that answers are made from.

    Places are kept by name, so that ties never fall to the order in the file.
    """

    def __init__(self, ground: Property, heights: KeptLand | None = None) -> None:
        self.ground = ground = _by_name(ground)
        self.heights = heights  # what they need is loaded where there are some
        self.plane = Plane(ground.center)
        points = self.plane.points
        self.stands_m = points([s.at for s in ground.stands])
        self.areas = ground.areas
        self.polygons = [
            shapely.Polygon(points(a.ring), [points(h) for h in a.holes]) for a in ground.areas
        ]
        self.area_zones = zones_as_one([zone_of_area(p) for p in self.polygons])
        self.corridors_m = {c.id: points(c.line) for c in ground.corridors}
        self.corridor_lines = {k: shapely.LineString(v) for k, v in self.corridors_m.items()}
        self.lane_lines = {lane.id: shapely.LineString(points(lane.line)) for lane in ground.lanes}
        self.beds = shapes(
            p for a, p in zip(self.areas, self.polygons, strict=True) if a.kind == "bedding"
        )
        self.trails = shapes(self.corridor_lines.values())
        self._trail_tree = shapely.STRtree(self.trails)
        self._lanes: dict[str, list[Lane]] = {}
        for lane in ground.lanes:
            for stand_id in dict.fromkeys(lane.stands):
                self._lanes.setdefault(stand_id, []).append(lane)
        self._kept: dict = {}

    def kept(self, key, make):
        """Something of the ground worked out once. Args: its key; what makes it."""
        if key not in self._kept:
            self._kept[key] = make()
        return self._kept[key]

    def index(self, stand: Stand) -> int:
        """Row of a stand in the file's order."""
        order = self.kept("order", lambda: {s.id: i for i, s in enumerate(self.ground.stands)})
        return order[stand.id]

    def area_of(self, mark: Mark) -> shapely.Polygon:
        """A mark that is an area, without its holes. [m]"""
        points = self.plane.points
        return shapely.Polygon(points(mark.points), [points(hole) for hole in mark.holes])

    def places(self, stand: Stand) -> dict[str, Place]:
        """Every bed, food, corridor and lane as it lies from a stand, by id."""
        return self.kept(("places", stand.id), lambda: self._places(stand))

    def _places(self, stand: Stand) -> dict[str, Place]:
        areas = [(a.id, a.kind) for a in self.areas]
        lines = [(name, "corridor") for name in self.corridor_lines]
        lines += [(name, "lane") for name in self.lane_lines]
        found = places_from(
            self.stands_m[self.index(stand)],
            shapes(self.polygons),
            np.concatenate([self.trails, shapes(self.lane_lines.values())]),
            areas + lines,
        )
        return {place.id: place for place in found}

    def corridors_in_range(self, stand: Stand, range_yd: float) -> tuple[str, ...]:
        """Ids of the day corridors within range, distances to the whole yard."""
        return self.kept(("trails", stand.id, range_yd), lambda: self._in_range(stand, range_yd))

    def _in_range(self, stand: Stand, range_yd: float) -> tuple[str, ...]:
        (x, y), reach = self.stands_m[self.index(stand)], reach_m(range_yd)
        near = np.sort(
            self._trail_tree.query(shapely.box(x - reach, y - reach, x + reach, y + reach))
        )
        hit = near[shapely.distance(self.trails[near], shapely.Point(x, y)) <= reach]
        corridors = (self.ground.corridors[i] for i in hit)
        return tuple(c.id for c in corridors if c.brings_shot)

    def food_in_range(self, stand: Stand, range_yd: float) -> bool:
        """Whether any food lies within range of a stand."""
        foods = self.kept(
            "foods",
            lambda: shapes(
                p for a, p in zip(self.areas, self.polygons, strict=True) if a.kind == "food"
            ),
        )
        at = shapely.Point(self.stands_m[self.index(stand)])
        return bool((shapely.distance(foods, at) <= reach_m(range_yd)).any())

    def approaches(self, stand: Stand) -> dict[Approach, Zone]:
        """The ways deer come within a stand's own range: the part each walks before the shot.

        Trail by trail, first from its food end. Args: the stand.
        """
        return self.kept(("approaches", stand.id, stand.range_yd), lambda: self._approaches(stand))

    def _approaches(self, stand: Stand) -> dict[Approach, Zone]:
        at_m, reach = self.stands_m[self.index(stand)], reach_m(stand.range_yd)
        zones = {}
        for trail in self.corridors_in_range(stand, stand.range_yd):
            for end in (FOOD_END, BEDDING_END):
                if parts := self._trails(end).before_shot(trail, at_m, reach):
                    zones[Approach(trail, end)] = zone_of_lines(parts)
        return zones

    def before_shot(self, stand: Stand, range_yd: float, ends: tuple[str, ...]) -> dict[str, Zone]:
        """Per trail in range, the parts deer walk before the shot, as a zone."""
        return self.kept(
            ("before", stand.id, range_yd, ends), lambda: self._before(stand, range_yd, ends)
        )

    def _before(self, stand: Stand, range_yd: float, ends: tuple[str, ...]) -> dict[str, Zone]:
        at_m, reach = self.stands_m[self.index(stand)], reach_m(range_yd)
        zones = {}
        for trail in self.corridors_in_range(stand, range_yd):
            parts = [x for e in ends for x in self._trails(e).before_shot(trail, at_m, reach)]
            if parts:
                zones[trail] = zone_of_lines(parts)
        return zones

    def _trails(self, end: str) -> Trails:
        """The corridors as deer travel them from an end."""
        return self.kept(
            ("trails", end),
            lambda: Trails({k: travelled(v, end) for k, v in self.corridors_m.items()}),
        )

    def area_receptors(self, stand: Stand) -> Receptors:
        """Points of all areas that the air of a stand may reach. Args: the stand."""
        at_m = self.stands_m[self.index(stand)]
        return self.kept(("areas", stand.id), lambda: receptors(at_m, self.area_zones))

    def approach_receptors(self, stand: Stand) -> Receptors:
        """Points of the approaches of a stand, in their order. Args: the stand."""
        at_m, zones = self.stands_m[self.index(stand)], self.approaches(stand)
        return self.kept(
            ("approach points", stand.id, stand.range_yd),
            lambda: receptors(at_m, zones_as_one(list(zones.values()))),
        )

    def ways(self, stand: Stand, direction: str) -> tuple[Way, ...]:
        """Every drawn way in or out of a stand."""
        return self.kept(("ways", stand.id, direction), lambda: self._ways(stand, direction))

    def _ways(self, stand: Stand, direction: str) -> tuple[Way, ...]:
        lanes = [x for x in self._lanes.get(stand.id, ()) if x.way in (direction, "both")]
        ways = (
            self.kept(("way", stand.id, lane.id), lambda lane=lane: self._way(stand, lane))
            for lane in lanes
        )
        return tuple(way if direction == IN else way.back() for way in ways)

    def _way(self, stand: Stand, lane: Lane) -> Way:
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
        shares = (np.arange(minutes) + 0.5) / minutes
        sources = shapely.line_interpolate_point(path, shares, normalized=True)
        names = list(self.corridor_lines)
        return Way(
            lane=lane,
            direction=IN,
            path_m=np.asarray(path.coords),
            minutes=minutes,
            length_m=path.length,
            crosses=tuple(names[i] for i in np.flatnonzero(shapely.intersects(path, self.trails))),
            middles_m=shapely.get_coordinates(sources),
            beds=self.beds,
            zones=self.area_zones,
        )


def _by_name(ground: Property) -> Property:
    """The same property, its areas, corridors and lanes in the order of their names."""

    def ordered(features):
        return tuple(sorted(features, key=lambda x: (x.name, x.id)))

    return dataclasses.replace(
        ground,
        areas=ordered(ground.areas),
        corridors=ordered(ground.corridors),
        lanes=ordered(ground.lanes),
    )


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


def longest_walk_min(scene: Scene) -> float:
    """Minutes of the longest way in or out of any stand. Args: the scene."""
    ways = (w for s in scene.ground.stands for d in (IN, OUT) for w in scene.ways(s, d))
    return float(max((w.minutes for w in ways), default=0))
