"""Sentences of still air, of turns and of walks: what they say is so, and is the cause."""

import datetime
import re

import numpy as np
import pytest

from core.answer.one_sit import answer_sit
from core.ground.store import demo_path, open_property
from core.judge.stand import AIR_SHARE, PRIME_HOUR
from core.judge.still import NOT_KNOWN
from core.say.reason_kinds import (
    AirReaches,
    CantCall,
    Side,
    SlopeTurn,
    StillAirGoes,
    Walk,
)
from core.say.reason_texts import reason_text, reason_texts, still_text
from core.say.reasons import reasons, walk_of
from core.say.words import at_time
from core.sit.minutes import TURNING
from core.sit.prepare import prepare_sit
from core.sit.scene import IN, Scene
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, STAY, WRONG
from core.weather.entry import parse_wind
from tests.hill_ground import hill_ground

OCT_6, NOV_8 = datetime.date(2026, 10, 6), datetime.date(2026, 11, 8)
NO_SLOPE = "no slope"
# a wind, its cloud, a date and a half
SITS = (
    ("calm", 0.0, OCT_6, "morning"),
    ("calm", 0.0, OCT_6, "evening"),
    ("calm", 1.0, OCT_6, "evening"),
    ("variable 3", 0.5, NOV_8, "evening"),
    ("SW 4", 0.0, NOV_8, "evening"),
    ("E 5", 0.0, OCT_6, "evening"),
    ("NW 5", 0.0, NOV_8, "morning"),
    ("NNW 4", 0.0, OCT_6, "evening"),
)


@pytest.fixture(scope="module")
def seats():
    """Every stand of the demo and the hill in some sits: (sit, seat)."""
    found = []
    for ground in (open_property(demo_path()).property, hill_ground()):
        scene = Scene(ground)
        for wind, cloud, date, half in SITS:
            sit = prepare_sit(scene, parse_wind(wind, cloud), date, half)
            found += [(sit, seat) for seat in answer_sit(sit).stands]
    return found


def of_kind(seats, kind):
    return [
        (sit, seat, one) for sit, seat in seats for one in reasons(sit, seat) if type(one) is kind
    ]


def test_nobody_says_that_no_slope_is_drawn_where_one_is(seats):
    bare = 0
    for sit, seat in seats:
        said = " ".join(
            [*reason_texts(sit, reasons(sit, seat)), still_text(sit, seat, reasons(sit, seat))]
        )
        if NO_SLOPE in said:
            assert seat.stand.downhill_deg is None
            bare += 1
    assert bare


def test_still_air_tells_each_hour_as_it_is_and_both_sides_of_the_turn(seats):
    both = 0
    for _, seat, still in of_kind(seats, StillAirGoes):
        hours, rows = seat.hours, seat.rows
        known = np.flatnonzero(hours.still != NOT_KNOWN)
        for case in known:
            (side,) = [s for s in still.sides if s.start_s <= rows.start_s[case] < s.end_s]
            assert side.verdict == hours.still[case]
            assert side.air_to_deg == hours.still_to_deg[case]
        ways = {hours.still_to_deg[case] for case in known}
        assert {side.air_to_deg for side in still.sides} == ways
        both += len(ways) == 2
    assert both >= 10


def test_the_words_of_still_air_with_a_change_on_one_side(seats):
    sit, _ = seats[0]
    start = sit.clock.start_s
    sides = (
        Side(start, start + 3600, 45.0, True, CLEAN),
        Side(start + 3600, start + 5400, 45.0, True, JUST_OFF),
        Side(start + 7200, start + 9000, 225.0, False, WRONG),
    )
    times = [at_time(sit, start + s) for s in (5400, 3600, 7200)]
    assert reason_text(sit, StillAirGoes(sides)) == (
        f"Likely: the slope's own air goes up to the NE until {times[0]}, clean, then from "
        f"{times[1]} just-off; down to the SW from {times[2]}, wrong wind."
    )
    assert reason_text(sit, StillAirGoes(sides[:1])) == (
        "Likely: the slope's own air goes up to the NE, clean."
    )
    assert " until " not in reason_text(sit, StillAirGoes(sides[:2]))


def test_air_that_swings_over_nothing_does(seats):
    told = 0
    for sit, seat, turn in of_kind(seats, SlopeTurn):
        said = reason_text(sit, turn)
        inside = (seat.rows.start_s >= turn.start_s) & (seat.rows.end_s <= turn.end_s)
        assert (seat.hours.kind[inside] == TURNING).all()
        nothing = "over nothing that counts" in said
        assert nothing == bool((seat.hours.verdict[inside] == CLEAN).all())
        counted = seat.hours.counts[inside] & (seat.hours.place_verdict[inside] == WRONG)
        if nothing:
            assert not counted[:, : len(sit.scene.areas)].any()
            told += 1
        assert at_time(sit, turn.end_s) in said
        begins_before = turn.start_s <= sit.clock.start_s
        assert begins_before or at_time(sit, turn.start_s) in said
    assert told


def test_what_cannot_be_called_is_told_from_where_it_begins(seats):
    for _, seat, unsure in of_kind(seats, CantCall):
        row = int(np.flatnonzero(seat.rows.start_s == unsure.start_s)[0])
        assert seat.hours.verdict[row] == CANT_CALL
        assert row == 0 or seat.hours.verdict[row - 1] != CANT_CALL or not unsure.causes


def test_a_stand_that_its_air_keeps_out_says_when_and_where_first(seats):
    told = 0
    for sit, seat in seats:
        spoiled = {PRIME_HOUR, AIR_SHARE} & set(seat.causes)
        wrong = (seat.hours.verdict == WRONG) & (seat.rows.minutes >= 15)
        if seat.group != STAY or not spoiled or not wrong.any():
            continue
        why = reasons(sit, seat)
        first = next(one for one in why if type(one).__name__ != "KeptOut")
        assert type(first) is AirReaches and first.verdict == WRONG
        assert re.search(r"\d:\d\d [ap]m", reason_text(sit, first))
        told += 1
    assert told >= 20


def test_a_walk_that_only_crosses_a_trail_names_the_trail_and_no_far_place(seats):
    told = 0
    for sit, seat in seats:
        if seat.way_in is None:
            continue
        walk = walk_of(sit, seat.way_in, IN)
        if walk.verdict == JUST_OFF and walk.like_yd > sit.scene.ground.air.clean_beyond_yd:
            names = [sit.scene.ground.name_of(x) for x in seat.way_in.crossed_before_shot]
            said = reason_text(sit, walk)
            assert walk.place == "" and all(name in said for name in names)
            assert "before the shot" in said and " like " not in said
            told += 1
        elif type(walk) is Walk and walk.verdict == WRONG:
            assert walk.place and not walk.crossed
    assert told


def test_air_on_a_trail_that_is_no_wrong_wind_says_what_is_free(seats):
    told = 0
    for sit, seat, air in of_kind(seats, AirReaches):
        first = air.first
        if not (first.is_trail and first.on_it and air.verdict == JUST_OFF):
            assert not (first.free_end or first.free_trail)
            continue
        row = int(np.flatnonzero(seat.rows.start_s == first.start_s)[0])
        n = len(sit.scene.areas)
        off = [
            (a.trail, a.end)
            for i, a in enumerate(seat.hours.approaches)
            if seat.hours.counts[row, n + i] and seat.hours.place_verdict[row, n + i] != WRONG
        ]
        assert (first.free_trail in [t for t, _ in off]) or (first.place, first.free_end) in off
        assert " free" in reason_text(sit, air)
        told += 1
    assert told
