"""What an answer reads as where nothing is reached, called or known: the rules, one by one.

Numbers are those of the rules: 3.6 m/s in a bottom, 2 miles as the farthest that is told.
"""

import dataclasses
import datetime

import ephem
import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Season, Stand, Swirls, Wanted
from core.judge.causes import (
    IS_BOTTOM,
    IS_CALM,
    IS_LIGHT,
    IS_MISSING,
    IS_SWIRL,
    IS_VARIABLE,
    SURE,
)
from core.say.as_json import daylight_dict, sit_dict
from core.sit.dates import legal_light_s
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, STAY, WRONG
from core.sky.daylight import sun_day
from core.units import MPS_PER_MPH
from core.weather.hours import make_hours
from tests.grounds import (
    ALL_YEAR,
    NOV_10,
    PIEDMONT,
    bed,
    corridor,
    food,
    ground,
    hourly,
    judged,
    lane,
    sit_of,
    wind,
)

CANE = bed(PIEDMONT, 135, 100)  # in wrong air on a north-west wind


def causes(stand, weather, sit="morning"):
    """Why each hour at a seat can't be called, with a bed in the south-east."""
    return set(judged(ground(stand=stand, areas=(CANE,)), weather, sit).hours.cause.tolist())


def swirling(**known) -> Stand:
    return Stand("oak", "Oak", PIEDMONT, swirls=Swirls(**known))


# --- a seat that swirls, by the owner's own knowledge ---


def test_a_seat_that_swirls_is_not_called_and_wrong_becomes_cant_call():
    stand = swirling(from_deg=((300.0, 330.0),))
    own = judged(ground(stand=stand, areas=(CANE,)), wind(315.0))
    assert set(own.hours.verdict) == {CANT_CALL} and own.group == CANT
    plain = judged(ground(areas=(CANE,)), wind(315.0))
    assert set(plain.hours.verdict) == {WRONG} and plain.group == STAY


@pytest.mark.parametrize(
    ("from_deg", "cause"),
    # 300 to 330 with a report of 11.25 degrees to each side
    [(300, IS_SWIRL), (330, IS_SWIRL), (289, IS_SWIRL), (341, IS_SWIRL), (288, SURE), (342, SURE)],
)
def test_swirls_hold_where_the_span_of_the_report_touches_them(from_deg, cause):
    assert causes(swirling(from_deg=((300.0, 330.0),)), wind(from_deg)) == {cause}


def test_swirls_may_run_through_north():
    stand = swirling(from_deg=((350.0, 10.0),))
    assert causes(stand, wind(0.0)) == {IS_SWIRL}
    assert causes(stand, wind(180.0)) == {SURE}


@pytest.mark.parametrize(("mph", "cause"), [(8.9, IS_SWIRL), (9.0, SURE), (9.1, SURE)])
def test_swirls_under_a_speed_are_of_the_forecast_s_own_wind(mph, cause):
    # the wind at a seat in timber is less than a third of it
    assert causes(swirling(under_mph=9.0), wind(45.0, mph)) == {cause}


@pytest.mark.parametrize(
    ("from_deg", "mph", "cause"),
    [(315, 8, IS_SWIRL), (315, 10, SURE), (45, 8, SURE), (45, 10, SURE)],
)
def test_both_conditions_of_a_swirl_are_needed_where_both_are_given(from_deg, mph, cause):
    stand = swirling(from_deg=((300.0, 330.0),), under_mph=9.0)
    assert causes(stand, wind(from_deg, mph)) == {cause}


def test_a_swirl_that_tells_nothing_holds_never():
    assert causes(swirling(), wind(315.0)) == {SURE}


# --- a seat in a bottom ---


@pytest.mark.parametrize(("mps", "cause"), [(3.5, IS_BOTTOM), (3.6, SURE), (3.7, SURE)])
def test_a_bottom_is_not_called_under_3_6_mps(mps, cause):
    # two in the afternoon and later, overcast: class D whatever the wind, by day and by night
    # over 3 m/s; so that only the speed tells
    stand = Stand("oak", "Oak", PIEDMONT, lies="bottom")
    assert causes(stand, wind(45.0, mps / MPS_PER_MPH, cloud=1.0), "evening") == {cause}
    flat = dataclasses.replace(stand, lies="flat")
    assert causes(flat, wind(45.0, mps / MPS_PER_MPH, cloud=1.0), "evening") == {SURE}


