"""No air is lost: what arrives on a ring round the hunter is what was released.

Source: conservation of mass. With the Gaussian of height exp(-z^2 / 2 sigma^2),
strength x speed x distance, summed over the whole ring and over height, is one. The
tolerance is that of the sum (trapezoids).
"""

import numpy as np
import pytest

from core.air.drift import offset_rad, strength
from core.air.spread import sigma_z_m, spread_rad

DEGREES = np.linspace(0.0, 360.0, 3601)


@pytest.mark.parametrize("stability", range(6))
@pytest.mark.parametrize("height_m", [0.0, 4.9])
@pytest.mark.parametrize(
    ("speed_mps", "cover_deg"), [(0.75, 15.0), (0.75, 0.0), (2.0, 8.0), (9.0, 0.0)]
)
@pytest.mark.parametrize("distance_m", [10.0, 230.0, 3200.0])
def test_ring_and_column(stability, height_m, speed_mps, cover_deg, distance_m):
    c = strength(
        distance_m=distance_m,
        offset_rad=offset_rad(67.3, DEGREES),
        stability=stability,
        carried_mps=speed_mps,
        sigma_rad=spread_rad(stability, speed_mps, cover_deg),
        height_m=height_m,
    )
    ring = np.trapezoid(c * speed_mps * distance_m, np.radians(DEGREES))
    sigma_m = np.hypot(sigma_z_m(stability, distance_m), height_m / 2.15)
    heights_m = np.linspace(0.0, 8.0 * sigma_m, 4001)
    column = np.trapezoid(np.exp(-(heights_m**2) / (2 * sigma_m**2)), heights_m)
    assert ring * column == pytest.approx(1.0, abs=2e-5)
