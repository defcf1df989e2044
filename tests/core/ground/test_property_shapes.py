"""Shapes in a property file: refused with their feature, or mended and said so."""

import copy
import json

import pytest

from core.errors import BadProperty
from core.ground.timezone_places import great_circle_m, timezone_place
from tests import ground_files as g


def refused(*features: dict, **rules) -> BadProperty:
    with pytest.raises(BadProperty) as caught:
        g.load(g.document(*features, **rules))
    assert caught.value.fix
    return caught.value


def bed_with(rings) -> dict:
    bed = g.bed("cane", g.square(0, 0, 60))
    bed["geometry"]["coordinates"] = rings
    return bed


def ring(*places_yd) -> list:
    return [g.lonlat(*place) for place in places_yd]


def test_an_unclosed_ring_is_refused_with_both_ends():
    bed = g.bed("cane", g.square(0, 0, 60))
    open_ring = bed["geometry"]["coordinates"][0]
    open_ring.pop()
    error = refused(bed)
    assert error.where == 'test.json, bedding "cane" (Cane)'
    assert "not closed" in error.what
    assert f"{open_ring[0]}" in error.what
    assert f"{open_ring[-1]}" in error.what
    assert "Repeat the first place" in error.fix


def test_an_unclosed_hole_is_refused():
    bed = g.area("cane", "bedding", g.square(0, 0, 100), g.square(0, 0, 20))
    bed["geometry"]["coordinates"][1].pop()
    assert "not closed" in refused(bed).what


def test_an_area_that_crosses_itself_says_where():
    bow = ring((0, 0), (100, 100), (100, 0), (0, 100))
    error = refused(bed_with([[*bow, bow[0]]]))
    assert "crosses itself near" in error.what
    # the diagonals of the square meet in its middle
    lon, lat = g.lonlat(50, 50)
    said_lon, said_lat = json.loads(error.what.split("near ")[1])
    assert said_lon == pytest.approx(lon, abs=2e-6)
    assert said_lat == pytest.approx(lat, abs=2e-6)


AREAS = [
    ([g.square(0, 0, 40), g.square(300, 0, 10)], "a hole that lies outside it"),
    ([g.square(0, 0, 40), g.square(0, 0, 20), g.square(0, 0, 8)], "a hole inside a hole"),
    ([g.square(0, 0, 40), g.square(0, 0, 20), g.square(5, 0, 20)], "crosses itself"),
]


@pytest.mark.parametrize(("rings", "seen"), AREAS)
def test_bad_holes(rings, seen):
    assert seen in refused(g.area("cane", "bedding", *rings)).what


def test_an_area_that_encloses_nothing():
    flat = ring((0, 0), (50, 0), (100, 0))
    assert "encloses nothing" in refused(bed_with([[*flat, flat[0]]])).what


@pytest.mark.parametrize(
    ("rings", "seen"),
    [
        ([], "has [] where the rings"),
        (None, "has null where the rings"),
        ([[]], "has 0 places in [], fewer than 4"),
        ([7], "has 7 where a list of places"),
        ([ring((0, 0), (9, 0), (0, 0))], "has 3 places in"),
        ([[["a", 1], [2, 3], [4, 5], ["a", 1]]], 'has ["a", 1] where a place'),
        ([[[True, 1], [2, 3], [4, 5], [True, 1]]], "has [true, 1] where a place"),
        ([[[float("nan"), 36], [2, 3], [4, 5], [1, 1]]], "has [NaN, 36] where a place"),
    ],
)
def test_what_is_no_ring(rings, seen):
    assert seen in refused(bed_with(rings)).what


@pytest.mark.parametrize(
    "kind", ["MultiPoint", "MultiPolygon", "MultiLineString", "GeometryCollection"]
)
def test_several_shapes_in_one_are_refused(kind):
    stand = g.stand("oak", 0, 0)
    stand["geometry"]["type"] = kind
    error = refused(stand)
    assert kind in error.what
    assert "Split it" in error.fix


@pytest.mark.parametrize(
    ("geometry", "seen"),
    [(None, "no geometry"), ({}, "geometry null"), ({"type": "Circle"}, '"Circle"'), (5, "null")],
)
def test_odd_geometries_are_refused(geometry, seen):
    assert seen in refused({**g.stand("oak", 0, 0), "geometry": geometry}).what


