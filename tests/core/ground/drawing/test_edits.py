"""Changes of one feature: what is added, moved, told and taken out, and what is refused."""

import copy

import pytest

from core.errors import BadProperty
from core.ground.drawing.edits import (
    added,
    feature_of,
    model_of,
    removed,
    reshaped,
    shape_first,
    stands_at,
    tidy,
    told,
    told_all,
)
from core.ground.kinds import KINDS
from core.ground.parse import read_document
from tests import ground_files as g


def point(east, north):
    return {"type": "Point", "coordinates": g.lonlat(east, north)}


def line(*places):
    return {"type": "LineString", "coordinates": [g.lonlat(*p) for p in places]}


def polygon(*places):
    return {"type": "Polygon", "coordinates": [[g.lonlat(*p) for p in places]]}


@pytest.fixture
def ground():
    document = g.whole_ground()
    kept = copy.deepcopy(document)
    yield document
    assert document == kept  # nothing is changed in place


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_can_be_added_and_saved(ground, kind):
    geometry = {
        "Point": point(20, 20),
        "LineString": line((0, 300), (10, 100), (0, 0)),  # its end is at the stand "oak"
        "Polygon": polygon((300, 300), (400, 300), (400, 400)),
    }[shape_first(kind)]
    document, id_ = added(ground, kind, geometry)
    assert len(document["features"]) == len(ground["features"]) + 1
    assert feature_of(document, id_)["properties"]["kind"] == kind
    read_document(document)  # the whole file is sound


def test_names_and_ids_are_free_ones(ground):
    one, first = added(ground, "stand", point(5, 5))
    two, second = added(one, "stand", point(9, 9))
    names = [f["properties"]["name"] for f in two["features"][-2:]]
    assert names == ["Stand 1", "Stand 2"]
    assert (first, second) == ("stand-1", "stand-2")


def test_a_new_stand_starts_with_the_owners_words():
    document = g.document(first_words={"stand": {"range_yd": 22, "max_gust_mph": 20}})
    document, id_ = added(document, "stand", point(5, 5))
    model = model_of(document, feature_of(document, id_))
    assert (model.range_yd, model.max_gust_mph) == (22, 20)


def test_a_lane_leads_to_the_stand_at_its_end_and_waits_where_there_is_none(ground):
    document, id_ = added(ground, "lane", line((100, 300), (150, 60)))
    assert feature_of(document, id_)["properties"]["stands"] == ["gum"]
    document, id_ = added(ground, "lane", line((100, 300), (150, 80)))
    assert feature_of(document, id_)["properties"]["stands"] == []
    with pytest.raises(BadProperty, match="serves no stand"):
        read_document(document)


def test_an_open_ring_is_closed_wound_and_rid_of_doubled_places():
    clockwise = polygon((0, 0), (0, 50), (0, 50), (50, 50), (50, 0))
    ring = tidy(clockwise)["coordinates"][0]
    assert ring[0] == ring[-1]
    assert len(ring) == 5
    assert ring[1] == g.lonlat(50, 0) or ring[2] == g.lonlat(50, 0)
    assert ring[::-1][1] == clockwise["coordinates"][0][1]


@pytest.mark.parametrize(
    ("kind", "geometry", "said"),
    [
        ("bedding", polygon((0, 0), (50, 50), (50, 0), (0, 40)), "crosses itself"),
        ("bedding", polygon((0, 0), (50, 50)), "fewer than 4"),
        ("lane", line((0, 0), (2, 0)), "2.0 yd long"),
        ("stand", line((0, 0), (20, 0)), "a line"),
    ],
)
def test_what_a_file_may_not_hold_is_refused_at_once(ground, kind, geometry, said):
    with pytest.raises(BadProperty, match=said):
        added(ground, kind, geometry)


