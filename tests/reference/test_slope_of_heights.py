"""The slope of nine heights: a worked example.

Source: Esri's page "How Slope works" (desktop.arcgis.com, 3D Analyst), the nine heights and
the result from memory: rise by run 3.80032, that is 75.25762 degrees. Worked again: to the
east (50 + 60 + 10 - 50 - 60 - 8) / 40 = 0.05, southward (8 + 20 + 10 - 50 - 90 - 50) / 40 =
-3.8. Tolerance: the digits printed; the page's cells are 5 m, taken here as 10 of twice the
height, since nearer heights than 10 m are passed over.
"""

import math

import numpy as np
import pytest

from core.ground.heights.grid import HeightGrid
from core.ground.heights.slope_at import slope_at
from core.ground.plan import Plane

HEIGHTS = np.array([[50.0, 45.0, 50.0], [30.0, 30.0, 30.0], [8.0, 10.0, 10.0]])


def test_nine_heights():
    plane = Plane((-79.9, 36.1))
    cell_lon, cell_lat = 10.0 / plane.m_per_lon_deg, 10.0 / plane.m_per_lat_deg
    grid = HeightGrid(
        2.0 * HEIGHTS, -79.9 - cell_lon, 36.1 + cell_lat, cell_lon, cell_lat, "meters"
    )
    slope = slope_at(grid, (-79.9, 36.1))
    assert slope.grade_pct == pytest.approx(380.032, abs=1e-3)
    assert slope.slope_deg == pytest.approx(75.25762, abs=5e-5)
    # downhill southward and a little west: atan(0.05 / 3.8)
    assert slope.downhill_deg == pytest.approx(180.0 + math.degrees(math.atan(0.05 / 3.8)))


# Source: Esri's page "How Aspect works", its nine heights and 92.64 degrees, as a public test
# that repeats them has it. Worked again: to the east (339 - 404) / 8 = -8.125, southward
# (367 - 370) / 8 = -0.375; down to 90 + atan(0.375 / 8.125).
FACING = np.array([[101.0, 92.0, 85.0], [101.0, 92.0, 85.0], [101.0, 91.0, 84.0]])


def test_which_way_nine_heights_face():
    plane = Plane((-79.9, 36.1))
    cell_lon, cell_lat = 10.0 / plane.m_per_lon_deg, 10.0 / plane.m_per_lat_deg
    grid = HeightGrid(FACING, -79.9 - cell_lon, 36.1 + cell_lat, cell_lon, cell_lat, "meters")
    assert slope_at(grid, (-79.9, 36.1)).downhill_deg == pytest.approx(92.64, abs=5e-3)
