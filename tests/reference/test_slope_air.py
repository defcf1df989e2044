"""How quick slope air is, between what was measured and what a formula says.

Sources: Mahrt and others (2000) and Soler and others over a gentle gully in Kansas on evenings:
"a few tens of cm/s", second-hand; Mahrt's (1982) flow down an even slope as a public-domain
code of wildland fire winds has it: 20 W/m2 taken from air at 283 K, 1.25 kg/m3, 150 m down a
slope of 10 %, .89 m/s, with no tree, hump or wind against it: an upper end. Ours is a setting;
it has to lie between the two.

How deep it is: 0.05 of its drop [horst1986], second-hand.
"""

import math

import pytest

from core.air.slopes import slope_speed_mps
from core.ground.layout import AirRules
from core.land.relief import DEEPEST_PIT_M
from core.land.still_way import LONGEST_M

FEW_TENS_MPS = 0.2


def even_slope_mps(taken_wm2: float, down_m: float, grade: float) -> float:
    sine = math.sin(math.atan(grade))
    drag = 0.0101  # of the ground and of the air above, together
    length_m = 0.05 * down_m * sine / drag
    power = taken_wm2 * 9.81 * down_m * sine / (1.25 * 1004.0 * 283.0 * drag)
    return power ** (1 / 3) * (1.0 - math.exp(-down_m / length_m)) ** (1 / 3)


def test_the_formula_gives_its_own_value():
    assert even_slope_mps(20.0, 150.0, 0.10) == pytest.approx(0.89, abs=0.03)


def test_ours_lies_between():
    told = -slope_speed_mps(
        downward=1.0,
        irradiance_wm2=0.0,
        cloud_frac=0.0,
        grade_pct=10.0,
        full_mps=AirRules().slope_wind_mps,
    )
    assert FEW_TENS_MPS <= told <= even_slope_mps(20.0, 150.0, 0.10)


def test_pits_are_filled_as_deep_as_the_air_is_at_the_end_of_a_way():
    """600 m down a slope of a tenth are 60 m of drop, so 3 m of air."""
    assert pytest.approx(0.05 * 0.10 * LONGEST_M) == DEEPEST_PIT_M == 3.0