def test_a_stand_takes_the_ends_of_its_lanes_along():
    document = g.document(
        g.stand("oak", 0, 0),
        g.stand("gum", 0, 0),
        g.lane("to-oak", [(0, 300), (0, 0)], ["oak"]),
        g.lane("to-gum", [(50, 300), (0, 0)], ["gum"]),
        g.lane("past-oak", [(90, 300), (0, 40)], ["oak"]),
    )
    moved = reshaped(document, "oak", point(30, -10))
    assert feature_of(moved, "to-oak")["geometry"] == line((0, 300), (30, -10))
    assert feature_of(moved, "to-gum") == feature_of(document, "to-gum")
    assert feature_of(moved, "past-oak") == feature_of(document, "past-oak")


def test_a_lane_drawn_on_to_another_stand_leads_there_too(ground):
    document = reshaped(ground, "north-way", line((0, 400), (150, 60)))
    assert feature_of(document, "north-way")["properties"]["stands"] == ["oak", "gum"]


def test_holes_stay_when_the_outline_is_moved():
    ground = g.document(g.area("big", "bedding", g.square(0, 0, 200), g.square(0, 0, 20)))
    document = reshaped(ground, "big", polygon(*g.square(10, 0, 260)))
    rings = feature_of(document, "big")["geometry"]["coordinates"]
    assert rings[1] == ground["features"][0]["geometry"]["coordinates"][1]
    assert len(rings) == 2


def test_an_outline_moved_off_its_hole_is_refused():
    ground = g.document(g.area("big", "bedding", g.square(0, 0, 200), g.square(0, 0, 20)))
    with pytest.raises(BadProperty, match="hole that lies outside"):
        reshaped(ground, "big", polygon(*g.square(500, 0, 100)))


def test_telling_and_taking_back(ground):
    document = told(ground, "oak", ("height_ft",), 21)
    assert model_of(document, feature_of(document, "oak")).height_ft == 21
    document = told(document, "oak", ("height_ft",), None)
    assert model_of(document, feature_of(document, "oak")).height_ft == 16
    document = told(document, "oak", ("wanted", "by_part", "rut", "morning"), "best")
    assert feature_of(document, "oak")["properties"]["wanted"]["by_part"] == {
        "rut": {"morning": "best"}
    }
    document = told(document, "oak", ("wanted", "by_part", "rut", "morning"), None)
    assert "by_part" not in feature_of(document, "oak")["properties"]["wanted"]


def test_a_slope_is_told_as_a_pair(ground):
    with pytest.raises(BadProperty, match="downhill_deg 200 without grade_pct"):
        told(ground, "oak", ("downhill_deg",), 200)
    both = [(("downhill_deg",), 200), (("grade_pct",), 12)]
    model = model_of(ground, feature_of(told_all(ground, "oak", both), "oak"))
    assert (model.downhill_deg, model.grade_pct) == (200, 12)


@pytest.mark.parametrize("value", [999, -1, "high", True])
def test_a_bad_word_is_refused_with_the_word_in_the_message(ground, value):
    shown = {True: "true", "high": '"high"'}.get(value, str(value))
    with pytest.raises(BadProperty, match=shown):
        told(ground, "oak", ("height_ft",), value)


def test_a_stand_that_is_gone_leaves_its_lanes(ground):
    document = removed(ground, "gum")
    assert feature_of(document, "gum") is None
    assert feature_of(document, "east-way")["properties"]["stands"] == ["oak"]


@pytest.mark.parametrize(
    "act",
    [
        lambda d: removed(d, "nobody"),
        lambda d: told(d, "nobody", ("name",), "x"),
        lambda d: reshaped(d, "nobody", point(0, 0)),
    ],
)
def test_an_id_that_nothing_has(ground, act):
    with pytest.raises(BadProperty, match='nothing has the id "nobody"'):
        act(ground)


def test_stands_at_a_place(ground):
    assert stands_at(ground, g.lonlat(0, 0)) == ["oak"]
    assert stands_at(ground, g.lonlat(0, 0.3)) == ["oak"]
    assert stands_at(ground, g.lonlat(0, 2)) == []
