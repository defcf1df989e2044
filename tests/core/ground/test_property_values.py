"""Every message about a value in a property file: the feature, the fault, the mend."""

import copy
import json

import pytest

from core.errors import BadProperty
from tests import ground_files as g


def ground() -> dict:
    """A stand, a lane, a corridor, a bed, a food plot and a mark, in this order."""
    return g.document(
        g.stand("oak", 0, 0),
        g.lane("north-way", [(0, 400), (0, 10)], ["oak"]),
        g.corridor("main", [(-200, -20), (180, 40)]),
        g.bed("cane", g.square(-240, -20, 60)),
        g.food("clover", g.square(230, 40, 50)),
        g.feature("gate", "truck", "Point", g.lonlat(0, 402)),
    )


PLACES = {"oak": 0, "north-way": 1, "main": 2, "cane": 3, "clover": 4, "gate": 5}


def refused(document: dict) -> BadProperty:
    before = copy.deepcopy(document)
    with pytest.raises(BadProperty) as caught:
        g.load(document)
    assert document == before, "a refused document must stay as it came"
    assert caught.value.where.startswith("test.json")
    assert caught.value.fix, "every message says what to do"
    return caught.value


# feature, member, value, what the message must show, what the mend must name
VALUES = [
    ("oak", "seat", "tower", '"tower"', "ground-blind"),
    ("oak", "seat", 3, "is 3", "ladder"),
    ("oak", "seat", ["box"], '["box"]', "box"),
    ("oak", "height_ft", "tall", '"tall", not a number', "0 to 100"),
    ("oak", "height_ft", -1, "is -1, out of range", "0 to 100"),
    ("oak", "height_ft", 101, "is 101, out of range", "0 to 100"),
    ("oak", "height_ft", True, "is true, not a number", "0 to 100"),
    ("oak", "height_ft", float("nan"), "is NaN", "0 to 100"),
    ("oak", "height_ft", float("inf"), "is Infinity", "0 to 100"),
    ("oak", "height_ft", 10**400, "is 1000", "0 to 100"),
    ("oak", "cover", "Timber", '"Timber"', "timber"),
    ("oak", "range_yd", 0, "is 0", "Write a number from"),
    ("oak", "lies", "hill", '"hill"', "bench"),
    ("oak", "swirls", "often", '"often", not an object', "{ }"),
    ("oak", "swirls", {"under_mph": "light"}, 'swirls.under_mph is "light"', "Write a number from"),
    ("oak", "swirls", {"from_deg": [[250, 361]]}, "swirls.from_deg.#1 is 361", "0 to 360"),
    ("oak", "swirls", {"from_deg": []}, "swirls.from_deg is an empty list", "leave it out"),
    ("oak", "wanted", {"morning": "great"}, 'wanted.morning is "great"', "not-now"),
    ("oak", "wanted", {"by_part": ["rut"]}, 'by_part is ["rut"]', "{ }"),
    ("oak", "wanted", {"by_part": {"rut": {"evening": 1}}}, "by_part.rut.evening is 1", "watch"),
    ("oak", "edge_ok", "yes", 'edge_ok is "yes"', "true or false"),
    ("oak", "guest_ok", 1, "guest_ok is 1", "true or false"),
    ("oak", "set_up_min", 500, "set_up_min is 500", "240"),
    ("oak", "max_gust_mph", 0, "max_gust_mph is 0", "Write a number from"),
    ("oak", "closed", "no", 'closed is "no"', "true or false"),
    ("oak", "name", 7, "name is 7, not text", "quotation marks"),
    ("oak", "notes", ["a"], 'notes is ["a"], not text', "quotation marks"),
    ("north-way", "stands", "oak", 'stands is "oak", not a list', "stand ids"),
    ("north-way", "stands", [], "stands is empty", "take it out"),
    ("north-way", "stands", None, "stands is empty", "take it out"),
    ("north-way", "stands", ["oak", "elm"], 'names "elm"', "Stands here: oak"),
    ("north-way", "stands", [4], "stands.#1 is 4", "quotation marks"),
    ("north-way", "way", "back", '"back"', "in, out, both"),
    ("north-way", "cover", "woods", '"woods"', "open, edge, timber"),
    ("north-way", "footing", "mud", '"mud"', "leaves"),
    ("north-way", "minutes", 0, "minutes is 0", "Write a number from"),
    ("north-way", "by", "quad", '"quad"', "boat"),
    ("main", "width_ft", -3, "width_ft is -3", "Write a number from"),
    ("main", "use", "never", '"never"', "day, night, both"),
    ("main", "cut_on", "2026-02-30", '"2026-02-30"', "2026-02-14"),
    ("main", "sprayed_on", "July", '"July"', "2026-02-14"),
    ("main", "checked_on", 20260801, "20260801", "2026-02-14"),
    ("cane", "held", "mornings", '"mornings"', "always"),
    ("cane", "months", [9, 13], "months.#2 is 13", "1 to 12"),
    ("cane", "months", [0], "months.#1 is 0", "1 to 12"),
    ("cane", "months", ["Oct"], '"Oct"', "1 to 12"),
    ("cane", "months", [10.0], "is 10.0", "1 to 12"),
    ("cane", "months", [], "months is an empty list", "leave it out"),
    ("cane", "with_wind_deg", [270, 90], "with_wind_deg.#1 is 270", "[250, 320]"),
    ("cane", "with_wind_deg", [[270]], "is [270]", "[250, 320]"),
    ("cane", "with_wind_deg", [[-10, 20]], "is -10", "0 to 360"),
    ("cane", "with_wind_deg", "NW", 'is "NW"', "[[250, 320]]"),
    ("cane", "who", 2, "who is 2", "quotation marks"),
    ("clover", "held", 1, "held is 1", "night"),
    ("gate", "kind", "gate", 'unknown kind "gate"', "truck"),
    ("gate", "kind", "beding", 'unknown kind "beding"', "Did you mean bedding?"),
    ("gate", "kind", None, "has no kind", "stand, lane, corridor"),
    ("gate", "kind", ["truck"], "unknown kind", "truck"),
]


