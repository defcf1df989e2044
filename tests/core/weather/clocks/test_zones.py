"""Which zone a name, a line or a cell tells, and what is asked because none does."""

import numpy as np
import pytest

from core.errors import NeedsAnswer
from core.weather.answers import Answers, zone_of
from core.weather.clocks.zones import OPEN, told_zone, zone_above, zone_cell
from core.weather.files.recognise import read_weather

DAY = int(np.datetime64("2026-11-10T00", "s").astype(int))


def table(head="time", cell="2026-11-10 06:00", above="", more_head="", more=""):
    rows = "".join(f"{cell},{270 + i},5{more}\n" for i in range(1))
    return f"{above}{head},wind_dir_deg,wind_mph{more_head}\n{rows}".encode()


def start_h(data: bytes, place=None, **answers) -> float:
    """UTC hours from midnight of the one row of a table."""
    hours = read_weather(data, "t.csv", Answers(likely_zone=place, **answers))
    assert len(hours) == 1
    return (int(hours.start_s[0]) - DAY) / 3600


@pytest.mark.parametrize(
    ("name", "zone"),
    [
        # an offset beside UTC or GMT is never read as UTC itself
        ("time UTC-5", "UTC-05:00"),
        ("time_gmt-0500", "UTC-05:00"),
        ("time UTC \u22125", "open"),  # print's minus is made a plain one when the text is read
        ("time (UTC - 5)", "UTC-05:00"),
        ("time_utc_minus_5", "UTC-05:00"),
        ("Time UTC+5.5", "UTC+05:30"),
        ("Time (-7)", "UTC-07:00"),
        ("Time [+0545]", "UTC+05:45"),
        ("time -05:00", "UTC-05:00"),
        ("local time (UTC-6)", "UTC-06:00"),
        ("time_utc", "UTC"),
        ("valid(UTC)", "UTC"),
        ("timeUTC", "UTC"),
        ("Time Z", "UTC"),
        ("datetime (America/New_York)", "America/New_York"),
        ("datetime (US/Central)", "US/Central"),
        ("obs_time_est", "EST"),
        # in doubt
        ("utc_5", OPEN),
        ("time not UTC", OPEN),
        ("time (local, UTC)", OPEN),
        ("time CST/UTC", OPEN),
        # nothing
        ("Local Time", ""),
        ("Date/Time", ""),
        ("date (MM/DD/YYYY)", ""),
    ],
)
def test_the_zone_in_a_name(name, zone):
    assert told_zone(name) == zone


@pytest.mark.parametrize(
    "head",
    [
        "time UTC-5",
        "time gmt-0500",
        "time UTC\u22125",
        "time UTC \u2212 05:00",
        "time_UTC-05:00",
        "time (UTC\u20115)",
        "time utc\u20135",
    ],
)
def test_an_offset_in_a_header_is_no_utc(head):
    assert start_h(table(head)) == 11


def test_a_print_minus_in_cells_answers_and_columns():
    assert start_h(table(cell="2026-11-10 06:00\u221205:00")) == 11
    assert start_h(table(more_head=",utc offset", more=",\u22125")) == 11
    assert zone_of("UTC \u2212 5").utcoffset(None).total_seconds() == -5 * 3600


@pytest.mark.parametrize(
    ("line", "zone"),
    [
        ("Time zone: UTC", "UTC"),
        ("# time zone -> America/Chicago", "America/Chicago"),
        ("All times are UTC-5.", "UTC-05:00"),
        ("times in gmt -07:00", "UTC-07:00"),
        ("UTC offset (hours): -5", "UTC-05:00"),
        ("Times are in UTC and wind in knots", "UTC"),
        ("All times are EST", "EST"),
        ("time zone,UTC,,", "UTC"),
        # about another time than that of the rows
        ("Download time UTC: 2026-11-10 18:03", ""),
        ("Report time (UTC): 18:00", ""),
        ("Server time zone UTC", ""),
        ("Generated 2026-11-10 12:00 GMT", ""),
        ("Created at 06:00 EST", ""),
        ("Time: 2026-11-10 06:00 UTC", ""),
        ("Times are hour ending.", ""),
    ],
)
def test_the_zone_in_a_line_above(line, zone):
    assert zone_above([line]) == zone


def test_the_time_of_a_download_is_not_that_of_the_rows():
    data = table(above="Download time UTC: 2026-11-10 18:03\n")
    with pytest.raises(NeedsAnswer, match="does not say its time zone"):
        start_h(data)
    assert start_h(data, zone="-06:00") == 12


@pytest.mark.parametrize(
    ("cell", "zone"),
    [
        ("-5", "UTC-05:00"),
        ("+5.5", "UTC+05:30"),
        ("-05:00", "UTC-05:00"),
        ("+0530", "UTC+05:30"),
        ("0", "UTC"),
        ("UTC-7", "UTC-07:00"),
        ("CST", "CST"),
        ("America/Chicago", "America/Chicago"),
        # hours, minutes or seconds, and which way they count
        ("-300", OPEN),
        ("+330", OPEN),
        ("-18000", OPEN),
        ("5", OPEN),
        ("", OPEN),
    ],
)
def test_the_zone_in_a_column_of_its_own(cell, zone):
    assert zone_cell(cell) == zone


