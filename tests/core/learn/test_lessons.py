"""Eight lessons: all they say comes from the ground in use, in words a seventh grader reads."""

import datetime
import math
import re

import pytest

from core.cli.shared import scene_at
from core.errors import BadRequest
from core.ground.layout import (
    AirRules,
    Closed,
    Mark,
    Part,
    Person,
    Property,
    Season,
    SitRules,
    Stand,
    Swirls,
)
from core.ground.store import demo_path, open_property
from core.learn.classroom import Task, date_text
from core.learn.lessons import LESSONS, Room, lesson, mixed, teaching_date
from core.say.words import in_a_row
from core.show.lesson_picture import lesson_map
from core.sit.scene import Scene
from core.units import MPS_PER_MPH
from tests.grounds import at, bed, corridor, food, lane
from tests.reading import NUMBER, grade, syllables

KEYS = list(LESSONS)
DEMO_DAY = datetime.date(2026, 11, 10)
OTHER_DAY = datetime.date(2026, 9, 28)
FRONT_RANGE = (-105.21, 40.37)
GRADE = 7.0

# numbers that belong to a rule or a source, not to a ground
FIXED = {
    "16",  # feet, a state's safety page
    "150",  # yards of trail before the shot
    "8",
    "12",  # mph of a steady wind (Beaufort 3); 8 mph also for bottoms
    "0",  # stands that are go in calm air
}
POINTS = (
    "north-north-east",
    "east-north-east",
    "east-south-east",
    "south-south-east",
    "south-south-west",
    "west-south-west",
    "west-north-west",
    "north-north-west",
    "north-east",
    "south-east",
    "south-west",
    "north-west",
    "north",
    "east",
    "south",
    "west",
)
ROUND = [
    "north",
    "north-north-east",
    "north-east",
    "east-north-east",
    "east",
    "east-south-east",
    "south-east",
    "south-south-east",
    "south",
    "south-south-west",
    "south-west",
    "west-south-west",
    "west",
    "west-north-west",
    "north-west",
    "north-north-west",
]
CITED = re.compile(r"\([A-Z][\w, ]* \d{4}\)")  # (Webb 2010)
POINT = re.compile("|".join(POINTS))


def other_ground(turn_deg: float = 0.0, center=FRONT_RANGE, **more) -> Property:
    """An invented ground in another zone, with other names, distances and settings."""

    def way(bearing, yards):
        return at(center, bearing + turn_deg, yards)

    tall = Stand(
        "tall-spruce",
        "Tall spruce",
        way(0, 0),
        seat="hang-on",
        height_ft=22.0,
        range_yd=27.0,
        downhill_deg=(135.0 + turn_deg) % 360,
        grade_pct=18.0,
        lies="side",
    )
    low = Stand(
        "ditch-seat",
        "Ditch seat",
        way(270, 420),
        seat="ground-blind",
        height_ft=0.0,
        lies="bottom",
        guest_ok=True,
        swirls=Swirls(
            from_deg=(((200.0 + turn_deg) % 360, (240.0 + turn_deg) % 360),), under_mph=5.0
        ),
    )
    shut = Stand("old-windmill", "Old windmill", way(200, 700), closed=True)
    turned = [(b + turn_deg, d) for b, d in ((157.5, 470), (157.5, 6))]
    features = {
        "stands": (tall, low, shut),
        "lanes": (
            lane(
                center,
                *turned,
                id_="cattle-path",
                stands=("tall-spruce", "ditch-seat"),
                footing="gravel",
            ),
            lane(
                center,
                (225 + turn_deg, 585),
                (250 + turn_deg, 300),
                (0, 4),
                id_="fence-line",
                stands=("tall-spruce",),
                footing="leaves",
            ),
        ),
        "corridors": (
            corridor(
                center,
                (315 + turn_deg, 340),
                (315 + turn_deg, 14),
                (67.5 + turn_deg, 330),
                id_="elk-crossing",
            ),
        ),
        "areas": (
            bed(center, 315 + turn_deg, 255, id_="willows"),
            bed(center, 225 + turn_deg, 289, id_="rushes", held="always"),
            food(center, 67.5 + turn_deg, 371, id_="alfalfa"),
        ),
        "marks": (Mark("barn", "Barn", "no-shoot", "Point", (way(22.5, 190),)),),
        "people": (Person("Ida"), Person("Jonas")),
        "seasons": (Season("archery", "08-30", "10-19", 25.0, 20.0, orange=True),),
        "parts": (Part("first part", "08-30", "10-19", rest_days=11.0),),
        "sit": SitRules("09:50", 2.9, 23.0, 10.0, 1.8),
        "air": AirRules(233.0, 466.0, 2.0 * MPS_PER_MPH, 0.9, 9.0 * MPS_PER_MPH),
        **more,
    }
    return Property("u", "High Ditch", "America/Denver", center, 1500.0, **features)


