"""Wind over hills against forms that can be worked out by hand.

Sources: potential flow over a bell-shaped ridge is (H/L)/(1 + z/L)^2 at its top and 0.939 H/L
at the top of a Gaussian ridge, L the half-width at half height [emeis]; waves a cos kx give
a k exp(-kz), by Laplace's equation; a Gaussian round hill 0.738 H/L, from
sqrt(pi ln 2) / 2 by its Hankel transform; a hilltop about twice potential flow [taylor1984];
alpha by the printed formula [chan1997]; under H (1 - Fr), Fr = U / (N H), layered air goes
round a hill and over it above (American Meteorological Society, Glossary of Meteorology,
dividing streamline). Tolerances: the grid's own edges, a few percent.
"""

import numpy as np
import pytest

from core.land.linear_wind import stiffness, wind_change
from core.land.relief import Relief

HALF_M = 100.0


def grid(side_m: float, cell_m: float):
    n = int(side_m / cell_m) + 1
    at = np.arange(n) * cell_m - side_m / 2.0
    return at[None, :], at[:, None], cell_m, -side_m / 2.0


def relief(height, cell_m, corner_m):
    return Relief(height, corner_m, corner_m, cell_m)


def top(change, wind_from_deg=270.0):
    along = change.along(wind_from_deg)
    return along[along.shape[0] // 2, along.shape[1] // 2]


def test_bell_ridge_at_heights():
    x, y, cell, corner = grid(6000.0, 20.0)
    land = relief(10.0 / (1.0 + (x / 200.0) ** 2) + 0.0 * y, cell, corner)
    for z in (10.0, 50.0, 100.0):
        change = wind_change(land, height_m=z, roughness_m=None, rim_m=0.0)
        # the ridge is cut off 3 km away on both sides and along itself: some 4 % are lost
        assert top(change) == pytest.approx((10.0 / 200.0) / (1.0 + z / 200.0) ** 2, rel=0.07)


def test_gaussian_ridge_and_round_hill():
    x, y, cell, corner = grid(4000.0, 10.0)
    square = np.log(2.0) / HALF_M**2
    ridge = relief(5.0 * np.exp(-square * x**2) + 0.0 * y, cell, corner)
    change = wind_change(ridge, height_m=0.0, roughness_m=None, rim_m=0.0)
    assert top(change) == pytest.approx(0.939 * 5.0 / HALF_M, rel=0.02)
    hill = relief(5.0 * np.exp(-square * (x**2 + y**2)), cell, corner)
    change = wind_change(hill, height_m=0.0, roughness_m=None, rim_m=0.0)
    assert top(change) == pytest.approx(np.sqrt(np.pi * np.log(2.0)) / 2.0 * 0.05, rel=0.01)
    # from every side the same, and nothing across itself at the top
    assert top(change, 37.0) == pytest.approx(top(change), rel=1e-6)


def test_waves():
    k = 2.0 * np.pi / 500.0
    x, y, cell, corner = grid(8000.0, 10.0)
    land = relief(5.0 * np.cos(k * x) + 0.0 * y, cell, corner)
    change = wind_change(land, height_m=10.0, roughness_m=None, rim_m=0.0)
    assert top(change) == pytest.approx(5.0 * k * np.exp(-10.0 * k), rel=0.01)
    # air that is held down goes round: alpha makes it more, and thinner with height
    held = wind_change(land, height_m=10.0, roughness_m=None, rim_m=0.0, alpha=0.5)
    assert top(held) == pytest.approx(5.0 * k / 0.5 * np.exp(-20.0 * k), rel=0.01)


def test_with_the_wind_profile_a_top_is_about_twice_as_quick():
    x, y, cell, corner = grid(3000.0, 10.0)
    square = np.log(2.0) / HALF_M**2
    ridge = relief(10.0 * np.exp(-square * x**2) + 0.0 * y, cell, corner)
    change = wind_change(ridge, height_m=3.0, roughness_m=0.03, rim_m=0.0)
    assert 1.6 <= top(change) / (10.0 / HALF_M) <= 2.6
    hill = relief(10.0 * np.exp(-square * (x**2 + y**2)), cell, corner)
    change = wind_change(hill, height_m=3.0, roughness_m=0.03, rim_m=0.0)
    assert 1.2 <= top(change) / (10.0 / HALF_M) <= 2.0


def test_a_hill_like_one_that_was_measured():
    """Askervein, 116 m, from memory: an ellipse some 1 km by 2 km; wind across it was 80 to 100 %
    quicker at 10 m over the top. A bell of half-widths 220 and 500 m stands for it."""
    x, y, cell, corner = grid(6000.0, 20.0)
    hill = relief(
        116.0 * np.exp(-np.log(2.0) * ((x / 220.0) ** 2 + (y / 500.0) ** 2)), cell, corner
    )
    share = top(wind_change(hill, height_m=10.0, roughness_m=0.03))
    assert 0.6 <= share <= 1.1


def test_level_and_evenly_tilted_ground_change_nothing():
    x, y, cell, corner = grid(2000.0, 20.0)
    tilted = relief(300.0 + 0.07 * x - 0.03 * y, cell, corner)
    change = wind_change(tilted)
    assert np.abs(change.along(200.0)).max() < 1e-12


def test_slowing_never_stops_the_wind():
    x, y, cell, corner = grid(3000.0, 20.0)
    pit = relief(-80.0 * np.exp(-((x / 120.0) ** 2) - (y / 120.0) ** 2), cell, corner)
    along = wind_change(pit).along(90.0)
    assert along.min() < -0.3
    assert along.min() > -1.0


def test_mirrored_ground_and_wind():
    rng = np.random.default_rng(4)
    x, y, cell, corner = grid(2000.0, 20.0)
    bumps = sum(
        h * np.exp(-(((x - a) / 150.0) ** 2) - ((y - b) / 200.0) ** 2)
        for a, b, h in zip(*rng.uniform(-600, 600, (2, 5)), rng.uniform(5, 30, 5), strict=True)
    )
    here = wind_change(relief(bumps, cell, corner)).along(250.0)
    there = wind_change(relief(bumps[:, ::-1], cell, corner)).along(110.0)
    assert here == pytest.approx(there[:, ::-1], abs=1e-9)


@pytest.mark.parametrize(
    ("strouhal", "alpha"), [(0.25, 0.911), (0.5, 0.767), (1.0, 0.472), (1.5, 0.252)]
)
def test_alpha(strouhal, alpha):
    assert stiffness(10.0, 100.0 * strouhal, 0.1) == pytest.approx(alpha, abs=5e-4)
    assert stiffness(1e-9, 100.0, 0.026) == 0.25
    assert stiffness(3.0, 100.0, 0.0) == 1.0


@pytest.mark.parametrize(
    ("froude", "goes_round_m", "alpha"), [(0.6, 40.0, 0.25), (1.0, 0.0, 0.5), (4.0, 0.0, 0.9)]
)
def test_air_that_goes_round_a_hill_is_the_stiffest(froude, goes_round_m, alpha):
    """The program asks for no dividing height; its alpha has to tell the same by degrees: at its
    least where two fifths of a hill are gone round, near 1 where all air goes over with ease."""
    hill_m, buoyancy_per_s = 100.0, 0.034
    assert max(0.0, hill_m * (1.0 - froude)) == pytest.approx(goes_round_m)
    told = float(stiffness(froude * buoyancy_per_s * hill_m, hill_m, buoyancy_per_s))
    assert (told > 0.25) is (goes_round_m == 0.0)
    assert told == pytest.approx(alpha, abs=0.03)