def test_minutes_from_utc_are_not_read_as_hours_and_minutes():
    data = table(more_head=",utc_offset", more=",-300")
    with pytest.raises(NeedsAnswer) as asked:
        start_h(data)
    assert asked.value.asks == "zone"
    assert start_h(data, zone="-05:00") == 11


@pytest.mark.parametrize("where", ["header", "cell", "column", "above"])
def test_letters_count_only_with_the_place(where):
    """CST is six hours behind in Chicago and eight ahead in Shanghai."""
    data = {
        "header": table("time (CST)"),
        "cell": table(cell="2026-11-10 06:00 CST"),
        "column": table(more_head=",tz", more=",CST"),
        "above": table(above="All times are CST\n"),
    }[where]
    assert start_h(data, "America/Chicago") == 12
    assert start_h(data, "Asia/Shanghai") == -2
    for place in (None, "America/New_York", "Europe/Berlin"):
        with pytest.raises(NeedsAnswer, match="'CST' is the clock of several places") as asked:
            start_h(data, place)
        assert asked.value.asks == "zone"
        assert asked.value.choices[0].value == "UTC-06:00"
    assert start_h(data, None, zone="Asia/Shanghai") == -2
    notes = read_weather(data, "t.csv", Answers(likely_zone="America/Chicago")).notes
    assert "CST was read as UTC-06:00, as in America/Chicago" in notes


def test_letters_that_the_clock_of_the_place_does_not_show_then_are_asked():
    """In July the clock of New York shows EDT: EST may be it, or an hour behind."""
    data = table("time (EST)", cell="2026-07-10 06:00")
    with pytest.raises(NeedsAnswer) as asked:
        read_weather(data, "t.csv", Answers(likely_zone="America/New_York"))
    assert [c.value for c in asked.value.choices[:2]] == ["UTC-05:00", "America/New_York"]


def test_two_zones_that_differ_are_asked():
    data = table("time_utc", above="Time zone: America/Denver\n")
    with pytest.raises(NeedsAnswer, match="header says UTC, a line above it America/Denver"):
        start_h(data)
    assert start_h(data, zone="UTC") == 6
    same = table("time (UTC-7)", above="Time zone: America/Denver\n")
    assert start_h(same) == 13


def test_letters_tell_which_of_two_hours_is_meant():
    rows = "2026-11-01 01:00 CDT,45,5\n2026-11-01 01:00 CST,50,6\n"
    data = f"time,wind_dir_deg,wind_mph\n{rows}".encode()
    for answers in (Answers(likely_zone="America/Chicago"), Answers(zone="America/Chicago")):
        hours = read_weather(data, "t.csv", answers)
        change = int(np.datetime64("2026-11-01T06", "s").astype(int))
        assert hours.start_s.tolist() == [change, change + 3600]


@pytest.mark.parametrize(
    ("place", "minute"),
    [
        ("America/St_Johns", 30),
        ("Australia/Adelaide", 30),
        ("Asia/Kolkata", 30),
        ("Asia/Kathmandu", 15),
        ("Pacific/Chatham", 15),
    ],
)
def test_rows_of_half_hour_zones_keep_their_own_starts(place, minute):
    rows = "".join(f"2026-07-10 {h:02d}:00,{200 + h},5\n" for h in range(8))
    data = f"time,wind_dir_deg,wind_mph\n{rows}".encode()
    hours = read_weather(data, "t.csv", Answers(zone=place))
    assert set(hours.start_s % 3600) == {minute * 60}
    assert hours.phase_s == minute * 60
    assert hours.wind_from_deg.tolist() == [200 + h for h in range(8)]
    assert hours.notes == ()
    alone = read_weather(data[: data.index(b"2026-07-10 01")], "t.csv", Answers(zone=place))
    assert alone.start_s.tolist() == hours.start_s[:1].tolist()
    # an instant inside of a row is answered by it
    asked = hours.start_s // 3600 * 3600 + 3600
    assert hours.at_rows(asked).wind_from_deg.tolist() == [200 + h for h in range(8)]
    assert not hours.holds(hours.start_s[:1] - 1).any()


def test_reports_of_a_station_still_belong_to_the_nearest_hour():
    rows = "".join(f"2026-11-10 {h:02d}:53,{200 + h},5\n" for h in range(5, 9))
    hours = read_weather(f"time_utc,wind_dir_deg,wind_mph\n{rows}".encode(), "t.csv")
    assert ((hours.start_s - DAY) // 3600).tolist() == [6, 7, 8, 9]
    assert hours.notes == ()


def test_a_report_far_from_its_row_is_told():
    rows = "".join(f"2026-11-10 {h:02d}:00,{200 + h},5\n" for h in range(5, 9))
    data = f"time_utc,wind_dir_deg,wind_mph\n{rows}2026-11-10 09:25,250,5\n".encode()
    hours = read_weather(data, "t.csv")
    assert "1 report is over a quarter of an hour from the start of its row (line 6)" in hours.notes


def test_offsets_in_cells_against_their_header_are_told():
    data = table("time_utc", cell="2026-11-10 06:00-06:00")
    assert start_h(data) == 12
    assert read_weather(data, "t.csv").notes == (
        "times were read by the offsets in their cells, not in UTC",
    )
    same = table("time (America/Chicago)", cell="2026-11-10 06:00-06:00")
    assert read_weather(same, "t.csv").notes == ()
