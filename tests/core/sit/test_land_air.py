"""What heights do to the air of a stand: bent ways, pools, shade, lee, wind over hills.

Expected values are arithmetic on shapes with known answers: planes, a valley whose cross-wind
decays as an exponential, a basin, a wall.
"""

import dataclasses
import datetime
import functools
import math
import subprocess
import sys

import numpy as np
import pytest
from scipy import integrate, special

from core.air.drift import equivalent_distance_m, offset_rad, strength
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.air.stability import D
from core.angles import separation_deg
from core.answer.change import works_by_degree
from core.answer.one_sit import answer_sit, stand_sit
from core.cli.shared import scene_at
from core.ground.heights.grid import METERS, HeightGrid
from core.ground.heights.slope_at import rounded_slope, slope_about
from core.ground.layout import AirRules, Stand, Swirls
from core.ground.plan import Plane
from core.ground.store import demo_path
from core.judge.causes import IS_LEE, IS_SWIRL, SURE
from core.judge.stand_rows import rows_of
from core.judge.still import still_air, still_like_yd
from core.land.air_ways import MIXED_STEP_M, Drive, air_ways, ways_by_range
from core.land.kept import KeptLand
from core.land.linear_wind import WindChange
from core.land.relief import Relief, smoothed
from core.land.still_way import slopes_of
from core.say.cautions import cautions
from core.sit.land import stand_land
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.stand_air import stand_air
from core.sit.verdicts import CANT_CALL
from core.units import M_PER_FT, M_PER_YD
from core.weather.entry import parse_wind
from tests.grounds import NOV_10, PIEDMONT, bed, ground, wind

OCTOBER = datetime.date(2026, 10, 20)
REACH_M = 900.0


def heights(of) -> KeptLand:
    """A grid of 10 m about the test ground's middle. Args: heights of east and north [m]."""
    plane, n = Plane(PIEDMONT), int(REACH_M / 10.0)
    at = (np.arange(2 * n + 1) - n) * 10.0
    height = of(at[None, :], -at[:, None]) + np.zeros((2 * n + 1, 2 * n + 1))
    lon, lat = plane.to_lonlat(at[0], at[-1])
    cells = 10.0 / plane.m_per_lon_deg, 10.0 / plane.m_per_lat_deg
    grid = HeightGrid(height, float(lon), float(lat), *cells, METERS)
    return KeptLand(grid, "", "", "ground", "", f"{hash(height.tobytes()):x}", True)


def tilted(downhill_deg, grade):
    turn = np.radians(downhill_deg)
    return heights(lambda e, n: 300.0 - grade * (np.sin(turn) * e + np.cos(turn) * n))


def on_slope(downhill_deg=90.0, grade_pct=10.0, **more) -> Stand:
    return Stand("oak", "Oak", PIEDMONT, downhill_deg=downhill_deg, grade_pct=grade_pct, **more)


def seat(stand, kept, weather, sit="evening", beds=((60, 250),), half_yd=20.0, **more):
    areas = tuple(bed(PIEDMONT, *b, id_=f"bed{i}", half_yd=half_yd) for i, b in enumerate(beds))
    prop = ground(stand=stand, areas=areas, **more)
    return stand_sit(prepare_sit(Scene(prop, kept), weather, OCTOBER, sit), prop.stands[0])


def same(one, other):
    for name in ("verdict", "areas", "cause", "kind", "still", "equivalent_yd"):
        np.testing.assert_array_equal(getattr(one.hours, name), getattr(other.hours, name))
    for name in ("group", "verdict", "leave_by_s"):
        assert getattr(one, name) == getattr(other, name)


def test_level_heights_change_nothing():
    level = heights(lambda e, n: 300.0 + 0.0 * e * n)
    for weather in (wind(200.0, mph=4.0, cloud=0.0), wind(mph=0.0, cloud=0.0)):
        same(seat(on_slope(), None, weather), seat(on_slope(), level, weather))


