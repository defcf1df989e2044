"""What turning the ground together with its wind can't show: which way is which.

Places are set by geographiclib, apart from the program's own plane. Trade facts are
common practice and marked so.
"""

import datetime
import math
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from core.air.drift import REFERENCE_MPS, equivalent_distance_m, reference_strength
from core.air.stability import CLASSES
from core.answer.change import spare_deg, works_by_degree
from core.answer.one_sit import answer_sit
from core.ground.layout import Person, Stand, Wanted
from core.judge.stand_rows import rows_of
from core.judge.still import still_air
from core.sit import held
from core.sit.clock import sit_clock
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.sky.daylight import sun_day
from core.units import M_PER_YD
from tests import grounds as g

PLACES = {
    "piedmont": ((-79.9, 36.1), "America/New_York"),
    "oslo": ((11.0, 60.0), "Europe/Oslo"),
    "auckland": ((174.8, -36.9), "Pacific/Auckland"),
}
APRIL_20 = datetime.date(2026, 4, 20)
NOON_S = sit_clock(g.ground(), g.NOV_10, "all-day").day.noon_s


def local(time_s: float, prop) -> str:
    return datetime.datetime.fromtimestamp(time_s, ZoneInfo(prop.timezone)).strftime("%H:%M:%S")


# --- from and to ---


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(
    ("from_deg", "verdict"), [(315, WRONG), (45, CLEAN), (135, CLEAN), (225, CLEAN)]
)
def test_a_north_west_wind_carries_air_to_the_south_east(place, from_deg, verdict):
    center, zone = PLACES[place]
    prop = g.ground(center, zone, areas=(g.bed(center, 135, 100),))
    hours = g.judged(prop, g.wind(from_deg), date=APRIL_20).hours
    assert len(hours.verdict) >= 3
    assert set(hours.verdict) == {verdict}
    assert hours.air.air_to_deg == pytest.approx((from_deg + 180) % 360)


@pytest.mark.parametrize(
    ("from_deg", "verdict"), [(315, WRONG), (45, CLEAN), (135, CLEAN), (225, CLEAN)]
)
def test_a_walk_gives_its_air_to_the_place_downwind(from_deg, verdict):
    # from every step of a lane that runs in from the north the bed is south-east
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 135, 100),))
    way = g.judged(prop, g.wind(from_deg, mph=5)).way_in
    assert (way.verdict[0] > CLEAN) == (verdict == WRONG)


def test_a_vaguer_report_brings_the_air_nearer():
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 180, 100),))
    likes = []
    for half_width in (0.0, 5.0, 11.25, 22.5):
        own = g.judged(prop, g.wind(45, half_width_deg=half_width))
        likes.append(float(own.hours.equivalent_yd[1, 0]))
    assert likes == sorted(likes, reverse=True)
    assert likes[-1] < 0.8 * likes[0]


# --- distances ---


@pytest.mark.parametrize("yards", [11, 30, 100, 250, 500, 1000, 2000, 3500])
def test_the_reference_is_like_its_own_distance(yards):
    # 6 mph in the exact mile and hour: 2.68224 m/s
    assert pytest.approx(2.68224, abs=1e-9) == REFERENCE_MPS
    like_m = equivalent_distance_m(reference_strength(yards * M_PER_YD))
    assert like_m / M_PER_YD == pytest.approx(yards, rel=2e-3)


@pytest.mark.parametrize(
    ("yards", "verdict"), [(279, WRONG), (290, JUST_OFF), (561, JUST_OFF), (583, CLEAN)]
)
def test_wrong_and_clean_are_in_yards(yards, verdict):
    # 6 mph at 10 m is 0.7855 of it at 2 m in class D, so air is 1.273 times as strong
    # as the reference's; strength runs as 1 / (sigma-z r^0.9) there, and with sigma-z as
    # r^1.1737 exp(-0.0316 ln(r)^2) that puts 250 yards (228.6 m) at 262.9 m = 287.5 yards
    # and 500 yards at 527.8 m = 577
    stand = Stand("oak", "Oak", g.PIEDMONT, seat="ground-blind", height_ft=0.0, cover="open")
    prop = g.ground(stand=stand, areas=(g.bed(g.PIEDMONT, 180, yards + 20),))
    own = g.judged(prop, g.wind(0, mph=6.0, cloud=1.0, half_width_deg=0.0))
    neutral = own.hours.air.stability == CLASSES.index("D")
    assert neutral.any()
    assert set(own.hours.verdict[neutral]) == {verdict}


