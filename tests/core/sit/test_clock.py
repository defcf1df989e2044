"""When a sit is: seasons, parts, closed hours, the piece that is judged."""

import dataclasses
import datetime
from zoneinfo import ZoneInfo

import pytest

from core.ground.layout import Closed, Part, Season, SitRules
from core.sit.clock import sit_clock
from core.sit.dates import closed_s, covers, cut, local_s, part_on, season_on
from tests.grounds import ALL_YEAR, NOV_10, PIEDMONT, corridor, ground, judged, sit_of, wind

NEW_YORK = "America/New_York"
ALL_DAY_PART = Part("rut", "11-01", "11-30", all_day=True)


def local(time_s) -> str:
    return datetime.datetime.fromtimestamp(time_s, ZoneInfo(NEW_YORK)).strftime("%H:%M")


def clock_of(*closed, sit="all-day", parts=(), rules=None):
    """A Tuesday in November whose season closes some spans of the clock."""
    shut = tuple(Closed(("Tue",), *span) for span in closed)
    season = dataclasses.replace(ALL_YEAR, closed=shut)
    return sit_clock(ground(seasons=(season,), parts=parts, sit=rules or SitRules()), NOV_10, sit)


@pytest.mark.parametrize(
    ("first", "last", "day", "held"),
    [
        ("09-13", "01-01", (12, 31), True),
        ("09-13", "01-01", (1, 1), True),
        ("09-13", "01-01", (1, 2), False),
        ("09-13", "01-01", (9, 13), True),
        ("09-13", "01-01", (9, 12), False),
        ("10-01", "10-31", (10, 1), True),
        ("10-01", "10-31", (10, 31), True),
        ("10-01", "10-31", (11, 1), False),
    ],
)
def test_a_span_of_days_holds_its_ends_and_may_wrap_the_year(first, last, day, held):
    assert covers(first, last, datetime.date(2026, *day)) == held


def test_the_first_season_of_the_weapon_that_covers_the_date():
    gun, bow, late = (
        Season("Gun", "11-01", "11-30"),
        Season("bow", "09-13", "01-01"),
        Season("bow", "11-05", "11-20"),
    )
    prop = ground(seasons=(gun, bow, late))
    assert season_on(prop, NOV_10, None) is gun
    assert season_on(prop, NOV_10, "BOW") is bow
    assert season_on(prop, datetime.date(2026, 10, 1), "gun") is None


def test_of_two_parts_the_first_in_the_file_holds():
    parts = (Part("early", "09-13", "11-15"), Part("rut", "11-01", "11-30"))
    assert part_on(ground(parts=parts), NOV_10).name == "early"
    assert part_on(ground(parts=parts), datetime.date(2026, 11, 20)).name == "rut"


def test_24_00_is_the_next_midnight_also_where_the_clocks_change():
    # 1 November 2026 has 25 hours in New York
    date = datetime.date(2026, 11, 1)
    assert local_s(NEW_YORK, date, "24:00") - local_s(NEW_YORK, date, "00:00") == 25 * 3600


def test_closed_hours_are_of_their_days():
    shut = (Closed(("Mon",), "01:00", "02:00"), Closed(("Tue", "Sun"), "09:30", "12:30"))
    spans = closed_s(shut, NEW_YORK, NOV_10)
    assert [tuple(map(local, span)) for span in spans] == [("09:30", "12:30")]


@pytest.mark.parametrize(
    ("closed", "left"),
    [
        ([], [(10, 50)]),
        ([(20, 30)], [(10, 20), (30, 50)]),
        ([(0, 10)], [(10, 50)]),
        ([(0, 20), (15, 30)], [(30, 50)]),
        ([(20, 60)], [(10, 20)]),
        ([(0, 60)], []),
        ([(20, 40), (25, 30)], [(10, 20), (40, 50)]),
    ],
)
def test_closed_hours_cut_a_window(closed, left):
    assert cut((10, 50), closed) == left


