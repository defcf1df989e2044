"""A spot that is tried is judged as a stand that hangs there would be."""

import dataclasses
import datetime

import pytest

from core.answer.one_sit import answer_sit
from core.answer.tryout import (
    TRIED,
    SeasonShare,
    season_share,
    spot,
    tried_dates,
    tried_ground,
    try_sit,
)
from core.errors import BadRequest
from core.ground.layout import Season
from core.ground.parse import property_from_document
from core.ground.store import demo_path, open_property
from core.say.tryout import share_line, tried_lines, with_stand
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT, GO, STAY, WRONG
from core.weather.entry import parse_wind
from core.weather.files.typical import typical_hours
from tests import grounds as g

P = g.PIEDMONT
NOV_10 = g.NOV_10


@pytest.fixture(scope="module")
def demo():
    return open_property(demo_path()).property


def as_spot(stand):
    """A spot with all that a stand says, but for what its owner wants of it."""
    names = (
        "cover",
        "range_yd",
        "lies",
        "downhill_deg",
        "grade_pct",
        "swirls",
        "edge_ok",
        "set_up_min",
        "max_gust_mph",
    )
    return spot(stand.at, stand.seat, stand.height_ft, **{n: getattr(stand, n) for n in names})


@pytest.mark.parametrize("wind", ["NW 8", "SW 12", "calm", "E 4"])
@pytest.mark.parametrize("sit", ["morning", "evening"])
def test_a_spot_at_a_stand_is_that_stand(demo, wind, sit):
    """The stands whose nearest lane is their own way in."""
    weather = parse_wind(wind, None)
    whole = answer_sit(prepare_sit(Scene(demo), weather, NOV_10, sit))
    seen = 0
    for own in whole.stands:
        stand = own.stand
        if "not-now" in own.causes or stand.id not in ("split-oak", "plum-edge", "line-oak"):
            continue
        tried = try_sit(demo, as_spot(stand), weather, NOV_10, sit)
        assert (tried.own.hours.verdict == own.hours.verdict).all()
        assert tried.own.air_share == pytest.approx(own.air_share)
        if tried.own.way_in.way.lane.id == own.way_in.way.lane.id:
            assert (tried.own.group, tried.own.verdict) == (own.group, own.verdict)
            assert tried.own.leave_truck_s == own.leave_truck_s
            seen += 1
    assert seen >= 1


def test_upwind_of_the_bed_is_out_and_downwind_is_go():
    prop = g.ground(
        areas=(g.bed(P, 0, 0),), corridors=(g.corridor(P, (0, 30), (0, 300)),), lanes=(), stands=()
    )
    north, south = g.at(P, 0, 120), g.at(P, 180, 120)
    wind = parse_wind("N 10", 0.0)
    above = try_sit(prop, spot(north), wind, NOV_10, "morning")
    below = try_sit(prop, spot(south), wind, NOV_10, "morning")
    assert (above.air_group, above.air_verdict) == (STAY, WRONG)
    assert below.air_group == GO
    # no lane near: the whole answer can't be called, the air still is
    assert below.lanes == () and below.own.group == CANT and "no-way" in below.own.causes


@pytest.mark.parametrize(("yards", "led"), [(149, True), (151, False)])
def test_the_nearest_lane_leads_to_it(yards, led):
    prop = g.ground(lanes=(g.lane(P, (0, 440), (0, 5)),))
    tried = tried_ground(prop, spot(g.at(g.at(P, 0, 200), 90, yards)))
    assert [lane.id for lane in tried.lanes] == (["lane"] if led else [])
    assert [s.id for s in tried.stands] == [TRIED]
    assert all(lane.stands == (TRIED,) for lane in tried.lanes)


def test_a_way_in_and_another_way_out():
    far = g.lane(g.at(P, 90, 60), (0, 440), (0, 5), id_="far", way="in")
    near = g.lane(g.at(P, 90, 20), (0, 440), (0, 5), id_="near", way="out")
    tried = tried_ground(g.ground(lanes=(far, near)), spot(g.at(P, 0, 100)))
    assert {lane.id: lane.way for lane in tried.lanes} == {"far": "in", "near": "out"}
    both = dataclasses.replace(near, way="both")
    tried = tried_ground(g.ground(lanes=(far, both)), spot(g.at(P, 0, 100)))
    assert [lane.id for lane in tried.lanes] == ["near"]


def test_the_ground_itself_is_not_changed(demo):
    before = dataclasses.asdict(demo)
    try_sit(demo, spot(demo.center), parse_wind("W 8", None), NOV_10, "evening")
    assert dataclasses.asdict(demo) == before


def test_usual_heights_and_set_up():
    assert spot(P).height_ft == 16
    assert spot(P, "ground-blind").height_ft == 0
    assert spot(P, "box").height_ft == 10
    assert spot(P, "saddle").set_up_min == 25
    assert spot(P, "saddle", 22).height_ft == 22


@pytest.mark.parametrize(
    ("more", "seen"),
    [
        ({"seat": "hammock"}, "'hammock' is no seat"),
        ({"cover": "jungle"}, "'jungle' is no cover"),
        ({"height_ft": 101}, "101 ft"),
        ({"height_ft": -1}, "-1 ft"),
        ({"downhill_deg": 90}, "half a slope"),
        ({"grade_pct": 9}, "half a slope"),
    ],
)
def test_what_is_no_spot(more, seen):
    with pytest.raises(BadRequest, match=seen):
        spot(P, **more)


