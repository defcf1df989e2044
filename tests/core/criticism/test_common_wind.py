"""The wind that blows most in the season, and how far a station's year is good for."""

import datetime

import pytest

from core.criticism.common_wind import TYPICAL_PLACE, common_wind, near_typical
from core.ground.layout import Season
from core.units import M_PER_YD
from core.weather.hours import make_hours
from tests.grounds import at, ground

OCTOBER = Season(weapon="bow", first="10-01", last="10-31")


def hour_s(*parts) -> int:
    return int(datetime.datetime(*parts, tzinfo=datetime.UTC).timestamp())


def hours():
    """Four hours of October, mostly north-west, and six of June from the south."""
    october = [hour_s(2025, 10, 10, h) for h in range(4)]
    june = [hour_s(2025, 6, 10, h) for h in range(6)]
    return make_hours(
        start_s=[*october, *june],
        speed_mps=[4.0, 4.0, 0.0, 4.0, *[4.0] * 6],
        wind_from_deg=[310.0, 320.0, 0.0, 90.0, *[180.0] * 6],
        half_width_deg=5.0,
    )


def test_only_directed_hours_of_the_season_count():
    found = common_wind(hours(), ground(seasons=(OCTOBER,)), "a table")
    assert (found.from_deg, found.source) == (315.0, "a table")
    assert found.share == pytest.approx(2 / 3)  # the calm hour has no direction


def test_without_a_season_all_of_the_year_counts():
    found = common_wind(hours(), ground(seasons=()), "a table")
    assert (found.from_deg, found.share) == (180.0, pytest.approx(6 / 9))


def test_a_season_s_days_are_local():
    # midnight UTC of 1 October is still September at five hours less
    edge = make_hours(
        start_s=[hour_s(2025, 10, 1, 2), hour_s(2025, 10, 1, 6)],
        speed_mps=4.0,
        wind_from_deg=[0.0, 90.0],
        half_width_deg=5.0,
    )
    assert common_wind(edge, ground(seasons=(OCTOBER,)), "", -5 * 3600).from_deg == 90.0


def test_nothing_in_season_is_no_wind():
    spring = Season(weapon="bow", first="04-01", last="04-30")
    assert common_wind(hours(), ground(seasons=(spring,)), "a table") is None


@pytest.mark.parametrize(("miles", "near"), [(149.0, True), (151.0, False)])
def test_a_typical_year_is_good_for_150_miles(miles, near):
    there = at(TYPICAL_PLACE, 90, miles * 1609.344 / M_PER_YD)
    assert near_typical(ground(there)) == near