# --- which end deer come from (common practice) ---

# the trail turns at its nearest point, 20 yd south-east; one arm runs off to the
# north-east, the other on to the south-east
ARM_NORTH_EAST = ((135, 20), (66, 88), (57, 230))
ARM_SOUTH_EAST = ((135, 20), (138, 120), (139, 250))


def trail(bedding_arm, food_arm):
    line = (*reversed(bedding_arm), *food_arm[1:])
    return g.corridor(g.PIEDMONT, *line)


@pytest.mark.parametrize(
    ("bedding_arm", "food_arm", "sit", "verdict"),
    [
        (ARM_NORTH_EAST, ARM_SOUTH_EAST, "evening", JUST_OFF),
        (ARM_NORTH_EAST, ARM_SOUTH_EAST, "morning", CLEAN),
        (ARM_SOUTH_EAST, ARM_NORTH_EAST, "evening", CLEAN),
        (ARM_SOUTH_EAST, ARM_NORTH_EAST, "morning", JUST_OFF),
    ],
)
def test_deer_come_from_bedding_in_the_evening_and_from_food_in_the_morning(
    bedding_arm, food_arm, sit, verdict
):
    # a south-west wind: air goes to the north-east arm only
    prop = g.ground(corridors=(trail(bedding_arm, food_arm),))
    own = g.judged(prop, g.wind(225), sit)
    assert own.corridors == ("trail",)
    # the arm is 88 yards off, more than 75: beside it
    assert own.hours.counts.sum(axis=1).tolist() == [1] * len(own.hours.verdict)
    assert set(own.hours.place_verdict[own.hours.counts]) == {verdict}
    assert set(own.hours.verdict) == {verdict}


@pytest.mark.parametrize(("yards", "in_range"), [(15, True), (30, True), (30.4, True), (31, False)])
def test_a_trail_fifteen_to_thirty_yards_off_is_in_bow_range(yards, in_range):
    prop = g.ground(corridors=(g.corridor(g.PIEDMONT, (90, yards), (90, 300)),))
    assert g.judged(prop, g.wind(0)).corridors == (("trail",) if in_range else ())


def test_the_smaller_range_of_stand_and_hunter_holds():
    trail_ = g.corridor(g.PIEDMONT, (90, 25), (90, 300))
    prop = g.ground(corridors=(trail_,), people=(Person("Ada", 20.0), Person("Ben", 40.0)))
    assert g.judged(prop, g.wind(0), hunter="Ada").corridors == ()
    assert g.judged(prop, g.wind(0), hunter="Ben").corridors == ("trail",)


# --- slope wind ---


def slope_air(cloud=0.0):
    stand = Stand("oak", "Oak", g.PIEDMONT, downhill_deg=180.0, grade_pct=20.0)
    sit = g.sit_of(g.ground(stand=stand), g.wind(None, mph=0.0, cloud=cloud), "all-day")
    own = rows_of(sit.sits, stand)
    return own.judged.hours, *still_air(own, stand)


def test_still_night_air_slides_down_and_climbs_at_clear_noon():
    rows, air_to, speed = slope_air()
    night = rows.middle_s < rows.day.sunrise_s
    noon = np.abs(rows.middle_s - NOON_S) <= 1800
    assert night.any() and noon.any()
    assert air_to[night] == pytest.approx(180.0)  # downhill is south
    assert speed[night] == pytest.approx(0.7)  # full grade, clear sky, the default strength
    assert air_to[noon] % 360 == pytest.approx(0.0)
    assert 0.4 < float(speed[noon][0]) <= 0.7


