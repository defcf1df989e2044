"""Degree days between two dates: days counted by hand, days without temperatures missing."""

import dataclasses
import datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from core.chores.degree_days import DegreeDays, degree_days, own_times
from core.chores.last_done import all_done
from core.keep.entries import WORK, entry_of
from core.say.work.story import grown_lines, grown_text, growth_of
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
    none = DegreeDays(0, 0, 1, gaps=((D(2026, 6, 2), D(2026, 6, 2)),))
    assert degree_days([table], ZONE, D(2026, 6, 1), D(2026, 6, 3)) == none
    assert degree_days([], ZONE, D(2026, 6, 1), D(2026, 6, 3)) == none
    typical = dataclasses.replace(days(D(2026, 6, 2), (87, 63)), kind="typical")
    assert degree_days([typical], ZONE, D(2026, 6, 1), D(2026, 6, 3)) == none


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


def june(n, skip=(), kind="modelled"):
    """Days from 2 June on, 10 degree days each: 70/50."""
    rows = {(i, h) for i in skip for h in range(24)}
    return dataclasses.replace(days(D(2026, 6, 2), *[(70, 50)] * n, skip=rows), kind=kind)


def test_no_number_where_more_than_a_twentieth_of_the_days_is_missing():
    """Of 40 days two may be missing, and are named; of three nothing is told but which."""
    two = degree_days([june(40, skip=(4, 5))], ZONE, D(2026, 6, 1), D(2026, 7, 12))
    assert (two.known, two.missing, two.is_told) == (38, 2, True)
    assert two.gaps == ((D(2026, 6, 6), D(2026, 6, 7)),)
    assert grown_text(two) == (
        "at least 380 growing degree days, by 38 days modelled; 2 of 40 days have no temperatures "
        "here (6 Jun 2026 to 7 Jun 2026)."
    )
    three = degree_days([june(40, skip=(4, 5, 39))], ZONE, D(2026, 6, 1), D(2026, 7, 12))
    assert grown_text(three) == (
        "not known: 3 of 40 days have no temperatures here (6 Jun 2026 to 7 Jun 2026, 11 Jul 2026)."
    )


def test_kept_forecasts_fill_what_a_history_has_not_and_both_are_told():
    tables = [june(36), june(40, kind="forecast")]
    grown = degree_days(tables, ZONE, D(2026, 6, 1), D(2026, 7, 12))
    assert grown.kinds == (("forecast", 4), ("modelled", 36))
    assert grown_text(grown) == (
        "400 growing degree days, by 4 days of kept forecasts and 36 days modelled."
    )


def test_what_is_told_of_a_trail():
    entries = sprayed("2025-02-14", "2025-06-20") + sprayed("2026-06-01", "2026-06-03")[:1]
    growth = growth_of(farm(), "trail", entries, D(2026, 7, 12), [june(40)])
    lines = grown_lines(growth)
    assert lines[0].startswith("Since it was cut on 1 Jun 2026: 400 growing degree days")
    assert lines[1] == (
        "You sprayed on 20 Jun 2025, cut on 14 Feb 2025: not known, no temperatures of it are "
        "kept here."
    )
    assert "your own times only" in lines[2]
    assert (growth.since, growth.is_whole) == (D(2025, 2, 14), False)
    assert grown_lines(growth_of(farm(), "trail", [], D(2026, 7, 12), [june(40)])) == []
    assert grown_text(DegreeDays(0.0, 0, 0)) == "no day has gone by."
