"""Typed winds: what they become, and what is refused."""

import itertools
import math

import pytest

from core.errors import BadWind
from core.units import MPS_PER_KNOT, MPS_PER_MPH
from core.weather.entry import BEAUFORT, beaufort_force, parse_wind
from core.weather.hours import CALM, DIRECTED, VARIABLE
from core.weather.plain import hours_to_plain


@pytest.mark.parametrize(
    ("text", "state", "wind", "half", "speed_mps"),
    [
        ("NW 8", DIRECTED, 315.0, 11.25, 8 * MPS_PER_MPH),
        ("nw 8-12 mph gust 20", DIRECTED, 315.0, 11.25, 10 * MPS_PER_MPH),
        ("315 at 4 m/s", DIRECTED, 315.0, 5.0, 4.0),
        ("WNW 10 kt", DIRECTED, 292.5, 11.25, 10 * MPS_PER_KNOT),
        ("360 5", DIRECTED, 0.0, 5.0, 5 * MPS_PER_MPH),
        ("calm", CALM, math.nan, math.nan, 0.0),
        ("N 0", CALM, math.nan, math.nan, 0.0),
        ("variable 3", VARIABLE, math.nan, math.nan, 3 * MPS_PER_MPH),
        ("W B3", DIRECTED, 270.0, 11.25, 10 * MPS_PER_MPH),
        ("W B12", DIRECTED, 270.0, 11.25, 74 * MPS_PER_MPH),
        ("S small branches", DIRECTED, 180.0, 11.25, 15.5 * MPS_PER_MPH),
    ],
)
def test_a_typed_wind(text, state, wind, half, speed_mps):
    hours = parse_wind(text)
    assert hours.held
    assert hours.state[0] == state
    assert hours.wind_from_deg[0] == pytest.approx(wind, nan_ok=True)
    assert hours.half_width_deg[0] == pytest.approx(half, nan_ok=True)
    assert hours.speed_mps[0] == pytest.approx(speed_mps)
    assert hours.cloud_frac[0] == 0.5


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("nw8", "NW 8"),
        ("8nw", "NW 8"),
        ("8 NW", "NW 8"),
        ("northwest 8", "NW 8"),
        ("north-west 8", "NW 8"),
        ("Northwesterly, 8 mph.", "NW 8"),
        ("south 10 mph", "S 10"),
        ("10 mph from the south", "S 10"),
        ("west-northwest 6", "WNW 6"),
        ("north north east 6", "NNE 6"),
        ("NW 8 gusting 15", "NW 8 gust 15"),
        ("NW 8 gusting to 15", "NW 8 gust 15"),
        ("NW 5-10 G20", "NW 5-10 mph gust 20"),
        ("five to ten out of the north", "N 5-10"),
        ("out of the west at ten", "W 10"),
        ("the wind is from the SE at 4 m/s", "SE 4 m/s"),
        ("wind W 6 kt", "W 6 kt"),
        ("ten miles an hour, east", "E 10"),
        ("light NW", "NW 0-5"),
        ("NW light", "NW 0-5"),
        ("light and variable", "variable 0-5"),
        ("variable, light", "variable 0-5"),
        ("still air", "calm"),
        ("no wind", "calm"),
    ],
)
def test_a_wind_as_it_is_said_is_the_wind_as_it_is_written(said, written):
    told, meant = (hours_to_plain(parse_wind(text)) for text in (said, written))
    assert told.pop("source") == f"typed: {said}"
    meant.pop("source")
    assert told == meant


@pytest.mark.parametrize("text", ["NW or N 8", "light", "breezy", "west", "ten", "NW E 5"])
def test_what_is_said_by_half_is_not_guessed(text):
    with pytest.raises(BadWind):
        parse_wind(text)


def test_gust_and_both_ends_of_a_range_are_kept():
    hours = parse_wind("nw 8-12 mph gust 20", cloud_frac=0.3)
    assert hours.speed_low_mps[0] == pytest.approx(8 * MPS_PER_MPH)
    assert hours.speed_high_mps[0] == pytest.approx(12 * MPS_PER_MPH)
    assert hours.gust_mps[0] == pytest.approx(20 * MPS_PER_MPH)
    assert hours.cloud_frac[0] == 0.3
    assert math.isnan(parse_wind("NW 8").gust_mps[0])


@pytest.mark.parametrize(
    "text",
    [
        "NNN 8",
        "foo",
        "NW",
        "400 at 3",
        "NW 8 furlongs",
        "NW 12-8",
        "NW 12 gust 8",
        "W B13",
        "<script> 8",
    ],
)
def test_a_wrong_text_is_refused_with_examples(text):
    with pytest.raises(BadWind) as fault:
        parse_wind(text)
    assert "nw 8-12 mph gust 20" in str(fault.value)


@pytest.mark.parametrize("text", ["NW 253", "NW 220 kt", "NW 20 gust 300", "NW 114 m/s"])
def test_a_wind_over_the_strongest_gust_on_record_is_refused(text):
    # 113 m/s, World Meteorological Organization: 252.8 mph, 219.7 kt
    with pytest.raises(BadWind, match=r"is over 113 m/s \(252 mph\), the most on record"):
        parse_wind(text)
    assert parse_wind("NW 250").speed_mps[0] == pytest.approx(111.76)


def test_no_text_is_refused():
    with pytest.raises(BadWind, match="no wind was typed"):
        parse_wind("  ")


@pytest.mark.parametrize(("speed_mph", "force"), [(10, 3), (4.2, 2), (0.4, 0), (74, 12)])
def test_beaufort_force(speed_mph, force):
    """NWS Beaufort wind scale (weather.gov, Tampa Bay): 8-12 mph is 3, 4-7 is 2, 74 is 12."""
    assert beaufort_force(speed_mph) == force


def test_beaufort_rows_leave_no_gap():
    for low, high in itertools.pairwise(BEAUFORT):
        assert high.low_mph == low.high_mph + 1
