"""Rise, set and civil twilight as the US Naval Observatory prints them.

Sources: almanac rows of the US Naval Observatory as they stand in the tests of
Skyfield (Bluffton, Defiance; the observatory is not named beside the second), of
pvlib (39 N 105 W and Golden, Colorado) and of solarpositioning (Anchorage).
Tolerance 60 s: the almanac prints whole minutes (30 s), and the places are given
to a mile or so. Rows are matched to the event nearest in time, since some of the
tables list by UTC day and others by local day.

Two rows pick out a fault that is easy to make: the August sunsets in Colorado
fall on the next UTC day, and a program that answers for UTC days is 62 s late.
"""

import datetime
from zoneinfo import ZoneInfo

import pytest

from core.sky.daylight import sun_day

TOLERANCE_S = 60.0
BLUFFTON = (40.8939, -83.8917)
DEFIANCE = (41.281944, -84.362778)
COLORADO = (39.0, -105.0)
GOLDEN = (39.742476, -105.1786)
ANCHORAGE = (61.216667, -149.866667)

ROWS = [  # place, what, date and time as printed, hours of its clock from UTC
    (BLUFFTON, "sunrise_s", "2018-09-12 11:13", 0),
    (BLUFFTON, "sunset_s", "2018-09-12 23:50", 0),
    (DEFIANCE, "sunrise_s", "2019-11-08 12:17", 0),
    (DEFIANCE, "sunset_s", "2019-11-08 22:25", 0),
    (DEFIANCE, "civil_dawn_s", "2019-11-08 11:48", 0),
    (DEFIANCE, "civil_dusk_s", "2019-11-08 22:54", 0),
    (COLORADO, "sunrise_s", "2015-01-02 07:19", -7),
    (COLORADO, "sunset_s", "2015-01-02 16:49", -7),
    (COLORADO, "sunrise_s", "2015-04-02 05:43", -7),
    (COLORADO, "sunset_s", "2015-04-02 18:24", -7),
    (COLORADO, "sunrise_s", "2015-08-02 05:01", -7),
    (COLORADO, "sunset_s", "2015-08-02 19:10", -7),
    (COLORADO, "sunrise_s", "2015-12-02 07:01", -7),
    (COLORADO, "sunset_s", "2015-12-02 16:38", -7),
    (GOLDEN, "sunrise_s", "2015-01-02 07:22", -7),
    (GOLDEN, "noon_s", "2015-01-02 12:05", -7),
    (GOLDEN, "sunset_s", "2015-01-02 16:48", -7),
    (GOLDEN, "sunrise_s", "2015-08-02 05:00", -7),
    (GOLDEN, "noon_s", "2015-08-02 12:07", -7),
    (GOLDEN, "sunset_s", "2015-08-02 19:13", -7),
    (ANCHORAGE, "sunrise_s", "2020-11-05 17:40", 0),
    (ANCHORAGE, "sunset_s", "2020-11-05 01:48", 0),
    (ANCHORAGE, "sunrise_s", "2020-11-15 18:07", 0),
    (ANCHORAGE, "sunset_s", "2020-11-15 01:22", 0),
    (ANCHORAGE, "civil_dawn_s", "2020-11-15 17:15", 0),
    (ANCHORAGE, "civil_dusk_s", "2020-11-15 02:14", 0),
    (ANCHORAGE, "sunrise_s", "2020-11-25 18:33", 0),
    (ANCHORAGE, "sunset_s", "2020-11-25 01:02", 0),
]


@pytest.mark.parametrize(("place", "event", "printed", "utc_offset_h"), ROWS)
def test_almanac_row(place, event, printed, utc_offset_h):
    zone = datetime.timezone(datetime.timedelta(hours=utc_offset_h))
    moment = datetime.datetime.fromisoformat(printed).replace(tzinfo=zone)
    gaps_s = [
        getattr(sun_day(*place, "UTC", moment.date() + datetime.timedelta(days=n)), event)
        - moment.timestamp()
        for n in (-1, 0, 1)
    ]
    nearest_s = min(gaps_s, key=abs)
    assert abs(nearest_s) <= TOLERANCE_S


@pytest.mark.parametrize(
    ("place", "timezone", "date", "sunrise", "sunset"),
    [
        # the local date's own events, on the local clock
        (BLUFFTON, "America/New_York", "2018-09-12", "07:13", "19:50"),
        (COLORADO, "America/Denver", "2015-08-02", "06:01", "20:10"),
        (GOLDEN, "America/Denver", "2015-01-02", "07:22", "16:48"),
        (ANCHORAGE, "America/Anchorage", "2020-11-04", None, "16:48"),
        (ANCHORAGE, "America/Anchorage", "2020-11-05", "08:40", None),
    ],
)
def test_events_belong_to_the_local_date(place, timezone, date, sunrise, sunset):
    day = sun_day(*place, timezone, datetime.date.fromisoformat(date))
    for time_s, printed in ((day.sunrise_s, sunrise), (day.sunset_s, sunset)):
        if printed is not None:
            assert abs(time_s - local_s(timezone, date, printed)) <= TOLERANCE_S


def local_s(timezone: str, date: str, clock: str) -> float:
    return (
        datetime.datetime.fromisoformat(f"{date} {clock}")
        .replace(tzinfo=ZoneInfo(timezone))
        .timestamp()
    )
