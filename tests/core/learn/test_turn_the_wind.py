"""Turn the wind: the sixteen points in words, and one sentence a stand, word for word."""

import datetime
import re
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Stand, Swirls
from core.learn.turn_the_wind import (
    POINT_WORDS,
    STRENGTHS,
    a_wind,
    direction_words,
    reached_by,
    strength_words,
    turn_sentence,
    turned,
    turned_wind,
    yards,
)
from core.sit.verdicts import CANT, GO, STAY
from tests.grounds import PIEDMONT, at, bed, corridor, food, ground, hourly, lane, sit_of, wind

# typed from the compass, not from the program: degrees, wind from, air goes to
TYPED = [
    (0.0, "north", "south"),
    (22.5, "north-north-east", "south-south-west"),
    (45.0, "north-east", "south-west"),
    (67.5, "east-north-east", "west-south-west"),
    (90.0, "east", "west"),
    (112.5, "east-south-east", "west-north-west"),
    (135.0, "south-east", "north-west"),
    (157.5, "south-south-east", "north-north-west"),
    (180.0, "south", "north"),
    (202.5, "south-south-west", "north-north-east"),
    (225.0, "south-west", "north-east"),
    (247.5, "west-south-west", "east-north-east"),
    (270.0, "west", "east"),
    (292.5, "west-north-west", "east-south-east"),
    (315.0, "north-west", "south-east"),
    (337.5, "north-north-west", "south-south-east"),
]


def answered(weather, sit="morning", **features):
    """The answer of a ground whose one stand is Oak, unless stands are given."""
    return answer_sit(sit_of(ground(**features), weather, sit))


def sentence(weather, sit="morning", **features) -> str:
    answer = answered(weather, sit, **features)
    return turn_sentence(answer.sit, answer.stands[0])


def legal_start(answer) -> str:
    """Start of legal light on the local clock, as 6:22 am."""
    zone = ZoneInfo("America/New_York")
    at_s = answer.sit.clock.legal_start_s
    return datetime.datetime.fromtimestamp(at_s, zone).strftime("%I:%M am").lstrip("0")


def tens(yards_like: float) -> int:
    """As the screen says a distance: whole tens from a hundred on."""
    return round(yards_like) if yards_like < 100 else int(yards_like / 10 + 0.5) * 10


@pytest.mark.parametrize(("degrees", "wind_from", "air_to"), TYPED)
def test_the_words_of_the_sixteen_points(degrees, wind_from, air_to):
    assert direction_words(degrees) == wind_from
    assert direction_words(degrees + 180.0) == air_to
    said = sentence(wind(degrees, 10))
    article = "an" if wind_from.startswith("e") else "a"
    assert said.startswith(f"From Oak on {article} {wind_from} wind your air goes {air_to}")


def test_sixteen_points_and_no_more():
    assert sorted(POINT_WORDS.values()) == sorted(words for _, words, _ in TYPED)


@pytest.mark.parametrize(
    ("degrees", "words"), [(11.24, "north"), (11.25, "north-north-east"), (348.75, "north")]
)
def test_a_direction_between_two_points(degrees, words):
    assert direction_words(degrees) == words


@pytest.mark.parametrize(
    ("degrees", "words"),
    [
        (90, "an east wind"),
        (67.5, "an east-north-east wind"),
        (0, "a north wind"),
        (270, "a west wind"),
    ],
)
def test_a_wind_has_its_article(degrees, words):
    assert a_wind(degrees) == words


@pytest.mark.parametrize(
    ("strength", "low_mph", "high_mph", "sign"),
    [
        ("light", 4, 7, "felt on the face"),
        ("steady", 8, 12, "leaves and twigs keep moving"),
        ("strong", 13, 18, "small branches move"),
    ],
)
def test_strengths_are_beaufort_forces(strength, low_mph, high_mph, sign):
    """Light, gentle and moderate breeze of the NWS Beaufort page, mph column."""
    hours = turned_wind("WSW", strength)
    assert hours.wind_from_deg[0] == 247.5
    assert hours.speed_low_mps[0] == pytest.approx(low_mph * 0.44704)
    assert hours.speed_high_mps[0] == pytest.approx(high_mph * 0.44704)
    assert strength_words(strength) == f"{low_mph} to {high_mph} mph, {sign}"
    assert list(STRENGTHS) == ["light", "steady", "strong"]


