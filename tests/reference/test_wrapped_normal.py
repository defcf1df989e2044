"""The wrapped normal density, by its other form: a series of cosines.

Source: Jammalamadaka S.R., SenGupta A., Topics in Circular Statistics (2001), section
2.2.6, as R's packages cite it; with rho = exp(-sigma^2 / 2) the density is
(1 + 2 sum rho^(n^2) cos n theta) / 2 pi, and rho is the mean resultant length. The
program sums turns of the normal instead. Tolerance: a turn left out at the widest spread.
"""

import numpy as np
import pytest

from core.air.drift import wrapped_normal_per_rad

TERMS = np.arange(1, 200)
# from class F far off to light air in timber: 0.2 / 0.75 and 15 degrees are 0.374 at 100 m,
# and 0.471 at 10 m (10^0.1 times as much)
SPREADS_RAD = [0.0425, 0.1, 0.299, 0.301, 0.374, 0.471, 0.8]


def series(theta, sigma):
    rho_n2 = np.exp(-0.5 * (TERMS * sigma) ** 2)
    return (1.0 + 2.0 * (rho_n2 * np.cos(np.multiply.outer(theta, TERMS))).sum(-1)) / (2 * np.pi)


@pytest.mark.parametrize("sigma", SPREADS_RAD)
def test_density_all_round(sigma):
    theta = np.radians(np.arange(0.0, 181.0))
    found = wrapped_normal_per_rad(theta, np.full(theta.shape, sigma))
    assert found == pytest.approx(series(theta, sigma), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("sigma", SPREADS_RAD)
def test_mean_resultant_length(sigma):
    theta = np.linspace(-np.pi, np.pi, 20_001)
    density = wrapped_normal_per_rad(theta, np.full(theta.shape, sigma))
    length = np.trapezoid(density * np.cos(theta), theta)
    assert length == pytest.approx(np.exp(-(sigma**2) / 2), abs=1e-7)


def test_spreads_of_several_widths_at_once():
    sigma = np.array(SPREADS_RAD)
    found = wrapped_normal_per_rad(np.full(sigma.shape, 2.9), sigma)
    worked = [float(series(2.9, s)) for s in SPREADS_RAD]
    assert found == pytest.approx(worked, rel=1e-9, abs=1e-12)
