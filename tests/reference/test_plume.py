"""The closed form of the plume, apart from the program's own curves.

Source: Boubel et al., Fundamentals of Air Pollution, 3rd ed. (1994), section III.D,
pp. 303-305, problem and answer: 0.37 g/s from 40 m in 2 m/s, class B; its table of
spreads and concentrations. Tolerance 1 %: the book prints three digits. And the formula
at points worked by hand from it (Turner, AP-26, equation 3.1): Q = 1 g/s, 3 m/s, with
Briggs's open-country spreads of class D at 100 m, 7.960 and 5.595 m.
"""

import math

import numpy as np
import pytest

from core.air.drift import plume
from core.air.spread import column_per_m, narrowing, spread_rad, thinning_per_m

# distance [m], sigma-z, sigma-y [m], concentration at the ground [g/m3]
BOOK = [
    (260.0, 26.2, 45.9, 1.53e-5),
    (280.0, 28.2, 49.0, 1.56e-5),
    (300.0, 30.1, 52.2, 1.55e-5),
]


@pytest.mark.parametrize(("distance_m", "sigma_z", "sigma_y", "printed"), BOOK)
def test_worked_problem(distance_m, sigma_z, sigma_y, printed):
    thin = column_per_m(sigma_z, source_m=40.0, receptor_m=0.0)
    c = plume(thin, 2.0, distance_m, 0.0, sigma_y / distance_m)
    assert 0.37 * c == pytest.approx(printed, rel=0.01)


def test_its_largest_value_is_where_the_book_has_it():
    values = [float(plume(column_per_m(z, 40.0), 2.0, x, 0.0, y / x)) for x, z, y, _ in BOOK]
    assert values.index(max(values)) == 1


@pytest.mark.parametrize(
    ("aside_m", "source_m", "receptor_m", "worked"),
    [(0.0, 0.0, 0.0, 2.38230e-3), (7.960, 0.0, 0.0, 1.44494e-3), (0.0, 6.0, 1.0, 1.34360e-3)],
)
def test_formula_by_hand(aside_m, source_m, receptor_m, worked):
    thin = column_per_m(5.595, source_m, receptor_m)
    c = plume(thin, 3.0, 100.0, aside_m / 100.0, 7.960 / 100.0)
    assert c == pytest.approx(worked, rel=2e-4)


@pytest.mark.parametrize("stability", range(6))
@pytest.mark.parametrize("distance_m", [50.0, 100.0, 200.0, 400.0, 800.0])
@pytest.mark.parametrize("receptor_m", [0.0, 1.5])
def test_an_arc_holds_the_release_over_the_wind_times_the_thinning(
    stability, distance_m, receptor_m
):
    speed_mps = 2.3
    thin = thinning_per_m(stability, distance_m, 0.46, receptor_m=receptor_m)
    turn = np.linspace(-math.pi, math.pi, 20_001)
    sigma = spread_rad(stability, speed_mps) * narrowing(distance_m)
    c = plume(thin, speed_mps, distance_m, np.abs(turn), sigma)
    assert np.trapezoid(c, turn * distance_m) == pytest.approx(thin / speed_mps, rel=1e-3)
