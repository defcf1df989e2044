"""Days as people write them; the ambiguous ones are open."""

import datetime

import pytest

from core.ground.written_dates import find_day, nearest_date, read_month_day, relative_date

TODAY = datetime.date(2026, 11, 27)  # a Friday


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("9/13", ("09-13",)),
        ("13/9", ("09-13",)),
        ("13 Sep", ("09-13",)),
        ("Sept 13", ("09-13",)),
        ("sept. 13th", ("09-13",)),
        ("September 13", ("09-13",)),
        ("13th of September", ("09-13",)),
        ("09-13", ("09-13",)),
        ("2/29", ("02-29",)),
        ("5/5", ("05-05",)),
        ("9/10", ("09-10", "10-09")),
        ("30 Feb", ()),
        ("13/13", ()),
        ("Ma 5", ()),
        ("soon", ()),
        ("", ()),
        ("from 9/13 on", ()),
    ],
)
def test_a_day_of_the_year(text, expected):
    assert read_month_day(text) == expected


@pytest.mark.parametrize(
    ("choice", "expected"),
    [
        ((None, 11, 27), "2026-11-27"),
        ((None, 11, 28), "2025-11-28"),  # the last one that has been
        ((None, 2, 29), "2024-02-29"),
        ((2019, 1, 4), "2019-01-04"),
    ],
)
def test_the_nearest_date_that_has_been(choice, expected):
    assert nearest_date(choice, TODAY).isoformat() == expected


def test_29_february_after_a_century_that_had_none():
    assert nearest_date((None, 2, 29), datetime.date(2103, 3, 1)) == datetime.date(2096, 2, 29)


@pytest.mark.parametrize(
    ("word", "expected"),
    [
        ("today", "2026-11-27"),
        ("Yesterday", "2026-11-26"),
        ("fri", "2026-11-27"),
        ("Saturday", "2026-11-21"),
        ("thurs", "2026-11-26"),
        ("split", None),
        ("frith", None),
    ],
)
def test_relative_days(word, expected):
    found = relative_date(word, TODAY)
    assert (found.isoformat() if found else None) == expected


def test_where_a_day_stands_in_a_text():
    found = find_day("sat by 10 Nov 2025, cold")
    assert (found.start, found.end) == (7, 18)
    assert found.choices == ((2025, 11, 10),)
