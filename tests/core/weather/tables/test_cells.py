"""Cells, headers and times of tables, as people write them."""

import math

import numpy as np
import pytest

from core.errors import BadRequest, BadWeather, NeedsAnswer
from core.units import MPS_PER_KNOT
from core.weather.answers import Answers, unit_word, zone_of
from core.weather.clocks.stamps import parse_stamp
from core.weather.files.recognise import read_weather
from core.weather.tables.cells import (
    half_width_of_degrees,
    half_width_of_labels,
    read_direction,
    read_number,
    read_speed,
)
from core.weather.tables.headers import read_column
from core.weather.tables.metar import read_metar


@pytest.mark.parametrize(
    ("cell", "low", "high", "gust", "unit"),
    [
        ("6", 6, 6, None, None),
        ("11,2", 11.2, 11.2, None, None),
        ("5 to 10 mph", 5, 10, None, "mph"),
        ("5-10", 5, 10, None, None),
        ("12 km/h", 12, 12, None, "km/h"),
        ("10G20KT", 10, 10, 20, "kt"),
        ("8 mph gusting to 15 mph", 8, 8, 15, "mph"),
        ("8 m s-1", 8, 8, None, "m/s"),
        ("8 miles per hour", 8, 8, None, "mph"),
        ("around 5 mph", 5, 5, None, "mph"),
        ("calm", 0, 0, None, None),
        ("-2", -2, -2, None, None),
    ],
)
def test_speeds(cell, low, high, gust, unit):
    speed = read_speed(cell)
    assert (speed.low, speed.high, speed.unit) == (low, high, unit)
    assert speed.gust == gust if gust is not None else math.isnan(speed.gust)


@pytest.mark.parametrize("cell", ["5 furlongs", "10-5", "5..3", "fast", "5 mph 3 kt", "1,008"])
def test_what_is_no_speed(cell):
    assert read_speed(cell) is None


@pytest.mark.parametrize("cell", ["", "M", "n/a", "--", "-9999", "NaN", "missing"])
def test_marks_of_no_value(cell):
    assert math.isnan(read_number(cell))
    assert read_direction(cell).word == "missing"


@pytest.mark.parametrize(
    ("cell", "degrees"),
    [
        ("nnw", 337.5),
        ("North", 0),
        ("West-Northwest", 292.5),
        (" WSW ", 247.5),
        ("270°", 270),
        ("045", 45),
        ("from the NW", 315),
        ("NW (315°)", 315),
        ("SW 230", 230),
        ("12,5", 12.5),
        ("southwesterly", 225),
        ("northern", 0),
    ],
)
def test_directions(cell, degrees):
    assert read_direction(cell).wind_from_deg == degrees


@pytest.mark.parametrize("cell", ["NNN", "NW 10", "NO", "45%", "up", "N/E/S"])
def test_what_is_no_direction(cell):
    assert read_direction(cell) is None


def test_half_widths_are_told_by_the_file():
    assert half_width_of_labels(["N", "NW", "NNW"]) == 11.25
    assert half_width_of_labels(["N", "NW"]) == 22.5
    assert half_width_of_degrees([315.0, 292.5]) == 11.25
    assert half_width_of_degrees([45.0, 315.0] * 12) == 22.5
    assert half_width_of_degrees([45.0, 315.0]) == 5
    assert half_width_of_degrees([90.0, 180.0] * 20) == 5
    assert half_width_of_degrees([]) == 5


@pytest.mark.parametrize(
    ("word", "unit"),
    [
        ("mp/h", "mph"),
        ("MPH", "mph"),
        ("kn", "kt"),
        ("Knots", "kt"),
        ("m s**-1", "m/s"),
        ("ms", "m/s"),
        ("m_s-1", "m/s"),
        ("km_h-1", "km/h"),
        ("kph", "km/h"),
        ("furlong", None),
        ("m", None),
        ("", None),
    ],
)
def test_units(word, unit):
    assert unit_word(word) == unit


@pytest.mark.parametrize(
    ("name", "role", "unit"),
    [
        ("wind_dir_deg", "direction", None),
        ("Windrichtung (Grad)", "direction", None),
        ("Wind (°)", "direction", None),
        ("wdir", "direction", None),
        ("Wind Speed [m/s]", "speed", "m/s"),
        ("windSpeedMPH", "speed", "mph"),
        ("wind_speed_m_s", "speed", "m/s"),
        ("sknt", "speed", "kt"),
        ("Wind (mph)", "speed", "mph"),
        ("wspd", "speed", None),
        ("Böen (km/h)", "gust", "km/h"),
        ("Gust (knots)", "gust", "kt"),
        ("u10", "u", None),
        ("eastward_wind (m s-1)", "u", "m/s"),
        ("temperature_2m (°F)", "temperature", "F"),
        ("metar", "metar", None),
        ("precip_mm", "rain", "mm"),
        ("Rain [mm/h]", "rain", "mm"),
        ("Precip (in)", "rain", "in"),
        ("precipitation_in", "rain", "in"),
        ("Rain in inches", "rain", "in"),
        ("Precip. (in. per hour)", "rain", "in"),
        ("precip in/hr", "rain", "in"),
        ("1-hr precip (in)", "rain", "in"),
        ("Rain in mm", "rain", "mm"),
        ('Rain (")', "rain", "in"),
        # no depth of this hour
        ("Rain", "", None),
        ("Rain of a day in the north", "", None),
        ("Precip accumulated (in)", "", None),
        ("precip_24h_in", "", None),
        # about wind, and not what is needed
        ("Wind chill", "", None),
        ("Max wind speed", "", None),
        ("Wind Gust Dir", "", None),
        ("wind_speed_sd", "", None),
        ("note", "", None),
    ],
)
def test_header_words(name, role, unit):
    column = read_column(0, name)
    assert (column.role, column.unit) == (role, unit)