def test_a_point_that_is_none_is_refused():
    with pytest.raises(KeyError, match="NNN"):
        turned_wind("NNN", "light")


@pytest.mark.parametrize(
    ("metres", "words"), [(0.9144, "1 yard"), (192.0, "210 yards"), (2000.0, "2,187 yards")]
)
def test_yards(metres, words):
    assert yards(metres) == words


def test_straight_downwind_word_for_word():
    """A square bed 230 yards off by its middle: its corner is 230 - 28.28 = 201.7 away."""
    answer = answered(wind(315, 10), areas=(bed(PIEDMONT, 135, 230),))
    own = answer.stands[0]
    assert own.group == STAY
    like = tens(float(own.hours.equivalent_yd.min()))
    assert turn_sentence(answer.sit, own) == (
        "From Oak on a north-west wind your air goes south-east, over Cane 202 yards away: "
        f"like {like} yards straight downwind."
    )
    assert like < 250


def test_to_the_side_the_edge_reaches():
    beds = (bed(PIEDMONT, 80, 60, half_yd=30.0),)  # its middle lies 55 degrees off
    said = sentence(wind(315, 5), areas=beds)
    assert said.startswith(
        "From Oak on a north-west wind your air goes south-east, and its edge reaches Cane "
    )


def test_inside_a_bed():
    answer = answered(wind(315, 10), areas=(bed(PIEDMONT, 0, 0),))
    own = answer.stands[0]
    like = float(own.hours.equivalent_yd.min())
    told = "under 10" if like < 10 else str(tens(like))
    assert turn_sentence(answer.sit, own) == (
        "From Oak on a north-west wind your air goes south-east, and you sit in Cane: "
        f"like {told} yards straight downwind."
    )


def test_clear_of_a_bed_upwind():
    assert sentence(wind(315, 10), areas=(bed(PIEDMONT, 315, 230),)) == (
        "From Oak on a north-west wind your air goes south-east, clear of every bed and food "
        "that counts."
    )


def test_clean_by_distance_says_where_most_of_it_goes():
    answer = answered(wind(315, 15), areas=(bed(PIEDMONT, 135, 1100),))
    own = answer.stands[0]
    like = tens(float(own.hours.equivalent_yd.min()))
    assert own.group == GO
    assert turn_sentence(answer.sit, own) == (
        "From Oak on a north-west wind your air goes south-east, clear of every bed and food that "
        f"counts; what little reaches one goes to Cane 1,072 yards away: like {like} yards "
        "straight downwind."
    )


def test_no_place_at_all():
    assert sentence(wind(90, 10)) == (
        "From Oak on an east wind your air goes west. No bed or food that counts lies in it."
    )


def test_too_light_to_call():
    answer = answered(wind(315, 2), areas=(bed(PIEDMONT, 135, 230),))
    own = answer.stands[0]
    assert own.group == CANT
    assert turn_sentence(answer.sit, own) == (
        f"From Oak on a north-west wind no one can call your air at {legal_start(answer)}: "
        "too light to hold a direction."
    )


def test_calm_has_no_direction():
    answer = answered(wind(None, 0), areas=(bed(PIEDMONT, 135, 150),))
    assert turn_sentence(answer.sit, answer.stands[0]) == (
        f"From Oak no one can call your air at {legal_start(answer)}: no wind."
    )


def test_the_owner_knows_that_it_swirls():
    stand = Stand("oak", "Oak", PIEDMONT, swirls=Swirls(from_deg=((300.0, 330.0),)))
    answer = answered(wind(315, 10), stand=stand, areas=(bed(PIEDMONT, 135, 150),))
    assert turn_sentence(answer.sit, answer.stands[0]) == (
        f"From Oak on a north-west wind no one can call your air at {legal_start(answer)}: "
        "you marked that this seat swirls in this wind."
    )