@pytest.mark.parametrize(("id_", "member", "value", "seen", "mend"), VALUES)
def test_a_bad_value_is_named(id_, member, value, seen, mend):
    document = ground()
    document["features"][PLACES[id_]]["properties"][member] = value
    error = refused(document)
    assert f'"{id_}"' in error.where
    assert seen in error.what
    assert mend in error.fix


def test_a_feature_is_named_by_kind_id_and_name():
    document = ground()
    document["features"][0]["properties"].update(name="Big Oak", seat="tower")
    error = refused(document)
    assert error.where == 'test.json, stand "oak" (Big Oak)'


# a path into `property`, a value, what is seen, what to do
RULES = [
    (("name",), None, "property.name is missing", "Add name"),
    (("name",), "  ", 'property.name is "  "', "a name"),
    (("uid",), 5, "property.uid is 5", "quotation marks"),
    (("revision",), 1.5, "property.revision is 1.5", "whole number"),
    (("revision",), -1, "property.revision is -1", "whole number"),
    (("saved_utc",), 0, "property.saved_utc is 0", "quotation marks"),
    (("timezone",), None, "property.timezone is missing", "Add timezone"),
    (("timezone",), "Eastern", 'property.timezone is "Eastern"', "America/New_York"),
    (("timezone",), "America", 'property.timezone is "America"', "America/New_York"),
    (("timezone",), "../../etc/passwd", "passwd", "America/New_York"),
    (("timezone",), "", 'property.timezone is ""', "America/New_York"),
    (("center",), None, "property.center is missing", "[longitude, latitude]"),
    (("center",), "here", 'property.center has "here"', "[-79.9, 36.1]"),
    (("center",), [-79.9], "property.center has [-79.9]", "[-79.9, 36.1]"),
    (("center",), [-79.9, None], "property.center has [-79.9, null]", "[-79.9, 36.1]"),
    (("center",), [-79.9, float("nan")], "[-79.9, NaN]", "[-79.9, 36.1]"),
    (("center",), [-79.9, 91], "[-79.9, 91]: longitude goes from", "longitude first"),
    (("center",), [36.1, -79.9], "[36.1, -79.9]", "Write [-79.9, 36.1]"),
    (("center",), [-79.9, 89.5], "latitude 89.5, too near a pole", "85"),
    (("elevation_m",), "240 m", 'property.elevation_m is "240 m"', "9000"),
    (("seasons",), {}, "property.seasons is {}, not a list", "seasons"),
    (("seasons", 0), "bow", 'property.seasons.#1 is "bow"', "{ }"),
    (("seasons", 0, "weapon"), "", 'seasons.#1.weapon is ""', "a word"),
    (("seasons", 0, "weapon"), None, "seasons.#1.weapon is missing", "Add weapon"),
    (("seasons", 0, "first"), None, "seasons.#1.first is missing", "Add first"),
    (("seasons", 0, "first"), "13-01", 'first is "13-01"', "09-13"),
    (("seasons", 0, "last"), "02-30", 'last is "02-30"', "09-13"),
    (("seasons", 0, "last"), "1-1", 'last is "1-1"', "09-13"),
    (("seasons", 0, "before_sunrise_min"), "half", 'before_sunrise_min is "half"', "120"),
    (("seasons", 0, "after_sunset_min"), 300, "after_sunset_min is 300", "120"),
    (("seasons", 0, "orange"), "yes", 'orange is "yes"', "true or false"),
    (("seasons", 0, "rule"), 3, "rule is 3", "quotation marks"),
    (("seasons", 0, "checked_on"), "yesterday", 'checked_on is "yesterday"', "2026-02-14"),
    (
        ("seasons", 0, "closed"),
        [{"days": ["Sun"], "from": "9:30", "to": "12:30"}],
        'closed.#1.from is "9:30"',
        "09:30",
    ),
    (
        ("seasons", 0, "closed"),
        [{"days": ["Sun"], "from": "09:30", "to": "24:00"}],
        'closed.#1.to is "24:00"',
        "23:59",
    ),
    (
        ("seasons", 0, "closed"),
        [{"days": ["Sun"], "to": "12:30"}],
        "closed.#1.from is missing",
        "Add from",
    ),
    (
        ("seasons", 0, "closed"),
        [{"days": ["Sunday"], "from": "09:30", "to": "12:30"}],
        'closed.#1.days.#1 is "Sunday"',
        "Sun",
    ),
    (
        ("seasons", 0, "closed"),
        [{"days": [], "from": "09:30", "to": "12:30"}],
        "closed.#1.days is an empty list",
        "days like Sun",
    ),
    (
        ("seasons", 0, "closed"),
        [{"days": ["Sun"], "from": "22:00", "to": "05:00"}],
        "from 22:00 to 05:00",
        "two entries",
    ),
    (("parts",), [{"first": "09-13", "last": "10-19"}], "parts.#1.name is missing", "Add name"),
    (("parts",), [{"name": "rut", "first": "11-1", "last": "11-30"}], '"11-1"', "09-13"),
    (
        ("parts",),
        [{"name": "rut", "first": "11-01", "last": "11-30", "rest_days": 0}],
        "rest_days is 0",
        "Write a number from",
    ),
    (
        ("parts",),
        [{"name": "rut", "first": "11-01", "last": "11-30", "all_day": "no"}],
        'all_day is "no"',
        "true or false",
    ),
    (
        ("parts",),
        [{"name": "rut", "first": "11-01", "last": "11-30"}] * 2,
        'property.parts has "rut" twice',
        "another name",
    ),
    (("sit",), {"morning_end": "half past ten"}, '"half past ten"', "09:30"),
    (("sit",), {"evening_h": 0}, "sit.evening_h is 0", "Write a number from"),
    (("sit",), {"settle_min": -5}, "sit.settle_min is -5", "240"),
    (("sit",), {"gear_up_min": "ten"}, 'sit.gear_up_min is "ten"', "240"),
    (("sit",), {"walk_mph": 0}, "sit.walk_mph is 0", "Write a number from"),
    (("sit",), {"out_stay_within_yd": -1}, "out_stay_within_yd is -1", "0 to 3520"),
    (("air",), {"wrong_within_yd": 5}, "air.wrong_within_yd is 5", "10 to 3520"),
    (("air",), {"clean_beyond_yd": 9999}, "air.clean_beyond_yd is 9999", "10 to 3520"),
    (
        ("air",),
        {"wrong_within_yd": 600},
        "clean_beyond_yd 500 under wrong_within_yd 600",
        "the larger",
    ),
    (("air",), {"cant_call_below_mps": "light"}, '"light"', "10"),
    (("air",), {"slope_wind_mps": -1}, "slope_wind_mps is -1", "10"),
    (("air",), {"slope_fades_at_mps": 0}, "slope_fades_at_mps is 0", "Write a number from"),
    (("air",), {"lee_deg": 4}, "air.lee_deg is 4", "5 to 60"),
    (("air",), {"trail_within_yd": -1}, "air.trail_within_yd is -1", "0 to 3520"),
    (("air",), {"trail_shot_times": "3"}, 'air.trail_shot_times is "3"', "0 to 100"),
    (("air",), {"turn_min": 20.5}, "air.turn_min is 20.5, not a whole number", "0 to 120"),
    (("air",), {"turn_told_deg": 181}, "air.turn_told_deg is 181", "0 to 180"),
    (("people",), [{"range_yd": 30}], "people.#1.name is missing", "Add name"),
    (("people",), [{"name": "Sam", "range_yd": -1}], "range_yd is -1", "Write a number from"),
    (("people",), [{"name": "Sam", "phone": 555}], "phone is 555", "quotation marks"),
    (
        ("people",),
        [{"name": "Sam"}, {"name": "Sam"}],
        'property.people has "Sam" twice',
        "another name",
    ),
    (("accepted",), [1], "accepted.#1 is 1", "quotation marks"),
    (("format",), "map-maker", 'property.format is "map-maker", not stand-and-wind', "saved"),
    (("format",), None, "property.format is null", "saved"),
    (("version",), None, "property.version is null", "Write 1"),
    (("version",), "1", 'property.version is "1"', "Write 1"),
    (("version",), True, "property.version is true", "Write 1"),
    (("version",), -2, "property.version is -2", "Write 1"),
    (("version",), 0, "property.version is 0, which nothing here can read", "version 1"),
]


