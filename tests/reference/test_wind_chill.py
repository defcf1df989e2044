"""Wind chill: the chart of the National Weather Service, 1 November 2001, cell by cell.

Source: the chart as a public page of that year copies it (home1.gte.net, windchill.htm;
its rows under -5 degF are not used: they are mislabelled there), with the formula below it.
The chart prints whole degrees, so half a degree either way. MetPy's tests have 36 for 40 degF
and 5 mph, the Weather Service's own example -19 for 0 degF and 15 mph: the same cells.
"""

import numpy as np
import pytest

from core.air.chill import wind_chill_f

MPH = (5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60)
CHART_F = {
    40: (36, 34, 32, 30, 29, 28, 28, 27, 26, 26, 25, 25),
    35: (31, 27, 25, 24, 23, 22, 21, 20, 19, 19, 18, 17),
    30: (25, 21, 19, 17, 16, 15, 14, 13, 12, 12, 11, 10),
    25: (19, 15, 13, 11, 9, 8, 7, 6, 5, 4, 4, 3),
    20: (13, 9, 6, 4, 3, 1, 0, -1, -2, -3, -3, -4),
    15: (7, 3, 0, -2, -4, -5, -7, -8, -9, -10, -11, -11),
    10: (1, -4, -7, -9, -11, -12, -14, -15, -16, -17, -18, -19),
    5: (-5, -10, -13, -15, -17, -19, -21, -22, -23, -24, -25, -26),
    0: (-11, -16, -19, -22, -24, -26, -27, -29, -30, -31, -32, -33),
    -5: (-16, -22, -26, -29, -31, -33, -34, -36, -37, -38, -39, -40),
}
MPS_PER_MPH = 1609.344 / 3600.0  # the mile and the hour are exact


def felt_f(air_f, mph):
    return wind_chill_f((np.asarray(air_f, float) - 32.0) * 5.0 / 9.0, mph * MPS_PER_MPH)


@pytest.mark.parametrize("air_f", CHART_F)
def test_a_row_of_the_chart(air_f):
    felt = felt_f(air_f, np.array(MPH, float))
    assert np.abs(felt - CHART_F[air_f]).max() <= 0.51


@pytest.mark.parametrize(("air_f", "mph"), [(50.1, 10), (60, 30), (30, 2.99), (30, 0.0)])
def test_nothing_is_felt_outside_the_formula_s_range(air_f, mph):
    # over 50 degF, or under 3 mph
    assert np.isnan(felt_f(air_f, mph))


def test_the_edges_of_the_range_are_in_it():
    assert felt_f(50.0 - 1e-9, 10.0) == pytest.approx(46.04, abs=0.01)  # by the formula, by hand
    assert np.isfinite(felt_f(30.0, 3.1))


def test_missing_stays_missing():
    assert np.isnan(wind_chill_f(np.array([np.nan, -5.0]), np.array([5.0, np.nan]))).all()
