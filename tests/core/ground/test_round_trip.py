"""What is saved and opened again is the same, members of other programs included."""

import dataclasses
import itertools
import json
import tempfile
from pathlib import Path

from hypothesis import given, settings

from core.ground.store import Opened, open_property, save_property
from tests import ground_files as g
from tests.ground_strategies import documents

FEW = settings(max_examples=40)  # a document holds features of every kind


def saved_again(opened: Opened) -> Opened:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "farm.json")
        save_property(opened, opened.document, path, now_s=0)
        return open_property(path)


def without_stamp(document: dict) -> str:
    """The document as text, so that order counts, without what a save sets."""
    stamp = {"revision": None, "saved_utc": None}
    return json.dumps({**document, "property": {**document["property"], **stamp}})


@FEW
@given(documents())
def test_load_of_save_is_the_same(document):
    opened = g.opened(document)
    back = saved_again(opened)
    assert back.property == dataclasses.replace(
        opened.property, revision=2, saved_utc="1970-01-01T00:00:00Z"
    )
    stamped = {**opened.document["property"], "saved_utc": "1970-01-01T00:00:00Z"}
    assert without_stamp(back.document) == without_stamp({**opened.document, "property": stamped})


@FEW
@given(documents())
def test_reading_changes_only_the_winding(document):
    opened = g.opened(document)
    turned = json.loads(json.dumps(document))
    for item in turned["features"]:
        if item["geometry"]["type"] == "Polygon":
            # squares in yards: counter-clockwise is the shoelace sum above zero
            ring = item["geometry"]["coordinates"][0]
            twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(ring))
            item["geometry"]["coordinates"][0] = ring if twice > 0 else ring[::-1]
    assert json.dumps(opened.document) == json.dumps(turned)


def test_members_at_every_level_stay_in_order():
    document = {"first": 1, **g.whole_ground(), "last": [{"b": 1, "a": 2}]}
    document["property"]["other-program"] = {"z": 1, "a": None}
    document["property"]["seasons"][0]["zone-of-state"] = "4"
    document["features"][0]["bbox"] = [1, 2, 3, 4]
    document["features"][0]["properties"]["trail-camera"] = {"z": 0, "a": 0}
    document["features"][0]["properties"]["wanted"]["noon"] = "never"
    document["features"][0]["geometry"]["source"] = "walked"
    back = saved_again(g.opened(document))
    assert without_stamp(back.document) == without_stamp(
        {**document, "property": {**document["property"], "saved_utc": None}}
    )
    assert back.mended == ()