@pytest.mark.parametrize("from_deg", [20.0, 200.0, 290.0])
def test_an_even_slope_gives_what_its_typed_slope_gives(from_deg):
    kept, weather = tilted(90.0, 0.10), wind(from_deg, mph=4.0, cloud=0.0)
    plain, on_land = (seat(on_slope(), k, weather) for k in (None, kept))
    assert plain.hours.verdict.tolist() == on_land.hours.verdict.tolist()
    off = separation_deg(plain.hours.air.air_to_deg, on_land.hours.air.air_to_deg)
    # the turn may be another minute: the sun's edge, and the horizon between two directions
    assert np.nanmax(off) < 1.0
    close = on_land.hours.equivalent_yd / plain.hours.equivalent_yd
    assert np.nanmax(np.abs(close - 1.0)) < 0.02


def test_air_goes_on_into_a_valley_as_the_sum_of_both():
    """Down the side of z = a x^2 / 2, with a wind along it: x = x0 exp(-c y / w)."""
    a, w, s = 2e-4, 0.8, 1.5
    at = np.arange(-800.0, 801.0, 10.0)
    relief = Relief(a * at[None, :] ** 2 / 2.0 + np.zeros((161, 1)), -800.0, -800.0)
    ways = air_ways(
        Drive.of(slopes_of(relief)),
        (300.0, -300.0),
        wind_mps=np.array([1j * w]),
        full_slope_mps=np.array([-s]),
    )
    x, y = ways[0].T
    c = s * a / 0.20
    assert x == pytest.approx(300.0 * np.exp(-c * (y + 300.0) / w), abs=0.5)
    assert np.hypot(np.diff(x), np.diff(y)) == pytest.approx(MIXED_STEP_M)
    bearing, along = ways_by_range(ways, np.array([250.0, 500.0]))
    assert (along > [250.0, 500.0]).all()
    there = round(500.0 / MIXED_STEP_M)
    straight = np.degrees(np.arctan2(x[there] - 300, y[there] + 300))
    assert separation_deg(bearing[0, 1], straight) < 2.0


def test_wind_that_hills_quicken_bends_on_its_way():
    """Wind to the north-east over land that quickens its eastward part by c x: it goes by
    dx/dy = 1 + c x, y = ln(1 + c x) / c."""
    c, at = 1e-3, np.arange(-800.0, 801.0, 10.0)
    level = Relief(np.zeros((161, 161)), -800.0, -800.0)
    xx = np.broadcast_to(c * at, (161, 161))
    change = WindChange(xx, np.zeros((161, 161)), np.zeros((161, 161)))
    still = WindChange(*(np.zeros((161, 161)),) * 3)
    ways = air_ways(
        Drive.of(slopes_of(level), [still, change]),
        (0.0, 0.0),
        wind_mps=np.array([2.0 + 2.0j] * 2),
        full_slope_mps=np.zeros(2),
        change_at=np.array([1, 0]),
    )
    x, y = ways[0].T
    assert y == pytest.approx(np.log1p(c * x) / c, abs=0.1)
    x, y = ways[1].T
    assert y == pytest.approx(x, abs=1e-6)


def test_hills_turn_wind_at_the_stand_as_on_its_way(monkeypatch):
    """The way begins as the stand has the air; where the land slows wind, both by one rule."""

    def beside(e, n):  # to neither of the four sides: both parts of what it changes count
        return 300.0 + 80.0 * np.exp(-((e - 350.0) ** 2 + (n - 200.0) ** 2) / (2 * 300.0**2))

    hill = heights(beside)
    stand = on_slope(*rounded_slope(slope_about(hill.grid, PIEDMONT)))
    air = seat(stand, hill, wind(225.0, mph=3.0, cloud=0.0)).hours.air
    rows = np.flatnonzero(air.slope_mps != 0.0)
    assert len(rows)
    own = stand_land.land_of_stand(Scene(ground(stand=stand), hill), stand)
    monkeypatch.setattr(stand_land, "air_ways", functools.partial(air_ways, step_m=2.0))
    ways = own.mixed_ways(air.take(rows))
    first = np.degrees(np.arctan2(*(ways[:, 1] - ways[:, 0]).T))
    assert separation_deg(first, air.air_to_deg[rows]).max() < 1.0  # it turns in two metres too
    plain = seat(stand, None, wind(225.0, mph=3.0, cloud=0.0)).hours.air
    assert np.nanmax(separation_deg(plain.air_to_deg, air.air_to_deg)) > 2.0


def draw(e, n):
    """A side that falls east into a draw; the draw falls north."""
    return 300.0 + 0.12 * np.abs(e - 150.0) - 0.05 * n