def test_a_light_west_wind_on_a_south_slope_at_night():
    # 2 mph (0.894 m/s) at 10 m, class F: x 0.4877^0.55 (16 ft) x 0.3 in timber leaves
    # 0.181 m/s eastward; the slope slides 0.7 x (1 - 0.894/5.4) = 0.584 m/s southward
    stand = Stand("oak", "Oak", g.PIEDMONT, downhill_deg=180.0, grade_pct=20.0)
    air = g.judged(g.ground(stand=stand), g.wind(270, mph=2.0, cloud=0.0)).hours.air
    to_deg = 180.0 - math.degrees(math.atan2(0.181, 0.584))
    assert air.air_to_deg[0] == pytest.approx(to_deg, abs=0.3)
    assert air.carried_mps[0] == pytest.approx(math.hypot(0.181, 0.584), abs=0.003)


def test_slope_wind_leaves_in_a_good_wind():
    stand = Stand("oak", "Oak", g.PIEDMONT, downhill_deg=180.0, grade_pct=20.0)
    own = g.judged(g.ground(stand=stand), g.wind(270, mph=5.4 / 0.44704, cloud=0.0))
    assert own.hours.air.air_to_deg == pytest.approx(90.0)


# --- the clock ---


def test_legal_light_is_half_an_hour_rounded_inwards():
    prop = g.ground()
    day = sun_day(prop.center[1], prop.center[0], prop.timezone, g.NOV_10)
    clock = sit_clock(prop, g.NOV_10, "morning")
    assert clock.legal_start_s % 60 == clock.legal_end_s % 60 == 0
    assert 0 <= clock.legal_start_s - (day.sunrise_s - 1800) < 60
    assert 0 <= day.sunset_s + 1800 - clock.legal_end_s < 60
    # sunrise there and then is within a few minutes of 6:50 am
    assert "06:15:00" < local(clock.start_s, prop) < "06:25:00"
    assert local(clock.end_s, prop) == "10:30:00"


def test_leave_the_truck_in_time_to_walk_and_settle():
    # 440 yards are a quarter mile: 10 min at 1.5 mph; seated 30 min before legal light
    prop = g.ground()
    own = g.judged(prop, g.wind(225))
    assert own.way_in.way.minutes == 10
    clock = sit_clock(prop, g.NOV_10, "morning")
    assert own.seated_s == clock.start_s - 1800
    assert own.leave_truck_s == own.seated_s - 600


def test_the_owners_minutes_go_before_the_map():
    prop = g.ground(lanes=(g.lane(g.PIEDMONT, (0, 440), (0, 5), minutes=25.0),))
    assert g.judged(prop, g.wind(225)).way_in.way.minutes == 25


def test_a_morning_ends_fifteen_minutes_before_the_wrong_hour():
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 135, 100),))
    clock = sit_clock(prop, g.NOV_10, "morning")
    first = int(clock.row_start_s[0])
    directions = [225.0] * 40
    turn = 3 + 20  # three clean hours, then north-west; the table starts 20 h early
    directions[turn:] = [315.0] * (40 - turn)
    own = g.judged(prop, g.hourly(first - 20 * 3600, directions))
    assert own.leave_by_s == first + 3 * 3600 - 900
    assert own.way_out.start_s == own.leave_by_s
    assert own.group == GO and own.verdict == CLEAN


def test_an_evening_begins_after_the_wrong_hour():
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 135, 100),))
    clock = sit_clock(prop, g.NOV_10, "evening")
    first = int(clock.row_start_s[0])
    directions = [315.0] * 21 + [225.0] * 19
    own = g.judged(prop, g.hourly(first - 20 * 3600, directions), "evening")
    assert own.not_before_s == first + 3600 == own.seated_s


def test_a_wrong_first_hour_is_stay_out():
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 135, 100),))
    own = g.judged(prop, g.wind(315))
    assert (own.group, own.verdict) == (STAY, WRONG)


# --- held ---


@pytest.mark.parametrize(
    ("word", "hours"),
    [
        # hours of a local day with sunrise near 6:50 and sunset near 17:15
        ("day", [6, 8, 12, 17]),
        ("night", [0, 4, 6, 17, 20, 23]),
        ("always", [0, 4, 6, 8, 12, 17, 20, 23]),
        ("never", []),
    ],
)
def test_held_hours(word, hours):
    day = sun_day(g.PIEDMONT[1], g.PIEDMONT[0], "America/New_York", g.NOV_10)
    midnight_s = datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp()
    asked = np.array([0, 4, 6, 8, 12, 17, 20, 23])
    found = held.held_at(word, midnight_s + asked * 3600.0, day)
    assert asked[found].tolist() == hours


