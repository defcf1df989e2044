"""Why a stand is out, what its verdict is then, and in which order stands come."""

import dataclasses

import numpy as np
import pytest

from core.answer.change import works_by_degree
from core.answer.one_sit import answer_sit
from core.answer.reached import telling_case
from core.ground.layout import Part, Person, Season, Stand, Wanted
from core.judge.stand_rows import rows_of
from core.say.reason_texts import reason_texts
from core.say.reasons import reasons
from core.sit.minutes import TURNING, WHOLE
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.units import MPS_PER_MPH
from core.weather.entry import parse_wind
from core.weather.hours import make_hours
from tests.grounds import (
    PIEDMONT,
    at,
    bed,
    food,
    ground,
    hourly,
    judged,
    lane,
    sit_of,
    wind,
)

OAK = Stand("oak", "Oak", PIEDMONT)
BEHIND = bed(PIEDMONT, 135, 100)  # in wrong air on a north-west wind


def with_oak(**more) -> Stand:
    return dataclasses.replace(OAK, **more)


# --- wind limits ---


@pytest.mark.parametrize(
    ("mps", "height_ft", "causes"),
    # Beaufort 7 begins at 13.9 m/s
    [(13.8, 16.0, ()), (13.9, 16.0, ("strong-wind",)), (20.0, 0.0, ())],
)
def test_a_raised_seat_is_out_in_a_near_gale(mps, height_ft, causes):
    own = judged(ground(stand=with_oak(height_ft=height_ft)), wind(45.0, mps / MPS_PER_MPH))
    assert own.causes == causes
    assert (own.group, own.verdict) == (STAY if causes else GO, CLEAN)


@pytest.mark.parametrize(("gust_mph", "causes"), [(20.0, ()), (20.1, ("gust",)), (None, ())])
def test_gusts_over_the_seat_s_own_limit(gust_mph, causes):
    gust = np.nan if gust_mph is None else gust_mph * MPS_PER_MPH
    own = judged(ground(stand=with_oak(max_gust_mph=20.0)), wind(45.0, gust_mps=gust))
    assert own.causes == causes


@pytest.mark.parametrize(
    ("mean_mph", "more", "causes"),
    [
        (30.0, {}, ("gust",)),  # no gust given: the mean is over the limit
        (20.0, {}, ()),
        (15.0, {"speed_high_mps": 21 * MPS_PER_MPH}, ("gust",)),  # told as 9 to 21
        (8.0, {"gust_mps": 20 * MPS_PER_MPH}, ()),
    ],
)
def test_a_mean_wind_over_the_seat_s_limit_needs_no_gust(mean_mph, more, causes):
    own = judged(ground(stand=with_oak(max_gust_mph=20.0)), wind(45.0, mean_mph, **more))
    assert own.causes == causes
    said = any(text == "Wind or gusts over this seat's limit of 20 mph." for text in told(own))
    assert said == bool(causes)


@pytest.mark.parametrize(
    ("mean_mps", "gust_mps", "out"),
    # Beaufort 11 begins at 28.5 m/s
    [(28.4, np.nan, False), (28.5, np.nan, True), (20.0, 28.4, False), (20.0, 28.5, True)],
)
def test_over_beaufort_10_no_seat_is_go_on_the_ground_either(mean_mps, gust_mps, out):
    prop = ground(stand=with_oak(height_ft=0.0))
    own = judged(prop, wind(45.0, mean_mps / MPS_PER_MPH, gust_mps=gust_mps))
    assert own.causes == (("storm",) if out else ())
    assert own.group == (STAY if out else GO)


def test_a_typed_hurricane_leaves_no_seat():
    prop = ground(stand=with_oak(height_ft=0.0))
    for typed in ("NW 250", "NW B11", "NW B12", "NW 40 gust 70"):
        own = judged(prop, parse_wind(typed))
        assert own.causes == ("storm",), typed
        assert "Not from any seat" in told(own)[0]
    assert judged(prop, parse_wind("NW B10")).group == GO
    assert judged(ground(stand=with_oak()), parse_wind("NW 250")).group == STAY


def told(own) -> list[str]:
    sit = sit_of(ground(stand=own.stand), wind(45.0))
    return reason_texts(sit, reasons(sit, own))


def gusty(hour_from_first: int):
    """A whole day of wind with one hour of gusts, counted from the first of the sit."""
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    gusts = np.zeros(40)
    gusts[20 + hour_from_first] = 20.0
    return hourly(first - 20 * 3600, [45.0] * 40, gust_mps=gusts)