ALONG_THE_DRAW, STRAIGHT_ON = (25.0, 450.0), (66.0, 450.0)
SLOPE_DEG, SLOPE_PCT = math.degrees(math.atan2(12.0, 5.0)), 13.0  # of its side, exactly


@pytest.fixture
def no_hills(monkeypatch):
    """Wind as it is, whatever hills there are: ways are then those of the slope alone."""
    stand_land._on_land.cache_clear()
    monkeypatch.setattr(stand_land, "LEAST_RELIEF_M", 1e9)
    yield
    stand_land._on_land.cache_clear()


def way_in_the_draw(wind_mps: complex, slope_mps: float) -> np.ndarray:
    """The way of wind and slope air from the stand, east + i north [m], every metre of 600.

    Heights smoothed by a bell of 30 m: the crease of the draw becomes an error function. The
    air falls by its share of 20 %. By another integrator than the program's.
    """

    def goes(_, at):
        crease = special.erf((at[0] - 150.0) / (30.0 * math.sqrt(2.0)))
        up = np.array([0.12 * crease, -0.05])
        up *= slope_mps / (SLOPE_PCT / 100.0)  # at the stand it is the slope air of the hour
        air = np.array([wind_mps.real, wind_mps.imag]) + up
        return air / np.hypot(*air)

    told = integrate.solve_ivp(goes, (0.0, 600.0), (0.0, 0.0), max_step=2.0, dense_output=True)
    return told.sol(np.arange(0.0, 600.5)).T @ (1.0, 1j)


@pytest.mark.usefixtures("no_hills")
@pytest.mark.parametrize("bed_at", [ALONG_THE_DRAW, STRAIGHT_ON])
def test_evening_air_turns_along_the_draw(bed_at):
    """A place gets what lies so far along the way, as far beside it as the way passes, less half
    of what the way has left the straight line: the rule in arithmetic."""
    stand = on_slope(SLOPE_DEG, SLOPE_PCT)
    kept, weather = heights(draw), wind(247.0, mph=4.0, cloud=0.0)
    own = seat(stand, kept, weather, beds=(bed_at,), half_yd=2.0)
    air, last = own.hours.air, int(own.hours.air.slope_mps.argmin())
    toward = [1j * np.exp(-1j * np.radians(d)) for d in (air.air_to_deg[last], SLOPE_DEG)]
    blows = air.carried_mps[last] * toward[0] + air.slope_mps[last] * toward[1]
    way = way_in_the_draw(complex(blows), float(air.slope_mps[last]))
    range_m = bed_at[1] * M_PER_YD
    along_m = int(np.argmax(np.abs(way) >= range_m))
    passes_deg = math.degrees(np.angle(1j * np.conj(way[along_m])))
    left_deg = abs(passes_deg - air.air_to_deg[last])
    assert left_deg > 5.0
    assert along_m > 1.02 * range_m
    beside = max(0.0, abs(passes_deg - bed_at[0]) - air.doubt_deg[last] - left_deg / 2.0)
    c = strength(
        distance_m=along_m,
        offset_rad=math.radians(beside) * range_m / along_m,
        stability=air.stability[last],
        carried_mps=air.carried_mps[last],
        sigma_rad=air.sigma_rad[last],
        height_m=air.height_m,
    )
    # the bed is 4 yd wide, and its nearest point counts
    like_yd = equivalent_distance_m(c) / M_PER_YD
    assert own.hours.equivalent_yd[last, 0] == pytest.approx(like_yd, rel=0.03)


def test_bent_air_never_reaches_less_along_the_draw():
    stand = on_slope(SLOPE_DEG, SLOPE_PCT)
    weather = wind(247.0, mph=4.0, cloud=0.0)
    plain, on_land = (
        seat(stand, k, weather, beds=(ALONG_THE_DRAW,)).hours for k in (None, heights(draw))
    )
    last = int(plain.air.slope_mps.argmin())  # the hour whose air slides the most
    assert on_land.equivalent_yd[last, 0] < plain.equivalent_yd[last, 0]


