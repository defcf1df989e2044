"""How far an hour's air strays beyond its ten-minute means.

Source: Hanna S.R., J. Climate Appl. Meteor. 22:1424-1430 (1983), as EPA's description of
AERMOD (EPA-454/R-03-004) tells it: side gusts are typically 0.5 m/s even in the lightest
wind, and as low as 0.2, which AERMOD takes as its floor. Spicer T.O., Havens J.A., User's
guide for the DEGADIS 2.1 dense gas dispersion model, EPA-450/4-89-019 (1989), pp. 45-46:
sideways spread is (averaging time / 10 min)^0.2 of that of the ten-minute curves, whose
sigma-y / x at 100 m is d / 100^0.1 with d of 0.423, 0.313, 0.210, 0.136, 0.102, 0.0674.
Worked here by hand from those; angles of a mast in the field are not part of the check.
"""

import math

import numpy as np
import pytest

from core.air.spread import SIGMA_V_MPS
from core.air.stability import A, B, C, D, E, F
from core.air.wander import HOUR_SIGMA_V_MPS, averaged_share, hour_half_width_deg, wander_deg
from core.units import MPS_PER_MPH

TEN_TENTHS = 100.0**0.1
CURVE = {A: 0.423, B: 0.313, C: 0.210, D: 0.136, E: 0.102, F: 0.0674}


def test_the_published_numbers():
    assert (HOUR_SIGMA_V_MPS, SIGMA_V_MPS) == (0.5, 0.2)
    assert averaged_share(60.0) == pytest.approx(6.0**0.2) == pytest.approx(1.431, abs=5e-4)
    assert averaged_share(10.0) == 1.0


@pytest.mark.parametrize("speed_mps", [0.75, 1.0, 2.0])
def test_in_light_air_the_two_laws_of_the_mast_alone(speed_mps):
    # F's curve is narrower than either: sqrt(0.5^2 - 0.2^2) = 0.45826 m/s over the speed
    found = wander_deg(F, speed_mps)
    assert found == pytest.approx(math.degrees(0.45826 / speed_mps), rel=1e-5)


@pytest.mark.parametrize(("letter", "curve"), CURVE.items())
def test_in_strong_wind_the_averaging_time_alone(letter, curve):
    # sqrt(1.431^2 - 1) = 1.0236 of the curve's own angle
    found = wander_deg(letter, 40.0)
    assert found == pytest.approx(math.degrees(curve / TEN_TENTHS * 1.02359), rel=1e-4)


@pytest.mark.parametrize(
    ("letter", "mph", "hour_rad", "ten_minutes_rad"),
    [
        # F at 4 mph, 1.78816 m/s: gusts on both sides, 0.5 and 0.2 over it
        (F, 4, 0.27962, 0.11185),
        # D at 6 mph, 2.68224 m/s: gusts of the hour, the curve of ten minutes, 0.08581
        (D, 6, 0.18641, 0.08581),
        # D at 10 mph, 4.4704 m/s: 1.43097 x 0.08581 is more than 0.5 / 4.4704 = 0.11185
        (D, 10, 0.12279, 0.08581),
    ],
)
def test_the_larger_of_curve_and_gusts_on_either_side(letter, mph, hour_rad, ten_minutes_rad):
    found = wander_deg(letter, mph * MPS_PER_MPH)
    assert found == pytest.approx(math.degrees(math.sqrt(hour_rad**2 - ten_minutes_rad**2)), 2e-4)


def test_two_doubts_add_as_squares():
    wander = wander_deg(D, 4.0)
    assert hour_half_width_deg(0.0, D, 4.0) == pytest.approx(wander)
    assert hour_half_width_deg(11.25, D, 4.0) == pytest.approx(math.sqrt(11.25**2 + wander**2))


def test_more_wind_never_strays_more():
    speed = np.linspace(0.75, 20.0, 400)
    for stability in range(6):
        found = wander_deg(stability, speed)
        assert (np.diff(found) <= 1e-9).all() and (found > 0).all()
    assert np.isnan(wander_deg(D, np.nan))
