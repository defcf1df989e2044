"""What must hold of any ground and any wind, tried on many."""

import dataclasses
import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.air.drift import equivalent_distance_m, reference_strength, strength
from core.air.spread import spread_rad, thinning_per_m
from core.ground.layout import Property, Stand
from core.sit.verdicts import CLEAN, WRONG
from core.units import M_PER_YD, MPS_PER_MPH
from tests.grounds import PIEDMONT, at, bed, corridor, ground, judged, lane, wind

MANY = settings(max_examples=25, deadline=None)
bearings = st.floats(0, 359)
yards = st.floats(40, 700)
directions = st.floats(0, 359)
speeds_mph = st.floats(1, 25)
half_widths = st.floats(2, 20)


@MANY
@given(bearings, yards, directions, speeds_mph, half_widths, st.floats(0.1, 40))
def test_a_vaguer_report_is_never_cleaner(bearing, far, from_deg, mph, half, more):
    prop = ground(areas=(bed(PIEDMONT, bearing, far),))
    sure = judged(prop, wind(from_deg, mph, half_width_deg=half))
    vague = judged(prop, wind(from_deg, mph, half_width_deg=half + more))
    assert (vague.hours.verdict >= sure.hours.verdict).all()
    assert (vague.hours.place_verdict >= sure.hours.place_verdict).all()
    assert vague.way_in.verdict[0] >= sure.way_in.verdict[0]


@MANY
@given(bearings, yards, bearings, yards, directions, speeds_mph)
def test_another_bed_is_never_cleaner(bearing, far, bearing_2, far_2, from_deg, mph):
    one = (bed(PIEDMONT, bearing, far),)
    two = (*one, bed(PIEDMONT, bearing_2, far_2, id_="laurel"))
    alone, both = (judged(ground(areas=a), wind(from_deg, mph)) for a in (one, two))
    assert (both.hours.verdict >= alone.hours.verdict).all()
    assert both.way_in.verdict[0] >= alone.way_in.verdict[0]


@MANY
@given(bearings, yards, directions, speeds_mph, st.floats(0, 1))
def test_a_missing_cloud_is_never_cleaner_at_night(bearing, far, from_deg, mph, cloud):
    prop = ground(areas=(bed(PIEDMONT, bearing, far),))
    known = judged(prop, wind(from_deg, mph, cloud))
    unknown = judged(prop, wind(from_deg, mph, math.nan))
    assert unknown.hours.verdict[0] >= known.hours.verdict[0]  # the first hour is night


@MANY
@given(st.floats(10, 5000), st.floats(0, 3000), st.integers(0, 5), st.floats(0.5, 12))
def test_a_point_moved_out_along_its_bearing_never_worsens(near_m, more_m, stability, mps):
    sigma = spread_rad(stability, max(0.75, mps))
    near, far = (
        strength(
            distance_m=d, offset_rad=0.3, stability=stability, carried_mps=mps, sigma_rad=sigma
        )
        for d in (near_m, near_m + more_m)
    )
    assert far <= near * (1 + 1e-12)


@MANY
@given(
    bearings,
    yards,
    st.floats(1, 400),
    st.floats(-180, 180),
    speeds_mph,
    half_widths,
    st.sampled_from([("open", 0.0), ("edge", 5.0), ("timber", 16.0), ("timber", 30.0)]),
)
def test_a_bed_and_a_trail_moved_straight_out_never_worsen_a_verdict(
    bearing, far, more, aside, mph, half, seat
):
    """Through the whole chain: hours, zones, the walk in on the far side, and the group."""
    near, out = (pushed_out(bearing, yd, seat) for yd in (far, far + more))
    # of each degree the nearest place counts, and places are a degree apart at most: so
    # the bed that is near may be a sample of two degrees to the side
    sure = judged(out, wind(bearing + 180 + aside, mph, half_width_deg=half))
    near = judged(near, wind(bearing + 180 + aside, mph, half_width_deg=half + 2.0))
    assert sure.corridors == near.corridors == ("trail",)
    # air that may go any way has no distance, near or far
    worse = near.hours.equivalent_yd * (1 - 1e-9)
    assert (np.isnan(worse) == np.isnan(sure.hours.equivalent_yd)).all()
    assert (np.isnan(worse) | (sure.hours.equivalent_yd >= worse)).all()
    assert (sure.hours.place_verdict <= near.hours.place_verdict).all()
    assert (sure.hours.verdict <= near.hours.verdict).all()
    for name in ("way_in", "way_out"):
        assert getattr(sure, name).verdict[0] <= getattr(near, name).verdict[0]
    assert sure.group <= near.group
    assert sure.air_share >= near.air_share - 1e-12


def pushed_out(bearing, yards_off, seat) -> Property:
    """A bed, and a trail across the same bearing behind it; the lane is on the other side."""
    cover, height_ft = seat
    stand = Stand("oak", "Oak", PIEDMONT, height_ft=height_ft, cover=cover, range_yd=2000.0)
    behind = at(PIEDMONT, bearing, yards_off + 30.0)
    return ground(
        stand=stand,
        areas=(bed(PIEDMONT, bearing, yards_off),),
        corridors=(corridor(behind, (bearing - 90, 300.0), (bearing + 90, 300.0)),),
        lanes=(lane(PIEDMONT, (bearing + 180, 440.0), (bearing + 180, 5.0)),),
    )


def test_slope_wind_turning_is_never_confident():
    """Through rising wind, no two neighbouring steps go from wrong to clean."""
    stand = Stand("oak", "Oak", PIEDMONT, cover="open", downhill_deg=180.0, grade_pct=20.0)
    areas = (bed(PIEDMONT, 180, 90), bed(PIEDMONT, 0, 90, id_="laurel"))
    for area in areas:
        prop = ground(stand=stand, areas=(area,))
        steps = [
            judged(prop, wind(180.0, mps / MPS_PER_MPH, 0.0)).hours.verdict
            for mps in np.arange(0.5, 4.01, 0.1)
        ]
        for before, after in itertools.pairwise(steps):
            jump = ((before == WRONG) & (after == CLEAN)) | ((before == CLEAN) & (after == WRONG))
            assert not jump.any()


@pytest.mark.parametrize("n_yd", [11, 60, 250, 500, 3500])
def test_the_reference_in_gives_its_own_distance_out(n_yd):
    like = equivalent_distance_m(reference_strength(n_yd * M_PER_YD)) / M_PER_YD
    assert like == pytest.approx(n_yd, rel=1e-4)


@pytest.mark.parametrize("stability", range(6))
@pytest.mark.parametrize("distance_m", [30.0, 200.0, 800.0])
def test_all_the_air_goes_somewhere(stability, distance_m):
    """With w = 0, c |V| r / V(r) integrates to one over the circle."""
    turn = np.linspace(-np.pi, np.pi, 20_001)
    c = strength(
        distance_m=distance_m,
        offset_rad=np.abs(turn),
        stability=stability,
        carried_mps=1.7,
        sigma_rad=spread_rad(stability, 1.7),
    )
    whole = np.trapezoid(c * 1.7 * distance_m / thinning_per_m(stability, distance_m), turn)
    assert whole == pytest.approx(1.0, abs=1e-6)


def test_a_bed_never_held_counts_for_nothing():
    never = dataclasses.replace(bed(PIEDMONT, 135, 100), held="never")
    held = dataclasses.replace(never, held="always")
    assert (judged(ground(areas=(held,)), wind(315.0)).hours.verdict == WRONG).all()
    assert (judged(ground(areas=(never,)), wind(315.0)).hours.verdict == CLEAN).all()
