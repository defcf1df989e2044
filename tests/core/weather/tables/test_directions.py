"""Which way a table's directions point, and in which unit they count."""

import numpy as np
import pytest

from core.errors import BadWeather, NeedsAnswer
from core.weather.answers import Answers
from core.weather.files.recognise import read_weather
from core.weather.hours import VARIABLE
from core.weather.tables.senses import joint_sense, sense_above, told_sense


def read(head, cells, above="", **answers):
    rows = "".join(f"2026-11-10 {6 + i:02d}:00,{cell},5\n" for i, cell in enumerate(cells))
    text = f'{above}time_utc,"{head}",wind_mph\n{rows}'
    return read_weather(text.encode(), "t.csv", Answers(**answers))


FROM = (
    "wind dir (0 to 360)",
    "wind dir 0 to 360",
    "Wind direction 1-360",
    "wind_dir_0_to_360_deg",
    "wind direction relative to true north",
    "wind direction to the nearest 10 degrees",
    "wind direction, referred to north",
    "wind dir (0 = calm, 1 to 360)",
    "wind dir",
    "wind direction rounded to 10 degrees",
    "wind direction (from 0 to 360)",
    "windDirection",
    "wind direction, clockwise from true north",
    "Direction the wind is coming from",
    "wind direction to true north",
    "wind direction averaged from 10 to 20 minutes",
)
TOWARD = (
    "wind direction toward",
    "blowing_to_deg",
    "wind blowing to",
    "wind_to",
    "windTo",
    "direction to which the wind blows",
    "wind dir (blowing into)",
    "wind towards (true)",
    "downwind direction",
    "wind direction (oceanographic)",
    "direction the wind is going to",
    "wind_to_10m",
    "wind blowing to (° true)",
    "air to",
    "Windrichtung nach",
    "leeward direction of wind",
)
OPEN = (
    "wind dir (to)",
    "wind direction into",
    "wind dir to or from",
    "flow direction",
    "wind from, blowing to",
    "wind drift direction",
    "wind direction blown",
    "Wind Direction (blows)",
    "wind direction (in which the wind blows)",
    "wind set (deg)",
    "direction of travel of the wind",
)


@pytest.mark.parametrize("head", FROM)
def test_a_to_that_says_nothing_of_the_wind_is_no_toward(head):
    assert told_sense(head) in ("from", "")
    assert read(head, [300, 310]).wind_from_deg.tolist() == [300, 310]


@pytest.mark.parametrize("head", TOWARD)
def test_words_that_say_where_the_wind_goes(head):
    assert told_sense(head) == "toward"
    if "wind" in head or "direction" in head:
        hours = read(head, [300, 310])
        assert hours.wind_from_deg.tolist() == [120, 130]
        assert any("says where the wind goes: turned about" in n for n in hours.notes)


@pytest.mark.parametrize("head", OPEN)
def test_what_stays_in_doubt_is_asked(head):
    assert told_sense(head) == "open"
    with pytest.raises(NeedsAnswer, match="where the wind comes from or where it goes") as asked:
        read(head, [300, 310])
    assert asked.value.asks == "direction_sense"
    assert [c.means for c in asked.value.choices] == [
        "where the wind comes from: line 2 is from WNW",
        "where it goes: line 2 is from ESE",
    ]
    assert read(head, [300], direction_sense="from").wind_from_deg.tolist() == [300]
    assert read(head, [300], direction_sense="toward").wind_from_deg.tolist() == [120]


@pytest.mark.parametrize(
    ("line", "sense"),
    [
        ("Directions are those toward which the wind blows.", "toward"),
        ("Wind direction: the direction into which the wind blows", "toward"),
        ("Directions are those from which the wind blows.", "from"),
        ("Direction is toward.", "toward"),
        ("Wind direction shifting toward the north tonight", "open"),
        ("Wind to shift into the north", ""),
        ("Wind direction 0 to 360", ""),
    ],
)
def test_lines_above_may_tell_it(line, sense):
    assert sense_above([line]) == sense
    if sense == "toward":
        assert read("wind dir", [300], above=f"{line}\n").wind_from_deg.tolist() == [120]


def test_two_that_differ_are_in_doubt():
    assert joint_sense("from", "toward") == "open"
    assert joint_sense("toward", "toward") == "toward"
    assert joint_sense("", "") == "from"


# --- units ---


@pytest.mark.parametrize(
    ("cells", "unit", "degrees"),
    [
        (("01", "27", "36"), "tens", [10, 270, 0]),
        (("1", "27", "36"), "deg", [1, 27, 36]),
        (("0.1", "3.1416", "6.2832"), "rad", [5.73, 180.0, 0.0]),
        (("0.25", "0.5", "1"), "turns", [90, 180, 0]),
        (("0", "4", "15"), "sixteenths", [0, 90, 337.5]),
        (("1", "5", "16"), "sixteenths-1", [0, 90, 337.5]),
        (("0", "2", "7"), "eighths", [0, 90, 315]),
        (("1", "3", "8"), "eighths-1", [0, 90, 315]),
    ],
)
def test_numbers_of_36_or_less_are_asked_about(cells, unit, degrees):
    with pytest.raises(NeedsAnswer, match="the directions in 'wind dir' go no further") as asked:
        read("wind dir", cells)
    assert asked.value.asks == "direction_unit"
    assert unit in [c.value for c in asked.value.choices]
    hours = read("wind dir", cells, direction_unit=unit)
    apart = (hours.wind_from_deg - np.array(degrees) + 180) % 360 - 180
    np.testing.assert_allclose(apart, 0, atol=0.01)