def test_a_bottom_is_not_called_in_the_classes_of_a_still_night():
    # 4 m/s on a clear night is class E; by day it is no longer
    own = judged(
        ground(stand=Stand("oak", "Oak", PIEDMONT, lies="bottom")),
        wind(45.0, 4.0 / MPS_PER_MPH, cloud=0.0),
    )
    still = own.hours.air.stability >= 4
    assert still.any() and not still.all()
    assert set(own.hours.cause[still]) == {IS_BOTTOM}
    assert set(own.hours.cause[~still]) == {SURE}


@pytest.mark.parametrize(
    ("weather", "cause"),
    [
        (wind(None, mph=0.0), IS_CALM),
        (wind(None, mph=5.0), IS_VARIABLE),
        (wind(45.0, mph=2.0), IS_LIGHT),  # 0.89 m/s
        (wind(45.0, mph=5.0), IS_SWIRL),
    ],
)
def test_the_first_cause_is_told_where_several_hold(weather, cause):
    stand = dataclasses.replace(swirling(under_mph=20.0), lies="bottom")
    assert causes(stand, weather) == {cause}


def test_an_hour_that_the_forecast_lacks_is_missing_before_all_else():
    sit = sit_of(ground(areas=(CANE,)), wind(45.0))
    first = int(sit.clock.row_start_s[0])
    half = make_hours(start_s=[first], speed_mps=3.6, wind_from_deg=45.0, half_width_deg=5.0)
    stand = dataclasses.replace(swirling(under_mph=1.0), lies="flat")
    own = judged(ground(stand=stand, areas=(CANE,)), half)
    assert own.hours.cause.tolist() == [SURE] + [IS_MISSING] * (len(own.hours.cause) - 1)


# --- distances that are told ---


def report(prop, weather, sit="morning"):
    return sit_dict(answer_sit(sit_of(prop, weather, sit)))["stands"][0]


def test_a_way_that_reaches_nothing_that_counts_is_like_two_miles():
    # none drawn; one that never counts; one upwind of the whole walk
    never = dataclasses.replace(CANE, held="never")
    for areas in ((), (never,), (bed(PIEDMONT, 45, 300),)):
        told = report(ground(areas=areas), wind(45.0))
        for way in (told["way_in"], told["way_out"]):
            assert (way["verdict"], way["equivalent_yd"]) == ("clean", 3520)


@pytest.mark.parametrize("weather", [wind(None, mph=0.0), wind(None, mph=5.0), wind(45.0, 2.0)])
def test_a_way_that_cant_be_called_has_no_distance(weather):
    told = report(ground(areas=(CANE,)), weather)
    for way in (told["way_in"], told["way_out"]):
        assert (way["verdict"], way["equivalent_yd"]) == ("cant-call", None)


def test_no_way_in_drawn_has_no_distance_either():
    told = report(ground(lanes=(), areas=(CANE,)), wind(45.0))
    assert (told["way_in"]["lane"], told["way_in"]["equivalent_yd"]) == (None, None)
    assert told["way_in"]["verdict"] == "cant-call"


def test_an_hour_whose_air_may_go_any_way_has_no_distance():
    stand = swirling(from_deg=((300.0, 330.0),))
    swirl = report(ground(stand=stand, areas=(CANE,)), wind(315.0))["zones"][0]
    assert (swirl["id"], swirl["verdict"]) == ("cane", "cant-call")
    assert swirl["equivalent_yd"] is None


@pytest.mark.parametrize("mph", [0.0, 5.0])
def test_an_hour_without_a_direction_has_no_distance(mph):
    told = report(ground(areas=(CANE,)), wind(None, mph=mph))
    zone = told["zones"][0]
    assert (zone["verdict"], zone["equivalent_yd"], zone["relation"]) == ("cant-call", None, "none")
    assert zone["hour"] == told["hours"][0]["start"]
    assert {h["air_to_deg"] for h in told["hours"]} == {None}


def test_a_place_is_told_at_its_worst_hour():
    clock = sit_of(ground(), wind(45.0)).clock
    first = int(clock.row_start_s[0])
    told = report(ground(areas=(CANE,)), hourly(first - 20 * 3600, [45.0] * 22 + [315.0] * 18))
    zone = told["zones"][0]
    assert (zone["verdict"], zone["hour"]) == ("wrong", told["hours"][2]["start"])
    assert [h["verdict"] for h in told["hours"][:3]] == ["clean", "clean", "wrong"]
    straight = report(ground(areas=(CANE,)), hourly(first - 20 * 3600, [315.0] * 40))
    assert zone["equivalent_yd"] >= straight["zones"][0]["equivalent_yd"]


