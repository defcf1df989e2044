"""Growing degree days by the 86/50 method, as two extension services work them by hand."""

import pytest

from core.chores.degree_days import day_degrees

# Karhoff S., Ohio State University Extension, "Corn growing degree days" (2023): 87 and 63 degF
OHIO = [(87, 63, 24.5)]
# Wisconsin, Waushara County, "Calculating growing degree days" (25 April 2018): three days,
# 25.5 + 11 + 6.5 = 43 in all
WISCONSIN = [(90, 65, 25.5), (72, 46, 11.0), (63, 42, 6.5)]
# Iowa State University, Agronomy 541, lesson 2b: 70 and 50 degF; 36 at most in a day
IOWA = [(70, 50, 10.0), (99, 90, 36.0)]


@pytest.mark.parametrize("high, low, published", OHIO + WISCONSIN + IOWA)
def test_a_day_as_published(high, low, published):
    assert float(day_degrees(high, low)) == published


def test_three_days_as_published():
    high, low, _ = zip(*WISCONSIN, strict=True)
    assert day_degrees(high, low).sum() == 43.0


def test_a_cold_day_adds_nothing():
    assert float(day_degrees(45, 30)) == 0.0
