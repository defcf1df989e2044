"""What came in, on its way into a property: ids, stands, turning, and the document."""

import copy
import re

import numpy as np
import pytest

from core.errors import BadProperty
from core.ground.exchange.choices import (
    extent,
    kinds_for,
    new_ids,
    placed,
    stands_known,
    suggested,
    with_brought,
)
from core.ground.exchange.files import BadMap, read_foreign, write_geojson
from core.ground.parse import property_from_document
from tests import ground_files as g
from tests import grounds

HOME = (-79.6874, 35.9312)


def point(name, bearing, yards):
    lon, lat = grounds.at(HOME, bearing, yards)
    return f'<wpt lat="{lat}" lon="{lon}"><name>{name}</name></wpt>'


def track(name, *steps):
    places = "".join(
        f'<trkpt lat="{lat}" lon="{lon}"/>' for lon, lat in (grounds.at(HOME, *s) for s in steps)
    )
    return f"<trk><name>{name}</name><trkseg>{places}</trkseg></trk>"


def gpx(*things):
    return read_foreign(f"<gpx>{''.join(things)}</gpx>".encode(), "walk.gpx")


@pytest.fixture
def document():
    """A ground with one stand, Oak, 100 yd north of home."""
    rules = copy.deepcopy(g.whole_ground()["property"]) | {"center": list(HOME)}
    oak = g.feature("oak", "stand", "Point", list(grounds.at(HOME, 0, 100)))
    oak["properties"]["name"] = "Oak"
    return {"type": "FeatureCollection", "property": rules, "features": [oak]}


def test_kinds_that_suit_with_the_guess_first():
    (spot, walk) = gpx(point("Gate", 0, 1), track("Path", (0, 0), (0, 90)))
    assert kinds_for(spot)[0] == "truck" and "lane" not in kinds_for(spot)
    assert kinds_for(walk)[0] == "lane" and "stand" not in kinds_for(walk)
    # a line of two points encloses nothing
    assert "bedding" not in kinds_for(walk)


def test_what_a_thing_is():
    things = gpx(point("A", 0, 0), track("B", (0, 0), (90, 250)))
    assert extent(things[0]) == "a point at 35.93120, -79.68740"
    assert extent(things[1]) == "a line of 2 points, 250 yd"
    ring = [list(p) for p in grounds.square(HOME, 110)]
    item = g.feature("bed", "bedding", "Polygon", [[*ring, ring[0]]])
    (area,) = read_foreign(write_geojson({"features": [item]}), "x")
    assert extent(area) == "an area of 10.0 acres"
    (lost,) = read_foreign(b'<gpx><wpt lat="95" lon="1"><name>x</name></wpt></gpx>', "x")
    assert extent(lost) == "nothing that can be drawn"


def test_ids_do_not_clash(document):
    incoming = gpx(point("Oak", 0, 10), point("Oak", 0, 20), point("Elm", 0, 30))
    assert new_ids(document, incoming, ["stand", "stand", None]) == {0: "oak-2", 1: "oak-3"}
    made = with_brought(document, incoming, ["stand", "stand", None], {})
    assert [f["id"] for f in made["features"]] == ["oak", "oak-2", "oak-3"]
    assert len(document["features"]) == 1


def test_stands_coming_in_can_be_led_to(document):
    incoming = gpx(point("Elm", 0, 300), track("Way", (0, 900), (0, 300)))
    kinds = ["stand", "lane"]
    assert stands_known(document, incoming, kinds) == {"oak": "Oak", "elm": "Elm"}
    assert suggested(document, incoming, kinds)[1] == (["elm"], False)
    assert suggested(document, incoming, [None, "lane"])[1] == ([], False)
    made = with_brought(document, incoming, kinds, {1: ["elm"]})
    (lane,) = property_from_document(made).lanes
    assert lane.stands == ("elm",)


@pytest.mark.parametrize(
    ("steps", "stands", "turned"),
    [
        (((0, 500), (0, 159)), ["oak"], False),
        (((0, 500), (0, 161)), [], False),
        (((0, 110), (0, 500)), ["oak"], True),
    ],
)
def test_a_walk_that_ends_at_a_stand(document, steps, stands, turned):
    incoming = gpx(track("Walk", *steps))
    assert suggested(document, incoming, ["lane"])[0] == (stands, turned)


def test_a_turned_lane_starts_at_the_truck(document):
    incoming = gpx(track("Walk", (0, 110), (0, 500)))
    made = with_brought(document, incoming, ["lane"], {0: ["oak"]}, {0})
    (lane,) = property_from_document(made).lanes
    assert lane.line[0] == pytest.approx(grounds.at(HOME, 0, 500), abs=1e-6)


def test_a_lane_of_a_property_file_keeps_its_stands(document):
    other = copy.deepcopy(document)
    far = [list(grounds.at(HOME, 90, y)) for y in (500, 105)]
    other["features"].append(
        g.feature("way", "lane", "LineString", far, name="Way", stands=["oak", "gone"])
    )
    incoming = read_foreign(write_geojson(other), "other.json")
    kinds = [one.kind for one in incoming]
    # its own oak gets another id here, and the lane leads to that one
    assert suggested(document, incoming, kinds)[1] == (["oak-2"], False)
    assert suggested(document, incoming, [None, "lane"])[1] == (["oak"], False)


def test_a_lane_without_stands_cannot_be_saved(document):
    made = with_brought(document, gpx(track("Walk", (0, 1), (0, 90))), ["lane"], {})
    with pytest.raises(BadProperty, match="serves no stand"):
        property_from_document(made)


def test_a_kind_that_does_not_suit(document):
    with pytest.raises(BadMap, match="a lane must be a line"):
        with_brought(document, gpx(point("A", 0, 1)), ["lane"], {})


def test_a_walk_that_ends_at_a_stand_was_a_way_to_it(document):
    far, near = (45, 400), (0, 110)
    spot = grounds.at(HOME, 90, 300)
    came = (
        track("07/12 06:14", far, near),  # ends 10 yd from Oak
        track("walk in creek", far, near),
        track("creek walk", far, (90, 500)),  # a way or a creek: it ends at no stand
        track("07/13 06:14", far, (90, 500)),
        f'<wpt lat="{spot[1]}" lon="{spot[0]}"><name>new ladder</name></wpt>',
        track("07/14", far, (90, 310)),  # ends at what comes in beside it
    )
    found = placed(document, gpx(*came))
    assert [one.kind for one in found] == ["stand", "lane", "lane", "", "", "lane"]


def test_a_recorded_walk_comes_in_without_its_wobble():
    rng = np.random.default_rng(4)
    along = np.linspace(0, 400, 300)[:, None]
    yards = np.hstack([0 * along, along]) + rng.normal(0, 4, (300, 2))
    steps = [(np.degrees(np.arctan2(x, y)), np.hypot(x, y)) for x, y in yards]
    (one,) = gpx(track("walk", *steps))
    (told,) = one.notes
    before, after, doubt = (float(yd.replace(",", "")) for yd in re.findall(r"([\d,]+) yd", told))
    assert before > 1000 and after == pytest.approx(400, abs=doubt) and len(one.points) < 6
    assert doubt < 25 and f"{after:,.0f} yd" in extent(one)


def test_a_stand_of_trees_is_asked_and_no_seat():
    things = gpx(point("Stand of pines", 0, 0), point("Pine stand", 0, 50))
    assert [one.kind for one in things] == ["", "stand"]
