"""GeoJSON of other programs in, and what is made of what came in."""

import json

import pytest

from core.errors import BadProperty
from core.ground.exchange.as_features import free_id
from core.ground.exchange.files import BadMap, read_foreign, take, take_all, unsuited
from core.ground.kinds import KINDS
from tests import ground_files as g

POINT = {"type": "Point", "coordinates": [-79.9, 36.1]}
LINE = {"type": "LineString", "coordinates": [[-79.9, 36.1], [-79.8, 36.2, 230]]}
RING = [[-79.9, 36.1], [-79.8, 36.1], [-79.8, 36.2], [-79.9, 36.1]]
AREA = {"type": "Polygon", "coordinates": [RING]}


def read(document) -> list:
    return read_foreign(json.dumps(document).encode(), "gis.geojson")


def feature(geometry, **properties) -> dict:
    return {"type": "Feature", "id": 7, "geometry": geometry, "properties": properties}


def collection(*features) -> dict:
    return {"type": "FeatureCollection", "features": list(features)}


def only(geometry, **properties):
    (one,) = read(collection(feature(geometry, **properties)))
    return one


def test_features_of_another_program():
    point, line, area = read(
        collection(
            feature(POINT, Name="Oak", OBJECTID=3), feature(LINE, title="Way"), feature(AREA)
        )
    )
    assert (point.name, point.points, point.kind) == ("Oak", ((-79.9, 36.1),), "")
    assert (line.name, line.kind) == ("Way", "")
    assert line.points == ((-79.9, 36.1), (-79.8, 36.2))
    assert (area.name, len(area.points), area.kind) == ("area 3", 3, "")
    assert area.notes == ("it has no name",)
    assert [one.fault for one in (point, line, area)] == ["", "", ""]


@pytest.mark.parametrize("document", [POINT, feature(POINT), collection(feature(POINT))])
def test_bare_shapes_and_single_features(document):
    assert [one.points for one in read(document)] == [((-79.9, 36.1),)]


@pytest.mark.parametrize(
    ("geometry", "shapes"),
    [
        ({"type": "MultiPoint", "coordinates": [[1, 2], [3, 4]]}, ["Point", "Point"]),
        ({"type": "MultiLineString", "coordinates": [LINE["coordinates"]]}, ["LineString"]),
        ({"type": "MultiPolygon", "coordinates": [[RING], [RING]]}, ["Polygon", "Polygon"]),
        ({"type": "GeometryCollection", "geometries": [POINT, AREA]}, ["Point", "Polygon"]),
    ],
)
def test_several_shapes_in_one_become_several(geometry, shapes):
    parts = read(collection(feature(geometry, name="X")))
    assert [part.shape for part in parts] == shapes
    if len(parts) > 1:
        assert [part.name for part in parts] == ["X, part 1", "X, part 2"]
    assert all(not part.fault for part in parts)


@pytest.mark.parametrize(
    ("document", "seen"),
    [
        ({"type": "Topology"}, '"Topology", which is not GeoJSON'),
        ({"a": 1}, "null, which is not GeoJSON"),
        ({"type": "FeatureCollection", "features": 5}, "not GeoJSON"),
        (collection(), "no points, lines or areas"),
        ({**collection(feature(POINT)), "crs": {"properties": {"name": "EPSG:32617"}}}, "32617"),
    ],
)
def test_other_files_are_refused(document, seen):
    with pytest.raises(BadMap) as caught:
        read(document)
    assert seen in caught.value.what
    assert caught.value.fix


def test_broken_json_is_refused():
    with pytest.raises(BadProperty, match="line 1, column 9"):
        read_foreign(b'{"type":', "gis.geojson")
    with pytest.raises(BadProperty, match="holds"):
        read_foreign(b"[1, 2]", "gis.geojson")


@pytest.mark.parametrize(
    ("geometry", "fault"),
    [
        (None, "has no geometry"),
        ({"type": "Circle"}, "Circle"),
        ({"type": "Point"}, "longitude null"),
        ({"type": "Point", "coordinates": ["a", 2]}, 'longitude "a"'),
        ({"type": "Point", "coordinates": [True, 2]}, "longitude true"),
        ({"type": "Point", "coordinates": [603000.5, 3996000]}, "longitude 603000.5"),
        ({"type": "Point", "coordinates": [1e300, 2]}, "longitude 1e+300"),
        ({"type": "LineString", "coordinates": [[1, 2]]}, "1 points"),
        ({"type": "LineString", "coordinates": []}, "has no points"),
        (
            {"type": "Polygon", "coordinates": [[[1, 1], [2, 2], [2, 1], [1, 2], [1, 1]]]},
            "crosses itself",
        ),
        ({"type": "Polygon", "coordinates": 4}, "has the geometry"),
        ({"type": "Polygon", "coordinates": [4]}, "has the geometry"),
    ],
)
def test_what_cannot_be_taken_says_why(geometry, fault):
    one = only(geometry, name="X")
    assert fault in one.fault
    with pytest.raises(BadMap, match="X:"):
        take(one, "other")


def test_a_feature_that_is_none():
    (one,) = read(collection(7))
    assert "is 7, not a feature" in one.fault


# --- the guess ---