@pytest.mark.parametrize(("yards", "told"), [(25.4, 25), (25.6, 26), (140.6, 141)])
def test_true_distances_are_told_to_the_nearest_yard(yards, told):
    trail = corridor(PIEDMONT, (90, yards), (90, 300))
    zones = {z["id"]: z for z in report(ground(corridors=(trail,)), wind(45.0))["zones"]}
    assert zones["trail"]["distance_yd"] == told
    assert zones["trail"]["bearing_deg"] == 90.0


# --- daylight ---


@pytest.mark.parametrize("days", [0, 4, 8, 12, 16])
def test_the_moon_is_told_at_solar_noon(days):
    # a half moon changes by 0.04 in 12 hours; PyEphem's own disc within 0.003
    date = NOV_10 + datetime.timedelta(days=days)
    day = sun_day(PIEDMONT[1], PIEDMONT[0], "America/New_York", date)
    noon = datetime.datetime.fromtimestamp(day.noon_s, datetime.UTC).replace(tzinfo=None)
    theirs = ephem.Moon(ephem.Date(noon)).phase / 100.0
    told = daylight_dict(day, None)
    assert told["moon_illuminated_frac"] == pytest.approx(theirs, abs=3e-3)
    assert told["solar_noon"].startswith(f"{date}T12:")


def test_outside_every_season_no_legal_light_is_told_but_the_sun_is():
    day = sun_day(PIEDMONT[1], PIEDMONT[0], "America/New_York", NOV_10)
    told = daylight_dict(day, None)
    assert (told["legal_start"], told["legal_end"]) == (None, None)
    assert "No season" in told["note"] and told["sunrise"] and told["sunset"]
    inside = daylight_dict(day, legal_light_s(day, ALL_YEAR))
    assert inside["legal_start"] < inside["sunrise"] < inside["sunset"] < inside["legal_end"]
    assert "note" not in inside


def test_a_sit_outside_every_season_has_no_legal_light():
    spring = Season(weapon="bow", first="04-01", last="04-30")
    answer = answer_sit(sit_of(ground(seasons=(spring,)), wind(45.0)))
    assert sit_dict(answer)["legal_light"] is None
    assert answer.best.group == STAY and answer.best.causes == ("season",)
    open_ = sit_dict(answer_sit(sit_of(ground(), wind(45.0))))
    assert open_["legal_light"]["confirmed"] is False


# --- what is wanted, where nobody said (common practice) ---

PLOT = food(PIEDMONT, 0, 25.0, held="never")  # in range, and its air counts for nothing
TRAIL = corridor(PIEDMONT, (0, 20), (0, 300))


@pytest.mark.parametrize(
    ("sit", "areas", "trails", "share"),
    [
        ("morning", (), (), 0.4),
        ("evening", (), (), 0.4),
        ("morning", (PLOT,), (), 0.4),
        ("evening", (PLOT,), (), 0.7),
        ("all-day", (PLOT,), (), 0.4),
        ("morning", (), (TRAIL,), 0.7),
        ("evening", (), (TRAIL,), 0.7),
        ("evening", (food(PIEDMONT, 0, 80.0, held="never"),), (), 0.4),
    ],
)
def test_food_in_range_lifts_an_unset_word_in_the_evening_alone(sit, areas, trails, share):
    # clean hours, clean ways and no log are worth 1 each: the score is the word's share
    here = ground(areas=areas, corridors=trails, lanes=(lane(PIEDMONT, (180, 440), (180, 5)),))
    best = answer_sit(sit_of(here, wind(0.0), sit)).best
    assert set(best.hours.verdict) == {CLEAN} and best.wanted is None
    assert best.score == pytest.approx(share)


@pytest.mark.parametrize(("word", "share"), [("best", 1.0), ("good", 0.7), ("watch", 0.4)])
def test_a_word_that_is_set_is_not_lifted(word, share):
    stand = Stand("oak", "Oak", PIEDMONT, wanted=Wanted(evening=word))
    best = answer_sit(sit_of(ground(stand=stand, areas=(PLOT,)), wind(0.0), "evening")).best
    assert best.score == pytest.approx(share)


def test_of_two_words_all_day_takes_the_lower():
    stand = Stand("oak", "Oak", PIEDMONT, wanted=Wanted(morning="best", evening="watch"))
    assert judged(ground(stand=stand), wind(0.0), "all-day").wanted == "watch"
    assert judged(ground(stand=stand), wind(0.0), "morning").wanted == "best"


def test_the_score_is_told_to_nobody():
    assert "score" not in report(ground(), wind(45.0))
