"""One series of hours written in many ways comes out as one table."""

import datetime
import zoneinfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from core.errors import NeedsAnswer
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.answers import Answers, zone_of
from core.weather.files.recognise import read_weather

HOURS = 30
FIRST = datetime.datetime(2020, 1, 1, tzinfo=datetime.UTC)
ZONES = (
    "America/New_York",
    "America/Phoenix",
    "America/St_Johns",
    "Europe/Berlin",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
    "UTC",
    "UTC-05:00",
    "Asia/Kolkata",
)
WAYS = {
    "iso": lambda t: t.strftime("%Y-%m-%d %H:%M"),
    "T and seconds": lambda t: t.strftime("%Y-%m-%dT%H:%M:%S"),
    "run together": lambda t: t.strftime("%Y%m%d%H%M"),
    "month first": lambda t: t.strftime("%m/%d/%Y %I:%M %p"),
    "dots": lambda t: t.strftime("%d.%m.%Y %H:%M"),
    "words": lambda t: t.strftime("%d %b %Y %H:%M"),
    "slashes": lambda t: t.strftime("%Y/%m/%d %H:%M"),
}
UNITS = {"mph": MPS_PER_MPH, "kt": MPS_PER_KNOT, "km/h": MPS_PER_KMH, "m/s": 1.0}
STARTS = some.integers(0, 24 * 365 * 8).map(lambda h: FIRST + datetime.timedelta(hours=h))

# instants at which the clocks of some of those zones were moved
CHANGES = [
    datetime.datetime.fromisoformat(text + ":00+00:00")
    for text in (
        "2020-11-01T06:00",
        "2024-03-10T07:00",
        "2022-10-30T01:00",
        "2023-03-26T01:00",
        "2021-04-03T14:00",
        "2021-09-25T14:00",
    )
]
NEAR_CHANGES = some.builds(
    lambda change, hours: change + datetime.timedelta(hours=hours),
    some.sampled_from(CHANGES),
    some.integers(-HOURS, 2),
)


def written(start, stamp, unit="mph", mark=",", backwards=False):
    """A table of steady rows; each row has its own direction and speed."""
    rows = [
        mark.join((stamp(start + datetime.timedelta(hours=i)), str(10 * (i % 36)), f"{i % 20 + 1}"))
        for i in range(HOURS)
    ]
    head = mark.join(("time", "wind direction", f"wind speed ({unit})"))
    return "\n".join([head, *(rows[::-1] if backwards else rows), ""]).encode()


def check(hours, start, unit="mph"):
    assert hours.start_s[0] == int(start.timestamp())
    assert (np.diff(hours.start_s) == 3600).all()
    assert len(hours) == HOURS
    np.testing.assert_allclose(hours.wind_from_deg, 10.0 * (np.arange(HOURS) % 36))
    np.testing.assert_allclose(hours.speed_mps, (np.arange(HOURS) % 20 + 1) * UNITS[unit])


def local_hours(start, zone):
    return [(start + datetime.timedelta(hours=h)).astimezone(zone_of(zone)) for h in range(HOURS)]


def can_be_told(hours):
    """Whole hours, and of an hour shown twice both or none: the order tells them apart."""
    if any(t.utcoffset().total_seconds() % 3600 for t in hours):
        return False  # a report between the hours belongs to the nearest
    shown = [t.replace(tzinfo=None, fold=0) for t in hours]
    twice = [
        s
        for s, t in zip(shown, hours, strict=True)
        if t.replace(fold=0).utcoffset() != t.replace(fold=1).utcoffset()
    ]
    return all(shown.count(s) == 2 for s in twice)


@settings(max_examples=120)
@given(
    STARTS | NEAR_CHANGES,
    some.sampled_from(ZONES),
    some.sampled_from(list(WAYS)),
    some.sampled_from(list(UNITS)),
    some.sampled_from(",;\t|"),
    some.booleans(),
)
def test_local_times_over_any_change_of_clocks(start, zone, way, unit, mark, backwards):
    """30 hours hold both of an hour shown twice: no row is lost, moved or swapped."""
    if not can_be_told(local_hours(start, zone)):
        return
    data = written(start, lambda t: WAYS[way](t.astimezone(zone_of(zone))), unit, mark, backwards)
    check(read_weather(data, "t", Answers(zone=zone)), start, unit)


@pytest.mark.parametrize("zone", ZONES[:6])
def test_the_changes_are_among_what_is_tried(zone):
    """Else the test above would show nothing."""
    tried = [
        local_hours(change + datetime.timedelta(hours=h), zone)
        for change in CHANGES
        for h in range(-25, 0)
    ]
    folds = [t for t in tried if can_be_told(t) and len({x.utcoffset() for x in t}) > 1]
    assert folds or zone in ("America/Phoenix", "America/St_Johns", "Australia/Lord_Howe")


@settings(max_examples=40)
@given(STARTS, some.sampled_from(ZONES))
def test_times_with_their_offset_need_no_answer(start, zone):
    at = start.astimezone(zone_of(zone))
    if at.utcoffset().total_seconds() % 3600:
        return
    check(read_weather(written(start, lambda t: t.astimezone(zone_of(zone)).isoformat())), start)


@settings(max_examples=40)
@given(STARTS)
def test_epochs(start):
    for scale in (1, 1000):
        check(read_weather(written(start, lambda t, s=scale: str(int(t.timestamp()) * s))), start)


def test_a_year_by_a_fixed_offset_is_no_local_clock():
    """A whole year of standard time holds the hour that the local clock skips."""
    start = datetime.datetime(2026, 3, 7, 18, tzinfo=datetime.UTC)
    fixed = zoneinfo.ZoneInfo("Etc/GMT+5")
    data = written(start, lambda t: WAYS["iso"](t.astimezone(fixed)))
    with pytest.raises(NeedsAnswer, match="2026-03-08 02:00 does not exist in America/New_York"):
        read_weather(data, "t", Answers(zone="America/New_York"))
    check(read_weather(data, "t", Answers(zone="UTC-05:00")), start)
