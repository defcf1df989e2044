"""Shares by arcs and joint counts, against other programs and plain sampling."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some
from windrose.windrose import histogram

from core.weather.files.typical import typical_year
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE, make_hours
from core.weather.statistics import (
    coverage_frac,
    joint_counts,
    overlap_frac,
    shares_in_arcs,
)

DEGREES = some.floats(0, 359.99)
ARCS = some.lists(some.tuples(DEGREES, DEGREES), max_size=4)
HALVES = some.sampled_from([2.5, 5.0, 11.25, 22.5, 60.0, 180.0])


def sampled(wind, half, arcs, n=20_000):
    """The part of a span inside arcs, by points along it."""
    points = (wind + (np.arange(n) + 0.5) / n * 2 * half - half) % 360
    inside = np.zeros(n, bool)
    for first, last in arcs:
        span = last - first if 0 <= last - first <= 360 else (last - first) % 360
        inside |= (points - first) % 360 < span
    return inside.mean()


@given(DEGREES, HALVES, ARCS)
def test_overlap_against_points_along_the_span(wind, half, arcs):
    assert overlap_frac(wind, half, arcs) == pytest.approx(sampled(wind, half, arcs), abs=5e-4)


@given(DEGREES, HALVES, ARCS, some.floats(-720, 720))
def test_turning_everything_changes_nothing(wind, half, arcs, turn):
    arcs = [(a, b) for a, b in arcs if 0.01 < (b - a) % 360 < 359.99]  # no arc of no width
    turned = [((a + turn) % 360, (b + turn) % 360) for a, b in arcs]
    got = overlap_frac((wind + turn) % 360, half, turned)
    assert got == pytest.approx(overlap_frac(wind, half, arcs), abs=1e-6)


@given(DEGREES, HALVES, DEGREES)
def test_an_arc_and_the_rest_make_the_whole(wind, half, first):
    last = (first + 77.0) % 360
    both = overlap_frac(wind, half, [(first, last)]) + overlap_frac(wind, half, [(last, first)])
    assert both == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize(
    ("wind", "half", "arcs", "part"),
    [
        (300, 5, [(300, 330)], 0.5),
        (0, 5, [(340, 20)], 1.0),
        (355, 10, [(0, 30)], 0.25),
        (90, 5, [(80, 92), (90, 120)], 1.0),  # counted once where arcs overlap
        (90, 0, [(90, 120)], 1.0),
        (120, 0, [(90, 120)], 0.0),
        (200, 5, [(0, 360)], 1.0),
        (200, 5, [(200, 200)], 0.0),
        (np.nan, 5, [(0, 360)], 0.0),
        (200, 5, [], 0.0),
    ],
)
def test_known_overlaps(wind, half, arcs, part):
    assert overlap_frac(wind, half, arcs) == pytest.approx(part)


def test_states_are_told_apart():
    hours = make_hours(
        start_s=np.arange(5) * 3600,
        wind_from_deg=[300, 90, np.nan, np.nan, np.nan],
        speed_mps=[3, 3, 0, 2, np.nan],
        half_width_deg=5,
    )
    shares = shares_in_arcs(hours, [(300, 330)])
    assert (shares.inside, shares.outside) == (0.5, 1.5)
    assert (shares.calm, shares.variable, shares.missing) == (1, 1, 1)
    assert (shares.directed, shares.known, shares.frac(shares.inside)) == (2, 4, 0.125)


def test_no_hours_have_no_share():
    hours = make_hours(start_s=[])
    shares = shares_in_arcs(hours, [(0, 90)])
    assert np.isnan(shares.frac(shares.inside))
    assert np.isnan(coverage_frac(joint_counts(hours), np.zeros_like, np.zeros_like))


@pytest.mark.parametrize("n_sectors", [12, 36])
def test_joint_counts_against_windrose(n_sectors):
    """36 sectors hold a report each; 12 hold three, of which none is cut."""
    year = typical_year()
    moving = year.take(year.state == DIRECTED)
    joint = joint_counts(year, n_sectors)
    low_edges = joint.speed_edges_mps[:-1]
    _, _, table = histogram(
        moving.wind_from_deg, moving.speed_mps, low_edges, n_sectors, len(moving)
    )
    np.testing.assert_allclose(joint.counts, table.T, atol=1e-9)
    assert (joint.calm, joint.variable, joint.missing) == (1050, 8, 0)


def test_sixteen_sectors_share_out_a_report_at_their_edge():
    """Points-in-sector gives north three reports of ten degrees, its neighbour two."""
    wind = np.arange(0, 360, 10.0)
    hours = make_hours(
        start_s=np.arange(36) * 3600, wind_from_deg=wind, speed_mps=3.0, half_width_deg=5.0
    )
    np.testing.assert_allclose(joint_counts(hours, 16).counts.sum(axis=1), 2.25)


def test_speed_groups_hold_their_lower_edge():
    hours = make_hours(
        start_s=np.arange(3) * 3600, wind_from_deg=90, speed_mps=[1.0, 2.0, 9.0], half_width_deg=5
    )
    joint = joint_counts(hours, 4, (1.0, 2.0, 9.0))
    assert joint.counts.sum(axis=0).tolist() == [1.0, 1.0]
    assert joint.counts[1].sum() == 2.0


def test_coverage_by_area_of_a_ring():
    """Half of the angle and, in speed, (2^2 - 1^2) / (3^2 - 1^2) of the ring's area."""
    hours = make_hours(
        start_s=np.arange(2) * 3600,
        wind_from_deg=[0, np.nan],
        speed_mps=[2.5, 0.0],
        half_width_deg=5.0,
    )
    joint = joint_counts(hours, 36, (1.0, 3.0))

    def fastest(deg):
        return np.where(deg < 180, 2.0, 0.0)

    share = coverage_frac(joint, np.zeros_like, fastest)
    assert share == pytest.approx(0.5 * 3 / 8 / 2)
    with_calm = coverage_frac(joint, np.zeros_like, fastest, calm_counts=True)
    assert with_calm == pytest.approx(share + 0.5)


def test_a_group_without_an_end_counts_whole_or_not():
    hours = make_hours(start_s=[0], wind_from_deg=90, speed_mps=30.0, half_width_deg=5.0)
    joint = joint_counts(hours)
    assert coverage_frac(joint, np.zeros_like, lambda d: np.full_like(d, 40.0)) == 0.0
    assert coverage_frac(joint, np.zeros_like, lambda d: np.full_like(d, np.inf)) == 1.0


def test_the_typical_year_states():
    """Counts of 723170TYA.CSV: 1,050 calm, 8 with direction 0 and wind, 210 north as 360."""
    state = typical_year().state
    assert [(state == s).sum() for s in (CALM, VARIABLE, MISSING)] == [1050, 8, 0]