@pytest.fixture(scope="module")
def demo() -> Room:
    return Room(Scene(open_property(demo_path()).property), DEMO_DAY)


@pytest.fixture(scope="module")
def other() -> Room:
    return Room(Scene(other_ground()), OTHER_DAY)


def feature_names(ground: Property) -> set[str]:
    groups = (
        ground.stands,
        ground.lanes,
        ground.corridors,
        ground.areas,
        ground.marks,
        ground.people,
    )
    return {f.name for group in groups for f in group}


def numbers(text: str) -> set[str]:
    return set(NUMBER.findall(CITED.sub("", text)))


def test_eight_lessons_and_safety_first():
    assert len(KEYS) == 8
    assert KEYS[0] == "safe"


@pytest.mark.parametrize("key", KEYS)
def test_both_grounds_are_taught_whole(key, demo, other):
    for room in (demo, other):
        told = lesson(room, key)
        assert "This lesson needs" not in told.text
        assert told.task is not None
        assert 3 <= len(told.says) <= 9


@pytest.mark.parametrize("key", KEYS)
def test_each_differs_between_two_grounds(key, demo, other):
    """No name, and no number but those of FIXED, stands in both."""
    here, there = lesson(demo, key).text, lesson(other, key).text
    assert not [n for n in feature_names(other.ground) if n in here]
    assert not [n for n in feature_names(demo.ground) if n in there]
    assert numbers(here) & numbers(there) <= FIXED
    assert numbers(here) - FIXED, "no number of its own"
    assert [n for n in feature_names(demo.ground) if n in here]
    assert [n for n in feature_names(other.ground) if n in there]


def test_the_fixed_numbers_are_in_use(demo, other):
    """A number that no lesson holds any more leaves the list."""
    everything = "\n".join(lesson(room, key).text for key in KEYS for room in (demo, other))
    assert numbers(everything) >= FIXED


@pytest.mark.parametrize("key", ["named", "goes", "clock", "seat", "slopes"])
def test_directions_turn_with_the_ground(key):
    """The ground laid down a quarter turn on: every direction is said a quarter turn on."""
    here = lesson(Room(Scene(other_ground(0.0)), OTHER_DAY), key)
    turned = lesson(Room(Scene(other_ground(90.0)), OTHER_DAY), key)
    before = [POINT.findall(line) for line in here.says]
    after = [POINT.findall(line) for line in turned.says]
    assert sum(map(len, before)) >= 2
    # runs of several winds may come in another order
    assert [sorted(ROUND[(ROUND.index(p) + 4) % 16] for p in line) for line in before] == [
        sorted(line) for line in after
    ]


@pytest.mark.parametrize("key", KEYS)
def test_reading_level(key, demo, other):
    for room in (demo, other):
        told = lesson(room, key)
        assert grade(told.text) <= GRADE
        parts = (told.physics, told.practice, told.untested)
        assert grade("\n".join(parts)) <= GRADE + 2  # short parts swing


def test_the_reading_level_can_fail():
    assert grade("Meteorological instrumentation necessitates considerable deliberation.") > 12
    assert [syllables(w) for w in ("idea", "deer", "north-west", "Honeysuckle")] == [3, 1, 2, 4]
    # three words of one syllable: 0.39 x 3 + 11.8 - 15.59
    assert grade("The deer walk.") == pytest.approx(-2.62)
    assert grade("The deer walk to the food at night. Sit still.") < 3


@pytest.mark.parametrize("key", KEYS)
def test_physics_practice_and_the_untested_are_told_apart(key, demo):
    told = lesson(demo, key)
    assert all(len(part.split()) >= 5 for part in (told.physics, told.practice, told.untested))
    assert len({told.physics, told.practice, told.untested}) == 3


@pytest.mark.parametrize("key", KEYS)
def test_one_thing_to_try_has_one_right_answer(key, demo, other):
    for room in (demo, other):
        task = lesson(room, key).task
        assert len(set(task.choices)) == len(task.choices) >= 2
        assert 0 <= task.right < len(task.choices)


def test_named_word_for_word(other):
    """The willows: middle 255 yards off at 315 degrees, their corner 255 - 28.28 = 226.7."""
    told = lesson(other, "named")
    assert told.says[:2] == (
        "A south-east wind comes from the south-east. It takes your air to the north-west.",
        "You sit at Tall spruce. Willows lies 227 yards off to the north-west. That is downwind. "
        "Your air goes there.",
    )
    assert told.says[2] == "Rushes lies to the south-west. That is to the side: crosswind."
    # a quarter round from the south-east is the south-west
    assert told.task.question == (
        "Now the wind is from the south-west. Where does your air go from Tall spruce?"
    )
    assert told.task.choices[told.task.right] == "To the north-east"


