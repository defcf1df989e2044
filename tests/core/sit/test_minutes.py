"""Minutes of windows counted as spans, against a count of one minute after another."""

from dataclasses import dataclass

import numpy as np
from hypothesis import given
from hypothesis import strategies as some

from core.sit.minutes import row_sums

HOUR_S, MINUTE_S = 3600, 60
MIDNIGHT_S = 1_793_577_600  # 2026-11-02 00:00 UTC


@dataclass(frozen=True)
class Sun:
    sunrise_s: float
    sunset_s: float


def minute_by_minute(start_s, end_s, sun, legal_s, sit, no_prime):
    """By hour: minutes, weight, minutes in the prime blocks; the design's own words as ifs.

    A minute weighs 1, 1.5 until 90 minutes after sunrise and from 90 before sunset, 2 in
    the half hour before sunset and after; prime are the first two hours of legal light
    and the last hour and a half. All common practice, no source.
    """
    found: dict[int, list[float]] = {}
    for at in range(start_s, end_s, MINUTE_S):
        sums = found.setdefault(at // HOUR_S * HOUR_S, [0.0, 0.0, 0.0, 0.0])
        middle = at + 30
        weight = 1.0
        if middle < sun.sunrise_s + 5400 or middle >= sun.sunset_s - 5400:
            weight = 1.5
        if middle >= sun.sunset_s - 1800:
            weight = 2.0
        sums[0] += 1
        sums[1] += weight
        sums[2] += sit != "evening" and not no_prime and middle < legal_s[0] + 7200
        sums[3] += sit != "morning" and not no_prime and middle >= legal_s[1] - 5400
    return found


@given(
    rise_s=some.integers(0, 14 * HOUR_S),
    day_s=some.integers(1, 20 * HOUR_S),
    start_min=some.integers(-120, 22 * 60),
    length_min=some.integers(0, 14 * 60),
    sit=some.sampled_from(["morning", "evening", "all-day"]),
    no_prime=some.booleans(),
)
def test_rows_of_a_window_sum_its_minutes(rise_s, day_s, start_min, length_min, sit, no_prime):
    sun = Sun(MIDNIGHT_S + rise_s, MIDNIGHT_S + rise_s + day_s)
    legal_s = (sun.sunrise_s // MINUTE_S * MINUTE_S - 1800, sun.sunset_s // MINUTE_S * MINUTE_S)
    start_s = MIDNIGHT_S + start_min * MINUTE_S
    end_s = start_s + length_min * MINUTE_S
    counted = minute_by_minute(start_s, end_s, sun, legal_s, sit, no_prime)
    starts = (start_s // HOUR_S + np.arange(16)) * HOUR_S
    found = np.array(
        row_sums((starts, starts + HOUR_S), (start_s, end_s), sun, legal_s, sit, no_prime)
    ).T
    expected = [counted.get(int(row), [0.0, 0.0, 0.0, 0.0]) for row in starts]
    assert np.array_equal(found, expected)