@pytest.mark.parametrize(("hour", "out"), [(-2, False), (-1, True), (0, True), (5, False)])
def test_gusts_count_on_the_walk_and_in_the_sit(hour, out):
    # seated half an hour before the first hour's light: the walk is in the hour before
    prop = ground(stand=with_oak(max_gust_mph=20.0))
    assert (judged(prop, gusty(hour)).causes == ("gust",)) == out


def test_gusts_after_leave_by_do_not_count():
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    directions, gusts = [45.0] * 40, np.zeros(40)
    directions[23:], gusts[24] = [315.0] * 17, 20.0
    prop = ground(stand=with_oak(max_gust_mph=20.0), areas=(BEHIND,))
    own = judged(prop, hourly(first - 20 * 3600, directions, gust_mps=gusts))
    assert own.leave_by_s is not None and own.causes == ()
    assert own.way_out.start_s == own.leave_by_s


def test_winds_that_work_leave_out_those_that_gusts_forbid():
    prop = ground(stand=with_oak(max_gust_mph=20.0))
    for gust_mps, works in ((0.0, True), (20.0, False)):
        sit = sit_of(prop, wind(45.0, gust_mps=gust_mps))
        assert works_by_degree(sit, judged(prop, wind(45.0, gust_mps=gust_mps))).all() == works


# --- what the owner says, and what the verdict is then ---


@pytest.mark.parametrize(
    ("change", "cause"),
    [({"closed": True}, "closed"), ({"wanted": Wanted(morning="not-now")}, "not-now")],
)
def test_a_stand_that_the_owner_keeps_out_has_its_own_air_s_verdict(change, cause):
    prop = ground(stand=with_oak(**change), areas=(BEHIND,))
    for from_deg, verdict in ((45.0, CLEAN), (315.0, WRONG)):
        own = judged(prop, wind(from_deg))
        assert own.group == STAY and cause in own.causes and own.verdict == verdict
    assert judged(prop, wind(None, 0.0)).verdict == CANT_CALL


def test_a_wrong_way_in_is_stay_out_and_wrong():
    # the lane passes a bed in the north-east; the air goes south-east, from the lane to it
    prop = ground(
        areas=(bed(PIEDMONT, 60, 400.0, half_yd=60.0, held="always"),),
        lanes=(lane(PIEDMONT, (40, 500), (20, 300), (0, 5), minutes=60.0),),
    )
    own = judged(prop, wind(310.0))
    assert own.causes == ("way-in",)
    assert (own.group, own.verdict) == (STAY, WRONG)
    # winds that spoil the walk do not work either
    assert not works_by_degree(sit_of(prop, wind(310.0)), own)[310]


def test_a_low_share_of_clean_air_is_stay_out_where_no_hour_is_prime():
    parts = (Part("rut", "11-01", "11-30", all_day=True),)
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    prop = ground(areas=(BEHIND,), parts=parts)
    own = judged(prop, hourly(first - 20 * 3600, [45.0] * 21 + [315.0] * 19))
    assert own.causes == ("air-share",)
    assert (own.group, own.verdict) == (STAY, WRONG)


def two(taken, hunter=None):
    stands = (OAK, Stand("elm", "Elm", at(PIEDMONT, 270, 60)))
    people = (Person("Ada"), Person("Ben"))
    prop = ground(
        stands=stands,
        people=people,
        lanes=(lane(PIEDMONT, (0, 440), (0, 5), stands=("oak", "elm")),),
    )
    answer = answer_sit(sit_of(prop, wind(45.0), hunter=hunter), taken)
    return {s.stand.id: s for s in answer.stands}


def test_a_stand_taken_by_another_is_out_and_by_oneself_is_not():
    other = two({"oak": "ben"}, "Ada")
    assert other["oak"].causes == ("taken",) and other["oak"].taken_by == "ben"
    assert other["elm"].causes == ()
    assert two({"oak": "BEN"}, "Ben")["oak"].causes == ()
    assert two({"oak": "Ben"})["oak"].causes == ("taken",)


# --- order ---


def row(*stands, weather=None, sit="morning", **more):
    """Ids in order; the lane comes in from the north to all."""
    ids = tuple(s.id for s in stands)
    lanes = more.pop("lanes", (lane(PIEDMONT, (0, 440), (0, 5), stands=ids),))
    prop = ground(stands=stands, lanes=lanes, **more)
    return [s.stand.id for s in answer_sit(sit_of(prop, weather or wind(45.0), sit)).stands]