POINT = {"type": "Point", "coordinates": g.lonlat(0, 0)}
LINE = {"type": "LineString", "coordinates": ring((0, 0), (50, 0))}
AREA = {"type": "Polygon", "coordinates": g.bed("b", g.square(0, 0, 9))["geometry"]["coordinates"]}


@pytest.mark.parametrize(
    ("kind", "geometry", "seen", "mend"),
    [
        ("stand", LINE, "a line (LineString)", "must be a point"),
        ("stand", AREA, "an area (Polygon)", "must be a point"),
        ("lane", POINT, "a point (Point)", "must be a line"),
        ("corridor", AREA, "an area (Polygon)", "must be a line"),
        ("bedding", LINE, "a line (LineString)", "must be an area"),
        ("food", POINT, "a point (Point)", "must be an area"),
    ],
)
def test_a_shape_that_does_not_suit_its_kind(kind, geometry, seen, mend):
    odd = g.feature("odd", kind, geometry["type"], geometry["coordinates"])
    error = refused(odd)
    assert seen in error.what
    assert mend in error.fix
    assert error.where == f'test.json, {kind} "odd" (Odd)'


@pytest.mark.parametrize(
    "kind", ["boundary", "no-shoot", "draw", "truck", "water", "sign", "camera", "other"]
)
@pytest.mark.parametrize("geometry", [POINT, LINE, AREA])
def test_marks_may_have_any_shape(kind, geometry):
    mark = g.load(g.document(g.feature("m", kind, geometry["type"], geometry["coordinates"])))
    assert mark.marks[0].kind == kind
    assert mark.marks[0].geometry == geometry["type"]


def test_swapped_places_are_named_with_the_right_order():
    stand = g.stand("oak", 0, 0)
    stand["geometry"]["coordinates"] = [36.1, -79.9]
    error = refused(stand)
    assert "[36.1, -79.9]" in error.what
    assert "swapped" in error.what
    assert "America/New_York" in error.what
    assert error.fix == "Write [-79.9, 36.1]."
    assert error.where == 'test.json, stand "oak" (Oak)'


def test_one_swapped_vertex_is_found():
    lane = g.lane("way", [(0, 400), (0, 200), (0, 10)], ["oak"])
    lane["geometry"]["coordinates"][1].reverse()
    error = refused(g.stand("oak", 0, 0), lane)
    assert "swapped" in error.what
    assert '"way"' in error.where


@pytest.mark.parametrize("which", [0, 1])
def test_a_swapped_corner_of_an_area_or_its_hole_is_found(which):
    bed = g.area("cane", "bedding", g.square(0, 0, 100), g.square(0, 0, 20))
    bed["geometry"]["coordinates"][which][2].reverse()
    error = refused(bed)
    assert "swapped" in error.what
    assert '"cane"' in error.where


def test_a_place_far_off_that_is_not_swapped_says_only_how_far():
    error = refused(center=[10.0, 50.0])
    assert "km from the time zone America/New_York" in error.what
    assert "swapped" not in error.what


def test_a_swap_out_of_range_says_the_order():
    stand = g.stand("oak", 0, 0)
    stand["geometry"]["coordinates"] = [45.0, -120.0]
    error = refused(stand)
    assert "[45.0, -120.0]" in error.what
    assert "longitude first" in error.fix


@pytest.mark.parametrize("zone", ["UTC", "Etc/GMT+5", "US/Eastern", "EST5EDT"])
def test_zones_without_a_place_skip_the_check(zone):
    prop = g.load(g.document(timezone=zone, center=[10.0, 50.0]))
    assert prop.center == (10.0, 50.0)


def test_places_of_zones():
    # zone1970.tab: America/New_York +404251-0740023, Pacific/Auckland -3652+17446
    lon, lat = timezone_place("America/New_York")
    assert lon == pytest.approx(-(74 + 0 / 60 + 23 / 3600))
    assert lat == pytest.approx(40 + 42 / 60 + 51 / 3600)
    assert timezone_place("Pacific/Auckland") == pytest.approx((174 + 46 / 60, -(36 + 52 / 60)))
    assert timezone_place("UTC") is None


def test_the_sphere_is_good_enough():
    from geographiclib.geodesic import Geodesic

    true_m = Geodesic.WGS84.Inverse(36.1, -79.9, -36.87, 174.77)["s12"]
    assert great_circle_m((-79.9, 36.1), (174.77, -36.87)) == pytest.approx(true_m, rel=0.006)