@pytest.mark.parametrize(
    ("name", "geometry", "kind"),
    [
        ("North stand", POINT, "stand"),
        ("Stand 4", POINT, "stand"),
        ("ladder stands by the creek", POINT, "stand"),
        ("Creek gate", POINT, "truck"),
        ("Walk in", POINT, ""),  # a point is no way
        ("Truck gate", POINT, "truck"),
        ("trail cam 2", POINT, "camera"),
        ("House", AREA, "no-shoot"),
        ("Clover plot", AREA, "food"),
        ("Cane thicket", AREA, "bedding"),
        ("Main trail", LINE, "corridor"),
        ("Access road", LINE, "lane"),
        ("Property line", LINE, "boundary"),
        ("Bed 1", LINE, ""),  # a line cannot be bedding yet
        ("Boxwood", POINT, ""),  # no word of the list: it is asked, and made nothing
        ("07/12/2026 06:14", LINE, ""),
        ("Back forty", AREA, ""),
    ],
)
def test_guesses(name, geometry, kind):
    assert only(geometry, name=name).kind == kind


def test_a_kind_that_the_file_names_goes_first():
    assert only(POINT, name="House", kind="stand").kind == "stand"
    assert only(LINE, name="X", kind="stand").kind == ""  # a stand cannot be a line
    assert only(POINT, name="3", type="camera").kind == "camera"


@pytest.mark.parametrize(
    ("symbol", "geometry", "kind"),
    [
        ("Tree Stand", POINT, "stand"),
        ("Blind", POINT, "stand"),
        ("Parking Area", POINT, "truck"),
        ("photo", POINT, "camera"),
        ("Flag, Blue", POINT, "other"),
        ("tree", POINT, "other"),
        ("food-plot", AREA, "food"),
        ("bedding", AREA, "bedding"),
        ("Waypoint", POINT, ""),
    ],
)
def test_a_symbol_decides_where_it_can(symbol, geometry, kind):
    one = only(geometry, name="17", sym=symbol)
    assert (one.kind, one.symbol) == (kind, symbol)


# --- taking ---


@pytest.mark.parametrize("kind", sorted(KINDS))
@pytest.mark.parametrize("geometry", [POINT, LINE, AREA])
def test_what_suits(kind, geometry):
    one = only(geometry, name="X")
    fits = geometry["type"] in KINDS[kind].shapes
    assert (unsuited(one, kind) == "") == fits
    if fits:
        assert take(one, kind)["geometry"]["type"] == geometry["type"]
        return
    with pytest.raises(BadMap, match="X: is a"):
        take(one, kind)


def test_an_unknown_kind_is_named():
    with pytest.raises(BadMap, match='"tower" is not a kind') as caught:
        take(only(POINT), "tower")
    assert "stand, lane" in caught.value.fix


def test_a_walk_round_a_bed_becomes_an_area():
    walk = {"type": "LineString", "coordinates": [*RING[:3], [-79.8999, 36.1001]]}
    bed = take(only(walk, name="Cane"), "bedding")
    ring = bed["geometry"]["coordinates"][0]
    assert ring[0] == ring[-1]
    assert len(ring) == 5


def test_a_walk_that_ends_where_it_began_is_closed_already():
    walk = {"type": "LineString", "coordinates": RING}
    assert take(only(walk, name="Cane"), "bedding")["geometry"]["coordinates"] == [RING]


def test_a_walk_that_crosses_itself_is_no_area():
    walk = {"type": "LineString", "coordinates": [[2, 2], [3, 3], [3, 2], [2, 3]]}
    assert "crosses itself near" in unsuited(only(walk, name="Cane"), "bedding")
    there = {"type": "LineString", "coordinates": [[2, 2], [3, 3]]}
    assert "2 corners, too few" in unsuited(only(there), "food")


def test_a_clockwise_area_is_taken_counter_clockwise():
    area = only({"type": "Polygon", "coordinates": [RING[::-1]]}, name="Cane")
    assert take(area, "bedding")["geometry"]["coordinates"] == [RING]


def test_a_line_may_be_turned_round():
    one = only(LINE, name="Way")
    assert take(one, "lane", turned=True)["geometry"]["coordinates"][0] == [-79.8, 36.2]
    assert take(one, "lane")["geometry"]["coordinates"][0] == [-79.9, 36.1]


@pytest.mark.parametrize(
    ("name", "taken", "id_"),
    [
        ("North Oak", [], "north-oak"),
        ("North Oak", ["north-oak"], "north-oak-2"),
        ("North Oak", ["north-oak", "north-oak-2"], "north-oak-3"),
        ("Böcke & Öl", [], "bocke-ol"),
        ("鹿", [], "stand"),
        ("", ["stand"], "stand-2"),
        ("--x--", [], "x"),
        ("a" * 60, [], "a" * 40),
        ("a" * 60, ["a" * 40], "a" * 38 + "-2"),
        ("<img src=x onerror=alert(1)>", [], "img-src-x-onerror-alert-1"),
    ],
)
def test_ids(name, taken, id_):
    assert free_id(name, "stand", taken) == id_


def test_all_of_a_property_taken_into_another_keeps_what_it_says():
    whole = g.whole_ground()
    chosen = [(one, one.kind) for one in read(whole)]
    features = take_all(chosen)
    assert features == whole["features"]


def test_lanes_lead_to_the_new_ids():
    chosen = [(one, one.kind) for one in read(g.whole_ground())]
    features = take_all(chosen, taken_ids={"oak", "cane"})
    ids = [feature["id"] for feature in features]
    assert ids[0] == "oak-2"
    assert features[2]["properties"]["stands"] == ["oak-2"]
    assert features[3]["properties"]["stands"] == ["gum", "oak-2"]
    both = g.whole_ground()
    both["features"] = [*g.document(g.stand("oak", 9, 9))["features"], *features]
    assert len(g.load(both).stands) == 3


def test_a_changed_kind_keeps_only_name_and_notes():
    (one,) = read(g.document(g.stand("oak", 0, 0, seat="box", notes="big")))
    taken = take(one, "truck")
    assert taken["properties"] == {"kind": "truck", "name": "Oak", "notes": "big"}