def test_a_night_food_plot_by_day_is_one_step_milder():
    wind_ = g.wind(315)
    at_food = g.judged(g.ground(areas=(g.food(g.PIEDMONT, 135, 100),)), wind_)
    assert at_food.hours.verdict[-1] == JUST_OFF  # nine or ten in the morning
    assert at_food.hours.verdict[0] == WRONG  # before light deer are still there


@pytest.mark.parametrize(("months", "counts"), [((11,), True), ((10, 12), False)])
def test_a_bed_counts_in_its_months(months, counts):
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 135, 100, months=months),))
    own = g.judged(prop, g.wind(315))
    assert set(own.hours.verdict) == {WRONG if counts else CLEAN}


# --- can't call ---


@pytest.mark.parametrize(
    ("mph", "from_deg"), [(0.0, None), (5.0, None), (1.3 / 0.44704 - 0.1, 225.0)]
)
def test_light_or_aimless_air_is_not_called(mph, from_deg):
    own = g.judged(g.ground(areas=(g.bed(g.PIEDMONT, 135, 100),)), g.wind(from_deg, mph=mph))
    assert set(own.hours.verdict) == {CANT_CALL}
    assert own.group == CANT


def test_no_way_in_is_not_called():
    own = g.judged(g.ground(lanes=()), g.wind(225))
    assert own.group == CANT and own.way_in is None


# --- ways and order ---


def test_a_way_in_that_crosses_a_trail_says_so():
    prop = g.ground(corridors=(g.corridor(g.PIEDMONT, (300, 250), (60, 250)),))
    assert g.judged(prop, g.wind(180)).way_in.way.crosses == ("trail",)


def test_the_cleaner_way_is_chosen():
    by_the_bed = g.lane(g.PIEDMONT, (90, 440), (90, 5), id_="a-east")
    clear = g.lane(g.PIEDMONT, (270, 440), (270, 5), id_="b-west")
    prop = g.ground(lanes=(by_the_bed, clear), areas=(g.bed(g.PIEDMONT, 90, 200, half_yd=60),))
    own = g.judged(prop, g.wind(270))
    assert own.way_in.way.lane.id == own.way_out.way.lane.id == "b-west"


def test_the_stand_with_better_air_and_word_goes_first():
    stands = (
        Stand("a", "Ash", g.PIEDMONT, wanted=Wanted(morning="watch")),
        Stand("b", "Birch", g.at(g.PIEDMONT, 270, 30), wanted=Wanted(morning="best")),
        Stand("c", "Cedar", g.at(g.PIEDMONT, 270, 60), wanted=Wanted(morning="not-now")),
        Stand("d", "Dogwood", g.at(g.PIEDMONT, 270, 90), wanted=Wanted(morning="good")),
    )
    lanes = (g.lane(g.PIEDMONT, (0, 440), (0, 5), stands=("a", "b", "c", "d")),)
    answer = answer_sit(g.sit_of(g.ground(stands=stands, lanes=lanes), g.wind(225)))
    assert [s.stand.id for s in answer.stands] == ["b", "d", "a", "c"]
    assert [s.group for s in answer.stands] == [GO, GO, GO, STAY]


# --- what would change it ---


def test_degrees_to_spare_are_left_and_right_of_the_wind():
    # a bed in the south-east: winds round north-west do not work
    prop = g.ground(areas=(g.bed(g.PIEDMONT, 135, 100),))
    sit = g.sit_of(prop, g.wind(240))
    own = g.judged(prop, g.wind(240))
    works = works_by_degree(sit, own)
    assert works[240] and not works[315] and works[45]
    left, right = spare_deg(works, 240.0)
    # clockwise from south-west lies north-west: less room to the right
    assert right < 75 < left


def test_no_degrees_to_spare_in_a_wind_that_does_not_work():
    works = np.ones(360, bool)
    works[300:331] = False
    assert spare_deg(works, 315.0) == (None, None)
    assert spare_deg(works, math.nan) == (None, None)
    assert spare_deg(works, 290.0) == (180.0, 9.0)
