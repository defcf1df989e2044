"""Many areas in one sum, against each area and each class of air alone."""

import datetime

import numpy as np
import pytest

from core.ground.place import receptors
from core.ground.plan import zone_of_lines, zones_as_one
from core.sit.held import Places
from core.sit.strength import zone_strengths
from core.sky.daylight import sun_day
from tests.grounds import PIEDMONT, bed, food

AREAS = (
    bed(PIEDMONT, 0, 100, id_="a", held="day"),
    food(PIEDMONT, 0, 200, id_="b"),  # held by night
    bed(PIEDMONT, 90, 100, id_="c", held="day", months=(9, 10)),
    bed(PIEDMONT, 180, 100, id_="d", held="never"),
    bed(PIEDMONT, 270, 100, id_="e", held="always", with_wind_deg=((300.0, 60.0),)),
    bed(PIEDMONT, 45, 100, id_="f", held="day"),
)
DAY = sun_day(36.1, -79.9, "America/New_York", datetime.date(2026, 11, 10))


def test_each_area_is_held_as_it_is_alone():
    time_s = DAY.sunrise_s + 3600.0 * np.arange(-4, 16)
    together = Places(AREAS).held(time_s, DAY)
    alone = np.concatenate([Places((a,)).held(time_s, DAY) for a in AREAS], axis=1)
    assert (together == alone).all()
    noon = Places(AREAS).held([DAY.noon_s], DAY)[0]
    assert noon.tolist() == [True, False, True, False, True, True]  # the words of each


def test_each_area_counts_as_it_does_alone():
    wind = np.array([[0.0, 90.0], [180.0, np.nan]])
    half = np.full(wind.shape, 5.0)
    for month in (10, 11):
        together = Places(AREAS).counts(month, wind, half)
        alone = [Places((a,)).counts(month, wind, half) for a in AREAS]
        assert (together == np.concatenate(alone, axis=-1)).all()
    # November: c is out of its months, d never counts, e only in a wind from north or none
    assert together[0, 0].tolist() == [True, True, False, False, True, True]
    assert together[0, 1].tolist() == [True, True, False, False, False, True]
    assert together[1, 1].tolist() == [True, True, False, False, True, True]


def test_no_areas_are_no_columns():
    assert Places(()).held([0.0, 1.0], DAY).shape == (2, 0)
    assert Places(()).counts(11, np.zeros((2, 3)), np.zeros((2, 3))).shape == (2, 3, 0)


def test_each_hour_is_taken_in_its_own_class_of_air():
    zones = zones_as_one([zone_of_lines([np.array([[200.0, 50.0], [200.0, -50.0]])])])
    points = receptors([[0.0, 0.0]], zones)

    def strengths(stability):
        n = len(stability)
        air = {
            "air_to_deg": np.full((n, 1), 90.0),
            "half_width_deg": np.zeros((n, 1)),
            "carried_mps": np.ones((n, 1)),
            "sigma_rad": np.full((n, 1), 0.2),
        }
        return zone_strengths(points, stability=np.array(stability)[:, None], height_m=5.0, **air)

    classes = [5, 3, 3, 0]
    alone = [strengths([c])[0, 0, 0] for c in classes]
    assert strengths(classes)[:, 0, 0] == pytest.approx(alone)
    assert len(set(alone)) == 3  # settled air reaches farther: each class is its own
    assert alone[0] > alone[1] > alone[3]
