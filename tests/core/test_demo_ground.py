"""The demo ground keeps the promises its readers rely on: shots, beds, lanes, acres."""

import itertools
import json
import math
from pathlib import Path

import pytest
import shapely

from core.ground.plan import Plane
from core.units import M_PER_YD

DEMO = Path(__file__).resolve().parents[2] / "demo_property.json"
SQUARE_YD_PER_ACRE = 4840  # statute acre
GREENSBORO = (-79.95, 36.10)  # the airport of the typical year, as its file gives it
SHAPES = {
    "Point": lambda c: shapely.Point(c[0]),
    "LineString": shapely.LineString,
    "Polygon": shapely.Polygon,
}


@pytest.fixture(scope="module")
def document():
    return json.loads(DEMO.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def shapes(document):
    """Every feature in local yards, by kind and id."""
    plane, found = Plane(document["property"]["center"]), {}
    for feature in document["features"]:
        shape = feature["geometry"]["type"]
        points = feature["geometry"]["coordinates"]
        points = points[0] if shape == "Polygon" else points
        local = SHAPES[shape](plane.points(points) / M_PER_YD)
        found.setdefault(feature["properties"]["kind"], {})[feature["id"]] = local
    return found


@pytest.fixture(scope="module")
def words(document):
    return {f["id"]: f["properties"] for f in document["features"]}


def areas(shapes):
    return {**shapes["bedding"], **shapes["food"]}


def test_about_two_hundred_acres_near_greensboro(document, shapes):
    farm = shapes["boundary"]["farm-line"]
    assert 190 <= farm.area / SQUARE_YD_PER_ACRE <= 210
    east, north = Plane(GREENSBORO).points([document["property"]["center"]])[0]
    assert math.hypot(east, north) / 1609.344 <= 25


def test_counts(shapes, words):
    counts = {kind: len(found) for kind, found in shapes.items()}
    assert counts["stand"] >= 12
    assert (counts["bedding"], counts["corridor"], counts["lane"]) == (8, 7, 9)
    assert (counts["food"], counts["truck"]) == (3, 2)
    seats = {words[s].get("seat") for s in shapes["stand"]}
    assert len(seats) >= 6
    assert sum("downhill_deg" in words[s] for s in shapes["stand"]) >= 12
    assert sum(words[s].get("height_ft", 16) > 16 for s in shapes["stand"]) <= 1


def test_all_inside_the_line_and_rings_run_right_handed(shapes):
    farm = shapes["boundary"]["farm-line"]
    for kind, found in shapes.items():
        for name, shape in found.items():
            assert farm.covers(shape), (kind, name)
            if shape.geom_type == "Polygon":
                assert shape.is_valid and shapely.is_ccw(shape.exterior), name


def test_areas_lie_apart(shapes):
    for (a, one), (b, other) in itertools.combinations(areas(shapes).items(), 2):
        assert one.distance(other) > 5, (a, b)


def test_stands_sit_clear_of_the_line_beds_and_the_house(shapes):
    line = shapes["boundary"]["farm-line"].exterior
    for name, at in shapes["stand"].items():
        assert at.distance(line) > 35, name
        assert at.distance(shapes["no-shoot"]["house-yard"]) > 35, name
        assert all(at.distance(bed) > 10 for bed in areas(shapes).values()), name


def test_shots_are_15_to_30_yards(shapes, words):
    shots = [
        (name, at.distance(trail))
        for name, at in shapes["stand"].items()
        for id_, trail in shapes["corridor"].items()
        if words[id_].get("use") != "night" and at.distance(trail) <= 45
    ]
    assert len(shots) >= 12
    assert all(15 <= yards <= 30 for _, yards in shots), shots


def test_trails_keep_out_of_beds_and_start_at_the_bedding_end(shapes, words):
    for name, trail in shapes["corridor"].items():
        assert not any(trail.crosses(a) for a in areas(shapes).values()), name
        start = shapely.Point(trail.coords[0])
        if words[name].get("use") != "night":
            assert min(start.distance(b) for b in shapes["bedding"].values()) <= 25, name


def test_one_main_trail_with_side_trails(shapes):
    main = shapes["corridor"]["backbone"]
    assert 400 <= main.length <= 480  # about a quarter mile
    joined = [
        name
        for name, trail in shapes["corridor"].items()
        if trail is not main and main.distance(trail) <= 10
    ]
    assert len(joined) >= 2


def test_lanes_run_from_a_truck_to_their_stands(shapes, words):
    trucks, stands = shapes["truck"].values(), shapes["stand"]
    for name, lane in shapes["lane"].items():
        first, last = (shapely.Point(lane.coords[i]) for i in (0, -1))
        assert min(first.distance(t) for t in trucks) <= 10, name
        served = words[name]["stands"]
        assert min(last.distance(stands[s]) for s in served) <= 10, name
        assert all(lane.distance(stands[s]) <= 50 for s in served), name


def test_every_stand_has_a_way_in_and_one_lane_is_only_out(shapes, words):
    ways = [words[name] for name in shapes["lane"]]
    reached = {s for w in ways if w.get("way") != "out" for s in w["stands"]}
    assert reached == set(shapes["stand"])
    assert [w["name"] for w in ways if w.get("way") == "out"] == ["Fence walk out"]
    assert max(sum(s in w["stands"] for w in ways) for s in shapes["stand"]) >= 2


def test_one_lane_deserves_criticism(shapes):
    road = shapes["lane"]["ridge-road"]
    assert min(road.distance(b) for b in shapes["bedding"].values()) < 20
    assert road.crosses(shapes["corridor"]["north-trail"])
    quiet = [n for n in shapes["lane"] if n != "ridge-road"]
    for name in quiet:
        lane = shapes["lane"][name]
        assert min(lane.distance(b) for b in shapes["bedding"].values()) > 60, name


def test_nothing_about_the_demo_is_confirmed_law(document):
    assert all(s["checked_on"] is None for s in document["property"]["seasons"])