def test_only_units_that_fit_are_offered():
    def offered(*cells):
        with pytest.raises(NeedsAnswer) as asked:
            read("wind dir", cells)
        return {c.value for c in asked.value.choices}

    assert offered("27", "36") == {"deg", "tens"}
    assert offered("2.5", "6.1") == {"deg", "rad"}
    assert offered("0.2", "0.9") == {"deg", "rad", "turns"}
    assert "sixteenths" in offered("0", "12") and "eighths" not in offered("0", "12")


def test_numbers_beyond_36_are_degrees():
    assert read("wind dir", [10, 20, 37]).wind_from_deg.tolist() == [10, 20, 37]


def test_a_light_wind_without_direction_is_not_asked_about():
    assert read("wind dir", [0, 0]).wind_from_deg.tolist() == [0, 0]
    assert read("wind dir", ["NW", "N"]).wind_from_deg.tolist() == [315, 0]


@pytest.mark.parametrize(
    ("head", "cells", "degrees"),
    [
        ("wind dir (tens of degrees)", [1, 27], [10, 270]),
        ("wind dir (10s of degrees)", [1, 27], [10, 270]),
        ("wind dir (deg x 10)", [1, 27], [10, 270]),
        ("wind dir (rad)", [1.5708, 3.1416], [90, 180]),
        ("wind dir (turns)", [0.25, 0.5], [90, 180]),
    ],
)
def test_a_header_tells_the_unit(head, cells, degrees):
    hours = read(head, cells)
    np.testing.assert_allclose(hours.wind_from_deg, degrees, atol=0.01)
    assert any("was read in" in n for n in hours.notes)


def test_degrees_that_are_all_small_are_read_as_such_and_told():
    hours = read("wind_dir_deg", [10, 27])
    assert hours.wind_from_deg.tolist() == [10, 27]
    assert any("all directions are 36 or less: degrees" in n for n in hours.notes)


def test_a_rounding_to_tens_is_no_unit_of_tens():
    for head in ("wind dir (to the nearest 10 degrees)", "wind dir rounded to tens, deg"):
        assert read(head, [20, 350]).wind_from_deg.tolist() == [20, 350]
    assert read("wind dir in tens", [20, 350]).wind_from_deg.tolist() == [20, 350]


def test_99_tens_are_variable():
    hours = read("wind dir (tens of degrees)", [99, 27])
    assert hours.state[0] == VARIABLE and hours.wind_from_deg[1] == 270


def test_numbers_too_large_for_their_unit_are_refused():
    with pytest.raises(BadWeather, match="goes up to 12, too far for radians"):
        read("wind dir (rad)", [1.5, 12])


@pytest.mark.parametrize(
    ("head", "seen"),
    [
        ("wind dir (°M)", "magnetic north"),
        ("wind dir (deg mag)", "magnetic north"),
        ("wind_dir_degM", "magnetic north"),
        ("Wind Direction Magnetic", "magnetic north"),
        ("wind dir (gon)", "in gons"),
        ("wind dir (mils)", "in mils"),
        ("wind dir grads", "in gons"),
        ("wind dir, counterclockwise", "not counted clockwise"),
        ("wind dir (math, from east)", "not counted clockwise"),
        ("wind direction from S", "not counted clockwise"),
        ("wind direction (deg, 0=E)", "not counted clockwise"),
        ("wind direction (deg E of N)", "not counted clockwise"),
    ],
)
def test_directions_of_another_make_are_refused(head, seen):
    with pytest.raises(BadWeather, match=seen):
        read(head, [100, 200])


def test_magnetic_in_a_line_above_is_refused():
    with pytest.raises(BadWeather, match=r"its direction counts from magnetic north"):
        read("wind dir", [100, 200], above="Directions are magnetic\n")


def test_true_is_true():
    for head in ("wind dir (°T)", "wind dir (deg true)", "wind dir (degT)"):
        assert read(head, [100, 200]).wind_from_deg.tolist() == [100, 200]


def test_a_word_that_is_not_known_is_told():
    """It may change what the column holds."""
    for head in ("wind dir (smoothed)", "wind dir (grid north)"):
        assert f"'{head}' was taken as the wind direction" in read(head, [100, 200]).notes
    for head in ("Wind Dir (°T)", "wind direction (10 min mean)", "wdir_10m", "wind_dir_deg"):
        assert read(head, [100, 200]).notes == ()


def test_magnetic_north_in_a_line_above_that_says_nothing_sure_is_told():
    hours = read("wind dir", [100, 200], above="Magnetic declination 8 W\n")
    assert any("a line above the table speaks of magnetic north" in n for n in hours.notes)


def test_two_directions_that_point_to_different_sides_are_asked():
    rows = "".join(f"2026-11-10 {h:02d}:00,SW,{45 + h},5\n" for h in range(4))
    data = f"time_utc,wind dir,wind dir deg,wind_mph\n{rows}".encode()
    with pytest.raises(NeedsAnswer, match="point to different sides") as asked:
        read_weather(data, "t.csv", Answers())
    assert asked.value.asks == "columns"
    hours = read_weather(data, "t.csv", Answers(columns=(("from", "wind dir"),)))
    assert set(hours.wind_from_deg) == {225.0}
    alike = data.replace(b",4", b",22")
    assert read_weather(alike, "t.csv", Answers()).wind_from_deg.tolist() == [225, 226, 227, 228]
