"""Reasons are values: what is told, when, of which place; and nobody reads them back from words."""

import ast
import dataclasses
import datetime
from pathlib import Path

import numpy as np
import pytest

from core.answer.one_sit import stand_sit
from core.ground.layout import Part, Stand
from core.judge import stand as a
from core.judge.causes import CAUSE_WORDS, IS_CALM, IS_VARIABLE
from core.say.reason_kinds import (
    KEEP_OUT,
    AirOnTrail,
    AirReaches,
    BeDown,
    CantCall,
    Fact,
    KeptOut,
    NothingInRange,
    Walk,
    WayCrosses,
)
from core.say.reason_texts import CAUSES_SAID, FACTS_SAID, KEPT_OUT_SAID, reason_text, reason_texts
from core.say.reasons import reasons
from core.sit.scene import IN
from core.sit.verdicts import CANT, CANT_CALL, GO, JUST_OFF, STAY, WRONG
from tests.grounds import PIEDMONT, bed, corridor, ground, hourly, lane, sit_of, wind

ROOT = Path(__file__).resolve().parents[3]
MIDNIGHT = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
HOUR_S = 3600
BEHIND = bed(PIEDMONT, 135, 150)
TRAIL = corridor(PIEDMONT, (135, 200), (135, 12))  # before the shot it lies downwind of NW


def found_in(place, weather, **more):
    sit = sit_of(place, weather, **more)
    return sit, reasons(sit, stand_sit(sit, place.stands[0]))


def of_kind(found, kind):
    return [one for one in found if isinstance(one, kind)]


def test_wrong_air_names_the_hour_the_place_and_how_strong():
    sit, found = found_in(ground(areas=(BEHIND,)), hourly(MIDNIGHT, [135.0] * 9 + [315.0] * 8))
    (air,) = of_kind(found, AirReaches)
    assert (air.verdict, air.first.place) == (WRONG, "cane")
    assert air.first.start_s == MIDNIGHT + 9 * HOUR_S  # the wind turns at 9
    own = stand_sit(sit, sit.scene.ground.stands[0])
    case = list(sit.clock.row_start_s).index(MIDNIGHT + 9 * HOUR_S)
    assert air.first.like_yd == own.hours.equivalent_yd[case, 0]
    assert of_kind(found, BeDown) == [BeDown(MIDNIGHT + 9 * HOUR_S - 15 * 60)]


def test_the_first_hour_begins_no_earlier_than_the_sit():
    sit, found = found_in(ground(areas=(BEHIND,)), wind(315.0))
    assert of_kind(found, AirReaches)[0].first.start_s == sit.clock.start_s


def test_still_air_names_its_cause_and_its_hours():
    _, found = found_in(ground(areas=(BEHIND,)), wind(None, mph=0.0))
    (unsure,) = of_kind(found, CantCall)
    assert unsure.causes == (IS_CALM,) and unsure.minutes == unsure.of_minutes
    assert unsure.place == "cane"
    (walk,) = of_kind(found, Walk)
    assert (walk.way, walk.lane, walk.verdict, walk.place) == (IN, "Lane", CANT_CALL, "")


def test_a_trail_in_wrong_air_is_told_as_what_it_is():
    # the only trail, and the air straight onto it: wrong
    sit, found = found_in(ground(corridors=(TRAIL,)), wind(315.0))
    (on,) = of_kind(found, AirOnTrail)
    assert (on.place, on.on_it, on.end) == ("trail", True, "")
    (air,) = of_kind(found, AirReaches)
    assert (air.verdict, air.first.place) == (WRONG, "trail")
    assert reason_text(sit, on).startswith("Straight onto Trail, where they come: like ")