def test_a_slip_of_the_finger(demo):
    bare = dataclasses.replace(demo, stands=())
    with pytest.raises(BadRequest, match="the spot is 2,010 yd from the ground"):
        tried_ground(bare, spot(g.at(demo.center, 45, 2010)))
    tried_ground(bare, spot(g.at(demo.center, 45, 1990)))
    # near a stand will do
    far = dataclasses.replace(demo.stands[0], at=g.at(demo.center, 45, 3000))
    tried_ground(dataclasses.replace(demo, stands=(far,)), spot(g.at(demo.center, 45, 4000)))
    with pytest.raises(BadRequest, match=r"the spot is [\d,]+ yd from the ground"):
        tried_ground(demo, spot((0.0, 0.0)))


def test_days_that_are_tried(demo):
    days = tried_dates(demo, 2026, 1)
    assert (days[0], days[-1], len(days)) == (
        datetime.date(2026, 9, 13),
        datetime.date(2027, 1, 1),
        111,
    )
    assert tried_dates(demo, 2026) == days[::3]
    assert tried_dates(dataclasses.replace(demo, seasons=()), 2026) == []
    leap = dataclasses.replace(demo, seasons=(Season("bow", "02-29", "02-29"),))
    assert tried_dates(leap, 2028) == [datetime.date(2028, 2, 29)]
    assert tried_dates(leap, 2026) == [datetime.date(2026, 2, 28)]


def test_shares_add_up_and_are_those_of_the_single_sits(demo):
    stand = as_spot(demo.stand("split-oak"))
    dates = tried_dates(demo, 2026, 16)
    morning, evening = season_share(demo, stand, typical_hours, dates)
    assert (morning.sit, evening.sit) == ("morning", "evening")
    for share in (morning, evening):
        assert share.led
        assert sum(share.by_air) == sum(share.with_way) == share.n_sits == len(dates)
    groups = [try_sit(demo, stand, typical_hours(d), d, "morning").own.group for d in dates]
    assert morning.with_way == tuple(groups.count(x) for x in (GO, CANT, STAY))


def test_the_way_never_makes_it_better(demo):
    stand = as_spot(demo.stand("saddle-stand"))
    dates = tried_dates(demo, 2026, 24)
    for share in season_share(demo, stand, typical_hours, dates):
        assert share.with_way[GO] <= share.by_air[GO]


def test_a_spot_in_words(demo):
    wind = parse_wind("NW 8", 0.0)
    led = tried_lines(try_sit(demo, as_spot(demo.stand("split-oak")), wind, NOV_10, "morning"))
    assert led[0].split(":")[0] in ("GO", "CAN'T CALL", "STAY OUT")
    (air,) = (line for line in led if " air goes " in line)
    assert "air goes SE: " in air and "Draw head (downwind, " in air
    assert "Backbone (crosswind, " not in air  # the part before the shot lies in the air
    assert any("West road" in line for line in led)
    # the middle of the hay field, far from every lane but one that runs by
    bare = dataclasses.replace(demo, lanes=())
    alone = tried_lines(try_sit(bare, spot(demo.center), wind, NOV_10, "morning"))
    assert alone[0].endswith(", by its air alone.")
    assert alone[-1] == "No lane comes within 150 yd: the walk is not judged."
    assert "No way in drawn." not in alone


def test_a_spot_to_stay_out_of_has_no_time_to_be_there(demo):
    """Wrong until seven, and wrong on the way in: the hour left is no reason to go."""
    wind, day = parse_wind("NW 8", 0.5), datetime.date(2026, 10, 6)
    tried = try_sit(demo, spot(demo.center), wind, day, "evening")
    assert tried.own.group == STAY and tried.own.not_before_s is not None
    led = tried_lines(tried)
    assert led[0].startswith("STAY OUT")
    assert not any(line.startswith(("Not before", "Be down")) for line in led)


def test_a_share_in_words():
    three = (10, 3, 7)
    said = share_line(SeasonShare("morning", True, 20, (12, 3, 5), three))
    assert said.startswith("Mornings: go on 10 of 20 (50 %), can't call on 3.")
    said = share_line(SeasonShare("evening", False, 20, (12, 3, 5), three))
    assert said.startswith("Evenings: go on 12 of 20 (60 %) by its air alone, can't call on 3.")
    assert "0 of 0 (0 %)" in share_line(SeasonShare("evening", True, 0, (0, 0, 0), (0, 0, 0)))


def test_a_spot_becomes_a_stand():
    opened = open_property(demo_path())
    tried = spot((-79.69, 35.93), "ladder", 14, cover="edge", lies="side")
    document = with_stand(opened.document, tried)
    (new,) = document["features"][len(opened.document["features"]) :]
    assert new["geometry"] == {"type": "Point", "coordinates": [-79.69, 35.93]}
    read = property_from_document(document).stand(new["id"])
    assert (read.seat, read.height_ft, read.cover, read.lies) == ("ladder", 14, "edge", "side")
    assert read.downhill_deg is None and read.guest_ok
