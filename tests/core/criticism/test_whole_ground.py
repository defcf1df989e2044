"""Criticism of a ground: each rule just inside and just outside its limit."""

import dataclasses
import math

import pytest
from shapely import LineString, Point

from core.criticism.common_wind import CommonWind, common_wind, typical_common_wind
from core.criticism.finding import COMMON_PRACTICE, SMALLER, WHY
from core.criticism.whole_ground import (
    finding_dicts,
    finding_line,
    review,
    still_said,
    with_accepted,
)
from core.errors import BadRequest
from core.ground.layout import CriticismLimits, Mark, Season, Stand, Wanted
from core.ground.store import demo_path, open_property
from core.sit.scene import Scene
from tests import grounds as g

P = g.PIEDMONT
TRAIL = g.corridor(P, (270, 80), (180, 20), (90, 80))  # 20 yd south of Oak at its nearest
FROM_NORTH = g.lane(P, (0, 440), (0, 5))


def found(prop, wind=None):
    return {f.key: f for f in review(Scene(prop), wind)}


def codes(prop, wind=None):
    return {f.code for f in review(Scene(prop), wind)}


def good(**more):
    """A ground with nothing to say against it: one shot, one quiet lane, one bed."""
    features = {"corridors": (TRAIL,), "areas": (g.bed(P, 270, 140),), **more}
    return g.ground(**features)


def square(kind, half_yd, id_="line", center=P):
    return Mark(id_, id_.title(), kind, "Polygon", g.square(center, half_yd))


def point(kind, bearing, yards, id_="gate"):
    return Mark(id_, id_.title(), kind, "Point", (g.at(P, bearing, yards),))


def test_a_good_ground_has_no_criticism():
    gate = point("truck", 0, 440)
    assert found(good(marks=(square("boundary", 600), gate)), CommonWind(180.0, 0.2, "x")) == {}


@pytest.mark.parametrize(
    ("limit", "code"),
    [
        ({"close_shot_yd": 25.0}, "shot-close"),
        ({"widest_ft": 2.5}, "corridor-wide"),
        ({"narrowest_ft": 3.5, "widest_ft": 4.0}, "corridor-narrow"),
        ({"no_exit_over_yd": 100.0}, "corridor-no-exit"),
        ({"trail_within_yd": 1.0}, "bed-no-trail"),
        ({"bed_acres": 0.1}, "bed-large"),
        ({"truck_off_bed_yd": 600.0}, "truck-near-bed"),
        ({"walk_dark_yd": 130.0}, "lane-near-bed-dark"),
    ],
)
def test_each_limit_is_the_owners(limit, code):
    """What is fine by the usual limits is not by stricter ones, and the text has the number."""
    said = {f.code: f for f in review(Scene(good(limits=CriticismLimits(**limit))))}
    assert list(said) == [code]
    assert f"{next(iter(limit.values())):g}" in said[code].text


def test_the_limit_of_a_walk_by_day_is_the_owners():
    """The lane comes within 64 yd of a bed whose east side is 120 yd west of the stand."""
    by = g.lane(P, (0, 440), (290, 60), (0, 5))
    assert codes(good(lanes=(by,))) == {"lane-near-bed-day"}
    assert not codes(good(lanes=(by,), limits=CriticismLimits(walk_day_yd=50.0)))


# --- corridors ---


@pytest.mark.parametrize(
    ("width_ft", "code"),
    [(1.9, "corridor-narrow"), (2.0, None), (3.0, None), (3.1, "corridor-wide")],
)
def test_width(width_ft, code):
    trail = dataclasses.replace(TRAIL, width_ft=width_ft)
    said = found(good(corridors=(trail,)))
    assert set(said) == ({f"{code}:trail"} if code else set())
    if code:
        (one,) = said.values()
        assert (one.value, one.unit, one.source) == (width_ft, "ft", COMMON_PRACTICE)
        assert f"{width_ft:g} ft wide" in one.text


