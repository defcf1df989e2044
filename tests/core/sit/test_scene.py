"""What a scene knows of places and ways, against one sum for each feature."""

import math

import numpy as np
import pytest
import shapely

from core.ground.layout import Area, Stand
from core.ground.place import receptors
from core.ground.plan import zones_as_one
from core.sit.before import reach_m
from core.sit.scene import IN, OUT, Scene
from tests.grounds import PIEDMONT, at, bed, corridor, food, ground, lane


@pytest.fixture(scope="module")
def scene():
    """A dozen stands among beds, food and trails, thrown down at random."""
    rng = np.random.default_rng(3)

    def anywhere():
        return at(PIEDMONT, rng.uniform(0, 360), rng.uniform(0, 500))

    def line():
        return (rng.uniform(0, 360), rng.uniform(0, 300)), (rng.uniform(0, 360), 300)

    stands = tuple(Stand(f"s{i}", f"S{i}", anywhere()) for i in range(12))
    lanes = [
        lane(s.at, (40, 330), (70, 90), id_=f"l{i}", stands=(s.id,)) for i, s in enumerate(stands)
    ]
    lanes.append(lane(PIEDMONT, (10, 700), (20, 30), id_="shared", stands=("s0", "s1"), way="out"))
    areas = [bed(anywhere(), 0, 0, id_=f"b{i}", half_yd=rng.uniform(10, 120)) for i in range(6)]
    areas += [food(anywhere(), 0, 0, id_=f"f{i}") for i in range(3)]
    trails = [
        corridor(anywhere(), *line(), id_=f"c{i}", use="night" if i == 4 else "day")
        for i in range(15)
    ]
    return Scene(
        ground(stands=stands, lanes=tuple(lanes), areas=tuple(areas), corridors=tuple(trails))
    )


def test_places_lie_where_each_feature_alone_lies(scene):
    for stand in scene.ground.stands:
        at_m = scene.stands_m[scene.index(stand)]
        point, places = shapely.Point(at_m), scene.places(stand)
        for area, polygon in zip(scene.areas, scene.polygons, strict=True):
            place, middle = places[area.id], polygon.centroid
            turn = math.degrees(math.atan2(middle.x - at_m[0], middle.y - at_m[1])) % 360
            assert (place.kind, place.inside) == (area.kind, polygon.covers(point))
            assert place.bearing_deg == pytest.approx(turn)
            assert place.distance_m == pytest.approx(polygon.distance(point))
        for name, line in {**scene.corridor_lines, **scene.lane_lines}.items():
            near = line.interpolate(line.project(point))
            place = places[name]
            assert place.distance_m == pytest.approx(line.distance(point))
            if place.distance_m > 0.01:
                turn = math.degrees(math.atan2(near.x - at_m[0], near.y - at_m[1])) % 360
                assert place.bearing_deg == pytest.approx(turn)
        assert list(places) == [
            *(a.id for a in scene.areas),
            *scene.corridor_lines,
            *scene.lane_lines,
        ]


def test_a_place_below_the_seat_has_no_bearing():
    lon, lat, d = *PIEDMONT, 0.001
    ring = ((lon - d, lat - d), (lon + d, lat - d), (lon + d, lat + d), (lon - d, lat + d))
    scene = Scene(ground(areas=(Area("cane", "Cane", "bedding", ring),)))
    place = scene.places(scene.ground.stands[0])["cane"]
    assert math.isnan(place.bearing_deg) and place.inside and place.distance_m == 0


@pytest.mark.parametrize("range_yd", [20.0, 80.0, 400.0])
def test_what_is_in_range_is_so_by_its_distance(scene, range_yd):
    seen = set()
    for stand in scene.ground.stands:
        point = shapely.Point(scene.stands_m[scene.index(stand)])
        limit = reach_m(range_yd)
        near = tuple(
            c.id
            for c in scene.ground.corridors
            if scene.corridor_lines[c.id].distance(point) <= limit
        )
        assert scene.corridors_in_range(stand, range_yd) == tuple(n for n in near if n != "c4")
        foods = [p for a, p in zip(scene.areas, scene.polygons, strict=True) if a.kind == "food"]
        fed = any(p.distance(point) <= limit for p in foods)
        assert scene.food_in_range(stand, range_yd) == fed
        seen |= {*near, fed}
    assert range_yd < 400 or {"c4", True} <= seen  # the widest range has met them


def test_ways_cross_and_pass_what_they_meet_one_by_one(scene):
    beds = [p for a, p in zip(scene.areas, scene.polygons, strict=True) if a.kind == "bedding"]
    crossed = 0
    for stand in scene.ground.stands:
        for way in (*scene.ways(stand, IN), *scene.ways(stand, OUT)):
            path = shapely.LineString(way.path_m)
            meets = tuple(k for k, line in scene.corridor_lines.items() if path.intersects(line))
            assert way.crosses == meets
            assert way.closest_bed_m == pytest.approx(min(path.distance(b) for b in beds))
            crossed += len(meets)
    assert crossed


def test_a_walk_out_is_the_walk_in_from_its_end(scene):
    stand = scene.ground.stands[0]
    (inward,), outward = scene.ways(stand, IN), scene.ways(stand, OUT)
    assert [w.lane.id for w in outward] == ["l0", "shared"]
    at_m = scene.stands_m[scene.index(stand)]
    for way in outward:
        assert way.path_m[0] == pytest.approx(at_m)
    assert inward.path_m[-1] == pytest.approx(at_m)
    own, again = outward[0].receptors, receptors(outward[0].middles_m, scene.area_zones)
    assert (own.group == again.group).all() and (np.diff(own.group) >= 0).all()
    assert own.distance_m == pytest.approx(again.distance_m)
    assert own.bearing_deg == pytest.approx(again.bearing_deg)


def test_a_ground_with_nothing_to_reach_has_ways_all_the_same():
    scene = Scene(ground())
    stand = scene.ground.stands[0]
    (way,) = scene.ways(stand, IN)
    assert way.crosses == () and math.isnan(way.closest_bed_m)
    assert scene.corridors_in_range(stand, 40) == () and not scene.food_in_range(stand, 40)
    assert scene.area_zones.n_zones == zones_as_one([]).n_zones == 0
