"""Briggs's open-country spread.

Source: Briggs G.A., Diffusion estimation for small emissions, ATDL Contribution 79
(1973), as printed in Boubel et al., Fundamentals of Air Pollution, 3rd ed. (1994),
Table 19-7. The values at 1.2 m stand in GasDispersion.jl's tests (1e-9: all their
digits); those at 100 and 1000 m are the printed formulas worked by hand (1e-3 m:
the digits given). The Pasquill-Gifford curve is another scheme: at 1 km its class D
is 68 m wide where Briggs has 76.
"""

import numpy as np
import pytest

from core.air.spread import SIGMA_B_RAD, sigma_y_m, sigma_z_m, spread_rad
from core.air.stability import CLASSES

AT_1_2_M = {"D": (0.09599424051834818, 0.07193528734898633), "F": (0.04799712, 0.01919309)}
AT_100_M = {
    "A": (21.891, 20.000), "B": (15.921, 12.000), "C": (10.945, 7.921),
    "D": (7.960, 5.595), "E": (5.970, 2.913), "F": (3.980, 1.553),
}  # fmt: skip
AT_1000_M = {
    "A": (209.762, 200.0), "B": (152.554, 120.0), "C": (104.881, 73.030),
    "D": (76.277, 37.947), "E": (57.208, 23.077), "F": (38.139, 12.308),
}  # fmt: skip


@pytest.mark.parametrize(("letter", "printed"), AT_1_2_M.items())
def test_at_1_2_metres(letter, printed):
    stability, tolerance = CLASSES.index(letter), 1e-9 if letter == "D" else 1e-8
    assert sigma_y_m(stability, 1.2) == pytest.approx(printed[0], abs=tolerance)
    assert sigma_z_m(stability, 1.2) == pytest.approx(printed[1], abs=tolerance)


@pytest.mark.parametrize(
    ("distance_m", "letter", "printed"),
    [(100.0, k, v) for k, v in AT_100_M.items()] + [(1000.0, k, v) for k, v in AT_1000_M.items()],
)
def test_at_100_and_1000_metres(distance_m, letter, printed):
    stability = CLASSES.index(letter)
    assert sigma_y_m(stability, distance_m) == pytest.approx(printed[0], abs=1e-3)
    assert sigma_z_m(stability, distance_m) == pytest.approx(printed[1], abs=1e-3)


@pytest.mark.parametrize(
    ("letter", "edge_deg"),
    [("A", 25.2), ("B", 18.9), ("C", 13.2), ("D", 9.7), ("E", 7.3), ("F", 4.9)],
)
def test_half_angle_of_the_plume_edge_at_100_metres(letter, edge_deg):
    # a Gaussian falls to a tenth at 2.15 sigma (Turner AP-26, from memory)
    sigma = SIGMA_B_RAD[CLASSES.index(letter)]
    assert np.degrees(np.arctan(2.15 * sigma)) == pytest.approx(edge_deg, abs=0.06)


@pytest.mark.parametrize(
    ("speed_mps", "spread_deg"), [(0.75, 38.2), (1.0, 28.6), (2.0, 14.3), (3.0, 9.5), (5.0, 5.7)]
)
def test_meander_of_hanna(speed_mps, spread_deg):
    # 0.5 m/s over the wind speed: Hanna S.R., J. Climate Appl. Meteor. 22:1424 (1983),
    # by way of the AERMOD formulation text; class F leaves it the larger of the two
    sigma = spread_rad(CLASSES.index("F"), speed_mps)
    assert np.degrees(sigma) == pytest.approx(spread_deg, abs=0.06)


def test_briggs_holds_where_the_wind_is_strong():
    assert spread_rad(CLASSES.index("D"), 20.0) == pytest.approx(0.07960, abs=1e-5)