@pytest.mark.parametrize(
    ("told", "moved"),
    [
        (lambda e, n: draw(e, -n), lambda deg: (180.0 - deg) % 360.0),
        (lambda e, n: draw(-n, e), lambda deg: (deg + 90.0) % 360.0),
    ],
    ids=["mirrored", "turned a quarter"],
)
def test_mirrored_and_turned_ground_and_wind_give_the_same_air(told, moved):
    stand, weather = on_slope(67.0, 13.0), wind(247.0, mph=2.5, cloud=0.0)
    one = seat(stand, heights(draw), weather, beds=(ALONG_THE_DRAW, STRAIGHT_ON))
    other = seat(
        dataclasses.replace(stand, downhill_deg=moved(67.0)),
        heights(told),
        wind(moved(247.0), mph=2.5, cloud=0.0),
        beds=((moved(ALONG_THE_DRAW[0]), 450.0), (moved(STRAIGHT_ON[0]), 450.0)),
    )
    # the sun is not moved: only the last hours, whose slope has none, are compared
    for name in ("verdict", "equivalent_yd"):
        mine, theirs = (getattr(o.hours, name)[-1] for o in (one, other))
        assert mine == pytest.approx(theirs, rel=0.01, nan_ok=True)


def humps(seed: int):
    """A ground of six humps and hollows of 100 to 300 m, some to 40 m high, by chance."""
    rng = np.random.default_rng(seed)
    told = zip(
        rng.uniform(-500, 500, 6),
        rng.uniform(-500, 500, 6),
        rng.uniform(100, 300, 6),
        rng.uniform(-25, 40, 6),
        strict=True,
    )
    humps = [(x, y, wide, high) for x, y, wide, high in told]

    def height(e, n):
        each = (z * np.exp(-((e - x) ** 2 + (n - y) ** 2) / (2 * w * w)) for x, y, w, z in humps)
        return 300.0 + sum(each)

    return heights(height)


@pytest.mark.parametrize("seed", [None, 1, 2, 3, 4])
def test_half_the_step_changes_no_verdict(monkeypatch, seed):
    kept = heights(draw) if seed is None else humps(seed)
    slope = rounded_slope(slope_about(kept.grid, PIEDMONT))
    stand = on_slope(*slope)
    beds = tuple(
        (float(d), yards) for d, yards in zip(range(0, 360, 45), (250, 400) * 4, strict=True)
    )
    winds = [wind(float(d), mph=3.0, cloud=0.0) for d in range(10, 360, 50)]
    whole = [seat(stand, kept, w, beds=beds) for w in winds]
    assert any((o.hours.air.slope_mps != 0.0).any() for o in whole)
    monkeypatch.setattr(
        stand_land, "air_ways", functools.partial(air_ways, step_m=MIXED_STEP_M / 2.0)
    )
    half = [seat(stand, kept, w, beds=beds) for w in winds]
    for one, other in zip(whole, half, strict=True):
        assert (one.hours.place_verdict == other.hours.place_verdict).all()


FLOOR_M, MIDDLE_M, RIM = 200.0, 260.0, 0.08


def bowl(e, n):
    """A round floor that falls 1 % to its middle, 260 m to the east; its sides rise 8 %."""
    away = np.hypot(e - MIDDLE_M, n)
    return 300.0 + 0.01 * away + (RIM - 0.01) * np.maximum(away - FLOOR_M, 0.0)


@pytest.mark.parametrize(("off_m", "lies_there"), [(110.0, True), (330.0, False)])
def test_still_air_lies_on_a_floor_and_counts_for_every_bed_on_it(off_m, lies_there):
    """Its way is straight and ends at the middle, twice the widest bell before it at the soonest:
    a bed in the low ground gets what so long a way leaves, one on the side nothing of that."""
    stand, still = on_slope(90.0, 8.0), wind(mph=0.0, cloud=0.0)
    away = math.hypot(MIDDLE_M, off_m) / M_PER_YD, math.degrees(math.atan2(MIDDLE_M, off_m))
    kept = heights(bowl)
    prop = ground(stand=stand, areas=(bed(PIEDMONT, away[1], away[0], half_yd=2.0),))
    sit = prepare_sit(Scene(prop, kept), still, OCTOBER, "evening")
    own = rows_of(sit.sits, stand)
    to_deg, speed = still_air(own, stand)
    row = int(np.flatnonzero(to_deg == 90.0)[-1])
    like_m = still_like_yd(own, stand, row)[0] * M_PER_YD
    nearest, farthest = (
        equivalent_distance_m(
            strength(
                distance_m=length_m,
                offset_rad=0.0,
                stability=own.judged.hours.still_class[row],
                carried_mps=max(speed[row], LEAST_CARRY_MPS),
                sigma_rad=spread_rad(
                    own.judged.hours.still_class[row],
                    LEAST_EFFECTIVE_MPS,
                    COVER_SPREAD_DEG["timber"],
                ),
                height_m=stand.height_ft * M_PER_FT,
            )
        )
        for length_m in (MIDDLE_M - 2.0 * 60.0, MIDDLE_M)
    )
    assert bool(nearest <= like_m <= farthest) is lies_there


