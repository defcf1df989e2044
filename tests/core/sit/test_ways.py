"""Walks: minutes, the dose of the air, what is left out of it, and the better way."""

import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest

from core.air.drift import equivalent_distance_m, reference_strength, strength
from core.air.spread import spread_rad
from core.ground.layout import Lane
from core.ground.place import Place, relation
from core.sit.scene import Scene, walk_minutes
from core.sit.stand_air import air_on_foot
from core.sit.strength import ByFormula, zone_strengths
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG
from core.sit.ways import choose, shown_yd
from core.units import M_PER_YD, MPS_PER_MPH
from core.weather.hours import make_hours
from tests.grounds import PIEDMONT, bed, corridor, food, ground, judged, lane, sit_of, wind

BED = bed(PIEDMONT, 180, 200.0, held="always")


def still(minutes, **more):
    """A ground whose walk stays at the stand: six yards of lane, the owner's own time."""
    short = lane(PIEDMONT, (0, 7), (0, 1), minutes=minutes)
    return ground(lanes=(short,), areas=(BED,), **more)


def in_turning_wind(directions):
    """A sit in a wind of another direction in each hour, and the ways in and out of its stand."""
    sits = sit_of(ground(areas=(BED, food(PIEDMONT, 80, 300.0))), wind(315)).sits
    hours = sits.found.hours
    source = ByFormula(sits.scene, hours.turned(np.resize(directions, len(hours.month))))
    return source, *(sits.scene.ways(sits.ground.stands[0], d)[0] for d in ("in", "out"))


def test_a_way_out_gives_what_its_own_points_get():
    """It is reckoned as the way in, from its end; here by its own points, in its own order."""
    source, way_in, way_out = in_turning_wind((315.0, 100.0, 210.0))
    minute = np.arange(way_out.minutes)
    sure = np.ones((1, len(minute)), bool)
    for hour in (minute % 2, (minute * 7) % 3, minute * 0):
        found = source.on_walk(way_out, hour[None], sure)
        air, _ = air_on_foot(source.hours, hour[None], way_out.lane.cover)
        own = zone_strengths(way_in.receptors.turned(), height_m=0.0, **air)
        assert found.any() and np.array_equal(found, own)


def test_what_a_walk_gives_is_kept_for_its_own_air_alone():
    source, way, _ = in_turning_wind((315.0, 100.0, 210.0, 30.0))
    sure = np.ones((1, way.minutes), bool)

    def given(hour: int):
        return source.on_walk(way, np.full((1, way.minutes), hour), sure)

    first = [given(hour) for hour in range(4)]
    assert all(np.array_equal(given(hour), first[hour]) for hour in (0, 3, 3, 1, 2, 0))
    assert not any(np.array_equal(first[0], other) for other in first[1:])


# --- minutes ---


@pytest.mark.parametrize(
    ("own", "along_m", "straight_yd", "minutes"),
    [
        # 1.5 mph are 40.2336 m a minute
        (None, 402.336, 0.0, 10),
        (None, 402.4, 0.0, 11),
        (None, 0.0, 0.0, 1),
        (None, 402.336, 44.0, 11),
        (20.0, 800.0, 0.0, 20),
        (20.0, 400.0, 0.0, 10),
        (20.0, 410.0, 0.0, 11),
        (20.0, 400.0, 20.0, 10),
        (20.0, 400.0, 44.0, 11),
        (20.0, 400.0, 45.0, 12),
    ],
)
def test_minutes_of_a_walk(own, along_m, straight_yd, minutes):
    way = Lane("x", "X", (), (), minutes=own)
    speed = 1.5 * 1609.344 / 3600.0
    assert walk_minutes(way, 800.0, along_m, straight_yd * M_PER_YD, speed) == minutes


def test_a_walk_goes_in_from_the_truck_and_out_to_it():
    scene = Scene(ground())
    way_in, way_out = (scene.ways(scene.ground.stands[0], d)[0] for d in ("in", "out"))
    assert np.array_equal(way_in.path_m, way_out.path_m[::-1])
    assert way_in.middles_m[0][1] > way_in.middles_m[-1][1] > -1  # from the north


