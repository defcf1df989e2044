"""Dates whose order is open, years of two digits, and numbers that may be times."""

import numpy as np
import pytest

from core.errors import BadWeather, NeedsAnswer
from core.weather.answers import Answers
from core.weather.clocks.date_order import order_told
from core.weather.clocks.stamps import full_year, parse_stamp
from core.weather.files.recognise import read_weather


def read(cells, head="time_utc", **answers):
    rows = "".join(f"{cell},{200 + i},5\n" for i, cell in enumerate(cells))
    return read_weather(
        f"{head},wind_dir_deg,wind_mph\n{rows}".encode(), "t.csv", Answers(**answers)
    )


def first(hours) -> str:
    return str(hours.start_s[0].astype("datetime64[s]"))[:16]


def test_a_year_of_two_digits_that_may_come_first_is_asked():
    cells = ["26/11/10 06:00", "26/11/10 07:00"]
    with pytest.raises(NeedsAnswer, match="may begin with the year") as asked:
        read(cells)
    assert asked.value.asks == "yearfirst"
    assert [c.means for c in asked.value.choices] == [
        "'26/11/10 06:00' is 10 Nov 2026",
        "'26/11/10 06:00' is of the year 2010",
    ]
    assert first(read(cells, yearfirst=True)) == "2026-11-10T06:00"
    assert first(read(cells, yearfirst=False)) == "2010-11-26T06:00"


@pytest.mark.parametrize("mark", "/-.")
def test_days_that_follow_one_another_tell_the_year(mark):
    days = [f"26{mark}11{mark}{d:02d} {h:02d}:00" for d in (10, 11) for h in range(24)]
    hours = read(days)
    assert first(hours) == "2026-11-10T00:00"
    assert any("were read with the year first: their days follow" in n for n in hours.notes)
    days = [f"{d:02d}{mark}11{mark}26 {h:02d}:00" for d in (10, 11) for h in range(24)]
    hours = read(days, dayfirst=True)
    assert first(hours) == "2026-11-10T00:00"
    assert any("were read with the year last" in n for n in hours.notes)


def test_a_header_tells_the_place_of_the_year():
    assert [order_told(h) for h in ("date YY/MM/DD", "Date (DD/MM/YY)", "mm/dd/yyyy", "day")] == [
        "ymd",
        "dmy",
        "mdy",
        "",
    ]
    assert first(read(["26/11/10 06:00"], "time_utc (YY/MM/DD)")) == "2026-11-10T06:00"
    assert first(read(["10/11/26 06:00"], "time_utc (DD/MM/YY)")) == "2026-11-10T06:00"


@pytest.mark.parametrize(
    ("header", "order"),
    [
        ("date time (America/New_York)", ""),  # these letters stand apart
        ("date (my yard)", ""),
        ("time Asia/Yekaterinburg, my day", ""),
        ("DD/MM/YYYY or MM/DD/YYYY", ""),
        ("%d/%m/%Y", "dmy"),
        ("Month/Day/Year", "mdy"),
        ("yyyymmddhh", "ymd"),
        ("ISO yyyy-mm-ddThh:mm", "ymd"),
    ],
)
def test_only_letters_that_stand_together_tell_an_order(header, order):
    assert order_told(header) == order


def test_a_zone_in_the_header_tells_no_order_of_dates():
    with pytest.raises(NeedsAnswer) as asked:
        read(["11/10/2026 06:00"], "date time (America/New_York)")
    assert asked.value.asks == "dayfirst"


def test_years_of_two_digits_turn_at_69():
    """POSIX strptime: 69 to 99 are of the 20th century, 00 to 68 of the 21st."""
    assert [full_year(y) for y in (0, 68, 69, 99)] == [2000, 2068, 1969, 1999]
    assert parse_stamp("12/11/85 06:00").year == 1985


def test_an_answer_that_fits_no_date_is_refused():
    with pytest.raises(BadWeather, match="'25/12/31 06:00' in line 2 can't have the month first"):
        read(["25/12/31 06:00"], yearfirst=False, dayfirst=False)


@pytest.mark.parametrize("tail", ["", ".0", ".00"])
def test_dates_run_together_that_a_program_took_for_numbers(tail):
    """202611100600.0 is no thousandth of a second of 1976."""
    hours = read([f"2026111006{m}00{tail}".replace("00", "00", 1) for m in ("",)])
    assert first(hours) == "2026-11-10T06:00"
    assert first(read([f"2026111006{tail}"])) == "2026-11-10T06:00"
    assert first(read([f"20261110060000{tail}"])) == "2026-11-10T06:00"


def test_epochs_are_still_epochs():
    at = int(np.datetime64("2026-11-10T06:00", "s").astype(int))
    for cell in (str(at), f"{at}.0", f"{at}000", f"{at}000.0"):
        assert first(read([cell], "time")) == "2026-11-10T06:00"


def test_a_date_of_two_digits_run_together_is_no_second_of_2052():
    with pytest.raises(BadWeather, match="'2611100600' may be a date with a year of two digits"):
        read(["2611100600", "2611100700"])


@pytest.mark.parametrize(
    "head", ["time (seconds since 2000-01-01)", "hours since 1970-01-01", "days since 1900-01-01"]
)
def test_a_count_from_another_day_is_refused(head):
    number = "847000000" if "seconds" in head else "1793000000" if "hours" in head else "46000.25"
    with pytest.raises(BadWeather, match="counts its times in a way that is not known"):
        read([number], f"time {head}")
    assert len(read(["1793000000"], "time (seconds since 1970-01-01)")) == 1


def test_a_number_that_lost_its_hours_is_no_time():
    with pytest.raises(BadWeather, match=r"'2\.026e11' is no time"):
        read(["2.026e11", "2.027e11"])


def read_cell(cell, **answers):
    rows = "".join(f"{cell.format(h)},{200 + h},5\n" for h in range(1, 6))
    return read_weather(
        f"time_utc,wind_dir_deg,wind_mph\n{rows}".encode(), "t.csv", Answers(**answers)
    )


def test_the_day_of_the_week_tells_the_order():
    # 10 November 2026 is a Tuesday, 11 October 2026 a Sunday
    for cell in ("Tue 10/11/2026 {:02d}:00", "Tue 10/11/26 {:02d}:00", "Tue 10/11/2026 {} AM"):
        hours = read_cell(cell)
        assert int(hours.start_s[0]) == 1794272400
        assert any("by the day of the week" in n for n in hours.notes)
    assert int(read_cell("Sun 10/11/2026 {:02d}:00").start_s[0]) == 1794272400 - 30 * 86400
    with pytest.raises(NeedsAnswer):
        read_cell("Fri 10/11/2026 {:02d}:00")


def test_a_day_of_the_week_that_is_not_that_of_its_date_is_noted():
    assert any("another day of the week" in n for n in read_cell("Mon 2026-11-10 {:02d}:00").notes)
    assert read_cell("Tue 2026-11-10 {:02d}:00").notes == ()