def test_a_ground_over_twenty_kilometres_names_the_farthest():
    # 20 km is 21,872 yd: a pair 10 km east and west of the centre, and then a little more
    east, west = g.stand("east", 10_900, 0), g.stand("west", -10_900, 0)
    assert len(g.load(g.document(east, west)).stands) == 2
    error = refused(g.stand("east", 11_100, 0), g.stand("west", -10_900, 0))
    assert "20.1 km across" in error.what
    assert 'stand "east" (East)' in error.what


def test_a_center_far_from_its_ground_is_refused():
    error = refused(g.stand("oak", 0, 0), center=[-80.5, 36.1])
    assert "km across with its center" in error.what
    assert '"oak"' in error.what


@pytest.mark.parametrize(("yards", "fine"), [(4.9, False), (5.2, True)])
def test_a_lane_under_five_yards(yards, fine):
    features = g.stand("oak", 0, 0), g.lane("way", [(0, yards), (0, 0)], ["oak"])
    if fine:
        assert len(g.load(g.document(*features)).lanes) == 1
        return
    error = refused(*features)
    assert "is 4.9 yd long, under 5" in error.what
    assert error.where == 'test.json, lane "way" (Way)'


@pytest.mark.parametrize("kind", ["corridor", "draw"])
def test_a_line_without_a_length(kind):
    line = g.feature("dot", kind, "LineString", ring((0, 0), (0, 0)))
    assert "no length" in refused(line).what


def test_a_line_of_one_place():
    line = g.feature("dot", "corridor", "LineString", ring((0, 0)))
    assert "has 1 places in" in refused(line).what


# --- what is mended, and what is fine ---


def test_rings_wound_the_wrong_way_are_mended_and_said_so():
    right = g.document(g.area("cane", "bedding", g.square(0, 0, 100), g.square(0, 0, 20)))
    wrong = copy.deepcopy(right)
    for one in wrong["features"][0]["geometry"]["coordinates"]:
        one.reverse()
    opened = g.opened(wrong)
    assert opened.mended == (
        'bedding "cane" (Cane): a ring was wound the wrong way and was turned round',
    )
    assert opened.document == right
    assert opened.property == g.load(right)
    assert g.opened(right).mended == ()


def test_holes_are_read():
    document = g.document(g.area("cane", "bedding", g.square(0, 0, 100), g.square(0, 0, 20)))
    area = g.load(document).areas[0]
    assert len(area.ring) == 4
    assert [len(hole) for hole in area.holes] == [4]


def test_altitudes_are_let_through_and_kept():
    stand = g.stand("oak", 0, 0)
    stand["geometry"]["coordinates"].append(231.5)
    document = g.document(stand)
    opened = g.opened(document)
    assert opened.property.stands[0].at == g.CENTER
    assert opened.document == document


def test_a_ground_across_the_180th_meridian():
    center = (179.999, -17.0)
    bed = g.bed("reed", g.square(100, 0, 150), center=center)
    longitudes = [lon for lon, _ in bed["geometry"]["coordinates"][0]]
    assert min(longitudes) < 0 < max(longitudes)
    document = g.document(bed, timezone="Pacific/Fiji", center=list(center))
    opened = g.opened(document)
    assert opened.mended == ()
    assert len(opened.property.areas) == 1


@pytest.mark.parametrize(
    "features",
    [
        [],
        [g.bed("cane", g.square(0, 0, 60)), g.corridor("main", [(0, 0), (90, 0)])],
        [g.stand("oak", 0, 0), g.bed("cane", g.square(90, 0, 60))],
        [g.stand("oak", 0, 0), g.lane("way", [(0, 200), (0, 5)], ["oak"])],
    ],
    ids=["empty", "no stands", "no lanes", "no beds"],
)
def test_a_ground_may_lack_things(features):
    prop = g.load(g.document(*features))
    drawn = (*prop.stands, *prop.lanes, *prop.corridors, *prop.areas, *prop.marks)
    assert len(drawn) == len(features)


def test_a_ground_without_rules_has_the_defaults():
    prop = g.load(g.document(seasons=[]))
    assert prop.seasons == ()
    assert prop.sit.morning_end == "10:30"
    assert prop.air.wrong_within_yd == 250
