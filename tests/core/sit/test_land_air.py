"""What heights do to the air of a stand: bent ways, pools, shade, lee, wind over hills.

Expected values are arithmetic on shapes with known answers: planes, a valley whose cross-wind
decays as an exponential, a basin, a wall.
"""

import dataclasses
import datetime
import functools
import subprocess
import sys

import numpy as np
import pytest

from core.air.stability import D
from core.angles import separation_deg
from core.answer.one_sit import stand_sit
from core.ground.heights.grid import METERS, HeightGrid
from core.ground.layout import Stand, Swirls
from core.ground.plan import Plane
from core.judge.causes import IS_LEE, IS_SWIRL, SURE
from core.judge.still import NOT_KNOWN
from core.land.air_ways import Uphill, air_ways, ways_by_range
from core.land.kept import KeptLand
from core.land.relief import Relief, smoothed
from core.land.still_way import slopes_of
from core.sit.land import stand_land
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG
from tests.grounds import PIEDMONT, bed, ground, wind

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


def seat(stand, kept, weather, sit="evening", beds=((60, 250),), **more):
    areas = tuple(bed(PIEDMONT, *b, id_=f"bed{i}") for i, b in enumerate(beds))
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
        Uphill.of(slopes_of(relief)),
        (300.0, -300.0),
        wind_mps=np.array([1j * w]),
        full_slope_mps=np.array([-s]),
    )
    x, y = ways[0].T
    c = s * a / 0.20
    assert x == pytest.approx(300.0 * np.exp(-c * (y + 300.0) / w), abs=0.5)
    assert np.hypot(np.diff(x), np.diff(y)) == pytest.approx(10.0)
    bearing, along = ways_by_range(ways, np.array([250.0, 500.0]))
    assert (along > [250.0, 500.0]).all()
    assert separation_deg(bearing[0, 1], np.degrees(np.arctan2(x[50] - 300, y[50] + 300))) < 2.0


def draw(e, n):
    """A side that falls east into a draw; the draw falls north."""
    return 300.0 + 0.12 * np.abs(e - 150.0) - 0.05 * n


ALONG_THE_DRAW, STRAIGHT_ON = (25.0, 450.0), (66.0, 450.0)


def test_evening_air_turns_along_the_draw():
    """The bed along the draw gets more than the straight line says, whatever lies straight on."""
    stand = on_slope(downhill_deg=67.0, grade_pct=13.0)
    kept, weather = heights(draw), wind(247.0, mph=4.0, cloud=0.0)
    beds = (ALONG_THE_DRAW, STRAIGHT_ON)
    plain, on_land = (seat(stand, k, weather, beds=beds) for k in (None, kept))
    last = int(plain.hours.air.slope_mps.argmin())  # the hour whose air slides the most
    before, after = (own.hours.equivalent_yd[last, :2] for own in (plain, on_land))
    assert after[0] < 0.8 * before[0]
    assert after[1] == pytest.approx(before[1], rel=0.1)  # doubt is added, none taken away


def test_mirrored_ground_and_wind_give_mirrored_air():
    stand, weather = on_slope(67.0, 13.0), wind(247.0, mph=2.5, cloud=0.0)
    one = seat(stand, heights(draw), weather, beds=(ALONG_THE_DRAW, STRAIGHT_ON))
    mirrored = dataclasses.replace(stand, downhill_deg=113.0)
    other = seat(
        mirrored,
        heights(lambda e, n: draw(e, -n)),
        wind(293.0, mph=2.5, cloud=0.0),
        beds=((180.0 - ALONG_THE_DRAW[0], 450.0), (180.0 - STRAIGHT_ON[0], 450.0)),
    )
    # the sun is not mirrored: only the last hours, whose slope has none, are compared
    for name in ("verdict", "equivalent_yd"):
        mine, theirs = (getattr(o.hours, name)[-1] for o in (one, other))
        assert mine == pytest.approx(theirs, rel=0.01, nan_ok=True)


def test_half_the_step_changes_no_verdict(monkeypatch):
    stand, kept = on_slope(67.0, 13.0), heights(draw)
    winds = [wind(float(d), mph=3.0, cloud=0.0) for d in range(0, 360, 20)]
    whole = [seat(stand, kept, w, beds=(ALONG_THE_DRAW, STRAIGHT_ON)) for w in winds]
    monkeypatch.setattr(stand_land, "air_ways", functools.partial(air_ways, step_m=5.0))
    half = [seat(stand, kept, w, beds=(ALONG_THE_DRAW, STRAIGHT_ON)) for w in winds]
    assert [o.hours.verdict.tolist() for o in whole] == [o.hours.verdict.tolist() for o in half]


def floor(e, n):
    """Low ground, nearly level, open to the south; its sides rise 8 %."""
    away = np.hypot(e - 160.0, np.maximum(n, 0.0))
    return 300.0 + 0.08 * np.maximum(away - 110.0, 0.0) + 0.002 * n


def test_still_air_that_lies_in_a_basin_counts_for_the_bed_in_it():
    """A bed in a basin is reached where still air only comes to the basin's other side."""
    basin = heights(floor)
    stand, still = on_slope(90.0, 8.0), wind(mph=0.0, cloud=0.0)
    beds = ((270.0, 100.0), (150.0, 350.0))  # the first makes calm hours worth a word
    plain, on_land = (seat(stand, k, still, beds=beds) for k in (None, basin))
    down = plain.hours.still_to_deg == 90.0
    assert set(plain.hours.still[down]) <= {CLEAN, JUST_OFF, NOT_KNOWN}
    assert set(on_land.hours.still[down & (plain.hours.still != NOT_KNOWN)]) == {WRONG}


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


def test_a_hill_speeds_its_top_and_bends_wind_about_it():
    """By the linear form: faster on the top; beside it wind goes round, mirrored on both sides."""
    hill = heights(lambda e, n: 300.0 + 60.0 * np.exp(-(e**2 + n**2) / (2 * 300.0**2)))
    stand = Stand("oak", "Oak", PIEDMONT)
    plain, top = (seat(stand, k, wind(270.0, mph=8.0)) for k in (None, hill))
    assert (top.hours.air.carried_mps > 1.1 * plain.hours.air.carried_mps).all()
    assert top.hours.air.air_to_deg == pytest.approx(plain.hours.air.air_to_deg, abs=0.1)


def test_smoothed_planes_stay_planes_for_the_walker():
    relief = Relief(np.add.outer(np.zeros(61), -0.05 * np.arange(61) * 10.0), -300.0, -300.0)
    uphill = Uphill.of(slopes_of(smoothed(relief, 30.0)))
    assert uphill.at(np.array([0j, 120 - 50j])) == pytest.approx([-0.25, -0.25])
    assert np.isnan(uphill.at(np.array([400 + 0j]))).all()


WITHOUT = """
import datetime, sys
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.answer.one_sit import stand_sit
from tests.grounds import *
prop = ground(stand=Stand("oak", "Oak", PIEDMONT, downhill_deg=90.0, grade_pct=10.0))
stand_sit(prepare_sit(Scene(prop), wind(200.0, mph=4.0), NOV_10, "evening"), prop.stands[0])
print([m for m in sys.modules if m.startswith(("core.land.", "core.sit.land"))])
"""


def test_without_heights_nothing_of_them_is_loaded():
    told = subprocess.check_output([sys.executable, "-c", WITHOUT], text=True)
    assert told.strip() == "['core.land.kept']"
