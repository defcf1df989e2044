"""The points that air may reach, against the rule worked out point by point."""

import math

import numpy as np
import pytest
import shapely

from core.ground import plan
from core.ground.plan import joined, receptors, zone_of_area, zone_of_lines

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


def angle_deg(source, a, b) -> float:
    """The angle between two places seen from a third, by the law of cosines."""
    to_a, to_b, apart = math.dist(source, a), math.dist(source, b), math.dist(a, b)
    if not to_a or not to_b:
        return 0.0
    cosine = (to_a**2 + to_b**2 - apart**2) / (2 * to_a * to_b)
    return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))


def by_hand(source, zone) -> dict[int, tuple[float, float]]:
    """Distance and bearing of the nearest sample in each degree, from one source."""
    if zone.area is not None and zone.area.covers(shapely.Point(source)):
        return {degree: (10.0, float(degree)) for degree in range(360)}
    found: dict[int, tuple[float, float]] = {}
    for a, b in zip(zone.a_m, zone.b_m, strict=True):
        between = (0.2, 0.4, 0.6, 0.8) if angle_deg(source, a, b) > 2.0 else ()
        for share in (0.0, *between, 1.0):
            east, north = a + (b - a) * share - source
            bearing = math.degrees(math.atan2(east, north)) % 360.0
            seen = (math.hypot(east, north), bearing)
            found[int(bearing)] = min(found.get(int(bearing), seen), seen)
    return {k: (max(10.0, far), bearing) for k, (far, bearing) in found.items()}


@pytest.mark.parametrize("seed", range(6))
def test_the_nearest_point_of_every_degree(seed):
    rng = np.random.default_rng(seed)
    zones = some_zones(rng)
    sources = rng.uniform(-450, 450, (5, 2))
    sources[0] = zones[1].area.centroid.coords[0]  # inside: air is all round
    sources[1] = zones[2].area.interiors[0].centroid.coords[0]  # in the hole
    points = receptors(sources, joined(zones))
    assert (np.diff(points.group) >= 0).all()
    for i, source in enumerate(sources):
        for j, zone in enumerate(zones):
            own = points.group == i * len(zones) + j
            got = {
                int(b): (float(d), float(b))
                for d, b in zip(points.distance_m[own], points.bearing_deg[own], strict=True)
            }
            want = by_hand(source, zone)
            assert got.keys() == want.keys()
            for degree, (distance_m, bearing) in want.items():
                assert got[degree] == pytest.approx((distance_m, bearing), abs=1e-6)


def test_many_sources_are_taken_some_at_a_time(monkeypatch):
    rng = np.random.default_rng(11)
    zones, sources = some_zones(rng), rng.uniform(-450, 450, (7, 2))
    whole = receptors(sources, joined(zones))
    monkeypatch.setattr(plan, "CHUNK", 3 * 360 * len(zones))  # three sources at once
    parts = receptors(sources, joined(zones))
    for name in ("distance_m", "bearing_deg", "group"):
        assert (getattr(whole, name) == getattr(parts, name)).all()


def test_nothing_to_reach_and_nobody_there():
    assert receptors(np.zeros((2, 2)), joined([])).n_zones == 1
    assert not len(receptors(np.empty((0, 2)), joined(some_zones(np.random.default_rng(1)))).group)


def test_the_edge_of_a_hole_is_as_near_as_it_lies():
    ring = shapely.Polygon(40.0 * BOX, [20.0 * BOX])
    points = receptors(np.array([[5.0, 0.0]]), joined([zone_of_area(ring)]))
    assert points.distance_m.min() == pytest.approx(15.0, abs=0.01)
    east = np.abs(points.bearing_deg - 90.0) < 1.0
    assert points.distance_m[east] == pytest.approx(15.0, abs=0.01)