@pytest.mark.parametrize(("yards", "seen"), [(298, False), (302, True)])
def test_a_long_trail_without_an_exit(yards, seen):
    straight = g.corridor(g.at(P, 180, 20), (270, 100), (90, yards - 100))
    said = found(good(corridors=(straight,)))
    assert set(said) == ({"corridor-no-exit:trail"} if seen else set())
    if seen:
        assert said["corridor-no-exit:trail"].value == pytest.approx(yards, abs=0.5)


@pytest.mark.parametrize(
    ("along_yd", "beside_yd", "boxed_in"),
    [
        (200, 9, False),  # joins in the middle
        (200, 11, True),  # ends too far beside it
        (391, 9, True),  # at the trail's own end: no exit along it
        (6, 9, True),
        (20, 9, False),
        (380, 9, False),
    ],
)
def test_side_exits(along_yd, beside_yd, boxed_in):
    middle = g.at(P, 180, 20)
    straight = g.corridor(middle, (270, 100), (90, 300))
    start = g.at(g.at(middle, 90, along_yd - 100), 180, beside_yd)
    side = dataclasses.replace(straight, id="side", line=(start, g.at(start, 180, 90)))
    assert ("corridor-no-exit" in codes(good(corridors=(straight, side)))) == boxed_in
    # drawn the other way, it is the side trail's last point that joins
    back = dataclasses.replace(side, line=side.line[::-1])
    assert ("corridor-no-exit" in codes(good(corridors=(straight, back)))) == boxed_in


def test_a_trail_that_crosses_is_an_exit():
    middle = g.at(P, 180, 20)
    straight = g.corridor(middle, (270, 100), (90, 300))
    start = g.at(g.at(middle, 90, 100), 0, 60)
    other = dataclasses.replace(straight, id="side", line=(start, g.at(start, 180, 120)))
    assert "corridor-no-exit" not in codes(good(corridors=(straight, other)))


# --- stands ---


def with_shot(yards, **more):
    return good(corridors=(g.corridor(g.at(P, 180, yards), (270, 80), (90, 80)),), **more)


@pytest.mark.parametrize(
    ("yards", "code"),
    [
        (9.5, "shot-close"),
        (10.5, None),
        (30, None),
        (31, "shot-far"),
        (59, "shot-far"),
        (61, "stand-no-shot"),
    ],
)
def test_the_shot(yards, code):
    said = {k: f for k, f in found(with_shot(yards)).items() if f.id == "oak"}
    assert {f.code for f in said.values()} == ({code} if code else set())
    for one in said.values():
        assert one.value == pytest.approx(yards, abs=0.1)
        assert one.unit == "yd"


def test_food_in_range_is_something_to_shoot_at():
    areas = (g.bed(P, 270, 140), g.food(P, 180, 45))
    assert "stand-no-shot" not in codes(with_shot(61, areas=areas))
    assert "stand-no-shot" in codes(with_shot(61, areas=(areas[0], g.food(P, 180, 55))))


def test_a_night_trail_is_no_shot():
    night = dataclasses.replace(TRAIL, use="night")
    (one,) = [f for f in found(good(corridors=(night,))).values() if f.code == "stand-no-shot"]
    assert (one.value, one.unit) == (0.0, "trails")


def test_a_stand_without_a_way_in():
    out = g.lane(P, (0, 440), (0, 5), way="out")
    one = found(good(lanes=(out,)))["stand-no-way-in:oak"]
    assert (one.value, one.unit) == (0.0, "lanes")
    assert "stand-no-way-in:oak" in found(good(lanes=()))


def test_a_closed_stand_is_left_alone():
    assert found(good(lanes=(), stand=Stand("oak", "Oak", P, closed=True))) == {}