def test_of_two_pieces_the_heavier_is_judged_and_the_other_named():
    clock = clock_of(("09:00", "16:00"))
    # legal light is from about 6:20 to 17:40: 160 minutes against 100, all at 1.5 and more
    assert local(clock.end_s) == "09:00"
    assert [local(a) for a, _ in clock.left_pieces] == ["16:00"]
    later = clock_of(("06:00", "12:00"), ("13:00", "15:00"))
    assert local(later.start_s) == "15:00" and [local(a) for a, _ in later.left_pieces] == ["12:00"]


def test_of_two_equal_pieces_the_earlier_is_judged():
    clock = clock_of(("00:00", "10:00"), ("11:00", "12:00"), ("13:00", "24:00"))
    assert (local(clock.start_s), local(clock.end_s)) == ("10:00", "11:00")


def test_nobody_is_seated_before_closed_hours_end():
    # 30 minutes to settle would be 9:30
    clock = clock_of(("00:00", "10:00"))
    assert local(clock.seated_s) == local(clock.start_s) == "10:00"
    free = clock_of(("00:00", "01:00"), sit="morning")
    assert free.start_s - free.seated_s == 30 * 60
    between = clock_of(("00:00", "09:50"), ("13:00", "24:00"))
    assert local(between.seated_s) == "09:50"


def test_where_closed_hours_follow_the_way_out_starts_with_them():
    season = dataclasses.replace(ALL_YEAR, closed=(Closed(("Tue",), "09:00", "24:00"),))
    own = judged(ground(seasons=(season,)), wind(225.0))
    assert local(own.way_out.start_s) == "09:00"


@pytest.mark.parametrize(
    ("sit", "first_min", "last_min"),
    [("morning", 120, 0), ("evening", 0, 90), ("all-day", 120, 90)],
)
def test_prime_is_two_hours_of_first_light_and_ninety_minutes_of_last(sit, first_min, last_min):
    clock = clock_of(sit=sit)
    assert clock.prime_first_min.sum() == first_min
    assert clock.prime_last_min.sum() == last_min
    none = clock_of(sit=sit, parts=(ALL_DAY_PART,))
    assert none.prime_first_min.sum() == none.prime_last_min.sum() == 0


def test_the_settings_of_a_sit():
    rules = SitRules(morning_end="09:15", evening_h=2.0, settle_min=45.0)
    morning, evening = (clock_of(sit=s, rules=rules) for s in ("morning", "evening"))
    assert local(morning.end_s) == "09:15"
    assert morning.start_s - morning.seated_s == 45 * 60
    assert evening.end_s - evening.start_s == 2 * 3600 and evening.end_s == evening.legal_end_s


# --- which end deer come from (common practice) ---


def ends(sit, hours_after_noon=0.0, parts=()):
    made = sit_of(ground(parts=parts), wind(225.0), sit)
    return made.ends_at(made.clock.day.noon_s + hours_after_noon * 3600)


def test_the_end_goes_by_the_sit_and_all_day_by_solar_noon():
    assert ends("morning", 3) == ("food",) and ends("evening", -3) == ("bedding",)
    assert ends("all-day", -0.01) == ("food",) and ends("all-day", 0.01) == ("bedding",)


@pytest.mark.parametrize("sit", ["morning", "evening", "all-day"])
def test_in_an_all_day_part_deer_come_from_both_ends(sit):
    assert set(ends(sit, 1.0, (ALL_DAY_PART,))) == {"food", "bedding"}
    # air goes north-east over the bedding arm; in the morning deer come from food
    trail = corridor(PIEDMONT, (57, 230), (66, 88), (135, 20), (138, 120), (139, 250))
    plain = judged(ground(corridors=(trail,)), wind(225.0), "morning")
    rut = judged(ground(corridors=(trail,), parts=(ALL_DAY_PART,)), wind(225.0), "morning")
    assert (rut.hours.verdict > plain.hours.verdict).all()
