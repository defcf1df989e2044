"""The two forecast readers and the typical year, on bodies of our own."""

import datetime
import json
import math

import pytest

from core.errors import BadWeather
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.files.recognise import read_weather
from core.weather.files.typical import typical_hours, typical_year
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE


def grid(**layers):
    body = {
        "updateTime": "2026-11-09T18:00:00+00:00",
        "windSpeed": {
            "uom": "wmoUnit:km_h-1",
            "values": [
                {"validTime": "2026-11-10T05:00:00+00:00/PT1H", "value": 9.26},
                {"validTime": "2026-11-10T06:00:00+00:00/PT3H", "value": 0},
                {"validTime": "2026-11-10T09:00:00+00:00/PT2H", "value": None},
            ],
        },
        "windDirection": {
            "uom": "wmoUnit:degree_(angle)",
            "values": [
                {"validTime": "2026-11-10T05:00:00+00:00/PT6H", "value": 0},
            ],
        },
        "windGust": {"values": []},
    }
    return json.dumps({"properties": body | layers}).encode()


def meteo(**changes):
    body = {
        "utc_offset_seconds": -14400,
        "timezone": "America/New_York",
        "hourly_units": {"wind_speed_10m": "km/h", "wind_gusts_10m": "mp/h"},
        "hourly": {
            "time": ["2026-11-01T00:00", "2026-11-01T01:00", "2026-11-01T02:00"],
            "wind_speed_10m": [18.0, 0.0, None],
            "wind_direction_10m": [0, 180, 90],
            "wind_gusts_10m": [5.0, 9.0, None],
        },
    }
    return json.dumps(body | changes).encode()


def test_gridpoint_intervals_are_expanded_and_zero_is_north():
    hours = read_weather(grid())
    assert list(hours.state) == [DIRECTED, CALM, CALM, CALM, MISSING, MISSING]
    assert hours.wind_from_deg[0] == 0.0
    assert hours.speed_mps[0] == pytest.approx(5 * MPS_PER_KNOT, rel=1e-6)
    assert list(hours.block_h) == [1, 3, 3, 3, 2, 2]
    assert math.isnan(hours.gust_mps[0])
    assert "2 hours missing" in hours.notes


def test_gridpoint_with_an_unknown_unit_is_refused():
    layer = {
        "uom": "wmoUnit:furlong_h-1",
        "values": [{"validTime": "2026-11-10T05:00:00+00:00/PT1H", "value": 1}],
    }
    with pytest.raises(BadWeather, match="furlong_h-1"):
        read_weather(grid(windSpeed=layer))


@pytest.mark.parametrize("length", ["PT", "PT9999H", "soon"])
def test_gridpoint_with_a_broken_interval_is_refused(length):
    layer = {
        "uom": "wmoUnit:km_h-1",
        "values": [{"validTime": f"2026-11-10T05:00:00+00:00/{length}", "value": 1}],
    }
    with pytest.raises(BadWeather, match="interval"):
        read_weather(grid(windSpeed=layer))


def test_open_meteo_times_are_moved_by_the_one_offset():
    hours = read_weather(meteo())
    first = datetime.datetime(2026, 11, 1, 4, tzinfo=datetime.UTC).timestamp()
    assert list(hours.start_s) == [first, first + 3600, first + 7200]
    assert list(hours.state) == [DIRECTED, CALM, MISSING]
    assert hours.speed_mps[0] == pytest.approx(18 * MPS_PER_KMH)
    assert hours.gust_mps[0] == pytest.approx(18 * MPS_PER_KMH)  # 5 mph is below the wind
    assert hours.gust_mps[1] == pytest.approx(9 * MPS_PER_MPH)
    assert "1 gust below the wind raised to it" in hours.notes[0]


@pytest.mark.parametrize(
    ("data", "seen"),
    [
        (b"", "empty"),
        (b"<html>sign in</html>", "web page"),
        (b'{"a": 1}', "not a forecast"),
        (b'{"hourly": {"time": []}}', "no hours"),
        (b'{"error": true, "reason": "no such place"}', "no such place"),
        (meteo(hourly_units={"wind_speed_10m": "paces"}), "paces"),
        (meteo(utc_offset_seconds=None), "utc_offset_seconds"),
        (meteo(hourly={"time": ["2026-11-01T00:00"], "windspeed_80m": [1]}), "windspeed_80m"),
        (meteo()[:200], "not a forecast"),
    ],
)
def test_what_is_no_forecast_is_refused(data, seen):
    with pytest.raises(BadWeather, match=seen):
        read_weather(data)


def test_the_typical_year_is_the_one_pvlib_ships():
    """Counts of 723170TYA.CSV (NSRDB TMY3): 1,050 calm, 8 undefined, 210 north."""
    year = typical_year()
    assert len(year) == 8760
    assert (year.state == CALM).sum() == 1050
    assert (year.state == VARIABLE).sum() == 8
    assert (year.wind_from_deg == 0).sum() == 210
    # the first label, 01:00, ends the hour that starts at midnight, 5 h behind UTC
    first = datetime.datetime(2001, 1, 1, 5, tzinfo=datetime.UTC).timestamp()
    assert year.start_s[0] == first


def test_a_typical_day_is_that_calendar_day_with_labels_moved_back():
    """The file's row 11/10 01:00 is the hour that starts at 00:00 standard time."""
    from pathlib import Path

    import pvlib

    path = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    lines = path.read_text(encoding="ascii").splitlines()[1:]
    names = lines[0].split(",")
    row = next(x.split(",") for x in lines[1:] if x.startswith("11/10/") and ",01:00," in x)
    speed = float(row[names.index("Wspd (m/s)")])
    warm = float(row[names.index("Dry-bulb (C)")])
    hours = typical_hours(datetime.date(2026, 11, 10))
    midnight = datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp()
    at = list(hours.start_s).index(int(midnight))
    assert hours.speed_mps[at] == pytest.approx(speed)
    assert hours.temperature_c[at] == pytest.approx(warm)
    assert hours.temperature_c[at - 1] != pytest.approx(warm)


def test_a_leap_day_uses_the_day_before():
    leap = typical_hours(datetime.date(2028, 2, 29))
    usual = typical_hours(datetime.date(2027, 2, 28))
    assert list(leap.speed_mps[24:48]) == list(usual.speed_mps[24:48])


def test_directions_in_another_unit_are_refused():
    layer = {
        "uom": "wmoUnit:rad",
        "values": [{"validTime": "2026-11-10T05:00:00+00:00/PT1H", "value": 1.5}],
    }
    with pytest.raises(BadWeather, match="windDirection is in 'wmoUnit:rad'"):
        read_weather(grid(windDirection=layer))
    units = {"wind_speed_10m": "km/h", "wind_direction_10m": "rad"}
    with pytest.raises(BadWeather, match="directions are in 'rad'"):
        read_weather(meteo(hourly_units=units))


def test_a_truth_value_is_no_wind():
    layer = {
        "uom": "wmoUnit:km_h-1",
        "values": [{"validTime": "2026-11-10T05:00:00+00:00/PT1H", "value": True}],
    }
    with pytest.raises(BadWeather, match="windSpeed has the value True"):
        read_weather(grid(windSpeed=layer))
    hourly = {"time": ["2026-11-01T00:00"], "wind_speed_10m": [True], "wind_direction_10m": [9]}
    with pytest.raises(BadWeather, match="wind_speed_10m holds something that is no number"):
        read_weather(meteo(hourly=hourly))