def wall(e, n):
    return np.where(e <= -60.0, 40.0, 0.0) + 0.0 * n


def test_wind_over_a_wall_may_roll_back():
    kept, oak = heights(wall), Stand("oak", "Oak", PIEDMONT)
    behind, before = (seat(oak, kept, wind(d, mph=8.0), beds=((90, 80),)) for d in (270.0, 90.0))
    mixed = behind.hours.air.stability <= D
    assert mixed.any()
    assert set(behind.hours.cause[mixed].tolist()) == {IS_LEE}
    assert set(behind.hours.verdict[mixed].tolist()) == {CANT_CALL}
    # settled air stays by the ground
    assert set(behind.hours.cause[~mixed].tolist()) <= {SURE}
    assert IS_LEE not in before.hours.cause
    swirls = Stand("oak", "Oak", PIEDMONT, swirls=Swirls(((260.0, 280.0),), None))
    own = seat(swirls, kept, wind(270.0, mph=8.0))
    assert set(own.hours.cause.tolist()) == {IS_SWIRL}


def test_how_steep_a_fall_wind_parts_from_is_a_setting():
    oak, air = Stand("oak", "Oak", PIEDMONT), AirRules(lee_deg=60.0)
    own = seat(oak, heights(wall), wind(270.0, mph=8.0), beds=((90, 80),), air=air)
    assert IS_LEE not in own.hours.cause


@pytest.mark.parametrize(
    ("cover", "from_deg", "said"),
    [("timber", 270.0, True), ("open", 270.0, False), ("timber", 90.0, False)],
)
def test_in_timber_a_gentler_fall_is_a_caution_and_no_more(cover, from_deg, said):
    """A ramp of 12 degrees, 32 m high, its foot 50 m to the west."""
    fall = math.tan(math.radians(12.0))
    kept = heights(lambda e, n: 300.0 - fall * np.clip(e + 200.0, 0.0, 150.0) + 0.0 * n)
    prop = ground(stand=Stand("oak", "Oak", PIEDMONT, cover=cover))
    sit = prepare_sit(Scene(prop, kept), wind(from_deg, mph=8.0), OCTOBER, "evening")
    own = stand_sit(sit, prop.stands[0])
    assert IS_LEE not in own.hours.cause
    assert any("in woods the wind may roll back" in c for c in cautions(sit, own)) is said


def test_a_hill_speeds_its_top_and_bends_wind_about_it():
    """By the linear form: faster on the top; beside it wind goes round, mirrored on both sides."""
    hill = heights(lambda e, n: 300.0 + 60.0 * np.exp(-(e**2 + n**2) / (2 * 300.0**2)))
    stand = Stand("oak", "Oak", PIEDMONT)
    plain, top = (seat(stand, k, wind(270.0, mph=8.0)) for k in (None, hill))
    assert (top.hours.air.carried_mps > 1.1 * plain.hours.air.carried_mps).all()
    assert top.hours.air.air_to_deg == pytest.approx(plain.hours.air.air_to_deg, abs=0.1)


@pytest.mark.parametrize(("high_m", "turns"), [(60.0, True), (25.0, False)])
def test_the_season_takes_wind_over_hills_at_the_stand_but_not_over_a_low_one(high_m, turns):
    """Beside a round hill the wind goes off to its side; 10 to 90 of a hundred cells about a
    stand on its flank span some 0.6 of the hill, so 36 and 15 m: under 20 none is turned."""
    hill = heights(lambda e, n: 300.0 + high_m * np.exp(-((e - 250.0) ** 2 + n**2) / 180_000.0))
    stand = Stand("oak", "Oak", PIEDMONT)
    scene = Scene(ground(stand=stand), hill)
    sit = prepare_sit(scene, wind(225.0, mph=8.0), OCTOBER, "evening")
    judged, own_land = rows_of(sit.sits, stand).judged, stand_land.land_of_stand(scene, stand)
    # as for a season's tables, which are led over no heights
    plain, told = (stand_air(judged, stand, 0.0, x, is_led=False) for x in (None, own_land))
    off = separation_deg(told.air_to_deg, plain.air_to_deg)
    assert (off > 1.0).all() == (told.carried_mps > plain.carried_mps).all() == turns
    assert turns or (off.max() == 0.0 and (told.carried_mps == plain.carried_mps).all())


