"""Places typed latitude first, as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadProperty
from core.ground.latlon import places_from_text, text_from_places


@pytest.mark.parametrize(
    "text",
    [
        "36.1, -79.9",
        "36.1 -79.9",
        "(36.1,-79.9)",
        "36.1; -79.9",
        "36.1N 79.9W",
        "36.1° N, 79.9° W",
        "79.9 W, 36.1 N",
        "\n  36.1 , -79.9  \n\n",
    ],
)
def test_ways_to_write_one_place(text):
    assert places_from_text(text, "Point") == {"type": "Point", "coordinates": [-79.9, 36.1]}


def test_an_area_is_closed_once():
    text = "36.1,-79.9\n36.2,-79.9\n36.2,-79.8"
    ring = [[-79.9, 36.1], [-79.9, 36.2], [-79.8, 36.2], [-79.9, 36.1]]
    assert places_from_text(text, "Polygon")["coordinates"] == [ring]
    assert places_from_text(f"{text}\n36.1,-79.9", "Polygon")["coordinates"] == [ring]


@pytest.mark.parametrize(
    ("text", "shape", "said"),
    [
        ("36.1, -79.9\nby the oak", "LineString", 'line 2: "by the oak"'),
        ("-79.9, 186.1", "Point", "longitude 186.1"),
        ("136.1, -79.9", "Point", "latitude 136.1"),
        ("36.1, -79.9", "LineString", "1 places"),
        ("36.1, -79.9\n36.2, -79.9", "Polygon", "2 places"),
        ("36.1, -79.9\n36.2, -79.9", "Point", "2 places"),
        ("", "Point", "0 places"),
        ("36.1", "Point", '"36.1"'),
    ],
)
def test_what_is_no_place(text, shape, said):
    with pytest.raises(BadProperty, match=said):
        places_from_text(text, shape)


degrees = st.tuples(st.integers(-180 * 10**7, 180 * 10**7), st.integers(-90 * 10**7, 90 * 10**7))
places = st.lists(degrees.map(lambda p: [p[0] / 1e7, p[1] / 1e7]), min_size=3, unique_by=tuple)


@given(places)
def test_out_and_in_again_is_the_same(line):
    for geometry in (
        {"type": "Point", "coordinates": line[0]},
        {"type": "LineString", "coordinates": line},
        {"type": "Polygon", "coordinates": [[*line, line[0]]]},
    ):
        assert places_from_text(text_from_places(geometry), geometry["type"]) == geometry