@pytest.mark.parametrize(("way", "ins", "outs"), [("both", 1, 1), ("in", 1, 0), ("out", 0, 1)])
def test_a_lane_is_walked_in_its_own_direction_only(way, ins, outs):
    scene = Scene(ground(lanes=(lane(PIEDMONT, (0, 440), (0, 5), way=way),)))
    stand = scene.ground.stands[0]
    assert (len(scene.ways(stand, "in")), len(scene.ways(stand, "out"))) == (ins, outs)


# --- the dose ---


def test_twice_the_minutes_are_twice_the_dose():
    like = [float(judged(still(m), wind(0.0)).way_in.equivalent_yd[0]) for m in (20, 40)]
    one, two = (float(reference_strength(yd * M_PER_YD)) for yd in like)
    assert two == pytest.approx(2.0 * one, rel=1e-3)


def half_calm(over_half: bool):
    """A walk whose first minutes are calm: half of them, or one more."""
    seated = judged(still(10), wind(0.0)).seated_s
    hour = seated // 3600 * 3600
    sure_min = (seated - hour) // 60
    weather = make_hours(
        start_s=[hour + 3600 * i for i in range(-2, 8)],
        speed_mps=[0.0, 0.0] + [3.6] * 8,
        wind_from_deg=0.0,
        half_width_deg=5.0,
    )
    return judged(still(2 * sure_min + over_half), weather), sure_min, hour


def test_minutes_without_a_wind_are_left_out_of_the_mean_until_they_are_over_half():
    own, sure_min, hour = half_calm(False)
    assert own.way_in.verdict[0] != CANT_CALL
    windy = make_hours(
        start_s=[hour + 3600 * i for i in range(-2, 8)],
        speed_mps=3.6,
        wind_from_deg=0.0,
        half_width_deg=5.0,
    )
    all_windy = judged(still(2 * sure_min), windy)
    # both hours are night; the minutes that are left lie at most 7 of 200 yards nearer
    assert own.way_in.equivalent_yd[0] == pytest.approx(
        all_windy.way_in.equivalent_yd[0], rel=0.035
    )
    over, _, _ = half_calm(True)
    assert over.way_in.verdict[0] == CANT_CALL and np.isnan(over.way_in.equivalent_yd[0])


def test_of_a_place_held_and_one_not_held_the_smaller_distance_is_told():
    # at two in the afternoon a bed held by night is one step milder: wrong is just-off
    held = bed(PIEDMONT, 180, 190.0, "held", held="always")
    other = bed(PIEDMONT, 180, 60.0, "other", held="night")

    def walked(*areas):
        own = judged(dataclasses.replace(still(60), areas=areas), wind(0.0, 4.0), "evening")
        return own.way_in

    alone = [walked(area) for area in (held, other)]
    assert [w.verdict[0] for w in alone] == [JUST_OFF, JUST_OFF]
    assert alone[0].equivalent_yd[0] > 250 and alone[1].equivalent_yd[0] < 250
    both = walked(held, other)
    assert (both.verdict[0], both.equivalent_yd[0]) == (JUST_OFF, alone[1].equivalent_yd[0])
    assert both.worst_area[0] == 1  # by name: held, other


@pytest.mark.parametrize(("cover", "share", "spread_deg"), [("open", 1.0, 0.0), ("edge", 0.6, 8.0)])
def test_the_lane_s_cover_slows_and_spreads_the_air_of_a_walk(cover, share, spread_deg):
    # an hour in one place is a dose of one; 4 m/s on a clear night is class E
    place = bed(PIEDMONT, 170, 150.0, half_yd=0.2, held="always")
    # 0.5 m/s of side gusts in an hour, against E's curve of ten minutes at 100 m
    strays_deg = np.degrees(np.sqrt((0.5 / 4.0) ** 2 - (0.102 / 100**0.1) ** 2))
    short = lane(PIEDMONT, (0, 7), (0, 1), minutes=60, cover=cover)
    weather = wind(0.0, 4.0 / MPS_PER_MPH, cloud=0.0, half_width_deg=0.0)
    own = judged(ground(lanes=(short,), areas=(place,)), weather).way_in
    c = strength(
        distance_m=150.0 * M_PER_YD,
        offset_rad=np.radians(10.0 - strays_deg),
        stability=4,
        carried_mps=4.0 * 0.2**0.35 * share,
        sigma_rad=spread_rad(4, 4.0, spread_deg),
    )
    worked = float(equivalent_distance_m(c)) / M_PER_YD
    # the walk is up to 7 yards back, the bed a fifth of a yard wide
    assert own.equivalent_yd[0] == pytest.approx(worked, rel=0.05)


