"""Which hour a row is of: starts and ends, hours 1 to 24, am and pm, hours decades away."""

import numpy as np
import pytest

from core.errors import BadWeather, NeedsAnswer
from core.weather.answers import Answers
from core.weather.clocks.hour_labels import label_above, told_label
from core.weather.files.recognise import read_weather

DAY = int(np.datetime64("2026-11-10T00", "s").astype(int))


def read(text: str, **answers):
    return read_weather(text.encode(), "t.csv", Answers(**answers))


def hours_of(hours) -> list[float]:
    return ((hours.start_s - DAY) / 3600).tolist()


def table(cells, head="time_utc", above=""):
    rows = "".join(f"{cell},{200 + i},5\n" for i, cell in enumerate(cells))
    return f"{above}{head},wind_dir_deg,wind_mph\n{rows}"


SIX = ["2026-11-10 06:00", "2026-11-10 07:00"]


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("time (end of hour)", "end"),
        ("valid until", "end"),
        ("Hour Ending", "end"),
        ("end_time", "end"),
        ("period end", "end"),
        ("HE", "end"),
        ("valid_to", "end"),
        ("time until", "end"),
        ("valid through", "end"),
        ("time, preceding hour", "end"),
        ("valid from", "start"),
        ("Hour beginning", "start"),
        ("start time", "start"),
        ("time (middle of hour)", "middle"),
        ("midpoint time", "middle"),
        ("time_utc", ""),
        ("valid", ""),
        ("Date", ""),
    ],
)
def test_the_part_of_the_hour_in_a_name(name, label):
    assert told_label(name, "t.csv") == label


@pytest.mark.parametrize(
    ("head", "back_h"),
    [
        ("time_utc (end of hour)", 1),
        ("valid until UTC", 1),
        ("end time [UTC]", 1),
        ("period end UTC", 1),
        ("valid_to_utc", 1),
        ("time_utc (middle of hour)", 0.5),
        ("valid from UTC", 0),
        ("hour beginning UTC", 0),
    ],
)
def test_times_that_end_their_hour_are_moved_back(head, back_h):
    hours = read(table(SIX, head))
    assert hours_of(hours) == [6 - back_h, 7 - back_h]
    assert any("moved back" in n for n in hours.notes) == bool(back_h)


@pytest.mark.parametrize(
    ("line", "label"),
    [
        ("Times are hour ending.", "end"),
        ("Each time is the end of the hour", "end"),
        ("Wind is the mean of the preceding hour.", "end"),
        ("Times are the start of the hour", "start"),
        ("Weekend report", ""),
        ("End of report", ""),
    ],
)
def test_the_part_of_the_hour_in_a_line_above(line, label):
    assert label_above([line]) == label
    moved = label == "end"
    assert hours_of(read(table(SIX, above=f"{line}\n"))) == [6 - moved, 7 - moved]


def test_rows_closer_than_an_hour_are_moved_by_their_own_length():
    cells = [f"2026-11-10 {6 + i // 2:02d}:{i % 2 * 30:02d}" for i in range(8)]
    hours = read(table(cells, "time_utc (end of period)"))
    assert any("moved back by 30 min" in n for n in hours.notes)


def test_a_start_stands_before_an_end():
    rows = "2026-11-10 06:00,2026-11-10 07:00,200,5\n2026-11-10 07:00,2026-11-10 08:00,210,5\n"
    for head in ("start utc,end utc", "valid from utc,valid until utc"):
        assert hours_of(read(f"{head},wind_dir_deg,wind_mph\n{rows}")) == [6, 7]
    turned = "2026-11-10 07:00,2026-11-10 06:00,200,5\n2026-11-10 08:00,2026-11-10 07:00,210,5\n"
    assert hours_of(read(f"end utc,start utc,wind_dir_deg,wind_mph\n{turned}")) == [6, 7]


def test_a_name_of_both_ends_is_refused():
    with pytest.raises(BadWeather, match=r"'start to end time' says both the start and the end"):
        read(table(SIX, "start to end time"))


# --- hours 1 to 24 ---


@pytest.mark.parametrize("head", ["hour UTC", "hr utc", "time UTC"])
def test_hours_of_1_to_24_are_asked_for_their_end(head):
    rows = "".join(f"2026-11-10,{h},{200 + h},5\n" for h in range(1, 25))
    text = f"date,{head},wind_dir_deg,wind_mph\n{rows}"
    with pytest.raises(NeedsAnswer, match="hours run from 1 to 24") as asked:
        read(text)
    assert "hour from 23:00 to midnight" in asked.value.choices[0].means
    assert hours_of(read(text, hour_label="end")) == list(range(24))
    assert hours_of(read(text, hour_label="start")) == list(range(1, 25))


