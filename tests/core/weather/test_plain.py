"""The hourly table as plain data and back."""

import json

import numpy as np
import pytest

from core.weather.entry import parse_wind
from core.weather.hours import make_hours
from core.weather.plain import hours_from_plain, hours_to_plain


def same(first, second) -> bool:
    told = (hours_to_plain(first), hours_to_plain(second))
    return told[0] == told[1] and first.held == second.held and first.notes == second.notes


def test_through_json_and_back():
    table = make_hours(
        start_s=[0, 3600, 9000],
        speed_mps=[3.0, np.nan, 0.0],
        wind_from_deg=[10.0, np.nan, np.nan],
        half_width_deg=5.0,
        source="a file",
        notes=("one line left out",),
        spot=(-79.9, 36.1),
    )
    back = hours_from_plain(json.loads(json.dumps(hours_to_plain(table))))
    assert same(back, table)
    assert back.spot == (-79.9, 36.1)
    np.testing.assert_array_equal(back.state, table.state)


def test_a_typed_wind_stays_held():
    back = hours_from_plain(hours_to_plain(parse_wind("NW 8-12 gust 20")))
    assert back.held
    assert back.gust_mps[0] == pytest.approx(parse_wind("NW 8-12 gust 20").gust_mps[0])


def test_columns_of_a_later_program_are_passed_over():
    plain = {**hours_to_plain(parse_wind("calm")), "smell": [1]}
    assert same(hours_from_plain(plain), parse_wind("calm"))


def test_what_is_no_table_is_refused():
    with pytest.raises(ValueError, match="no hours"):
        hours_from_plain({"source": "x"})
