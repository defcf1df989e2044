"""Places of a kind taken together: what a season's table of strength is made from."""

import numpy as np
import shapely

from core.ground.place import receptors
from core.ground.plan import zone_of_area, zone_of_lines, zones_as_one
from core.sit.tables.grid import merged

SEAT = np.zeros((1, 2))


def at(bearing_deg: float, far_m: float):
    angle = np.radians(bearing_deg)
    return far_m * np.array([np.sin(angle), np.cos(angle)])


def test_of_two_places_of_a_kind_the_nearer_is_taken_on_every_ray():
    near = zone_of_lines([np.array([at(40.5, 100), at(60.5, 100)])])
    far = zone_of_lines([np.array([at(30.5, 200), at(60.5, 200)])])
    ((bearing, far_m),) = merged(receptors(SEAT, zones_as_one([near, far])), [0, 0], 1)[0]
    rays = dict(zip(bearing.tolist(), far_m.tolist(), strict=True))
    assert [rays[b] > 150 for b in (35.0, 40.0, 41.0, 60.0)] == [True, True, False, False]
    assert set(range(31, 61)) <= set(rays)


def test_corners_between_rays_are_kept_beside_what_the_rays_meet():
    # both ends lie within a degree of a ray that meets the line nearer by
    ends = zone_of_lines([np.array([at(9.6, 160), at(10.2, 90), at(20.4, 90), at(20.8, 160)])])
    box = zone_of_area(shapely.Polygon([at(50, 60), at(55, 60), at(55, 80), at(50, 80)]))
    ((bearing, _),) = merged(receptors(SEAT, zones_as_one([ends, box])), [0, 0], 1)[0]
    for corner in (9.6, 20.8):
        assert np.abs(bearing - corner).min() < 1e-9


def test_places_left_out_and_kinds_without_a_place_have_no_points():
    zones = [zone_of_lines([np.array([at(40, 100), at(60, 100)])])] * 2
    kinds = merged(receptors(SEAT, zones_as_one(zones)), [-1, 1], 2)[0]
    assert [len(bearing) > 0 for bearing, _ in kinds] == [False, True]
