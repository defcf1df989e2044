"""Wind as components, and compass points.

Sources: MetPy, tests/calc/test_basic.py (1e-3 of the unit: the digits there); the
sixteen points of 22.5 degrees with north in the middle of the first, as in windrose;
that a boundary belongs to the sector it begins is a choice.
"""

import numpy as np
import pytest

from core.angles import (
    components_mps,
    opposite_deg,
    point_deg,
    point_name,
    wind_from_components,
)


@pytest.mark.parametrize(
    ("speed", "from_deg", "east", "north"),
    [(8, 150, -4.0, 6.9282), (4, 45, -2.8284, -2.8284), (25, 270, 25.0, 0.0)],
)
def test_components(speed, from_deg, east, north):
    assert components_mps(speed, from_deg) == pytest.approx((east, north), abs=1e-3)


@pytest.mark.parametrize(
    ("east", "north", "from_deg"),
    [(3, 4, 216.870), (4, 0, 270.0), (2, 2, 225.0), (0, 4, 180.0), (1, -1, 315.0), (0, -5, 360.0)],
)
def test_direction(east, north, from_deg):
    # north is printed as 360 there; here it is 0
    assert wind_from_components(east, north) == pytest.approx(from_deg % 360, abs=1e-3)


def test_where_the_air_goes_is_the_oceanographers_direction():
    assert opposite_deg(wind_from_components(5, -5)) == pytest.approx(135.0)


def test_still_air_has_no_direction():
    assert np.isnan(wind_from_components(0, 0))


@pytest.mark.parametrize(
    ("direction_deg", "name"),
    [
        (0.0, "N"),
        (11.24, "N"),
        (11.25, "NNE"),
        (348.74, "NNW"),
        (348.75, "N"),
        (359.99, "N"),
        (33.75, "NE"),
        (56.25, "ENE"),
        (78.75, "E"),
        (101.25, "ESE"),
        (123.75, "SE"),
        (146.25, "SSE"),
        (168.75, "S"),
        (191.25, "SSW"),
        (213.75, "SW"),
        (236.25, "WSW"),
        (258.75, "W"),
        (281.25, "WNW"),
        (303.75, "NW"),
        (326.25, "NNW"),
    ],
)
def test_sectors(direction_deg, name):
    assert point_name(direction_deg) == name


def test_centres():
    names = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split()  # noqa: SIM905
    assert [point_deg(name) for name in names] == [22.5 * i for i in range(16)]