@pytest.mark.parametrize(("path", "value", "seen", "mend"), RULES)
def test_a_bad_rule_is_named(path, value, seen, mend):
    document = ground()
    holder = document["property"]
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = value
    error = refused(document)
    assert seen in error.what
    assert mend in error.fix


IDS = ["", "Oak", "-oak", "oak tree", "a" * 41, "öak", "oak\n", "o_k", 7, ["oak"]]


@pytest.mark.parametrize("id_", IDS)
def test_a_bad_id_is_named(id_):
    document = ground()
    document["features"][0]["id"] = id_
    error = refused(document)
    assert "has the id" in error.what
    assert json.dumps(id_, ensure_ascii=False)[:20] in error.what
    assert error.where == "test.json, feature 1"
    assert "small letters" in error.fix


def test_a_missing_id_is_named_by_place():
    document = ground()
    del document["features"][2]["id"]
    error = refused(document)
    assert error.where == "test.json, feature 3"
    assert error.what == "has no id"


def test_an_id_used_twice_names_both():
    document = ground()
    document["features"][4]["id"] = "cane"
    error = refused(document)
    assert '"cane"' in error.what
    assert "feature 4" in error.what
    assert error.where == "test.json, feature 5"


@pytest.mark.parametrize(
    ("given", "other"), [("downhill_deg", "grade_pct"), ("grade_pct", "downhill_deg")]
)
def test_a_half_typed_slope_is_refused(given, other):
    document = ground()
    document["features"][0]["properties"][given] = 17
    error = refused(document)
    assert f"gives {given} 17 without {other}" in error.what
    assert error.where == 'test.json, stand "oak" (Oak)'