def test_smoothed_planes_stay_planes_for_the_walker():
    relief = Relief(np.add.outer(np.zeros(61), -0.05 * np.arange(61) * 10.0), -300.0, -300.0)
    drive = Drive.of(slopes_of(smoothed(relief, 30.0)))
    assert drive.at(np.array([0j, 120 - 50j]))[0] == pytest.approx([-0.25, -0.25])
    assert np.isnan(drive.at(np.array([400 + 0j]))).all()


WITHOUT = """
import datetime, sys
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.stand_air import stand_air
from core.answer.change import works_by_degree
from core.answer.one_sit import answer_sit, stand_sit
from tests.grounds import *
prop = ground(stand=Stand("oak", "Oak", PIEDMONT, downhill_deg=90.0, grade_pct=10.0))
stand_sit(prepare_sit(Scene(prop), wind(200.0, mph=4.0), NOV_10, "evening"), prop.stands[0])
print([m for m in sys.modules if m.startswith(("core.land.", "core.sit.land"))])
"""


def test_without_heights_nothing_of_them_is_loaded():
    told = subprocess.check_output([sys.executable, "-c", WITHOUT], text=True)
    assert told.strip() == "['core.land.kept']"


def test_an_angle_is_the_same_however_the_two_directions_are_counted():
    air_to = np.array([-180.0, -90.0, -1.0, 0.0, 90.0, 179.0, 359.0])[:, None]
    bearing = np.arange(0.0, 361.0, 7.0)
    apart = np.radians(separation_deg(air_to, bearing))
    assert offset_rad(air_to, bearing) == pytest.approx(apart, abs=1e-12)
    assert offset_rad(air_to + 720.0, bearing) == pytest.approx(apart, abs=1e-12)


def test_ways_of_all_stands_are_walked_together_as_each_alone(monkeypatch):
    """Two stands beside a hill: one walk for both, with the ways that each has alone."""
    hill = heights(lambda e, n: 300.0 + 80.0 * np.exp(-((e - 350.0) ** 2 + n**2) / (2 * 300.0**2)))
    slope = rounded_slope(slope_about(hill.grid, PIEDMONT))
    stands = on_slope(*slope), dataclasses.replace(on_slope(*slope), id="ash", name="Ash")
    prop = dataclasses.replace(ground(stand=stands[0]), stands=stands)
    sit = prepare_sit(Scene(prop, hill), wind(225.0, mph=3.0, cloud=0.0), OCTOBER, "evening")
    walked = []

    def counted(*args, **kwargs):
        walked.append(len(kwargs["wind_mps"]))
        return air_ways(*args, **kwargs)

    monkeypatch.setattr(stand_land, "air_ways", counted)
    stand_land._on_land.cache_clear()
    first = answer_sit(sit).at(0)
    assert len(walked) == 1
    own = stand_land.land_of_stand(sit.scene, first.stand)
    some = first.hours.air.take(own.mixed_rows(first.hours.air))
    ahead = own.mixed_ways(some)
    assert len(walked) == 1
    stand_land._on_land.cache_clear()
    alone = stand_land._on_land(own.land, own.at, own.slope, own.lee_deg)
    np.testing.assert_array_equal(alone.mixed_ways(some), ahead)
    assert len(walked) == 2
    assert walked[0] == 2 * walked[1]


@pytest.mark.filterwarnings("error::RuntimeWarning")
def test_a_calm_makes_no_noise():
    """numpy's warnings would stand on the command line before the answer."""
    scene = scene_at(str(demo_path()))
    answer = answer_sit(prepare_sit(scene, parse_wind("calm"), NOV_10, "evening"))
    assert len(answer.stands) == 14
    works_by_degree(answer.sit, answer.best)
