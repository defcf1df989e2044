"""Wind by height: the EPA's default rural exponents.

Source: US EPA, ISC3 user's guide volume II, EPA-454/B-95-003b (1995), as in
GasDispersion.jl, whose tests carry 3 m/s at 1 m brought to 10 m (1e-5: the digits
printed). Ours goes down from 10 m, so the same ratio is taken the other way.
"""

import pytest

from core.air.shelter import PROFILE_EXPONENT, wind_at_height_mps
from core.air.stability import CLASSES

EXPONENTS = {"A": 0.07, "B": 0.07, "C": 0.10, "D": 0.15, "E": 0.35, "F": 0.55}
AT_10_M = {"A": 3.52469, "C": 3.77678, "D": 4.2376126, "E": 6.71616, "F": 10.64440}


@pytest.mark.parametrize(("letter", "exponent"), EXPONENTS.items())
def test_exponent(letter, exponent):
    assert PROFILE_EXPONENT[CLASSES.index(letter)] == exponent


@pytest.mark.parametrize(("letter", "at_10_m"), AT_10_M.items())
def test_three_metres_a_second_at_one_metre(letter, at_10_m):
    down = wind_at_height_mps(at_10_m, 1.0, CLASSES.index(letter))
    assert down == pytest.approx(3.0, abs=1e-5)


def test_class_d_to_all_its_digits():
    up_ratio = 1.0 / wind_at_height_mps(1.0, 1.0, CLASSES.index("D"))
    assert 3.0 * up_ratio == pytest.approx(4.2376126, abs=1e-6)
