"""The points that air may reach, against rays and a walk along each line by the inch."""

import math

import numpy as np
import pytest
import shapely

from core.air.drift import equivalent_distance_m, offset_rad, strength
from core.air.spread import spread_rad
from core.air.stability import C, D, F
from core.ground import place
from core.ground.place import receptors
from core.ground.plan import zone_of_area, zone_of_lines, zones_as_one
from core.units import M_PER_YD

BOX = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])


def some_zones(rng):
    """Boxes, one with a hole, a line that turns, and a part of a line with no length."""
    places = rng.uniform(-400, 400, (5, 2)).round(1)
    holed = shapely.Polygon(places[2] + 90 * BOX, [places[2] + 30 * BOX])
    return [
        zone_of_area(shapely.Polygon(places[0] + 20 * BOX)),
        zone_of_area(shapely.Polygon(places[1] + 150 * BOX)),
        zone_of_area(holed),
        zone_of_lines([places[3] + np.cumsum(rng.uniform(-50, 50, (4, 2)), axis=0)]),
        zone_of_lines([places[4][None, :]]),
    ]


def boundary_of(zone):
    """The lines of a zone as one shape, a place without length as a point."""
    drawn = zip(zone.a_m, zone.b_m, strict=True)
    return shapely.union_all(
        [shapely.LineString((a, b)) if (a != b).any() else shapely.Point(a) for a, b in drawn]
    )


def on_ray(source, bearing: float, boundary) -> float:
    """How far along a ray a boundary is met; infinite for never."""
    angle = math.radians(bearing)
    end = (source[0] + 2000 * math.sin(angle), source[1] + 2000 * math.cos(angle))
    met = shapely.LineString([source, end]).intersection(boundary)
    return shapely.Point(source).distance(met) if not met.is_empty else math.inf


def by_source_and_zone(sources, zones):
    points = receptors(sources, zones_as_one(zones))
    assert (np.diff(points.group) >= 0).all()
    for i, source in enumerate(sources):
        for j, zone in enumerate(zones):
            own = points.group == i * len(zones) + j
            yield source, zone, points.distance_m[own], points.bearing_deg[own]


def drawn(seed):
    rng = np.random.default_rng(seed)
    zones = some_zones(rng)
    sources = rng.uniform(-450, 450, (5, 2))
    sources[0] = zones[1].area.centroid.coords[0]  # inside: air is all round
    sources[1] = zones[2].area.interiors[0].centroid.coords[0]  # in the hole
    return sources, zones


