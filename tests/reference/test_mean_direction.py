"""Means of directions.

Sources: the example of 1, 0 and 359 degrees that goes with Yamartino R.J., J.
Climate Appl. Meteor. 23:1362 (1984): the mean is 0, not 120 or 180. The
symmetric sets need no source. Tolerance: rounding.
"""

import math

import pytest

from core.angles import mean_direction_deg, separation_deg


def test_yamartino_example():
    mean = mean_direction_deg([359.0, 0.0, 1.0])
    assert separation_deg(mean, 0.0) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("directions", "mean"), [([350, 10], 0.0), ([0, 90], 45.0), ([180, 190, 200, 210, 220], 200.0)]
)
def test_symmetric_sets(directions, mean):
    assert separation_deg(mean_direction_deg(directions), mean) == pytest.approx(0.0, abs=1e-9)


def test_winds_all_round_have_no_mean():
    assert math.isnan(mean_direction_deg([0.0, 90.0, 180.0, 270.0]))