@pytest.mark.parametrize(("yards", "seen"), [(19, True), (21, False)])
def test_a_stand_inside_a_bed(yards, seen):
    # the bed reaches 20 yd from its middle
    said = found(good(areas=(g.bed(P, 270, yards),)))
    assert ("stand-in-bed:oak:cane" in said) == seen
    if seen:
        assert said["stand-in-bed:oak:cane"].value == 0.0


@pytest.mark.parametrize(("yards", "seen"), [(30, True), (31, False)])
def test_a_stand_within_range_of_the_boundary(yards, seen):
    east = g.at(P, 90, yards)
    fence = Mark("line", "Line", "boundary", "LineString", (g.at(east, 0, 900), g.at(east, 180, 9)))
    said = found(good(marks=(fence,), stand=Stand("oak", "Oak", P)))
    assert ("stand-near-line:oak" in said) == seen


def test_a_stand_outside_the_boundary():
    said = found(good(marks=(square("boundary", 100, center=g.at(P, 0, 300)),)))
    assert said["stand-near-line:oak"].text == "it hangs 200 yd outside the boundary"


def test_a_stand_on_a_neighbours_piece_within_the_boundary():
    # a hole of 50 yd to each side round the stand
    fence = dataclasses.replace(square("boundary", 600), holes=(g.square(P, 50),))
    said = found(good(marks=(fence,)))
    assert said["stand-near-line:oak"].text == "it hangs 50 yd outside the boundary"


@pytest.mark.parametrize(("height_ft", "seen"), [(16, False), (17, True)])
def test_height_has_a_source(height_ft, seen):
    said = found(good(stand=Stand("oak", "Oak", P, height_ft=height_ft)))
    assert set(said) == ({"stand-high:oak"} if seen else set())
    if seen:
        assert (said["stand-high:oak"].value, said["stand-high:oak"].unit) == (17, "ft")
        assert "Massachusetts" in said["stand-high:oak"].source


# --- lanes ---


def test_a_lane_across_the_trail_before_the_shot():
    # mornings deer come from the east end of the trail: the lane crosses it there
    lane = g.lane(P, (150, 300), (110, 60), (90, 10))
    said = found(good(lanes=(lane,)))
    one = said["lane-crosses:lane:trail"]
    # on a flat sheet of yards: where the last leg meets the trail's east half
    crossing = LineString([_yd(110, 60), _yd(90, 10)]).intersection(
        LineString([_yd(180, 20), _yd(90, 80)])
    )
    assert one.value == pytest.approx(crossing.distance(Point(0, 0)), abs=0.2)
    assert "Oak, morning" in one.text and "evening" not in one.text


def _yd(bearing_deg, yards):
    theta = math.radians(bearing_deg)
    return yards * math.sin(theta), yards * math.cos(theta)


def test_a_crossing_of_a_morning_that_is_never_sat():
    lane = g.lane(P, (150, 300), (110, 60), (90, 10))
    stand = Stand("oak", "Oak", P, wanted=Wanted(morning="not-now"))
    assert "lane-crosses" not in codes(good(lanes=(lane,), stand=stand))


def beside(yards, held="day", **more):
    """A bed with its near edge some yards west of the lane, half way along it."""
    far = g.bed(g.at(P, 0, 220), 270, yards + 20, id_="cedar", held=held)
    # a trail there, so that the bed itself is beyond criticism
    trail = g.corridor(g.at(P, 0, 220), (270, yards + 45), (270, yards + 200), id_="cedar-trail")
    more = {"lanes": (g.lane(P, (0, 600), (0, 5)),), **more}
    return good(corridors=(TRAIL, trail), areas=(g.bed(P, 270, 140), far), **more)


@pytest.mark.parametrize(
    ("yards", "held", "code"),
    [
        (59, "day", "dark"),
        (61, "day", "day"),
        (99, "day", "day"),
        (101, "day", None),
        (59, "night", "dark"),
        (61, "night", None),
        (61, "always", "day"),
        (5, "never", None),
    ],
)
def test_a_lane_past_a_bed(yards, held, code):
    said = found(beside(yards, held))
    assert set(said) == ({f"lane-near-bed-{code}:lane:cedar"} if code else set())
    for one in said.values():
        assert one.value == pytest.approx(yards, abs=0.5)


