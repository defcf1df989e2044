"""Ground, defaults and rules together: the demo can be hunted, but not always."""

import pytest

from core.ground.store import open_property
from core.weather.files.typical import typical_year
from tests.bench.balance import FIRST_YEAR, ROOT, measure
from tests.years import laid_over


@pytest.fixture(scope="module")
def mornings():
    return measure(open_property(ROOT / "demo_property.json"))


@pytest.mark.slow
def test_the_demo_is_neither_always_nor_never_go(mornings):
    assert len(mornings.go) == 111  # September 13 to January 1
    assert 0.15 <= mornings.median_stand <= 0.50
    assert mornings.some_go >= 0.80
    assert mornings.days_with_none > 0
    assert mornings.in_bounds


@pytest.mark.slow
def test_calm_air_takes_about_a_quarter_of_the_mornings(mornings):
    assert 0.65 <= mornings.callable_days.mean() <= 0.85


def test_the_typical_year_ends_its_hours():
    """The file's first row is labelled 01:00 on January 1: it began at midnight, UTC-5."""
    hours = laid_over(typical_year(), (FIRST_YEAR,))
    assert len(hours) == 8760
    assert hours.start_s[0] == 1767243600  # 2026-01-01T05:00Z
