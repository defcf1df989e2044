"""Bearings and distances against the geodesic on the ellipsoid.

Sources: Geoscience Australia, the Vincenty test line Flinders Peak to Buninyong
(GDA94, GRS80 ellipsoid): 54 972.271 m, 306 deg 52' 05.37", back 127 deg 10'
25.07" (the azimuths from memory, confirmed by calculation). Karney C.F.F., J.
Geodesy 87:43 (2013), as geographiclib 2.1, WGS84: the yardstick for the rest.

The plane's own tolerance is a choice: within a mile of the centre 0.1 % and 0.05
deg, and 0.5 % and 0.3 deg on the largest ground that is taken, 20 km across.
"""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from core.angles import separation_deg
from core.ground.plan import Plane, bearing_deg

MILE_M = 1609.344
PAIRS = 200


def degrees(d: int, minutes: int, seconds: float) -> float:
    sign = -1 if d < 0 else 1
    return sign * (abs(d) + minutes / 60 + seconds / 3600)


def test_the_yardstick_on_the_published_line():
    grs80 = Geodesic(6378137.0, 1 / 298.257222101)
    line = grs80.Inverse(
        degrees(-37, 57, 3.72030),
        degrees(144, 25, 29.52440),
        degrees(-37, 39, 10.15610),
        degrees(143, 55, 35.38390),
    )
    assert line["s12"] == pytest.approx(54_972.271, abs=1e-3)
    assert line["azi1"] % 360 == pytest.approx(degrees(306, 52, 5.37), abs=0.01 / 3600)
    assert (line["azi2"] + 180) % 360 == pytest.approx(degrees(127, 10, 25.07), abs=0.01 / 3600)


def around(random, center, reach_m, count):
    """Random places up to a distance from a centre, by the geodesic."""
    for _ in range(count):
        bearing, distance = random.uniform(0, 360), reach_m * np.sqrt(random.uniform())
        place = Geodesic.WGS84.Direct(center[1], center[0], bearing, distance)
        yield place["lon2"], place["lat2"]


def centers(random, count):
    for _ in range(count):
        yield float(random.uniform(-180, 180)), float(random.uniform(-60, 60))


def compared(center, one, other):
    """Relative error of the distance and error of the bearing, from one to other."""
    plane = Plane(center)
    a, b = (np.array(plane.to_local(*place)) for place in (one, other))
    true = Geodesic.WGS84.Inverse(one[1], one[0], other[1], other[0])
    ours_m = float(np.hypot(*(b - a)))
    turn = float(separation_deg(bearing_deg(a, b), true["azi1"] % 360))
    return abs(ours_m / true["s12"] - 1.0), turn


@pytest.mark.parametrize(
    ("reach_m", "share", "turn_deg"), [(MILE_M, 0.001, 0.05), (10_000.0, 0.005, 0.3)]
)
def test_random_pairs(reach_m, share, turn_deg):
    random = np.random.default_rng(7946)
    errors = []
    for center in [*centers(random, PAIRS - 20), *[(9.0, 60.0), (-151.0, 60.0)] * 10]:
        one, other = around(random, center, reach_m, 2)
        errors.append(compared(center, one, other))
    worst_share, worst_turn = np.max(errors, axis=0)
    assert worst_share <= share
    assert worst_turn <= turn_deg


def test_twenty_kilometres_from_the_centre():
    random = np.random.default_rng(20)
    for center in [*centers(random, 40), (9.0, 60.0)]:
        for bearing in range(0, 360, 15):
            far = Geodesic.WGS84.Direct(center[1], center[0], bearing, 20_000.0)
            share, turn = compared(center, center, (far["lon2"], far["lat2"]))
            assert share <= 0.005 and turn <= 0.3


def test_a_hundred_metres_each_way():
    # by the geodesic: 100 m east of 45 N 90 W; 500 m south-west of it
    plane = Plane((-90.0, 45.0))
    east, north = plane.to_local(-89.998731718, 44.999999993)
    assert (east, north) == (pytest.approx(100.0, abs=0.01), pytest.approx(0.0, abs=0.01))
    east, north = plane.to_local(-90.004483805, 44.996818522)
    assert (east, north) == (pytest.approx(-353.553, abs=0.1), pytest.approx(-353.553, abs=0.1))


@pytest.mark.parametrize("center", [(179.999, -17.0), (-179.999, 60.0)])
def test_the_date_line_is_no_edge(center):
    plane = Plane(center)
    for lon_deg in (179.998, -179.998):
        east, _ = plane.to_local(lon_deg, center[1])
        true = Geodesic.WGS84.Inverse(center[1], center[0], center[1], lon_deg)
        assert abs(east) == pytest.approx(true["s12"], rel=1e-3)
        back_lon, back_lat = plane.to_lonlat(east, 0.0)
        assert (float(back_lon), float(back_lat)) == pytest.approx((lon_deg, center[1]))
