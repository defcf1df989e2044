"""Out and in again is the same place, within 1e-7 of a degree."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from core.angles import separation_deg
from core.ground.exchange.files import read_foreign, take_all, write_geojson, write_gpx
from tests import ground_files as g
from tests.ground_strategies import documents

LEAST_DEG = 1e-7
FEW = settings(max_examples=40)  # a document holds features of every kind
# any digits, and apart from each other, so that a shape is a shape
longitudes, latitudes = st.floats(-179.9, 180), st.floats(-84, 84)


def places_of(feature: dict) -> list:
    nested = [feature["geometry"]["coordinates"]]
    while isinstance(nested[0], list):
        if not isinstance(nested[0][0], list):
            return nested
        nested = [inner for outer in nested for inner in outer]
    raise AssertionError("no places")


def again(data: bytes, name: str) -> list[dict]:
    return take_all((one, one.kind) for one in read_foreign(data, name))


def assert_same_places(before: dict, after: dict) -> None:
    assert after["geometry"]["type"] == before["geometry"]["type"]
    old, new = places_of(before), places_of(after)
    assert len(new) == len(old)
    for a, b in zip(old, new, strict=True):
        assert separation_deg(a[0], b[0]) <= LEAST_DEG
        assert abs(a[1] - b[1]) <= LEAST_DEG


def drawn(document: dict) -> dict:
    """The document with its rings wound right, as it would be opened."""
    return g.opened(document).document


@FEW
@given(documents().filter(lambda document: document["features"]))
def test_gpx_out_and_in(document):
    document = drawn(document)
    # points go out before lines and areas
    ordered = sorted(document["features"], key=lambda f: f["geometry"]["type"] != "Point")
    for before, after in zip(ordered, again(write_gpx(document), "x.gpx"), strict=True):
        assert_same_places(before, after)
        assert after["properties"]["kind"] == before["properties"]["kind"]


@FEW
@given(documents().filter(lambda document: document["features"]))
def test_geojson_out_and_in(document):
    document = drawn(document)
    features = again(write_geojson(document), "x.geojson")
    for before, after in zip(document["features"], features, strict=True):
        assert_same_places(before, after)
        assert after["id"] == before["id"]
        assert json.dumps(after["properties"]) == json.dumps(before["properties"])


@given(st.lists(st.tuples(longitudes, latitudes), min_size=2, max_size=400, unique=True))
def test_any_line_by_gpx_and_geojson(line):
    line = [list(place) for place in line]
    item = g.feature("way", "corridor", "LineString", line)
    for data in (write_gpx({"features": [item]}), write_geojson({"features": [item]})):
        found = read_foreign(data, "x")
        if len({(round(lon, 6), round(lat, 6)) for lon, lat in line}) < 2:
            continue  # all in one place
        (after,) = take_all((one, "corridor") for one in found)
        assert_same_places({"geometry": {"type": "LineString", "coordinates": line}}, after)


def test_an_area_with_a_hole_and_a_closed_line():
    pond = g.area("pond", "water", g.circle(0, 0, 300), g.square(0, 0, 50), g.square(99, 0, 9))
    fence = [g.lonlat(*place) for place in [*g.square(0, 0, 900), g.square(0, 0, 900)[0]]]
    line = g.feature("fence", "boundary", "LineString", fence)
    document = g.document(pond, line)
    for before, after in zip(document["features"], again(write_gpx(document), "x"), strict=True):
        assert_same_places(before, after)