def test_clock_word_for_word(other):
    """From the sun's times, by the hours that are common practice: 90, 30 and 45 minutes."""
    day = other.morning.day

    def at_clock(time_s):
        zone = datetime.timezone(datetime.timedelta(hours=-6))  # Denver in September
        # whole minutes as the screen says them
        stamp = datetime.datetime.fromtimestamp(round(time_s), zone)
        return stamp.strftime("%I:%M %p").lstrip("0").lower()

    assert lesson(other, "clock").says[:3] == (
        f"On September 28 the sun is up from {at_clock(day.sunrise_s)} to "
        f"{at_clock(day.sunset_s)}.",
        f"At night deer feed: Alfalfa. We count on them there from "
        f"{at_clock(day.sunset_s - 90 * 60)} until {at_clock(day.sunrise_s + 45 * 60)}.",
        f"By day they lie in bed: Rushes and Willows. We count on them there from "
        f"{at_clock(day.sunrise_s - 90 * 60)} until {at_clock(day.sunset_s + 30 * 60)}.",
    )


def test_slopes_word_for_word(other):
    told = lesson(other, "slopes")
    assert told.says[0] == "Tall spruce hangs over a slope that falls to the south-east."
    assert told.says[1].startswith("On a still, clear night cold air slides down it, to the south-")
    assert "A wind of 9 mph or more blows all that away. Under 2 mph no one can" in told.says[3]
    assert told.says[4] == "Ditch seat sits in a bottom. Air pools there and goes round."
    assert told.says[5] == (
        "The owner knows that Ditch seat swirls on winds from south-south-west round to "
        "west-south-west under 5 mph."
    )
    assert told.task.choices[told.task.right] == "Down, to the south-east"


def test_heights_tell_where_still_air_goes_on_to():
    """Seven in the lesson, the way on its map; without heights nothing of it."""
    scene = scene_at(str(demo_path()))
    with_heights, without = (
        lesson(Room(s, DEMO_DAY), "slopes") for s in (scene, Scene(scene.ground))
    )
    more = [line for line in with_heights.says if line not in without.says]
    assert more[0].startswith("By the heights of this ground it slides down to the south")
    assert more[1] == "That is the bare ground. Trees can lead air another way."
    way_m, doubts = with_heights.picture.still_way_m
    assert (len(way_m) > 3, len(doubts), without.picture.still_way_m) == (True, 2, None)
    assert 'data_air="still"'.replace("_", "-") in lesson_map(scene, with_heights.picture)


def test_the_trail_word_for_word(other):
    """The trail's bed end lies to the north-west, its food end to the east-north-east."""
    told = lesson(other, "seat")
    # 14 yd at 315 deg to 330 yd at 67.5 deg: 14 x 330 x sin 112.5 / 335.6 = 12.7 at nearest
    assert told.says[0] == (
        "Tall spruce watches Elk-Crossing, 13 yards off. Your range there is 27 yards."
    )
    assert "come from the food end. They walk 150 yards of trail before your shot." in told.says[1]
    assert told.says[1].endswith("That part lies to the east-north-east. Keep your air off it.")
    assert told.says[2].endswith("they come from the bed end, from the north-west.")
    assert told.task.choices[told.task.right] == "The east-north-east"


def test_safety_word_for_word(other):
    told = lesson(other, "safe")
    assert told.says[0] == (
        "1 stand here is off the ground. The highest is Tall spruce, 22 feet up. "
        "That is above 16 feet: not for a first sit."
    )
    assert "Clip in on the ground, and stay clipped until you are down" in told.says[1]
    assert "three points of contact" in told.says[2]
    assert "unloaded, with nothing nocked" in told.says[2]
    assert "Not confirmed: check your state's rule." in told.says[3]
    assert "what is beyond it, from above too" in told.says[4]
    assert "Barn lies 190 yards north-north-east of Tall spruce: never shoot that way." in told.says
    assert any(line.startswith("Wear orange, on the walk and on the drag") for line in told.says)
    assert any(line.startswith("Tell Ida and Jonas where you sit") for line in told.says)
    assert "Say what they do if you are not." in told.says[-1]
    assert "Your own state's rules and training come first." in told.practice


def test_the_way_in_is_judged_as_on_the_home_page(demo):
    told = lesson(demo, "walk")
    right = told.task.choices[told.task.right]
    wrong = next(c for c in told.task.choices if c != right)
    assert told.task.because.startswith(f"{right} is ")
    assert told.task.because.endswith("wrong wind.") or "just-off" in told.task.because
    assert wrong in told.task.because
    assert len(told.picture.ways_m) == 2


