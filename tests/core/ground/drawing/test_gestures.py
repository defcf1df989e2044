"""Finished gestures of the map: what each does to the document, and what is refused."""

import copy
import math

import pytest

from core.errors import BadProperty
from core.ground.drawing.edits import feature_of
from core.ground.drawing.gestures import FARTHEST_M, acted
from tests import ground_files as g

GROUND = g.whole_ground()


def line(*places):
    return {"type": "LineString", "coordinates": [g.lonlat(*p) for p in places]}


def point(east, north):
    return {"type": "Point", "coordinates": g.lonlat(east, north)}


def gesture(act, **more):
    return {"n": 1, "act": act, "within_m": 15.0, **more}


def test_adding_says_what_it_is_and_what_it_was_joined_to_and_chooses_it():
    done = acted(GROUND, gesture("add", kind="lane", geometry=line((3, 398), (90, 200), (155, 63))))
    new = feature_of(done.document, done.picked)
    assert new["geometry"]["coordinates"][0] == g.lonlat(0, 402)
    assert new["geometry"]["coordinates"][-1] == g.lonlat(150, 60)
    assert new["properties"]["stands"] == ["gum"]
    assert done.words == (
        "added Way in 1 (way); start joined to Gate (truck); end joined to Gum (stand)"
    )


def test_moving_and_taking_out():
    before = copy.deepcopy(GROUND)
    done = acted(GROUND, gesture("shape", id="oak", geometry=point(9, 9)))
    assert feature_of(done.document, "oak")["geometry"] == point(9, 9)
    assert (done.words, done.picked) == ("moved Oak (stand)", "oak")
    done = acted(GROUND, gesture("delete", id="oak"))
    assert feature_of(done.document, "oak") is None
    assert (done.words, done.picked) == ("took out Oak (stand)", "")
    assert before == GROUND


def test_a_line_is_not_joined_to_itself_when_it_is_moved():
    done = acted(GROUND, gesture("shape", id="main", geometry=line((-100, 100), (20, 90))))
    assert feature_of(done.document, "main")["geometry"] == line((-100, 100), (20, 90))


@pytest.mark.parametrize("within_m", [math.nan, math.inf, -5, "far", None])
def test_a_reach_that_is_none_joins_nothing(within_m):
    shape = {**gesture("add", kind="lane", geometry=line((3, 398), (90, 200), (155, 63)))}
    done = acted(GROUND, {**shape, "within_m": within_m})
    assert "joined" not in done.words


def test_however_far_the_map_is_zoomed_out_no_end_jumps_far():
    far_yd = FARTHEST_M / 0.9144 + 20
    shape = gesture("add", kind="lane", geometry=line((900, 900), (150, 60 - far_yd)))
    done = acted(GROUND, {**shape, "within_m": 1e6})
    assert "joined" not in done.words


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"act": "burn"}, '"burn"'),
        ({}, "null"),
        ({"act": "add", "kind": "castle", "geometry": point(0, 0)}, '"castle"'),
        ({"act": "add", "kind": "stand", "geometry": {"type": "Point"}}, "Point"),
        ({"act": "add", "kind": "stand", "geometry": None}, "null"),
        (
            {"act": "add", "kind": "stand", "geometry": {"type": "Blob", "coordinates": [1, 2]}},
            "Blob",
        ),
        (
            {
                "act": "add",
                "kind": "bedding",
                "geometry": {"type": "Polygon", "coordinates": [1, 2]},
            },
            "Polygon",
        ),
        (
            {
                "act": "add",
                "kind": "lane",
                "geometry": {"type": "LineString", "coordinates": [[0, math.nan], [1, 1]]},
            },
            "NaN",
        ),
        (
            {"act": "add", "kind": "lane", "geometry": {"type": "LineString", "coordinates": []}},
            "LineString",
        ),
        ({"act": "shape", "id": "nobody", "geometry": point(0, 0)}, '"nobody"'),
        ({"act": "delete", "id": "nobody"}, '"nobody"'),
        ({"act": "shape", "id": "oak", "geometry": line((0, 0), (50, 0))}, "a line"),
        (
            {
                "act": "shape",
                "id": "oak",
                "geometry": {"type": "Point", "coordinates": [36.1, -79.9]},
            },
            "swapped",
        ),
    ],
)
def test_what_makes_no_sense_is_refused_with_its_value(sent, said):
    with pytest.raises(BadProperty, match=said):
        acted(GROUND, sent)
