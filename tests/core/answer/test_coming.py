"""The next sits are those that somebody can still come to in time."""

import dataclasses
import datetime

import pytest

from core.answer.coming import next_sits
from core.ground.layout import Stand
from core.say.answer_lines import sit_lines
from core.say.headline import head_of
from core.sit.clock import sit_clock
from core.sit.scene import Scene
from tests.grounds import NOV_10, PIEDMONT, bed, ground, hourly, lane

MILE_YD = 1760
MIDNIGHT_S = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
WEATHER = hourly(MIDNIGHT_S, [315.0] * 96)
MINUTE_S = 60


def two_stands():
    """Oak is a quarter of a mile from its truck, Far one mile and a half: 10 and 60 minutes."""
    far = bed(PIEDMONT, 90, 300).ring[0]
    short = lane(PIEDMONT, (0, MILE_YD / 4), (0, 0.01), stands=("oak",))
    long = lane(far, (0, 1.5 * MILE_YD), (0, 0.01), id_="long", stands=("far",))
    stands = (Stand("oak", "Oak", PIEDMONT), Stand("far", "Far", far))
    return ground(stands=stands, lanes=(short, long))


def morning_leaves_s(prop, minutes: int) -> int:
    """Seated half an hour before legal light, and walked until then."""
    light_s = sit_clock(prop, NOV_10, "morning").legal_start_s
    return light_s - (prop.sit.settle_min + minutes) * MINUTE_S


def told(prop, after_s):
    found = next_sits(Scene(prop), WEATHER, after_s)
    return [(a.sit.clock.date.day, a.sit.clock.sit, {s.stand.id for s in a.stands}) for a in found]


def test_a_stand_that_it_is_too_late_for_is_not_offered_and_a_sit_without_any_neither():
    prop = two_stands()
    oak_s, far_s = morning_leaves_s(prop, 10), morning_leaves_s(prop, 60)
    assert told(prop, far_s)[0] == (10, "morning", {"oak", "far"})
    assert told(prop, far_s + 1)[0] == (10, "morning", {"oak"})
    assert told(prop, oak_s)[0] == (10, "morning", {"oak"})
    late = told(prop, oak_s + 1)
    assert late[0] == (10, "evening", {"oak", "far"})
    assert len(late) == 6  # as many as ever


def test_without_a_way_one_has_to_be_seated_in_time():
    prop = dataclasses.replace(two_stands(), lanes=())
    seated_s = morning_leaves_s(prop, 0)
    assert told(prop, seated_s)[0] == (10, "morning", {"oak", "far"})
    assert told(prop, seated_s + 1)[0] == (10, "evening", {"oak", "far"})


def test_a_ground_without_stands_has_sits_to_come_all_the_same():
    assert told(ground(stands=()), MIDNIGHT_S)[0] == (10, "morning", set())


@pytest.mark.parametrize(("after_leaving_s", "late"), [(0, False), (1, True), (9 * 3600, False)])
def test_that_the_time_to_leave_has_passed_is_said_until_the_sit_is_over(after_leaving_s, late):
    prop = two_stands()
    now_s = morning_leaves_s(prop, 10) + after_leaving_s
    (answer, *_) = next_sits(Scene(prop), WEATHER, morning_leaves_s(prop, 60) + 1)
    words = "The time to leave the truck has passed."
    assert (words in head_of(answer.sit, answer.best, now_s).trouble) == late
    assert (words in "\n".join(sit_lines(answer, None, now_s))) == late
    assert words not in head_of(answer.sit, answer.best).trouble