def wrong_at_first():
    """North-west for the first two hours of the sit, then from the north-east."""
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    return hourly(first - 20 * 3600, [315.0] * 22 + [45.0] * 18)


def test_what_the_owner_keeps_out_comes_after_what_the_wind_does():
    # both are in wrong air at first; the closed one would be the best
    stands = (
        with_oak(closed=True, wanted=Wanted(morning="best")),
        Stand("elm", "Zelkova", at(PIEDMONT, 270, 5), wanted=Wanted(morning="watch")),
    )
    assert row(*stands, weather=wrong_at_first(), areas=(BEHIND,)) == ["elm", "oak"]


def test_stands_that_are_out_go_by_the_whole_window():
    # the ash has a bed in its air to the end, the oak for two hours
    stands = (OAK, Stand("ash", "Ash", at(PIEDMONT, 270, 2000.0)))
    beds = (BEHIND, bed(stands[1].at, 135, 100, "far"), bed(stands[1].at, 225, 100, "near"))
    lanes = tuple(lane(s.at, (0, 440), (0, 5), id_=s.id, stands=(s.id,)) for s in stands)
    found = answer_sit(
        sit_of(ground(stands=stands, areas=beds, lanes=lanes), wrong_at_first())
    ).stands
    assert [(s.stand.id, s.group) for s in found] == [("oak", STAY), ("ash", STAY)]
    assert [s.air_share for s in found] == [0.0, 0.0]  # neither has a stretch


def test_stands_with_a_wrong_way_in_still_go_by_the_owner_s_words():
    lanes = (lane(PIEDMONT, (40, 500), (20, 300), (0, 5), minutes=60.0, stands=("oak", "elm")),)
    stands = (
        with_oak(wanted=Wanted(morning="best")),
        with_oak(id="elm", name="Elm", wanted=Wanted(morning="watch")),
    )
    beds = (bed(PIEDMONT, 60, 400.0, half_yd=60.0, held="always"),)
    assert row(*stands, weather=wind(310.0), areas=beds, lanes=lanes) == ["oak", "elm"]


def test_a_worse_way_out_goes_after_a_clean_one():
    # the same seats; one way out runs beside a bed that is downwind of it
    stands = (OAK, with_oak(id="elm", name="Elm"))
    place = bed(PIEDMONT, 200, 700.0, half_yd=40.0)
    lanes = (
        lane(PIEDMONT, (0, 440), (0, 5), id_="in", stands=("oak", "elm"), way="in"),
        lane(PIEDMONT, (0, 440), (0, 5), id_="out-north", stands=("oak",), way="out"),
        lane(
            PIEDMONT,
            (195, 640),
            (180, 5),
            id_="out-south",
            stands=("elm",),
            way="out",
            minutes=120.0,
        ),
    )
    assert row(*stands, lanes=lanes, areas=(place,), weather=wind(20.0)) == ["oak", "elm"]


def test_a_just_off_way_in_goes_after_a_clean_one():
    # the same seat twice, one reached past a bed; a word would not make up for it
    stands = (OAK, with_oak(id="elm", name="Elm"))
    lanes = (
        lane(PIEDMONT, (0, 440), (0, 5), id_="north", stands=("elm",)),
        lane(PIEDMONT, (60, 640), (0, 5), id_="east", stands=("oak",), minutes=60.0),
    )
    areas = (bed(PIEDMONT, 80, 700.0, half_yd=40.0, held="always"),)
    answer = answer_sit(sit_of(ground(stands=stands, lanes=lanes, areas=areas), wind(300.0)))
    ways = {s.stand.id: int(s.way_in.verdict[0]) for s in answer.stands}
    assert ways == {"elm": CLEAN, "oak": JUST_OFF}
    assert [s.stand.id for s in answer.stands] == ["elm", "oak"]
    assert {int(s.way_out.verdict[0]) for s in answer.stands} == {CLEAN}
    # worth 0.8 of a clean one (common practice)
    assert answer.stands[1].score == pytest.approx(0.8 * answer.stands[0].score)