def test_a_lane_that_is_only_walked_in_the_dark():
    stand = Stand("oak", "Oak", P, wanted=Wanted(morning="good", evening="not-now"))
    way_in = g.lane(P, (0, 600), (0, 5), way="in")
    assert found(beside(61, lanes=(way_in,), stand=stand)) == {}
    both = g.lane(P, (0, 600), (0, 5))
    assert "lane-near-bed-day:lane:cedar" in found(beside(61, lanes=(both,), stand=stand))


def test_a_lane_only_walked_by_day():
    stand = Stand("oak", "Oak", P, wanted=Wanted(morning="not-now", evening="good"))
    way_in = g.lane(P, (0, 600), (0, 5), way="in")
    assert set(found(beside(50, lanes=(way_in,), stand=stand))) == {"lane-near-bed-day:lane:cedar"}


def test_a_part_of_the_season_brings_the_morning_back():
    wanted = Wanted(morning="not-now", evening="not-now", by_part=(("rut", ("best", None)),))
    stand = Stand("oak", "Oak", P, wanted=wanted)
    way_in = g.lane(P, (0, 600), (0, 5), way="in")
    assert set(found(beside(50, lanes=(way_in,), stand=stand))) == {"lane-near-bed-dark:lane:cedar"}


def test_the_seats_own_nearness_is_not_the_lanes_fault_by_day():
    # the bed lies 70 yd south of the seat; the lane comes from the north
    trail = g.corridor(P, (180, 115), (180, 200), id_="south")
    prop = good(corridors=(TRAIL, trail), areas=(g.bed(P, 180, 90, id_="south-bed"),))
    assert "lane-near-bed-day" not in codes(prop)


def test_a_lane_through_a_bed():
    said = found(beside(-20))
    assert said["lane-through-bed:lane:cedar"].value == pytest.approx(40, abs=0.5)
    assert not any(key.startswith("lane-near-bed") for key in said)


def past_food(yards, held="night", **more):
    plot = g.food(g.at(P, 0, 220), 270, yards + 20, held=held)
    return good(areas=(g.bed(P, 270, 140), plot), **more)


@pytest.mark.parametrize(
    ("yards", "held", "seen"), [(59, "night", True), (61, "night", False), (59, "day", False)]
)
def test_a_lane_past_food_in_the_morning_dark(yards, held, seen):
    said = found(past_food(yards, held))
    assert set(said) == ({"lane-past-food:lane:clover"} if seen else set())


def test_food_past_a_lane_of_evening_stands():
    stand = Stand("oak", "Oak", P, wanted=Wanted(morning="watch", evening="best"))
    assert found(past_food(40, stand=stand)) == {}


@pytest.mark.parametrize(("half_yd", "seen"), [(436, False), (430, True)])
def test_a_lane_that_leaves_the_property(half_yd, seen):
    # it starts 440 yd north; five yards of drawing error are let through
    said = found(good(marks=(square("boundary", half_yd), point("truck", 0, 440))))
    assert ("lane-leaves:lane" in said) == seen
    if seen:
        assert said["lane-leaves:lane"].value == pytest.approx(5, abs=0.5)
        assert "Oak" in said["lane-leaves:lane"].text


def test_a_lane_across_a_boundary_that_is_a_line():
    north = g.at(P, 0, 200)
    fence = Mark(
        "line", "Line", "boundary", "LineString", (g.at(north, 270, 99), g.at(north, 90, 99))
    )
    assert found(good(marks=(fence,)))["lane-leaves:lane"].value == 1
    west = dataclasses.replace(fence, points=(g.at(north, 270, 99), g.at(north, 270, 9)))
    assert found(good(marks=(west,))) == {}