def test_hours_of_1_to_24_that_say_their_end_need_no_answer():
    rows = "".join(f"2026-11-10,{h},{200 + h},5\n" for h in range(1, 25))
    for head in ("HE UTC", "hour ending UTC", "hour UTC (end of hour)"):
        assert hours_of(read(f"date,{head},wind_dir_deg,wind_mph\n{rows}")) == list(range(24))
    above = "Times are hour ending.\n"
    assert hours_of(read(f"{above}date,hour UTC,wind_dir_deg,wind_mph\n{rows}"))[0] == 0


def test_hours_that_have_both_0_and_24_are_starts():
    cells = ["2026-11-10 00:00", "2026-11-10 23:00", "2026-11-10 24:00"]
    assert hours_of(read(table(cells))) == [0, 23, 24]


# --- am and pm ---

HALF = "".join(f"2026-11-10,{(h - 1) % 12 + 1}:00,{'AP'[h > 11]}M,{200 + h},5\n" for h in range(24))


@pytest.mark.parametrize("name", ["AM/PM", "ampm", "half", "x"])
def test_am_and_pm_in_a_column_of_their_own(name):
    assert hours_of(read(f"date,time_utc,{name},wind_dir_deg,wind_mph\n{HALF}")) == list(range(24))


def test_am_and_pm_beside_a_time_with_its_date_and_beside_a_clock_of_24_hours():
    text = "time_utc,a/p,wind_dir_deg,wind_mph\n2026-11-10 6:00,P,200,5\n2026-11-10 7:00,P,210,5\n"
    assert hours_of(read(text)) == [18, 19]
    text = "date,time_utc,ampm,wind_dir_deg,wind_mph\n2026-11-10,18:00,PM,200,5\n"
    assert hours_of(read(text)) == [18]


def test_a_clock_of_12_hours_without_am_and_pm_is_refused():
    bare = HALF.replace(",AM,", ",").replace(",PM,", ",")
    with pytest.raises(BadWeather, match="goes from 12 to 1 on one day and says no am or pm"):
        read(f"date,time_utc,wind_dir_deg,wind_mph\n{bare}")
    backwards = "".join(reversed(bare.splitlines(keepends=True)))
    with pytest.raises(BadWeather, match="no am or pm"):
        read(f"date,time_utc,wind_dir_deg,wind_mph\n{backwards}")
    # one o'clock and noon of one day, and nothing between them
    assert hours_of(read(table(["2026-11-10 01:00", "2026-11-10 12:00"]))) == [1, 12]


# --- clocks in numbers ---


def test_hours_in_numbers():
    rows = "2026-11-10,{},200,5\n2026-11-10,{},210,5\n"
    for cells, wanted in (
        (("6.0", "7.0"), [6, 7]),
        (("600", "1300"), [6, 13]),
        (("6.25", "7.25"), [6.25, 7.25]),  # 7 and a quarter, not 25 minutes
    ):
        text = "date,hour utc,wind_dir_deg,wind_mph\n" + rows.format(*cells)
        assert hours_of(read(text)) == wanted
    text = "date,hhmm utc,wind_dir_deg,wind_mph\n2026-11-10,30,200,5\n2026-11-10,130,210,5\n"
    assert hours_of(read(text)) == [0.5, 1.5]


# --- hours decades from all others ---


def test_an_hour_decades_from_the_others_is_asked_about():
    text = table([*SIX, "2056-11-10 08:00", "2026-11-10 09:00"])
    with pytest.raises(NeedsAnswer, match=r"'2056-11-10 08:00' in line 4 by 30 years") as asked:
        read(text)
    assert asked.value.asks == "far_hours"
    dropped = read(text, far_hours="drop")
    assert hours_of(dropped) == [6, 7, 9]
    assert any("1 hour decades from all others left out (line 4)" in n for n in dropped.notes)
    assert len(read(text, far_hours="keep")) == 4


def test_a_history_of_forty_years_is_not_asked_about():
    cells = [f"{1980 + i}-11-10 06:00" for i in range(40)]
    assert len(read(table(cells))) == 40