@pytest.mark.parametrize("seed", range(6))
def test_what_a_ray_of_every_degree_meets_first(seed):
    for source, zone, far_m, bearing in by_source_and_zone(*drawn(seed)):
        boundary = boundary_of(zone)
        rays = dict(zip(bearing.tolist(), far_m.tolist(), strict=True))
        assert len(rays) == len(bearing)  # no bearing twice
        if zone.area is not None and zone.area.covers(shapely.Point(source)):
            assert rays == {float(degree): 10.0 for degree in range(360)}
            continue
        for degree in range(360):
            met = on_ray(source, degree, boundary)
            assert rays.get(float(degree), math.inf) == pytest.approx(max(10.0, met), abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_every_point_is_of_the_boundary_and_the_nearest_is_among_them(seed):
    for source, zone, far_m, bearing in by_source_and_zone(*drawn(seed)):
        boundary = boundary_of(zone)
        if zone.area is not None and zone.area.covers(shapely.Point(source)):
            continue
        angle = np.radians(bearing)
        at = source + far_m[:, None] * np.column_stack([np.sin(angle), np.cos(angle)])
        assert (shapely.distance(shapely.points(at), boundary)[far_m > 10.0] < 1e-6).all()
        nearest = max(10.0, shapely.Point(source).distance(boundary))
        # between two rays a straight piece bulges by 1 - cos(0.5 deg) at most
        assert nearest - 1e-9 <= far_m.min() <= nearest * 1.0001


def like_yd(far_m, bearing, air) -> float:
    """The distance that says how much of some air the strongest of some points gets."""
    to_deg, half_deg, stability, speed_mps, height_m = air
    c = strength(
        distance_m=np.maximum(far_m, 10.0),
        offset_rad=offset_rad(to_deg, bearing, half_deg),
        stability=stability,
        carried_mps=speed_mps,
        sigma_rad=spread_rad(stability, speed_mps, 0.0),
        height_m=height_m,
    )
    return float(equivalent_distance_m(c.max())) / M_PER_YD


def by_the_inch(lines, source):
    """Distances and bearings of places every 2 cm along some lines."""
    shape = shapely.MultiLineString(lines)
    dense = shapely.get_coordinates(shapely.segmentize(shape, 0.02)) - source
    return np.hypot(*dense.T), np.degrees(np.arctan2(*dense.T)) % 360.0


def near_places(rng, reach_m):
    """A bent trail, a box and a round area, none nearer to the source than 1 m."""
    start = rng.uniform(-reach_m, reach_m, 2)
    turn = np.linspace(0, 2 * np.pi, 40)
    sizes = rng.uniform(8, 40, 2)
    drawn = (
        start + np.cumsum(rng.uniform(-40, 40, (4, 2)), axis=0),
        start + np.array([[0, 0], [1, 0], [1, 1], [0, 1], [0, 0]]) * sizes,
        start + np.column_stack([np.cos(turn), np.sin(turn)]) * sizes,
    )
    return [line for line in drawn if shapely.LineString(line).distance(shapely.Point(0, 0)) > 1]


# far off, at the fringe of narrow air, half a degree between two corners is a few per cent
@pytest.mark.parametrize(("reach_m", "most_pct"), [(20, 2), (55, 2), (200, 4), (400, 10)])
def test_like_n_yards_is_that_of_every_place_on_the_line(reach_m, most_pct):
    """In every air, and near the stand most of all; most of them far closer than the worst."""
    rng, errors = np.random.default_rng(reach_m), []
    airs = [
        (half, *rest)
        for half in (0.0, 5.0, 11.25)
        for rest in ((D, 3.0, 4.9), (F, 1.5, 4.9), (F, 3.0, 0.0), (C, 4.0, 4.9))
    ]
    source = np.zeros((1, 2))
    for _ in range(25):
        for line in near_places(rng, reach_m):
            points = receptors(source, zones_as_one([zone_of_lines([line])]))
            dense = by_the_inch([line], source[0])
            for air in airs:
                to = float(rng.choice(dense[1]) + rng.uniform(-12, 12)) % 360.0
                whole = like_yd(*dense, (to, *air))
                if whole < 1000:
                    ours = like_yd(points.distance_m, points.bearing_deg, (to, *air))
                    errors.append(abs(ours / whole - 1))
    assert len(errors) > 500
    assert np.quantile(errors, 0.99) < most_pct / 300
    assert max(errors) < most_pct / 100


def test_a_trail_close_by_is_met_by_every_wind_that_blows_over_it():
    # 1 m east of the seat, north to south: half of all winds blow over it
    trail = zone_of_lines([np.array([[1.0, -80.0], [1.0, 80.0]])])
    points = receptors(np.zeros((1, 2)), zones_as_one([trail]))
    assert set(range(1, 180)) <= set(points.bearing_deg.tolist())
    assert (points.distance_m[(points.bearing_deg > 6) & (points.bearing_deg < 174)] == 10.0).all()


@pytest.mark.parametrize("shift_m", [0.0, 0.0005])
def test_a_seat_on_a_trail_has_it_along_the_trail_and_nowhere_else(shift_m):
    ends = zone_of_lines([np.array([[0.0, -90.0], [shift_m, 0.0]])])
    through = zone_of_lines([np.array([[30.0, -30.0], [-20.0, 20.0]])])
    points = receptors(np.zeros((1, 2)), zones_as_one([ends, through]))
    told = zip(points.group.tolist(), points.bearing_deg.round(1).tolist(), strict=True)
    assert set(told) == {(0, 180.0), (1, 135.0), (1, 315.0)}
    assert (points.distance_m == 10.0).all()


def test_a_seat_on_a_place_without_length_has_it_all_round():
    points = receptors(np.zeros((1, 2)), zones_as_one([zone_of_lines([np.zeros((1, 2))])]))
    assert points.bearing_deg.tolist() == list(range(360))


def test_a_corner_that_pokes_out_between_two_rays_is_kept():
    # the tip lies at 10.5 degrees, 60 m off; its sides go back to 100 m within the degree
    tip = 60 * np.array([math.sin(math.radians(10.5)), math.cos(math.radians(10.5))])
    back = [
        100 * np.array([math.sin(math.radians(d)), math.cos(math.radians(d))]) for d in (10.2, 10.8)
    ]
    points = receptors(
        np.zeros((1, 2)), zones_as_one([zone_of_lines([np.array([back[0], tip, back[1]])])])
    )
    assert points.distance_m.min() == pytest.approx(60.0)
    assert points.bearing_deg[points.distance_m.argmin()] == pytest.approx(10.5)


def test_many_sources_are_taken_some_at_a_time(monkeypatch):
    rng = np.random.default_rng(11)
    zones, sources = some_zones(rng), rng.uniform(-450, 450, (7, 2))
    ground = zones_as_one(zones)
    whole = receptors(sources, ground)
    monkeypatch.setattr(place, "CHUNK", 3 * len(ground.start))  # three sources at once
    parts = receptors(sources, ground)
    for name in ("distance_m", "bearing_deg", "group"):
        assert (getattr(whole, name) == getattr(parts, name)).all()


def test_nothing_to_reach_and_nobody_there():
    assert receptors(np.zeros((2, 2)), zones_as_one([])).n_zones == 1
    assert not len(
        receptors(np.empty((0, 2)), zones_as_one(some_zones(np.random.default_rng(1)))).group
    )


def test_the_edge_of_a_hole_is_as_near_as_it_lies():
    ring = shapely.Polygon(40.0 * BOX, [20.0 * BOX])
    points = receptors(np.array([[5.0, 0.0]]), zones_as_one([zone_of_area(ring)]))
    assert points.distance_m.min() == pytest.approx(15.0, abs=0.01)
    east = np.abs(points.bearing_deg - 90.0) < 1.0
    assert points.distance_m[east] == pytest.approx(15.0, abs=0.01)