def test_only_a_boundary_is_a_boundary():
    house = square("no-shoot", 20, "house", g.at(P, 0, 35))
    assert found(good(marks=(house, point("boundary", 0, 3, "corner")))) == {}


# --- beds and trucks ---


@pytest.mark.parametrize(("yards", "seen"), [(49, False), (51, True)])
def test_a_bed_without_a_trail(yards, seen):
    # the bed's east edge lies so far west of the trail's end
    area = g.bed(P, 270, 80 + yards + 20)
    said = found(good(areas=(area,)))
    assert set(said) == ({"bed-no-trail:cane"} if seen else set())
    if seen:
        assert said["bed-no-trail:cane"].value == pytest.approx(yards, abs=0.5)


def test_no_trail_at_all():
    one = found(good(corridors=()))["bed-no-trail:cane"]
    assert (one.value, one.unit) == (0.0, "trails")


@pytest.mark.parametrize(("half_yd", "seen"), [(109.5, False), (110.5, True)])
def test_a_bed_over_ten_acres(half_yd, seen):
    # ten acres are 48,400 square yards: 220 yd by 220
    said = found(good(areas=(g.bed(P, 270, 400, half_yd=half_yd, held="never"),)))
    assert ("bed-large:cane" in said) == seen


@pytest.mark.parametrize(("yards", "seen"), [(249, True), (251, False)])
def test_a_truck_near_a_bed(yards, seen):
    gate = point("truck", 270, 160 + yards)
    said = found(good(marks=(gate, point("truck", 0, 440, "north"))))
    assert set(said) == ({"truck-near-bed:gate:cane"} if seen else set())


@pytest.mark.parametrize(
    ("yards", "from_deg", "seen"),
    [
        (300, 270, True),
        (300, 314, True),
        (300, 316, False),
        (300, 90, False),
        (499, 270, True),
        (501, 270, False),
    ],
)
def test_a_truck_upwind_on_the_common_wind(yards, from_deg, seen):
    gate = point("truck", 270, 160 + yards)
    prop = good(marks=(gate, point("truck", 0, 440, "north")))
    said = found(prop, CommonWind(from_deg, 0.2, "a table"))
    assert set(said) == ({"truck-upwind:gate:cane"} if seen else set())
    if seen:
        assert "a table" in said["truck-upwind:gate:cane"].text


def test_a_lane_without_a_truck_mark_starts_at_a_truck():
    area = g.bed(g.at(P, 0, 440), 0, 140)
    trail = g.corridor(g.at(P, 0, 440), (0, 165), (0, 220), id_="north")
    prop = good(corridors=(TRAIL, trail), areas=(area,))
    assert set(found(prop)) == {"truck-near-bed:lane:cane"}
    boat = g.lane(P, (0, 440), (0, 5), by="boat")
    assert found(dataclasses.replace(prop, lanes=(boat,))) == {}


# --- the common wind ---


def test_the_most_frequent_wind_of_the_season():
    prop = g.ground(seasons=(Season("bow", "11-10", "11-11"),))
    start = 1794268800  # 2026-11-10 00:00 UTC
    hours = g.hourly(start, [220] * 20 + [315] * 10 + [90] * 18 + [90] * 24)
    wind = common_wind(hours, prop, "test")
    assert (wind.from_deg, wind.source) == (225.0, "test")
    assert wind.share == pytest.approx(20 / 48)


def test_no_hour_in_season_is_no_common_wind():
    prop = g.ground(seasons=(Season("bow", "06-01", "06-02"),))
    assert common_wind(g.hourly(1794268800, [220] * 5), prop, "test") is None


def test_a_season_is_one_of_local_days():
    prop = g.ground(seasons=(Season("bow", "11-10", "11-10"),))
    # 22:00 on the 9th to 03:00 on the 10th, eastern standard time
    hours = g.hourly(1794268800 + 3 * 3600, [90, 90, 0, 0, 0, 180])
    assert common_wind(hours, prop, "test", -5 * 3600).from_deg == 0.0
    assert common_wind(hours, prop, "test", -5 * 3600).share == pytest.approx(3 / 4)