def test_crossing_the_trail_before_the_shot_is_just_off_at_best():
    # deer come from the north in the morning, along the lane; the air goes south
    trail = corridor(PIEDMONT, (180, 300), (90, 20), (0, 60), (340, 250))
    crossing = judged(ground(corridors=(trail,)), wind(0.0))
    assert crossing.way_in.crossed_before_shot == ("trail",)
    assert crossing.way_in.verdict[0] == JUST_OFF
    beside = judged(ground(corridors=(trail,)), wind(0.0), "evening")
    assert beside.way_in.crossed_before_shot == ()


# --- the better way ---


def way(id_, verdict=CLEAN, yards=500.0, crosses=0, length=100.0):
    return SimpleNamespace(
        verdict=np.array([verdict]),
        equivalent_yd=np.array([yards]),
        sits=np.zeros(1, int),
        way=SimpleNamespace(
            crosses=("t",) * crosses, length_m=length, lane=SimpleNamespace(id=id_)
        ),
    )


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        (way("b", JUST_OFF, 300), way("a", WRONG, 900)),
        (way("b", yards=520), way("a", yards=500)),
        (way("b", yards=503, length=90), way("a", yards=504)),  # to ten yards they are one
        (way("b", yards=500, crosses=1, length=300), way("a", yards=500, crosses=2)),
        (way("b", length=90), way("a", length=100)),
        (way("a"), way("b")),
        (way("b", yards=10), way("a", yards=np.nan)),  # one without a distance is last
    ],
)
def test_the_better_of_two_ways(better, worse):
    for walks in ([worse, better], [better, worse]):
        assert walks[choose(walks).at[0]] is better


def test_without_ways_there_is_none():
    assert choose([]) is None


@pytest.mark.parametrize(
    ("yards", "told"), [(3.0, 10), (10.4, 10), (249.5, 250), (3519.6, 3520), (9000.0, 3520)]
)
def test_a_distance_is_told_in_whole_yards(yards, told):
    assert shown_yd(yards) == told


# --- where a place lies ---


@pytest.mark.parametrize(
    ("bearing", "word"),
    [
        (0, "upwind"),
        (45, "upwind"),
        (46, "crosswind"),
        (134, "crosswind"),
        (135, "downwind"),
        (180, "downwind"),
        (225, "downwind"),
        (226, "crosswind"),
        (315, "upwind"),
    ],
)
def test_upwind_crosswind_downwind(bearing, word):
    place = Place("x", "bedding", float(bearing), 100.0, False)
    assert relation(0.0, place) == word
    assert relation(300.0, dataclasses.replace(place, bearing_deg=(bearing + 300.0) % 360)) == word


def test_a_place_round_the_seat_is_neither_up_nor_down_wind():
    inside = Place("x", "bedding", 10.0, 0.0, True)
    assert relation(0.0, inside) is None
    assert relation(0.0, Place("x", "lane", float("nan"), 0.0, False)) is None
    assert relation(float("nan"), Place("x", "lane", 10.0, 50.0, False)) == "none"


def test_a_night_trail_brings_no_shot_but_is_crossed():
    trail = corridor(PIEDMONT, (300, 250), (60, 250), use="night")
    beside = corridor(PIEDMONT, (90, 20), (90, 300), id_="beside", use="night")
    own = judged(ground(corridors=(trail, beside)), wind(180.0))
    assert own.corridors == ()
    assert own.way_in.way.crosses == ("trail",)
