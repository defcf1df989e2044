"""Which unit a table's speeds are in, and what is said where two are told."""

import pytest

from core.errors import BadWeather, NeedsAnswer
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.answers import Answers
from core.weather.files.recognise import read_weather
from core.weather.tables.speed_units import unit_above


def read(head="wind speed", cell="8", above="", more_head="", more="", **answers):
    text = f"{above}time_utc,wind_dir_deg,{head}{more_head}\n2026-11-10 06:00,300,{cell}{more}\n"
    return read_weather(text.encode(), "t.csv", Answers(**answers))


@pytest.mark.parametrize(
    ("line", "unit"),
    [
        ("Wind speed in knots", "kt"),
        ("Units: m/s", "m/s"),
        ("wind: kt", "kt"),
        ("Speeds are given in km/h", "km/h"),
        ("Wind speed (mph)", "mph"),
        ("units, mph", "mph"),
        ("Temperature in C, wind in kt", "kt"),
        ("Wind speed units: m/s", "m/s"),
        # a speed that is told, not the unit of the rows
        ("Warning: gusts over 45 mph", None),
        ("Wind gusts over 45 mph expected", None),
        ("High wind advisory above 30 knots", None),
        ("Wind limit 10 m/s", None),
        ("Speed limit for boats 5 kt", None),
        ("Winds 10 to 15 mph tonight", None),
        ("wind in kt, speed in mph", None),
    ],
)
def test_the_unit_in_a_line_above(line, unit):
    assert unit_above([line]) == unit


def test_a_headline_does_not_turn_knots_into_miles():
    above = "Warning: wind gusts over 45 mph expected\n"
    assert read("wind_kt", above=above).speed_mps[0] == pytest.approx(8 * MPS_PER_KNOT)
    with pytest.raises(NeedsAnswer, match="does not say its unit"):
        read(above=above)


def test_a_line_above_against_the_header_is_asked():
    with pytest.raises(NeedsAnswer, match="'wind_kt' is said to be in kt and in mph") as asked:
        read("wind_kt", above="Wind speed in mph\n")
    assert [c.value for c in asked.value.choices] == ["kt", "mph"]
    hours = read("wind_kt", above="Wind speed in mph\n", speed_unit="mph")
    assert hours.speed_mps[0] == pytest.approx(8 * MPS_PER_MPH)


def test_a_column_of_units_against_the_header_is_asked():
    words = {"more_head": ",unit", "more": ",km/h"}
    with pytest.raises(NeedsAnswer, match="'wind_mph' is said to be in km/h and in mph"):
        read("wind_mph", **words)
    for unit, factor in (("km/h", MPS_PER_KMH), ("mph", MPS_PER_MPH)):
        hours = read("wind_mph", **words, speed_unit=unit)
        assert hours.speed_mps[0] == pytest.approx(8 * factor)
    assert read("wind_kmh", **words).speed_mps[0] == pytest.approx(8 * MPS_PER_KMH)


def test_a_line_of_units_against_the_header_is_refused():
    text = "time_utc,wind_dir_deg,wind_mph\n,,kt\n2026-11-10 06:00,300,8\n"
    with pytest.raises(BadWeather, match="'wind_mph' says mph, and the line below it kt"):
        read_weather(text.encode(), "t.csv")


def test_a_cell_against_its_header_is_told():
    hours = read("wind_mph", "8 kt")
    assert hours.speed_mps[0] == pytest.approx(8 * MPS_PER_KNOT)
    assert "cells of 'wind_mph' were read in the units that they name" in hours.notes


def test_a_gust_in_another_unit_than_its_row_is_told():
    hours = read("wind speed", more_head=",gust_kt,unit", more=",12,mph")
    assert hours.gust_mps[0] == pytest.approx(12 * MPS_PER_KNOT)
    assert "'gust_kt' was read in its own unit, not in that of its row" in hours.notes


@pytest.mark.parametrize(
    "head",
    [
        "wind_kt*10",
        "wind_kt x10",
        "wind speed (kt) ×10",
        "wind speed (0.1 m/s)",
        "wind speed 10*kt",
        "wind speed (tenths of kt)",
        "wind_mps/10",
        "wind speed (1e-1 m/s)",
        "wind speed in 1/10 m/s",
    ],
)
def test_speeds_that_were_multiplied_are_refused(head):
    with pytest.raises(BadWeather, match="are multiplied or divided"):
        read(head)


@pytest.mark.parametrize(
    "head",
    [
        "wind_speed_10m (m/s)",
        "wind speed 10 m (m/s)",
        "WS10M (m/s)",
        "wind speed m/s (10 min)",
        "wind_speed_2min_mps",
    ],
)
def test_other_numbers_in_a_header_are_no_factor(head):
    assert read(f'"{head}"').speed_mps[0] == 8


@pytest.mark.parametrize(
    "head",
    [
        "wind speed change (mph)",
        "wind speed error kt",
        "vertical wind speed (m/s)",
        "wind limit (mph)",
        "yesterday wind mph",
        "wind speed percentile 90 (mph)",
        "log wind (m/s)",
    ],
)
def test_what_is_not_the_wind_of_the_row_is_not_read_as_it(head):
    with pytest.raises(NeedsAnswer) as asked:
        read(head)
    assert asked.value.asks == "columns"


def test_one_component_alone_is_no_speed():
    with pytest.raises(BadWeather, match="no column is known as its wind speed"):
        read("u wind mph")


def test_a_height_in_a_line_above_is_told():
    for line, said in (("Anemometer height: 3 m", "3 m"), ("Wind measured at 20 ft", "6.1 m")):
        notes = read("wind_mph", above=f"{line}\n").notes
        assert f"a line above the table names a height of {said}: read as at 10 m" in notes
    for line in ("Wind measured at 10 m", "Wind sensor at elevation 250 m", "wind at 5 m/s"):
        assert read("wind_mph", above=f"{line}\n").notes == ()