GREENSBORO_AIRPORT = (-79.95, 36.10)  # as the head of the typical year's file has it


@pytest.mark.parametrize(("miles", "near"), [(149, True), (151, False)])
@pytest.mark.parametrize("bearing", [0, 90, 225])
def test_the_typical_year_is_not_used_far_away(miles, near, bearing):
    prop = g.ground(center=g.at(GREENSBORO_AIRPORT, bearing, miles * 1760))
    assert (typical_common_wind(prop) is not None) == near


# --- the demo, and what its owner accepts ---


@pytest.fixture(scope="module")
def demo():
    return open_property(demo_path())


def test_the_demos_bad_lane_is_found_and_comes_first(demo):
    said = review(Scene(demo.property))
    assert said[0].id == "ridge-road"
    bad = {f.code for f in said if f.id == "ridge-road"}
    assert {"lane-crosses", "lane-near-bed-dark", "lane-past-food"} <= bad
    # no other lane deserves any of these three
    others = {f.id for f in said if f.code in bad - {"lane-near-bed-day"}}
    assert others == {"ridge-road"}
    lanes = {f.id for f in said} & {lane.id for lane in demo.property.lanes}
    assert lanes.isdisjoint({"west-road", "cane-walk", "plum-walk", "oats-road", "line-oak-walk"})


def test_accepted_stays_quiet_and_comes_back(demo):
    said = review(Scene(demo.property))
    key = said[0].key
    document = {
        **demo.document,
        "property": {
            **demo.document["property"],
            "accepted": ["a word of another program"],
            "unknown": {"a": 1},
        },
    }
    quiet = with_accepted(document, key, accepted=True)
    assert quiet["property"]["accepted"] == ["a word of another program", key]
    assert quiet["property"]["unknown"] == {"a": 1}
    assert document["property"]["accepted"] == ["a word of another program"]
    prop = dataclasses.replace(demo.property, accepted=tuple(quiet["property"]["accepted"]))
    assert [f.key for f in said if f not in still_said(prop, said)] == [key]
    assert with_accepted(quiet, key, accepted=False) == document
    assert with_accepted(quiet, key, accepted=True) == quiet


def test_only_a_criticism_can_be_accepted(demo):
    with pytest.raises(BadRequest, match="'too-loud:oak' is no criticism"):
        with_accepted(demo.document, "too-loud:oak", accepted=True)


def test_reports_say_measure_reason_and_source(demo):
    said = review(Scene(demo.property), typical_common_wind(demo.property))
    rows = finding_dicts(dataclasses.replace(demo.property, accepted=(said[0].key,)), said)
    assert [r["accepted"] for r in rows].count(True) == 1
    for one, row in zip(said, rows, strict=True):
        assert row["key"] == one.key and row["id"] and row["unit"] and row["text"]
        assert row["why"] == WHY[row["code"]]
        assert finding_line(one).startswith(f"{one.name}: {one.text}. ")
    assert len({f.key for f in said}) == len(said)


def test_order_and_place_do_not_matter():
    """The same ground elsewhere, and its features the other way round."""
    here = beside(50)
    turned = dataclasses.replace(
        here, areas=here.areas[::-1], corridors=here.corridors[::-1], lanes=here.lanes[::-1]
    )
    assert found(turned) == found(here)


def test_what_can_wait_comes_last_and_what_can_hurt_never_waits():
    findings = review(Scene(open_property(demo_path()).property))
    waits = [f.is_smaller for f in findings]
    assert waits == sorted(waits) and True in waits and False in waits
    hurts = {"stand-high", "stand-near-line", "lane-leaves", "lane-through-bed", "stand-in-bed"}
    assert not SMALLER & hurts and set(WHY) >= SMALLER
