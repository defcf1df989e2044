"""Files that say where they are for are held to the ground they are brought to."""

import json
import math

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadWeather, NeedsAnswer
from core.weather.answers import Answers
from core.weather.elsewhere import apart_miles, elsewhere_words, for_ground, is_elsewhere
from core.weather.files.history import read_history
from core.weather.files.recognise import read_weather
from core.weather.hours import make_hours
from core.weather.reading.spots import middle_of, spot_of
from tests.weather_server import grid_body, meteo_body

GROUND = (-79.69, 35.93)
SYDNEY, FAIRBANKS = (151.21, -33.87), (-147.72, 64.84)
MILE_M = 1609.344  # international mile, exact


def toward(bearing_deg: float, miles: float):
    end = Geodesic.WGS84.Direct(GROUND[1], GROUND[0], bearing_deg, miles * MILE_M)
    return end["lon2"], end["lat2"]


def hours_of(spot):
    return make_hours(
        start_s=[0], speed_mps=3.0, wind_from_deg=300.0, half_width_deg=5.0, spot=spot
    )


@given(st.floats(-179, 179), st.floats(-89, 89), st.floats(-179, 179), st.floats(-89, 89))
def test_distance_against_the_geodesic(lon_a, lat_a, lon_b, lat_b):
    # a sphere of the mean radius is within 0.6 % of the ellipsoid (WGS84 flattening 1/298)
    geodesic = Geodesic.WGS84.Inverse(lat_a, lon_a, lat_b, lon_b)["s12"] / MILE_M
    assert apart_miles((lon_a, lat_a), (lon_b, lat_b)) == pytest.approx(geodesic, rel=6e-3, abs=0.1)


@pytest.mark.parametrize(
    ("miles", "said", "asked"),
    [
        (0.0, False, False),
        (4.9, False, False),
        (5.1, True, False),
        (29.8, True, False),
        (30.2, True, True),
    ],
)
def test_near_by_nothing_is_said_then_it_is_said_and_far_off_it_is_asked(miles, said, asked):
    hours = hours_of(toward(45.0, miles))
    if asked:
        with pytest.raises(NeedsAnswer, match="30 miles NE of this ground") as question:
            for_ground(hours, GROUND, "f.json", Answers())
        assert question.value.asks == "elsewhere"
        assert [choice.value for choice in question.value.choices] == ["use", "leave"]
        assert "--elsewhere" in question.value.text()
        return
    notes = for_ground(hours, GROUND, "f.json", Answers()).notes
    assert bool(notes) == said
    if said:
        assert f"{miles:.0f} miles NE of this ground" in notes[0]


def test_an_answer_uses_it_with_a_note_or_leaves_it():
    used = for_ground(hours_of(SYDNEY), GROUND, "f.json", Answers(elsewhere="use"))
    assert "miles" in used.notes[0] and "(-33.87, 151.21)" in used.notes[0]
    with pytest.raises(BadWeather, match="Bring one for this ground"):
        for_ground(hours_of(SYDNEY), GROUND, "f.json", Answers(elsewhere="leave"))


def test_a_file_that_does_not_say_where_it_is_for_is_taken_as_it_is():
    assert for_ground(hours_of(None), GROUND, "f.csv", Answers()).notes == ()


def test_swapped_coordinates_are_named_so_and_no_place_on_earth_is_far():
    words = elsewhere_words((GROUND[1], GROUND[0]), GROUND)
    assert words.endswith("with latitude and longitude swapped")
    assert "swapped" not in elsewhere_words(SYDNEY, GROUND)
    assert is_elsewhere((35.93, -100.0), GROUND)
    assert "no place on earth" in elsewhere_words((35.93, -100.0), GROUND)


def test_a_place_across_the_date_line_is_near():
    assert apart_miles((179.95, -16.8), (-179.95, -16.8)) < 10
    words = elsewhere_words((-179.9, -16.8), (179.9, -16.8))
    assert words.startswith("it is for a place 13 miles E ")


def square(lon: float, lat: float, half: float = 0.0125):
    west, east, south, north = lon - half, lon + half, lat - half, lat + half
    ring = [[west, south], [east, south], [east, north], [west, north], [west, south]]
    return {"type": "Polygon", "coordinates": [ring]}


POINT = {"type": "Point", "coordinates": [*FAIRBANKS, 133]}
BOTH = {"type": "GeometryCollection", "geometries": [POINT, square(*FAIRBANKS)]}


@pytest.mark.parametrize(
    "geometry", [square(*FAIRBANKS), POINT, BOTH], ids=["area", "point", "both"]
)
def test_the_middle_of_a_forecast_s_cell(geometry):
    assert middle_of(geometry) == pytest.approx(FAIRBANKS)


@pytest.mark.parametrize(
    "geometry", [None, "x", {}, {"coordinates": [[["a", 1]]]}, {"coordinates": 5}]
)
def test_a_geometry_that_tells_no_place(geometry):
    assert middle_of(geometry) is None


@pytest.mark.parametrize("pair", [(None, 1), ("", ""), (math.nan, 3), ("x", 3), (math.inf, 3)])
def test_words_that_are_no_place(pair):
    assert spot_of(*pair) is None
    assert spot_of("-79.5", " 36.0 ") == (-79.5, 36.0)


def nws_periods(geometry):
    period = {
        "startTime": "2026-11-10T06:00:00-05:00",
        "endTime": "2026-11-10T07:00:00-05:00",
        "windSpeed": "8 mph",
        "windDirection": "NW",
    }
    return {"type": "Feature", "geometry": geometry, "properties": {"periods": [period]}}


METEO_CSV = (
    "latitude,longitude,elevation,utc_offset_seconds,timezone,timezone_abbreviation\n"
    "64.84,-147.72,133.0,0,GMT,GMT\n\n"
    "time,wind_speed_10m (mp/h),wind_direction_10m (°)\n"
    "2026-11-10T06:00,8,300\n2026-11-10T07:00,8,300\n"
)


@pytest.mark.parametrize(
    "data",
    [
        json.dumps(meteo_body(place=FAIRBANKS)),
        json.dumps(grid_body() | {"geometry": square(*FAIRBANKS)}),
        json.dumps(nws_periods(square(*FAIRBANKS))),
        METEO_CSV,
    ],
    ids=["open-meteo", "gridpoint", "periods", "open-meteo csv"],
)
def test_forecasts_say_where_they_are_for(data):
    assert read_weather(data.encode()).spot == pytest.approx(FAIRBANKS)


def test_a_station_s_reports_say_where_it_stands():
    head = '"STATION","DATE","LATITUDE","LONGITUDE","NAME","REPORT_TYPE","WND"\n'
    row = '"72317013723","2023-11-10T06:54:00","36.0969","-79.9432","GREENSBORO","FM-15",'
    data = (head + row + '"300,5,N,0036,5"\n').encode()
    assert read_history([(data, "g.csv")]).spot == pytest.approx((-79.9432, 36.0969))