def test_what_a_header_adds():
    assert read_column(0, "wind_speed_80m (km/h)").height_m == 80
    assert read_column(0, "wind speed 33 ft (mph)").height_m == pytest.approx(10.06, abs=0.01)


@pytest.mark.parametrize(
    ("cell", "date", "seconds"),
    [
        ("2026-10-12T06:00Z", (2026, 10, 12), 21600),
        ("20261012 0600", (2026, 10, 12), 21600),
        ("202610120600", (2026, 10, 12), 21600),
        ("12-Oct-2026 06:00", (2026, 10, 12), 21600),
        ("Mon Oct 12, 2026 6:00 AM", (2026, 10, 12), 21600),
        ("2026/10/12 12:15 AM", (2026, 10, 12), 900),
        ("2026/10/12 12:15 p.m.", (2026, 10, 12), 44100),
        ("2026-10-12 24:00", (2026, 10, 12), 86400),
        ("2026-10-12 06:00:30.5", (2026, 10, 12), 21630),
        ("2026-10-12 700", (2026, 10, 12), 25200),
        ("2026-10-12", (2026, 10, 12), None),
    ],
)
def test_times(cell, date, seconds):
    stamp = parse_stamp(cell)
    assert (stamp.year, stamp.first, stamp.second) == date
    assert stamp.seconds == seconds


@pytest.mark.parametrize(
    "cell",
    [
        "",
        "soon",
        "2026-10-12 24:30",
        "2026-10-12 13:00 PM",
        "2026-10-12 06:0",
        "2026-10-12 25:00",
        "2026-10-12 06:00 XYZ",
    ],
)
def test_what_is_no_time(cell):
    stamp = parse_stamp(cell)
    assert stamp is None


@pytest.mark.parametrize(
    ("text", "hours"),
    [("EST", -5), ("utc", 0), ("-05:00", -5), ("+0530", 5.5), ("UTC-5", -5), ("GMT+1", 1)],
)
def test_zones(text, hours):
    assert zone_of(text).utcoffset(None).total_seconds() == hours * 3600


@pytest.mark.parametrize("text", ["", "+25:00", "Mars/Base", "XST", "../etc", "-05:75"])
def test_what_is_no_zone(text):
    with pytest.raises(BadRequest, match="is no time zone"):
        zone_of(text)


def test_metar():
    wind = read_metar("KZZZ 120551Z AUTO 28014G22KT 240V310 10SM RMK PK WND 30035/0520")
    assert (wind.wind_from_deg, wind.half_width_deg, wind.speed, wind.gust) == (280, 40, 14, 22)
    assert math.isnan(read_metar("KZZZ 120551Z VRB03KT").wind_from_deg)
    assert math.isnan(read_metar("KZZZ 120551Z /////KT").speed)
    assert read_metar("SPECI EZZZ 120551Z 35003MPS").special
    for text in ("TAF KZZZ 120551Z 1206/1306 28014KT", "KZZZ 120551Z 10SM", "2801KT"):
        assert read_metar(text) is None


def table(*rows, head="time_utc,wind_dir_deg,wind_kt"):
    return "\n".join([head, *rows, ""]).encode()


def test_a_thousand_is_not_one():
    hours = read_weather(table('2026-10-12 06:00,45,"1,008"', "2026-10-12 07:00,45,8"))
    assert hours.speed_mps.tolist() == [pytest.approx(8 * MPS_PER_KNOT)]
    assert "line 2: '1,008' is no speed" in hours.notes[0]


def test_magnetic_north_is_refused():
    with pytest.raises(BadWeather, match="counts from magnetic north"):
        read_weather(table("2026-10-12 06:00,45,8", head="time_utc,wind dir (magnetic),wind_kt"))


def test_spaces_that_do_not_break():
    hours = read_weather(table("2026-10-12\u00a006:00,45\u00a0°,8"))
    assert hours.wind_from_deg.tolist() == [45]


def test_a_minus_zero_is_calm():
    hours = read_weather(table("2026-10-12 06:00,45,-0", "2026-10-12 07:00,45,3"))
    assert not np.signbit(hours.speed_low_mps[0])


def test_where_nothing_blows_no_unit_is_asked():
    calm = table("2026-10-12 06:00,0,0", head="time_utc,wdir,wspd")
    assert read_weather(calm).speed_mps.tolist() == [0]
    with pytest.raises(NeedsAnswer, match="'wspd' does not say its unit"):
        read_weather(table("2026-10-12 06:00,90,5", head="time_utc,wdir,wspd"), "t", Answers())


@pytest.mark.parametrize("offset", ["-05", "-0500", "-05:00"])
def test_an_offset_of_any_length_is_the_cells_own(offset):
    hours = read_weather(table(f"2026-10-12T06:00{offset},45,8"))
    assert hours.start_s[0] == np.datetime64("2026-10-12T11", "s").astype(int)
