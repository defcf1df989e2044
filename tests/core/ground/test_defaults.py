"""Every default of a property file, as the table of kinds has it."""

import pytest

from tests import ground_files as g


def one(item: dict):
    prop = g.load(g.document(g.stand("post", 500, 500), item))
    groups = (prop.stands, prop.lanes, prop.corridors, prop.areas, prop.marks)
    return next(f for group in groups for f in group if f.id == item["id"])


STAND = {
    "seat": "hang-on",
    "height_ft": 16,
    "cover": "timber",
    "range_yd": 30,
    "lies": "flat",
    "downhill_deg": None,
    "grade_pct": None,
    "swirls": None,
    "edge_ok": False,
    "guest_ok": False,
    "set_up_min": 0,
    "max_gust_mph": None,
    "closed": False,
    "notes": "",
}
BY_SEAT = {
    "hang-on": {},
    "ladder": {"guest_ok": True},
    "climber": {"set_up_min": 25},
    "saddle": {"set_up_min": 25},
    "tripod": {},
    "box": {"guest_ok": True, "height_ft": 10},
    "ground-blind": {"guest_ok": True, "height_ft": 0},
}


@pytest.mark.parametrize("seat", sorted(BY_SEAT))
def test_a_stand(seat):
    stand = one(g.stand("oak", 0, 0, seat=seat))
    wanted = {**STAND, "seat": seat, **BY_SEAT[seat]}
    assert {name: getattr(stand, name) for name in wanted} == wanted
    assert (stand.wanted.morning, stand.wanted.evening, stand.wanted.by_part) == (None, None, ())


def test_a_stand_that_says_nothing_is_a_hang_on():
    assert one(g.stand("oak", 0, 0)) == one(g.stand("oak", 0, 0, seat="hang-on"))


@pytest.mark.parametrize("seat", sorted(BY_SEAT))
def test_what_a_stand_says_goes_before_the_default(seat):
    said = {"height_ft": 21, "guest_ok": seat == "climber", "set_up_min": 7}
    stand = one(g.stand("oak", 0, 0, seat=seat, **said))
    assert {name: getattr(stand, name) for name in said} == said


def test_null_is_not_said():
    stand = one(g.stand("oak", 0, 0, seat=None, height_ft=None, closed=None, wanted=None))
    assert stand == one(g.stand("oak", 0, 0))


def test_a_lane():
    lane = one(g.lane("way", [(0, 400), (0, 10)], ["post"]))
    said = (lane.way, lane.cover, lane.footing, lane.minutes, lane.by)
    assert said == ("both", "edge", None, None, "foot")


def test_a_corridor():
    trail = one(g.corridor("main", [(0, 0), (90, 0)]))
    assert (trail.width_ft, trail.use) == (3, "both")
    assert (trail.cut_on, trail.sprayed_on, trail.checked_on) == (None, None, None)


def test_bedding_and_food():
    bed = one(g.bed("cane", g.square(0, 0, 60)))
    food = one(g.food("clover", g.square(0, 0, 60)))
    assert (bed.kind, bed.held, bed.who) == ("bedding", "day", None)
    assert (food.kind, food.held) == ("food", "night")
    for area in (bed, food):
        assert area.months == (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
        assert area.with_wind_deg == ((0, 360),)


def test_rules_of_the_property():
    seasons = [{"weapon": "bow", "first": "09-13", "last": "01-01"}]
    parts = [{"name": "early", "first": "09-13", "last": "10-19"}]
    prop = g.load(g.document(seasons=seasons, parts=parts, people=[{"name": "Sam"}]))
    season, part, person = prop.seasons[0], prop.parts[0], prop.people[0]
    assert (season.before_sunrise_min, season.after_sunset_min) == (30, 30)
    assert (season.closed, season.orange, season.rule, season.checked_on) == ((), False, "", None)
    assert (part.rest_days, part.all_day) == (3, False)
    assert (person.range_yd, person.phone) == (30, "")
    sit, air = prop.sit, prop.air
    assert (sit.morning_end, sit.evening_h, sit.settle_min) == ("10:30", 3.5, 30)
    assert (sit.gear_up_min, sit.walk_mph) == (10, 1.5)
    assert (air.wrong_within_yd, air.clean_beyond_yd, air.cant_call_below_mps) == (250, 500, 1.3)
    assert (air.slope_wind_mps, air.slope_fades_at_mps) == (0.7, 5.4)
    assert air.lee_deg == 15
    assert (air.trail_within_yd, air.trail_shot_times) == (75, 3.5)
    assert (air.turn_min, air.turn_told_deg, sit.out_stay_within_yd) == (20, 20, 100)
    assert (sit.spot_off_bed_yd, sit.spot_off_seat_yd) == (60, 60)


def test_a_file_that_names_some_rules_keeps_the_others_default():
    prop = g.load(g.document(air={"wrong_within_yd": 200}, sit={"settle_min": 10}))
    assert (prop.air.wrong_within_yd, prop.air.trail_within_yd, prop.air.turn_min) == (200, 75, 20)
    assert (prop.sit.settle_min, prop.sit.out_stay_within_yd) == (10, 100)
    said = {"trail_within_yd": 0, "trail_shot_times": 0, "turn_min": 0, "turn_told_deg": 0}
    prop = g.load(g.document(air=said, sit={"out_stay_within_yd": 0}))
    assert {name: getattr(prop.air, name) for name in said} == said
    assert prop.sit.out_stay_within_yd == 0


# --- values that are read ---


def test_everything_that_a_stand_may_say():
    stand = one(
        g.stand(
            "oak",
            0,
            0,
            swirls={"from_deg": [[250, 320], [10, 10]], "under_mph": 6},
            wanted={"morning": "best", "by_part": {"rut": {"evening": "not-now"}, "late": {}}},
            downhill_deg=360,
            grade_pct=0,
            max_gust_mph=25,
        )
    )
    assert stand.swirls.from_deg == ((250, 320), (10, 10))
    assert stand.swirls.under_mph == 6
    assert stand.wanted.morning == "best"
    assert stand.wanted.by_part == (("rut", (None, "not-now")), ("late", (None, None)))
    assert (stand.downhill_deg, stand.grade_pct, stand.max_gust_mph) == (360, 0, 25)


def test_an_empty_swirls_is_no_swirls():
    # two conditions that both hold are met by every wind where neither is given
    assert one(g.stand("oak", 0, 0, swirls={})).swirls is None


def test_directions_and_months_of_a_bed():
    bed = one(g.bed("cane", g.square(0, 0, 60), months=[12, 1, 12], with_wind_deg=[[350, 10]]))
    assert bed.months == (1, 12)
    assert bed.with_wind_deg == ((350, 10),)


def test_closed_hours_and_days_that_wrap():
    closed = [{"days": ["Sun", "Wed"], "from": "09:30", "to": "12:30"}]
    seasons = [{"weapon": "bow", "first": "09-13", "last": "02-29", "closed": closed}]
    season = g.load(g.document(seasons=seasons)).seasons[0]
    assert season.closed[0].days == ("Sun", "Wed")
    assert (season.closed[0].from_time, season.closed[0].to_time) == ("09:30", "12:30")
    assert season.last == "02-29"