@pytest.mark.parametrize(
    ("change", "seen"),
    [
        ({"type": "Feature"}, '"Feature"'),
        ({"type": None}, "null"),
        ({"features": None}, "features is null"),
        ({"features": {"a": 1}}, 'features is {"a": 1}'),
        ({"features": [7]}, "is 7, not a Feature"),
        ({"features": [{"type": "Point"}]}, '"Point"'),
        ({"property": []}, "property is []"),
        ({"crs": {"properties": {"name": "urn:ogc:def:crs:EPSG::3857"}}}, "3857"),
    ],
)
def test_a_file_of_another_make_is_named(change, seen):
    error = refused({**ground(), **change})
    assert seen in error.what


def test_plain_geojson_is_told_where_to_go():
    document = ground()
    del document["property"]
    error = refused(document)
    assert "no member property" in error.what
    assert "convert" in error.fix


def test_a_feature_without_properties_is_named():
    document = ground()
    document["features"][0]["properties"] = None
    error = refused(document)
    assert error.where == 'test.json, feature "oak"'
    assert "has the properties null" in error.what


def test_too_many_features_are_refused():
    one = g.stand("oak", 0, 0)
    document = g.document()
    document["features"] = [{**one, "id": f"oak-{i}"} for i in range(5001)]
    assert "5,001 features, over 5,000" in refused(document).what
    document["features"].pop()
    assert len(g.load(document).stands) == 5000