def test_a_trail_beside_the_air_or_with_another_one_free_is_just_off():
    # the second trail comes from the north-west, upwind
    free = corridor(PIEDMONT, (315, 200), (315, 12), id_="free")
    sit, found = found_in(ground(corridors=(TRAIL, free)), wind(315.0))
    (air,) = of_kind(found, AirReaches)
    assert (air.verdict, air.first.place) == (JUST_OFF, "trail")
    beside = corridor(PIEDMONT, (270, 200), (225, 25), (168, 320))
    sit, found = found_in(ground(corridors=(beside,)), wind(315.0))
    (on,) = of_kind(found, AirOnTrail)
    assert not on.on_it and reason_text(sit, on).startswith("Just past Trail: like ")


def test_a_trail_walked_from_both_ends_tells_the_end_that_is_free():
    # all day: from the bedding end it lies downwind, from the food end upwind
    through = corridor(PIEDMONT, (135, 200), (135, 12), (315, 12), (315, 200))
    rut = (Part("rut", "11-01", "11-30", all_day=True),)
    sit, found = found_in(ground(corridors=(through,), parts=rut), wind(315.0))
    (on,) = of_kind(found, AirOnTrail)
    assert (on.on_it, on.end, on.free_end) == (True, "bedding", "food")
    assert reason_text(sit, on).endswith("free from the food end.")


def test_a_way_across_a_trail_names_it():
    across = lane(PIEDMONT, (90, 440), (180, 60), (180, 5))
    crossed = corridor(PIEDMONT, (150, 300), (170, 20))
    _, found = found_in(ground(lanes=(across,), corridors=(crossed,)), wind(0.0))
    assert [one.places for one in of_kind(found, WayCrosses)] == [("trail",)]


@pytest.mark.parametrize(
    ("more", "cause"),
    [
        ({"closed": True}, KeptOut(a.IS_CLOSED)),
        ({"max_gust_mph": 10.0}, KeptOut(a.GUST, limit_mph=10.0)),
    ],
)
def test_what_keeps_a_hunter_out_comes_first(more, cause):
    place = ground(stand=Stand("oak", "Oak", PIEDMONT, **more), areas=(BEHIND,))
    _, found = found_in(place, wind(315.0, gust_mps=9.0))
    assert found[0] == cause


def test_a_taken_stand_names_who_sits_there():
    place = ground()
    sit = sit_of(place, wind(315.0))
    taken = stand_sit(sit, place.stands[0], "Nell {x}")
    assert reason_text(sit, reasons(sit, taken)[0]) == "Nell {x} sits here."


def test_nothing_to_say_is_said_and_each_thing_once():
    sit, found = found_in(ground(corridors=(corridor(PIEDMONT, (0, 300), (0, 10)),)), wind(0.0))
    assert len(set(found)) == len(found)
    assert Fact.NO_WAY_OUT not in found and NothingInRange not in map(type, found)
    texts = reason_texts(sit, [*found, *found])
    assert len(texts) == len(set(texts))


def test_every_reason_has_words():
    assert set(FACTS_SAID) == set(Fact)
    assert set(KEPT_OUT_SAID) == set(KEEP_OUT)
    assert set(CAUSES_SAID) == set(CAUSE_WORDS) - {""}


def test_reasons_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        KeptOut(a.GUST).cause = a.STRONG


# --- the first reason is the cause


def first_of(place, weather, **more):
    sit = sit_of(place, weather, **more)
    own = stand_sit(sit, place.stands[0])
    return own, reasons(sit, own)[0]


def test_a_stand_out_for_its_way_in_is_told_for_its_way_in():
    # the lane passes one bed upwind; the seat's own air only comes near the other
    past = lane(PIEDMONT, (90, 440), (90, 60), (0, 5))
    beds = bed(PIEDMONT, 180, 360), bed(PIEDMONT, 100, 359, "gum", half_yd=15.0)
    own, first = first_of(ground(lanes=(past,), areas=beds), wind(0.0))
    assert own.causes == (a.WAY_IN,) and (own.group, own.judged.air_group[0]) == (STAY, GO)
    assert isinstance(first, Walk) and (first.way, first.place) == (IN, "gum")


