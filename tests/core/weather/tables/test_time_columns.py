"""Which of several columns of times is that of the rows."""

import numpy as np
import pytest

from core.errors import BadWeather, NeedsAnswer
from core.weather.answers import Answers, answered_columns
from core.weather.files.recognise import read_weather

DAY = int(np.datetime64("2026-11-10T00", "s").astype(int))


def read(head, rows, **answers):
    text = f"{head},wind_dir_deg,wind_mph\n" + "".join(f"{row},300,5\n" for row in rows)
    return read_weather(text.encode(), "t.csv", Answers(**answers))


def hours_of(hours) -> list[float]:
    return ((hours.start_s - DAY) / 3600).tolist()


ROWS = [f"2026-11-09 18:00,2026-11-10 {h:02d}:00" for h in (6, 7, 8)]


@pytest.mark.parametrize(
    "name",
    [
        "issued",
        "issued_utc",
        "run time",
        "model run (UTC)",
        "reference time (UTC)",
        "init_utc",
        "forecast_reference_time",
        "initialization time UTC",
        "runtime_utc",
        "cycle (UTC)",
        "analysis time UTC",
        "base time utc",
        "published at",
        "last update UTC",
        "issuetime",
        "timestamp_utc",
        "when UTC",
    ],
)
def test_the_time_of_a_models_run_is_not_that_of_its_rows(name):
    hours = read(f"{name},time", ROWS, zone="-06:00")
    assert hours_of(hours) == [12, 13, 14]


@pytest.mark.parametrize("name", ["issued", "init_utc", "reference time (UTC)"])
def test_one_row_is_told_by_its_names(name):
    assert hours_of(read(f"{name},time_utc", ROWS[:1])) == [6]


def test_a_run_beside_a_day_and_its_hour():
    rows = [f"2026-11-09 18:00,2026-11-10,{h}" for h in (6, 7)]
    assert hours_of(read("timestamp_utc,date,hour utc", rows)) == [6, 7]


def test_hours_ahead_of_a_run_are_no_clock():
    with pytest.raises(NeedsAnswer) as asked:
        read("run utc,forecasthour", ["2026-11-10 00:00,6", "2026-11-10 00:00,7"])
    assert asked.value.asks == "columns"


def test_local_and_utc_side_by_side():
    rows = [f"2026-11-10 {h:02d}:00,2026-11-10 {h + 6:02d}:00" for h in (6, 7)]
    assert hours_of(read("local time,time_utc", rows)) == [12, 13]
    assert hours_of(read("time (America/Chicago),time_utc", rows)) == [12, 13]


def test_two_different_times_are_asked_about():
    rows = ["2026-11-10 06:00,2026-11-10 06:04", "2026-11-10 07:00,2026-11-10 07:09"]
    with pytest.raises(NeedsAnswer, match="'timestamp' and 'when' may each be the time") as asked:
        read("timestamp,when", rows, zone="UTC")
    assert asked.value.needs == ("time",)
    hours = read("timestamp,when", rows, zone="UTC", columns=answered_columns(["time=timestamp"]))
    assert hours_of(hours) == [6, 7]
    rows = ["2026-11-10 06:00,2026-11-10 08:00", "2026-11-10 07:00,2026-11-10 09:00"]
    with pytest.raises(NeedsAnswer, match="may each be the time"):  # which one, nothing tells
        read("timestamp,when", rows, zone="UTC")


def test_a_headline_with_a_wind_and_a_time_is_no_header():
    above = "High wind advisory above 30 knots until Tuesday\n"
    text = f"{above}time_utc,wind_dir_deg,wind_mph\n2026-11-10 06:00,300,5\n"
    assert hours_of(read_weather(text.encode(), "t.csv")) == [6]


def test_two_spaces_part_cells_before_one_does():
    """Cut at each space, the offset would be the direction and the direction the speed."""
    head = "hour beginning   utc_offset   wdir_deg   wind_speed [kt]\n"
    text = f"{head}2026-11-10 6:00 AM   +0   230   8\n2026-11-10 7:00 AM   +0   210   6\n"
    hours = read_weather(text.encode(), "t.txt")
    assert hours.wind_from_deg.tolist() == [230, 210]


@pytest.mark.parametrize(
    ("date", "clock"),
    [
        ("46336", "{share:.6f}"),  # 10 November 2026 as spreadsheets count days from 1900
        ("46336", "{hour}:00"),
        ("2026-11-10", "{share:.6f}"),
        ("Tue,2026-11-10", "{hour}:00"),
    ],
)
def test_dates_and_clocks_as_spreadsheets_write_them(date, clock):
    head = "day,date,time UTC" if "Tue" in date else "date,time UTC"
    cells = [clock.format(share=h / 24, hour=h) for h in range(5, 9)]
    rows = "".join(f"{date},{c},{200 + i},5\n" for i, c in enumerate(cells))
    hours = read_weather(f"{head},wind_dir_deg,wind_mph\n{rows}".encode(), "t.csv", Answers())
    ten = int(np.datetime64("2026-11-10", "s").astype(int))
    assert hours.start_s.tolist() == [ten + 3600 * h for h in range(5, 9)]


def test_days_counted_from_1904_are_refused():
    rows = "".join(f"{44874 + h / 24},{200 + h},5\n" for h in range(4))
    with pytest.raises(BadWeather, match="1904"):
        read_weather(f"time (1904),wind_dir_deg,wind_mph\n{rows}".encode(), "t.csv", Answers())
