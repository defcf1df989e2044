"""UTM against published places and an independent way of measuring.

Sources: README of the Python package utm: zone 32, 395201.3104 E, 5673135.2408 N is 7.5 E,
51.2 N; 340000, 5710000 of zone 32 by PROJ: 6.6938775, 51.5184296 (its digits, some 5 mm).
Along the middle of a zone north is 0.9996 of the meridian's length, and short lines are
scaled alike in both directions; lengths by geographiclib [karney2013].
"""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from core.ground.heights.utm import from_utm, middle_lon_deg, to_utm, zone_of


def test_published_places():
    lon, lat = from_utm(395201.3104, 5673135.2408, 32)
    assert (float(lon), float(lat)) == pytest.approx((7.5, 51.2), abs=2e-9)
    lon, lat = from_utm(340000.0, 5710000.0, 32)
    assert (float(lon), float(lat)) == pytest.approx((6.6938775, 51.5184296), abs=6e-8)
    east, north = to_utm(7.5, 51.2, 32)
    assert (float(east), float(north)) == pytest.approx((395201.3104, 5673135.2408), abs=2e-4)


@pytest.mark.parametrize("lat", [-43.0, 0.0, 36.0, 61.5])
def test_the_meridian_in_the_middle(lat):
    east, north = to_utm(-81.0, lat, 17)
    arc = Geodesic.WGS84.Inverse(0.0, -81.0, lat, -81.0)["s12"]
    assert float(east) == pytest.approx(500_000.0, abs=1e-6)
    assert float(north) == pytest.approx(np.copysign(arc, lat) * 0.9996, abs=1e-4)


def test_there_and_back_and_zones():
    rng = np.random.default_rng(3)
    lon, lat = rng.uniform(-3.5, 3.5, 200), rng.uniform(-80.0, 80.0, 200)
    for zone, south in ((12, False), (55, True)):
        east, north = to_utm(lon + middle_lon_deg(zone), lat, zone, south)
        a, b = from_utm(east, north, zone, south)
        assert a == pytest.approx(lon + middle_lon_deg(zone), abs=1e-9)
        assert b == pytest.approx(lat, abs=1e-9)
    assert [zone_of(x) for x in (-180.0, -79.9, -78.0, 7.5, 179.9)] == [1, 17, 18, 32, 60]
