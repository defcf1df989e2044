"""Lines that call the times local beside names that call them UTC; clocks that move by half
an hour, or at midnight."""

import datetime
import zoneinfo

import numpy as np
import pytest

from core.errors import BadWeather, NeedsAnswer
from core.weather.answers import Answers
from core.weather.clocks.zones import LOCAL, OPEN, told_zone, zone_above
from core.weather.files.recognise import read_weather

UTC = datetime.UTC


def read(times, head="time_utc", above="", **answers):
    rows = "".join(f"{t},{200 + i},5\n" for i, t in enumerate(times))
    data = f"{above}\n{head},wind_dir_deg,wind_mph\n{rows}".encode()
    return read_weather(data, "t.csv", Answers(likely_zone="America/Chicago", **answers))


HOURS = [f"2026-11-10 {h:02d}:00" for h in range(5, 9)]


@pytest.mark.parametrize(
    ("line", "zone"),
    [
        ("Times are local", LOCAL),
        ("# All times are local time.", LOCAL),
        ("Data are in local standard time", LOCAL),
        ("Zeit: Ortszeit", LOCAL),
        ("Times are NOT in UTC", LOCAL),
        ("Times are Central Time", "CT"),
        ("Central Standard Time", "CST"),
        ("Time zone: Central", OPEN),
        ("utc_offset_seconds: -21600", OPEN),
        # of another time than that of the rows
        ("Report made in local time", ""),
        ("Local forecast for the valley", ""),
    ],
)
def test_a_line_on_the_clock_of_the_rows(line, zone):
    assert zone_above([line]) == zone


@pytest.mark.parametrize(
    "line", ["Times are local", "Times are Central Time", "All times in EST", "Time zone: Central"]
)
def test_a_line_against_the_header_is_asked(line):
    with pytest.raises(NeedsAnswer, match="header says UTC, a line above it") as asked:
        read(HOURS, above=line)
    assert asked.value.asks == "zone"
    assert read(HOURS, above=line, zone="UTC").start_s[0] % 86400 == 5 * 3600
    assert read(HOURS, above=line, zone="America/Chicago").start_s[0] % 86400 == 11 * 3600


def test_two_columns_of_one_time_that_differ_are_asked():
    rows = "".join(f"2026-11-10,{h:02d}:00,{200 + h},5\n" for h in range(4))
    for head in ("date (local),time (UTC)", "date (UTC),time (local)"):
        with pytest.raises(NeedsAnswer) as asked:
            read_weather(f"{head},wind_dir_deg,wind_mph\n{rows}".encode(), "t.csv", Answers())
        assert asked.value.asks == "zone"


def test_a_local_clock_goes_with_any_zone_but_utc():
    assert read(HOURS, "time (UTC-6)", "Times are local").notes == ()
    assert read(HOURS, "time (local)", "Time zone: America/Chicago").start_s[0] % 86400 == 39600
    with pytest.raises(NeedsAnswer):
        read(HOURS, "time (local)", "Time zone: UTC")


def test_rows_against_their_header_are_noted():
    in_z = read([f"{t}Z" for t in HOURS], "time", "Times are local")
    assert any("offsets in their cells" in n for n in in_z.notes)
    in_letters = read([f"{t} CST" for t in HOURS], "time_utc")
    assert in_letters.start_s[0] % 86400 == 11 * 3600
    assert any("read in CST, as their rows say, not in UTC" in n for n in in_letters.notes)


def test_the_names_of_american_clocks():
    assert told_zone("time (Eastern Daylight Time)") == "EDT"
    assert told_zone("Pacific Time") == "PT"
    # the Australian one is another
    assert told_zone("time (Australian Central Standard Time)") == ""


def shown(start_s, place):
    zone = zoneinfo.ZoneInfo(place)
    return [f"{datetime.datetime.fromtimestamp(int(s), zone):%Y-%m-%d %H:%M}" for s in start_s]


@pytest.mark.parametrize(
    ("place", "change"),
    [
        # their clocks go back at midnight, to an evening that is shown twice
        ("America/Santiago", "2026-04-05T03:00"),
        ("Asia/Beirut", "2026-10-24T21:00"),
        # by two hours
        ("Antarctica/Troll", "2026-10-25T01:00"),
        ("Antarctica/Troll", "2026-03-29T01:00"),
        # by half an hour
        ("Australia/Lord_Howe", "2026-10-03T15:30"),
    ],
)
def test_hours_around_a_change_of_the_clock(place, change):
    at_s = int(datetime.datetime.fromisoformat(change).replace(tzinfo=UTC).timestamp())
    start_s = at_s + 3600 * np.arange(-6, 7)
    hours = read(shown(start_s, place), f"time ({place})")
    assert hours.start_s.tolist() == start_s.tolist()
    assert hours.wind_from_deg.tolist() == [200 + i for i in range(13)]


def test_rows_of_a_clock_that_moves_by_half_an_hour_keep_their_starts():
    # whole hours of Lord Howe's clock, from UTC+11 to UTC+10:30 at 15:00 UTC
    times = [f"2026-04-04 {h}:00" for h in range(20, 24)]
    times += [f"2026-04-05 {h:02d}:00" for h in range(8)]
    hours = read(times, "time (Australia/Lord_Howe)")
    at = datetime.datetime(2026, 4, 4, 9, tzinfo=UTC).timestamp()
    expected = [at + 3600 * i for i in range(6)] + [at + 3600 * (i + 0.5) for i in range(6, 12)]
    assert hours.start_s.tolist() == expected
    assert hours.wind_from_deg.tolist() == [200 + i for i in range(12)]
    assert hours.notes == ("rows begin at :00 and :30 UTC, as the file has them",)
    # a sit after the change is judged on rows that begin where the file has them
    assert hours.of_one_phase(int(expected[-1])).phase_s == 1800
    assert hours.of_one_phase(int(expected[0])).phase_s == 0
    assert len(hours.of_one_phase(int(expected[-1]))) == 6


def test_a_late_report_between_routine_ones_moves_no_rows():
    times = [f"2026-11-10 {h:02d}:00" for h in range(9)]
    times[4] = "2026-11-10 04:30"
    hours = read(times)
    assert set(hours.start_s % 3600) == {0}
    assert "1 further report inside an hour not used" in hours.notes[0]


@pytest.mark.parametrize("step", [1, 3])
def test_a_date_that_stays_past_midnight_is_refused(step):
    times = [f"2026-11-10 {(15 + step * i) % 24:02d}:00" for i in range(12 // step)]
    with pytest.raises(BadWeather, match="passes midnight and its date stays"):
        read(times)
    # a day that is told twice is no such thing
    assert len(read([f"2026-11-10 {h:02d}:00" for h in [*range(24), *range(24)]])) == 24