def test_the_walk_alone_is_wrong():
    """The lane runs close upwind of a bed far to the side of the seat; an hour's walk."""
    beds = (bed(at(PIEDMONT, 270, 320), 0, 130, half_yd=90.0),)
    lanes = (lane(PIEDMONT, (270, 440), (270, 5), minutes=60.0),)
    answer = answered(wind(180, 8), areas=beds, lanes=lanes)
    own = answer.stands[0]
    assert own.causes == ("way-in", "way-out")
    like = tens(float(own.way_in.equivalent_yd[0]))
    assert turn_sentence(answer.sit, own) == (
        f"Oak itself would do, but the way in by Lane lays your air over Cane: like {like} yards."
    )


def test_a_trail_before_the_shot():
    """Deer come along a trail from the north in the evening; the wind is from the south."""
    trail = corridor(PIEDMONT, (0, 300), (0, 15), (180, 300), id_="race")
    said = sentence(wind(180, 10), "evening", corridors=(trail,))
    assert said == (
        "From Oak on a south wind your air goes north. No bed or food that counts lies in it. "
        "It also lies on Race before the shot."
    )


def test_a_closed_stand_says_so():
    stand = Stand("oak", "Oak", PIEDMONT, closed=True)
    assert sentence(wind(315, 10), stand=stand) == "Oak: You marked this stand closed."


def test_slope_air_turns_the_air_and_says_so():
    """A slope that falls to the south-west, at night: air is drawn that way."""
    here = {"cover": "open", "height_ft": 0.0}
    sloped = Stand("oak", "Oak", PIEDMONT, downhill_deg=225.0, grade_pct=20.0, **here)
    for stand, goes in (
        (sloped, "south-south-east with the slope"),
        (Stand("oak", "Oak", PIEDMONT, **here), "south-east"),
    ):
        said = sentence(wind(325, 10, cloud=0.0), stand=stand, areas=(bed(PIEDMONT, 160, 150),))
        assert said.startswith(f"From Oak on a north-west wind your air goes {goes}, over Cane")


def test_all_stands_answer_in_the_order_of_the_answer():
    stands = (Stand("oak", "Oak", PIEDMONT), Stand("elm", "Elm", at(PIEDMONT, 90, 600)))
    lanes = (lane(PIEDMONT, (0, 440), (0, 5), stands=("oak", "elm")),)
    answer = answered(wind(315, 10), stands=stands, lanes=lanes, areas=(bed(PIEDMONT, 135, 230),))
    found = turned(answer)
    assert [t.seat.stand.id for t in found] == [s.stand.id for s in answer.stands] == ["elm", "oak"]
    assert [r.id for r in found[1].reached] == ["cane"]
    assert found[0].reached == ()
    assert reached_by(found) == {"cane": ["Oak"]}


def test_food_lights_up_as_well():
    answer = answered(wind(315, 10), "evening", areas=(food(PIEDMONT, 135, 150),))
    (one,) = turned(answer)
    assert [r.id for r in one.reached] == ["clover"]
    assert np.isfinite(one.reached[0].equivalent_yd)
    assert "over Clover 122 yards away" in one.sentence


def test_a_clean_sit_says_that_a_dull_hour_does_not_decide():
    """Food lies downwind all morning; in the first two hours the wind is off it."""
    zone = ZoneInfo("America/New_York")
    start_s = int(datetime.datetime(2026, 11, 10, 5, tzinfo=zone).timestamp())
    turning = hourly(start_s, [90, 90, 90, 90, 315, 315], 6)
    answer = answered(turning, areas=(food(PIEDMONT, 135, 120),))
    own = answer.stands[0]
    assert (own.group, own.verdict) == (GO, 0)
    assert own.hours.verdict.tolist()[-2:] == [1, 1]
    said = turn_sentence(answer.sit, own)
    assert ", over Clover 92 yards away: like " in said
    assert re.search(
        r" straight downwind\. But that is at (9|10):00 am, outside the first and last light that "
        r"decide\.$",
        said,
    )


def test_of_two_places_the_worse_is_told():
    """Cane lies straight downwind, Briar upwind; both count, in either order of the file."""
    both = (bed(PIEDMONT, 135, 230), bed(PIEDMONT, 315, 100, id_="briar"))
    for beds in (both, both[::-1]):
        assert ", over Cane 202 yards away: like " in sentence(wind(315, 10), areas=beds)
