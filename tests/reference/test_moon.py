"""The lit share of the moon's disc.

Sources: Meeus J., Astronomical Algorithms, example 48.a (the number from memory,
confirmed by PyEphem's 0.6786); US Naval Observatory, fraction illuminated at
05:00 UT, 9 to 18 September 2018, as it stands in Skyfield's tests; PyEphem 4.2.1.
"""

import datetime

import ephem
import numpy as np
import pytest

from core.sky.moon import moon_illuminated_frac


def utc_s(*parts: int) -> float:
    return datetime.datetime(*parts, tzinfo=datetime.UTC).timestamp()


def test_example_48a():
    # 0 h dynamical time was 59 s before 0 h UT in 1992; 0.001 for the terms left out
    assert moon_illuminated_frac(utc_s(1992, 4, 12) - 59) == pytest.approx(0.6786, abs=1e-3)


@pytest.mark.parametrize(
    ("day", "printed"),
    [
        (9, 0.00),
        (10, 0.00),
        (11, 0.03),
        (12, 0.08),
        (13, 0.15),
        (14, 0.24),
        (15, 0.33),
        (16, 0.43),
        (17, 0.52),
        (18, 0.62),
    ],
)
def test_naval_observatory_days(day, printed):
    # printed to 0.01
    assert moon_illuminated_frac(utc_s(2018, 9, day, 5)) == pytest.approx(printed, abs=0.01)


def test_fifty_years_against_an_ephemeris():
    times_s = np.random.default_rng(48).uniform(utc_s(1990, 1, 1), utc_s(2040, 1, 1), 2000)
    theirs = [
        ephem.Moon(
            ephem.Date(datetime.datetime.fromtimestamp(t, datetime.UTC).replace(tzinfo=None))
        ).phase
        / 100.0
        for t in times_s
    ]
    assert np.max(np.abs(moon_illuminated_frac(times_s) - theirs)) < 0.01


def test_missing_stays_missing():
    assert np.isnan(moon_illuminated_frac(np.array([np.nan, 0.0]))).tolist() == [True, False]