def test_rest_days_are_those_of_the_part(other):
    told = lesson(other, "leave")
    assert told.task.choices[told.task.right] == "On October 9"  # September 28 and 11 days
    assert "11 days on this ground" in told.text


@pytest.mark.parametrize("days", [0.0, 0.5, 1.0, 2.0, 9.0])
def test_any_setting_leaves_different_choices(days):
    """Rest of no day or one, and seated no sooner than light, give no choice twice."""
    part = Part("any", "08-30", "10-19", rest_days=days)
    still = SitRules("09:50", 2.9, 0.0, 10.0, 1.8)
    room = Room(Scene(other_ground(parts=(part,), sit=still)), OTHER_DAY)
    for key in ("walk", "leave"):
        task = lesson(room, key).task
        assert len(set(task.choices)) == len(task.choices) >= 2
    right = OTHER_DAY + datetime.timedelta(days=math.ceil(days))
    assert task.choices[task.right] == f"On {date_text(right)}"


BARE = {"stands": (), "lanes": (), "corridors": (), "areas": (), "marks": (), "people": ()}


@pytest.mark.parametrize("key", KEYS)
def test_a_bare_ground_says_what_is_missing(key):
    told = lesson(Room(Scene(other_ground(**BARE)), OTHER_DAY), key)
    if key == "safe":
        assert "Legal light on September 28" in told.text
        return
    assert told.task is None
    missing = r"This lesson needs .+\. Draw it on the Map page, then come back\."
    assert re.fullmatch(missing, told.says[0])


def test_a_ground_of_blinds_asks_about_light_instead():
    low = Stand("hut", "Hut", FRONT_RANGE, seat="ground-blind", height_ft=0.0)
    told = lesson(Room(Scene(other_ground(stands=(low,), lanes=())), OTHER_DAY), "safe")
    assert told.says[0].startswith("Every seat here is on the ground.")
    assert told.task.question.startswith("Legal light ends at ")
    assert told.task.choices[told.task.right] == "No shot"


def test_a_closed_stand_is_not_taught():
    from dataclasses import replace

    ground = other_ground()
    shut = tuple(replace(s, closed=s.id == "tall-spruce") for s in ground.stands)
    told = lesson(Room(Scene(replace(ground, stands=shut)), OTHER_DAY), "named")
    assert "Tall spruce" not in told.text


def test_an_unknown_lesson_is_refused(demo):
    with pytest.raises(BadRequest, match="'luck'"):
        lesson(demo, "luck")


@pytest.mark.parametrize(
    ("today", "taught"),
    [
        ((2026, 9, 28), (2026, 9, 28)),
        ((2026, 8, 29), (2026, 8, 30)),
        ((2026, 10, 20), (2027, 8, 30)),
        ((2027, 1, 5), (2027, 8, 30)),
    ],
)
def test_out_of_season_the_next_season_is_taught(today, taught):
    ground = other_ground()
    assert teaching_date(ground, datetime.date(*today)) == datetime.date(*taught)


def test_without_a_season_today_is_taught():
    day = datetime.date(2026, 7, 4)
    assert teaching_date(other_ground(seasons=()), day) == day


def test_closed_hours_do_not_break_a_lesson():
    shut = (Closed(("Mon", "Tue"), "05:00", "20:00"),)
    season = Season("archery", "08-30", "10-19", closed=shut)
    room = Room(Scene(other_ground(seasons=(season,))), OTHER_DAY)  # a Monday
    assert room.date == datetime.date(2026, 9, 30)
    for key in KEYS:
        assert lesson(room, key).says


def test_a_week_without_an_open_day_is_told():
    shut = (Closed(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"), "05:00", "20:00"),)
    season = Season("archery", "08-30", "10-19", closed=shut)
    with pytest.raises(BadRequest, match="from 2026-09-28 on"):
        Room(Scene(other_ground(seasons=(season,))), OTHER_DAY)


def test_turned_choices_keep_their_right_one():
    task = Task("Which?", ("a", "b", "c"), 1, "It is b.")
    turned = {mixed(task, f"seed {i}").choices.index("b") for i in range(40)}
    assert turned == {0, 1, 2}
    for i in range(40):
        one = mixed(task, f"seed {i}")
        assert one.choices[one.right] == "b"


def test_small_words():
    assert in_a_row([]) == ""
    assert in_a_row(["A"]) == "A"
    assert in_a_row(["A", "B", "C"]) == "A, B and C"
    assert date_text(datetime.date(2026, 1, 2)) == "January 2"