def test_words_of_a_part_of_the_season_go_before_the_stand_s_own():
    parts = (Part("rut", "11-01", "11-30"),)
    wanted = Wanted(morning="best", by_part=(("rut", ("watch", None)),))
    own = judged(ground(stand=with_oak(wanted=wanted), parts=parts), wind(45.0))
    assert own.wanted == "watch"
    other = dataclasses.replace(wanted, by_part=(("early", ("watch", None)),))
    assert judged(ground(stand=with_oak(wanted=other), parts=parts), wind(45.0)).wanted == "best"
    # a word that the part lacks falls back
    both = Wanted(evening="good", by_part=(("rut", ("watch", None)),))
    evening = judged(ground(stand=with_oak(wanted=both), parts=parts), wind(45.0), "evening")
    assert evening.wanted == "good"


# --- a slope that turns ---


@pytest.mark.parametrize(("grade", "turns"), [(20.0, True), (0.0, False)])
def test_hours_are_cut_where_the_slope_turns(grade, turns):
    # down at dawn, up in the sun: the south slope turns once up, once down in a clear day
    stand = with_oak(downhill_deg=180.0, grade_pct=grade, cover="timber")
    own = judged(ground(stand=stand), wind(45.0, 4.0, cloud=0.0), "all-day")
    assert int((np.diff((own.hours.kind == TURNING).astype(int)) == 1).sum()) == 2 * turns
    # over 5.4 m/s nothing is left of it
    gone = judged(ground(stand=stand), wind(45.0, 12.2, 0.0), "all-day")
    assert set(gone.hours.kind) == {WHOLE}


def test_a_slope_turns_in_the_hours_in_which_it_goes_from_down_to_up():
    stand = with_oak(downhill_deg=180.0, grade_pct=20.0)
    own = rows_of(sit_of(ground(stand=stand), wind(45.0, 4.0, cloud=0.0), "all-day").sits, stand)
    still, turning = np.asarray(own.still_mps), own.kind == TURNING
    changes = np.flatnonzero(np.diff(np.sign(still)) != 0)
    assert len(changes) == 2  # once up, once down again
    for i in changes:
        assert turning[i] or turning[i + 1]
    # twenty minutes either side of each
    inside = own.judged.rows.minutes.T.ravel()
    assert inside[turning].sum() == 80


def test_air_before_light_slides_whatever_the_general_wind_and_fades_with_it():
    stand = with_oak(downhill_deg=180.0, grade_pct=10.0)
    own = rows_of(sit_of(ground(stand=stand), wind(45.0, 2.7 / MPS_PER_MPH, 0.0)).sits, stand)
    # half a grade, clear: 0.35 down; 2.7 of 5.4 m/s leave half of it
    assert own.still_mps[0] == pytest.approx(-0.35)
    assert own.fade[0] == pytest.approx(0.5)


# --- the hour that a map shows ---


def test_a_map_shows_the_worst_hour_that_is_sat_through():
    # clean but for the plot at eight, just-off by day; the bed at ten is after leave by
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    directions = [45.0] * 22 + [225.0, 45.0] + [315.0] * 16
    own = judged(
        ground(areas=(BEHIND, food(PIEDMONT, 45, 100))), hourly(first - 20 * 3600, directions)
    )
    assert own.hours.verdict.tolist() == [CLEAN, CLEAN, JUST_OFF, CLEAN, WRONG]
    assert own.leave_by_s == first + 4 * 3600 - 900
    assert telling_case(own) == 2


def test_of_equally_bad_hours_a_map_shows_the_nearest():
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    directions = [45.0] * 21 + [30.0] + [45.0] * 18  # all clean; the second reaches most
    own = judged(ground(areas=(BEHIND,)), hourly(first - 20 * 3600, directions))
    assert set(own.hours.verdict) == {CLEAN}
    assert telling_case(own) == int(own.hours.equivalent_yd[:, 0].argmin()) == 1


def test_a_morning_with_one_uncalled_prime_hour_is_cant_call():
    first = int(sit_of(ground(), wind(45.0)).clock.row_start_s[0])
    speed = np.full(40, 3.6)
    speed[21] = 0.0
    weather = make_hours(
        start_s=[first + 3600 * (i - 20) for i in range(40)],
        speed_mps=speed,
        wind_from_deg=45.0,
        half_width_deg=5.0,
    )
    # a bed that one direction reaches and another does not
    assert judged(ground(areas=(BEHIND,)), weather).group == CANT
    assert judged(ground(), weather).group == GO  # nothing that it could reach
    spring = Season(weapon="bow", first="04-01", last="04-30")
    out = judged(ground(seasons=(spring,), areas=(BEHIND,)), weather)
    assert (out.group, out.verdict) == (STAY, CANT_CALL)
