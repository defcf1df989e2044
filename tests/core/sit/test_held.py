"""When deer hold a place, and when it counts: the edges (common practice, no source)."""

import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest

from core.sit.held import Places, held_at
from tests.grounds import PIEDMONT, bed, food

MINUTE = 60.0
DAY = SimpleNamespace(sunrise_s=400 * MINUTE, sunset_s=1000 * MINUTE)
CANE = bed(PIEDMONT, 0, 100)


@pytest.mark.parametrize(
    ("word", "edge_min", "held_before"),
    [
        ("day", 400 - 90, False),
        ("day", 1000 + 30, True),
        ("night", 1000 - 90, False),
        ("night", 400 + 45, True),
    ],
)
def test_hours_end_to_the_minute(word, edge_min, held_before):
    before, at, after = held_at(word, np.array([edge_min - 1, edge_min, edge_min + 1]) * 60.0, DAY)
    assert at  # ends included
    assert (before, after) == (held_before, not held_before)


def test_each_place_has_its_own_hours():
    noon = Places((CANE, food(PIEDMONT, 90, 100))).held(np.array([700.0, 0.0]) * 60.0, DAY)
    assert noon.tolist() == [[True, False], [False, True]]
    assert Places(()).held(np.zeros(3), DAY).shape == (3, 0)


@pytest.mark.parametrize(
    ("from_deg", "counts"),
    # its own winds are 100 to 140; a report of 5 degrees to each side
    [(94, False), (95, True), (120, True), (145, True), (146, False), (np.nan, True)],
)
def test_a_bed_of_some_winds_counts_where_the_report_touches_them_or_tells_none(from_deg, counts):
    own = dataclasses.replace(CANE, with_wind_deg=((100.0, 140.0),))
    found = Places((own, CANE)).counts(11, np.array([from_deg]), np.array([5.0]))
    assert found.tolist() == [[counts, True]]


def test_never_held_and_out_of_its_months_counts_for_nothing():
    areas = (
        dataclasses.replace(CANE, held="never"),
        dataclasses.replace(CANE, months=(10, 12)),
        dataclasses.replace(CANE, months=(11,)),
    )
    found = Places(areas).counts(11, np.array([0.0]), np.array([5.0]))
    assert found.tolist() == [[False, False, True]]
