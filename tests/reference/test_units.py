"""Conversion factors against scipy.constants (CODATA and the exact definitions).

Tolerance: rounding of a double. The acre there is the international one.
"""

import pytest
from scipy import constants

from core import units

EXACT = 1e-12


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        (units.M_PER_FT, constants.foot),
        (units.M_PER_US_SURVEY_FT, constants.survey_foot),
        (units.M_PER_YD, constants.yard),
        (units.M_PER_MILE, constants.mile),
        (units.M_PER_NAUTICAL_MILE, constants.nautical_mile),
        (units.MPS_PER_MPH, constants.mph),
        (units.MPS_PER_KNOT, constants.knot),
        (units.MPS_PER_KMH, constants.kmh),
        (units.SQ_M_PER_ACRE, constants.acre),
        (units.SECONDS_PER_HOUR, constants.hour),
        (units.SECONDS_PER_MINUTE, constants.minute),
    ],
)
def test_factor(ours, theirs):
    assert ours == pytest.approx(theirs, rel=EXACT)


@pytest.mark.parametrize("celsius", [-40.0, -17.5, 0.0, 21.0])
def test_temperature(celsius):
    theirs = constants.convert_temperature(celsius, "C", "F")
    assert units.f_from_c(celsius) == pytest.approx(theirs, rel=EXACT)
    assert units.c_from_f(theirs) == pytest.approx(celsius, abs=1e-9)
