"""Degree days between two dates: days counted by hand, days without temperatures missing."""

import datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from core.chores.degree_days import DegreeDays, degree_days, own_times
from core.chores.last_done import all_done
from core.keep.entries import WORK, entry_of
from core.say.work.story import grown_lines, grown_text
from core.units import c_from_f
from core.weather.hours import make_hours
from tests.core.chores.test_due import farm

D = datetime.date
ZONE = "America/New_York"


def days(first, *extremes, skip=(), zone=ZONE):
    """Hours of local days, each between its highest and its lowest [degF]."""
    warm = {}  # by instant: an hour that the clock skips is the next
    for n, (high, low) in enumerate(extremes):
        day = first + datetime.timedelta(days=n)
        for hour in range(24):
            if (n, hour) in skip:
                continue
            at = datetime.datetime.combine(day, datetime.time(hour), ZoneInfo(zone))
            warm[int(at.timestamp())] = c_from_f(high if hour == 14 else low)
    return make_hours(
        start_s=list(warm),
        wind_from_deg=0.0,
        half_width_deg=5.0,
        speed_mps=2.0,
        temperature_c=list(warm.values()),
    )


def test_days_after_one_and_before_another():
    """87/63 is 24.5, 72/46 is 11: the days of the cut itself and of today are left out."""
    table = days(D(2026, 6, 1), (99, 90), (87, 63), (72, 46), (99, 90))
    grown = degree_days([table], ZONE, D(2026, 6, 1), D(2026, 6, 4))
    assert (grown.total, grown.known, grown.missing) == (pytest.approx(35.5), 2, 0)


def test_a_day_of_fewer_than_twenty_hours_is_missing():
    for n, known in ((4, 1), (5, 0)):
        table = days(D(2026, 6, 2), (87, 63), skip={(0, h) for h in range(n)})
        grown = degree_days([table], ZONE, D(2026, 6, 1), D(2026, 6, 3))
        assert (grown.known, grown.missing) == (known, 1 - known)


def test_hours_without_a_temperature_and_held_winds_count_as_none():
    table = days(D(2026, 6, 2), (87, 63))
    table.temperature_c[:] = np.nan
    assert degree_days([table], ZONE, D(2026, 6, 1), D(2026, 6, 3)) == DegreeDays(0, 0, 1)
    assert degree_days([], ZONE, D(2026, 6, 1), D(2026, 6, 3)) == DegreeDays(0, 0, 1)


def test_a_day_is_taken_from_the_first_table_that_has_it():
    best, other = days(D(2026, 6, 2), (87, 63)), days(D(2026, 6, 2), (72, 46), (72, 46))
    grown = degree_days([best, other], ZONE, D(2026, 6, 1), D(2026, 6, 4))
    assert grown.total == pytest.approx(24.5 + 11)


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/New_York"])
def test_days_are_those_of_the_ground(zone):
    """March and April 2026 have a change of the clock in each of them; all days count."""
    table = days(D(2026, 3, 1), *[(87, 63)] * 45, zone=zone)
    grown = degree_days([table], zone, D(2026, 3, 1), D(2026, 4, 10))
    assert (grown.known, grown.missing) == (39, 0)
    assert grown.total == pytest.approx(39 * 24.5)


def sprayed(cut, spray):
    return [
        entry_of(WORK, day, {"what": what, "feature": "trail"})
        for what, day in (("cut", cut), ("spray", spray))
    ]


def test_own_last_times_are_compared_and_no_other():
    entries = sprayed("2025-02-14", "2025-06-20") + sprayed("2026-02-20", "2027-01-01")
    table = days(D(2025, 6, 1), *[(70, 50)] * 30)
    (time,) = own_times(
        all_done(farm(), entries), "trail", D(2026, 6, 10), [table], ZONE
    )  # 2027 has not been
    assert (time.cut, time.sprayed) == (D(2025, 2, 14), D(2025, 6, 20))
    # 125 days lie between; of 1 to 19 June the temperatures are known, 10 each
    assert (time.grown.known, time.grown.missing) == (19, 106)
    assert time.grown.total == pytest.approx(190)


def test_what_is_missing_is_said():
    entries = sprayed("2025-02-14", "2025-06-20") + sprayed("2026-06-02", "2026-06-03")[:1]
    table = days(D(2026, 6, 3), (87, 63), (72, 46))
    lines = grown_lines(farm(), "trail", entries, D(2026, 6, 6), [table])
    assert lines[0] == (
        "Since it was cut on 2 Jun 2026: at least 36 growing degree days; 1 of 3 days have no "
        "temperatures here."
    )
    assert "You sprayed on 20 Jun 2025, cut on 14 Feb 2025: not known, no temp" in lines[1]
    assert "your own times only" in lines[2]
    assert grown_text(DegreeDays(35.5, 2, 0)) == "36 growing degree days."
    assert grown_lines(farm(), "trail", [], D(2026, 6, 6), [table]) == []