def test_a_drawn_way_that_is_missing_does_not_hide_wrong_air():
    own, first = first_of(ground(lanes=(), areas=(BEHIND,)), wind(315.0))
    assert own.group == STAY and a.NO_WAY in own.causes
    assert isinstance(first, AirReaches) and first.verdict == WRONG


def test_a_wrong_hour_that_does_not_decide_comes_after_what_can_t_be_called():
    # no wind at first light; from 9 on, when it no longer decides, the air goes over the bed
    directions = [np.nan] * 8 + [135.0] + [315.0] * 8
    calm = np.array([0.0] * 8 + [8.0] * 9)
    own, first = first_of(ground(areas=(BEHIND,)), hourly(MIDNIGHT, directions, mph=calm))
    assert own.group == CANT and isinstance(first, CantCall)


def test_a_short_hour_is_told_only_where_no_other_is_like_it():
    sit, found = found_in(ground(areas=(BEHIND,)), wind(315.0))
    short = [i for i, m in enumerate(sit.clock.minutes) if 0 < m < 15]
    (air,) = of_kind(found, AirReaches)
    assert not air.is_short
    assert air.first.start_s not in [sit.shown_start_s(i) for i in short]


def test_every_cause_of_the_hours_that_can_t_be_called_is_named():
    mph = np.array([0.0] * 7 + [3.0] * 1 + [8.0] * 9)
    directions = [np.nan] * 8 + [135.0] * 9
    sit, found = found_in(ground(areas=(BEHIND,)), hourly(MIDNIGHT, directions, mph=mph))
    (unsure,) = of_kind(found, CantCall)
    assert unsure.causes == (IS_CALM, IS_VARIABLE)
    assert "no wind or light wind from no one direction" in reason_text(sit, unsure)


# --- nobody reads a fact back out of a sentence

READERS = {"startswith", "endswith", "removeprefix", "removesuffix", "replace", "partition"}
# names, keys and file formats: what a user or a file wrote, never what we said
LET_THROUGH = {
    ("core/criticism/whole_ground.py", "key"),  # code:feature:other
    ("core/show/card.py", "words"),  # unbroken(): spaces of a text that is ready
    ("core/show/card.py", "label"),  # a bed called "Cane bed" is not "Cane bed, bed"
    ("core/show/svg.py", "name"),  # an attribute of SVG, spelled as Python can
}


def readings(source: str, name: str) -> list[str]:
    """Where a module takes text apart. Methods of `dataclasses` are none of it."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)):
            continue
        of = ast.unparse(node.func.value).split("(")[0].split(".")[0]
        if node.func.attr in READERS and of != "dataclasses" and (name, of) not in LET_THROUGH:
            found.append(f"{name}:{node.lineno}: {ast.unparse(node.func)}")
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Compare) and isinstance(node.ops[0], ast.In | ast.NotIn):
            left = node.left
            words = isinstance(left, ast.Constant) and isinstance(left.value, str)
            if words and " " in left.value.strip():
                found.append(f"{name}:{node.lineno}: {ast.unparse(node)}")
    return found


def test_no_code_reads_facts_out_of_sentences():
    rooms = ("say", "learn", "criticism", "answer", "season", "show")
    files = [p for room in rooms for p in sorted((ROOT / "core" / room).rglob("*.py"))]
    faults = []
    for path in files:
        faults += readings(path.read_text(encoding="utf-8"), path.relative_to(ROOT).as_posix())
    assert faults == []


@pytest.mark.parametrize(
    "source",
    [
        "x = [r for r in said if r.startswith('From')]",
        "y = text.replace(' (clean)', '')",
        "z = 'clear of' in said",
        "way_text(a, b).removeprefix('The way in')",
    ],
)
def test_a_reading_is_seen(source):
    assert len(readings(source, "core/say/page.py")) == 1
