"""Traps of forecast files and tables: each comes out as it must, or is refused in one line.

The files in `forecast/` are invented for this. Expected values are the files' own
numbers, with the factors of `core/units.py`.
"""

import json
import math
import time
from pathlib import Path

import numpy as np
import pytest

from core.__main__ import main
from core.errors import BadRequest, BadWeather, NeedsAnswer, StandWindError
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.age import stale_note
from core.weather.answers import Answers
from core.weather.files.recognise import read_weather
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE

FOLDER = Path(__file__).with_name("forecast")
NAMES = sorted(p.name for p in FOLDER.iterdir())
DAY = int(np.datetime64("2026-10-12T00", "s").astype(int))
CHANGE = int(np.datetime64("2026-11-01T00", "s").astype(int))
CHICAGO = Answers(zone="America/Chicago")


def read(name, answers=None):
    return read_weather((FOLDER / name).read_bytes(), name, answers or Answers())


def clock(hours, day=DAY):
    """UTC hours counted from midnight of the day."""
    return list((hours.start_s - day) // 3600)


def mph(values):
    return [round(float(v) / MPS_PER_MPH, 6) for v in values]


# --- clocks that are moved ---


@pytest.mark.parametrize("name", ["fold_local.csv", "fold_local_backwards.csv"])
def test_an_hour_shown_twice_is_told_by_the_order_of_the_rows(name):
    hours = read(name, CHICAGO)
    assert clock(hours, CHANGE) == [5, 6, 7, 8]
    assert hours.wind_from_deg.tolist() == [200, 210, 220, 230]
    assert hours.notes == ()
    assert hours.zone == "America/Chicago"


def test_an_hour_shown_twice_and_written_once_is_left_out():
    hours = read("fold_once.csv", CHICAGO)
    assert clock(hours, CHANGE) == [5, 8]
    assert "1 hour that the clock shows twice and the file once left out (line 3)" in hours.notes[0]


def test_an_hour_that_does_not_exist_means_a_fixed_offset():
    """Never moved onto the hour after it, where it would push out another."""
    with pytest.raises(NeedsAnswer, match="looks like a fixed offset, not local") as asked:
        read("skipped_hour_local.csv", CHICAGO)
    assert "2026-03-08 02:00" in str(asked.value)
    assert [c.value for c in asked.value.choices] == ["UTC-06:00", "UTC-05:00", "UTC+00:00"]
    fixed = read("skipped_hour_local.csv", Answers(zone=asked.value.choices[0].value))
    march = int(np.datetime64("2026-03-08T00", "s").astype(int))
    assert clock(fixed, march) == [7, 8, 9]


def test_offsets_in_the_cells_need_no_answer():
    hours = read("fold_with_offsets.csv")
    assert clock(hours, CHANGE) == [4, 5, 6, 7]
    assert hours.wind_from_deg.tolist() == [200, 210, 220, 230]


def test_letters_of_a_zone_count_only_with_the_place():
    """CDT and CST are the clock of Chicago, and CST that of Shanghai too."""
    for answers in (CHICAGO, Answers(likely_zone="America/Chicago")):
        assert clock(read("zone_words.csv", answers), CHANGE) == [6, 7]
    assert any("CST was read as UTC-06:00" in n for n in read("zone_words.csv", answers).notes)
    for place in (None, "Asia/Shanghai", "America/New_York"):
        with pytest.raises(NeedsAnswer, match="'CDT' is the clock of several places") as asked:
            read("zone_words.csv", Answers(likely_zone=place))
        assert asked.value.choices[0].value == "UTC-05:00"


def test_one_offset_serves_the_whole_series():
    hours = read("meteo_one_offset_over_the_change.json")
    assert clock(hours, CHANGE) == [5, 6, 7, 8]
    assert hours.wind_from_deg.tolist() == [181, 192, 203, 214]
    np.testing.assert_allclose(hours.speed_mps, np.array([8, 7, 6, 5]) * MPS_PER_KNOT)
    np.testing.assert_allclose(hours.gust_mps, np.array([15, np.nan, 6, 9]) * MPS_PER_KNOT)
    assert hours.notes == ("1 gust below the wind raised to it (hour 3)",)


# --- the same two hours, written in many ways ---

TWO_HOURS = {
    # file: (speeds as written, the unit, directions)
    "tabs.txt": ((11, 12), MPS_PER_KNOT, (45, 50)),
    "bars.txt": ((11, 12), MPS_PER_KNOT, (45, 67.5)),
    "spaces.txt": ((11, 12), MPS_PER_KNOT, (45, 50)),
    "only_carriage_returns.csv": ((11, 12), MPS_PER_MPH, (45, 50)),
    "quotes.csv": ((3.5, 2.5), 1.0, (45, 50)),
    "windows_letters.csv": ((3.5, 0.5), 1.0, (45, 55)),
    "epoch_seconds.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "epoch_milliseconds.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "run_together.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "months_in_words.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "duplicates.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "footer.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "header_again.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "cut.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "last_line_open.csv": ((5, 6), MPS_PER_MPH, (45, 50)),
    "specials.csv": ((6, 7), MPS_PER_KNOT, (45, 50)),
}


@pytest.mark.parametrize("name", TWO_HOURS)
def test_two_hours_however_written(name):
    speeds, unit, directions = TWO_HOURS[name]
    hours = read(name)
    assert clock(hours) == [6, 7]
    np.testing.assert_allclose(hours.speed_mps, np.array(speeds) * unit)
    assert hours.wind_from_deg.tolist() == list(directions)


@pytest.mark.parametrize(
    ("name", "note"),
    [
        (
            "duplicates.csv",
            "1 duplicate dropped, 1 report of a minute already told with another wind not used",
        ),
        ("footer.csv", "2 lines at the file's end hold no hour (first: line 5)"),
        ("header_again.csv", "1 repeated header line skipped (line 3)"),
        ("cut.csv", "1 line at the file's end holds no hour (line 4)"),
        ("last_line_open.csv", "its last line has no line end: it may be cut off"),
        ("specials.csv", "2 further reports inside an hour not used"),
        ("gap.csv", "3 hours missing"),
        ("zero_and_360.csv", "1 hour of direction 0 with wind read as north (line 2)"),
        ("semicolons_local.csv", "dates with dots were read with the day first"),
        ("twelve_hour_clock.csv", "read with the month first"),
        ("spreadsheet_days.csv", "spreadsheet day numbers, rounded to the minute"),
        ("hour_ending.csv", "moved back"),
        ("meteo_unit_under_old_name.json", "wind_speed_10m stands under its old name"),
        ("unit_above.csv", "a line above the table says kt"),
        ("towards.csv", "'blowing_to_deg' says where the wind goes: turned about"),
    ],
)
def test_what_was_mended_is_told(name, note):
    assert any(note in said for said in read(name, CHICAGO).notes)


@pytest.mark.parametrize("name", ["mark_utf8.csv", "wide_utf16.csv", "wide_utf16_no_mark.csv"])
def test_encodings(name):
    hours = read(name)
    assert clock(hours) == [6]
    assert hours.speed_mps[0] == pytest.approx(18 * MPS_PER_KMH)
    assert hours.wind_from_deg[0] == 45


def test_semicolons_and_decimal_commas():
    hours = read("semicolons_local.csv", CHICAGO)
    assert clock(hours) == [11, 12]
    np.testing.assert_allclose(hours.speed_mps, np.array([18.5, 7.2]) * MPS_PER_KMH)


@pytest.mark.parametrize("name", ["backwards.csv", "shuffled.csv"])
def test_any_order_of_rows_is_sorted(name):
    hours = read(name)
    assert clock(hours) == [6, 7, 8]
    assert hours.wind_from_deg.tolist() == [45, 55, 65]
    assert hours.notes == ()


def test_the_nearest_report_stands_for_the_hour():
    hours = read("quarter_hours.csv")
    assert clock(hours) == [6, 7, 8]
    assert hours.wind_from_deg.tolist() == [40, 44, 47]


# --- dates ---


def test_a_twelve_hour_clock():
    hours = read("twelve_hour_clock.csv", Answers(zone="UTC"))
    assert ((hours.start_s - DAY) / 3600).tolist() == [0.5, 11.5, 12.5, 23.5]
    assert hours.wind_from_deg.tolist() == [45, 22.5, 0, 0]


def test_the_order_of_day_and_month_is_asked():
    with pytest.raises(NeedsAnswer, match="05/06/2026") as asked:
        read("day_or_month.csv")
    assert asked.value.asks == "dayfirst"
    assert [c.means for c in asked.value.choices] == [
        "'05/06/2026 06:00' is 5 Jun 2026",
        "'05/06/2026 06:00' is 6 May 2026",
    ]
    for answer, first in ((True, "2026-06-05T06"), (False, "2026-05-06T06")):
        hours = read("day_or_month.csv", Answers(dayfirst=answer))
        assert hours.start_s[0] == np.datetime64(first, "s").astype(int)


def test_a_day_over_twelve_settles_the_whole_file():
    hours = read("day_or_month_settled.csv")
    assert hours.start_s[0] == np.datetime64("2026-06-05T06", "s").astype(int)
    with pytest.raises(BadWeather, match=r"13/06/2026.*can't have the month first"):
        read("day_or_month_settled.csv", Answers(dayfirst=False))


def test_the_header_may_tell_the_order():
    hours = read("order_in_header.csv")
    assert hours.start_s[0] == np.datetime64("2026-06-05T06", "s").astype(int)


@pytest.mark.parametrize("name", ["spreadsheet_days.csv", "date_parts.csv"])
def test_clock_times_in_numbers_need_a_zone(name):
    with pytest.raises(NeedsAnswer, match="time zone"):
        read(name)
    assert clock(read(name, Answers(zone="UTC"))) == [6, 7]


def test_more_clocks():
    with pytest.raises(NeedsAnswer, match="hours run from 1 to 24"):
        read("midnight_as_24.csv")
    assert clock(read("midnight_as_24.csv", Answers(hour_label="start"))) == [23, 24]
    assert clock(read("midnight_as_24.csv", Answers(hour_label="end"))) == [22, 23]
    assert clock(read("hour_ending.csv")) == [6, 23]
    assert clock(read("zone_in_header.csv")) == [11]
    assert clock(read("zone_by_row.csv")) == [11, 14]


def test_the_zone_is_asked_with_what_each_would_mean():
    with pytest.raises(NeedsAnswer, match="does not say its time zone") as asked:
        read("semicolons_local.csv", Answers(likely_zone="America/Boise"))
    assert asked.value.asks == "zone"
    said = {c.value: c.means for c in asked.value.choices}
    assert next(iter(said)) == "America/Boise"
    assert said["America/Chicago"] == "'12.10.2026 06:00' is 2026-10-12 11:00 UTC"
    with pytest.raises(BadRequest, match="Mars/Base"):
        read("semicolons_local.csv", Answers(zone="Mars/Base"))


# --- states ---


def test_zero_is_north_in_a_table_and_calm_without_speed():
    hours = read("zero_and_360.csv")
    assert list(hours.state) == [DIRECTED, DIRECTED, CALM, CALM]
    assert hours.wind_from_deg[:2].tolist() == [0, 0]


def test_points_in_words():
    hours = read("points_in_words.csv")
    assert clock(hours) == [6, 7, 8, 9, 10, 11, 13]
    assert list(hours.state) == [
        DIRECTED,
        DIRECTED,
        DIRECTED,
        VARIABLE,
        CALM,
        MISSING,
        DIRECTED,
    ]
    assert hours.wind_from_deg[[0, 1, 2, 6]].tolist() == [135, 157.5, 90, 270]
    assert hours.half_width_deg[0] == 11.25
    assert "line 8: 'SSSE' is no direction" in hours.notes[0]
    assert "1 hour with a speed but no direction counts as missing (line 7)" in hours.notes[0]


def test_eight_points_are_wider():
    hours = read("eight_points.csv")
    assert set(hours.half_width_deg) == {22.5}


def test_impossible_winds_are_left_out_by_line():
    hours = read("absurd.csv")
    assert clock(hours) == [6]
    assert "5 impossible winds left out (first: line 3: 114 m/s from 45)" in hours.notes[0]


def test_marks_of_no_value():
    hours = read("sentinels.csv")
    assert list(hours.state) == [DIRECTED, MISSING, MISSING, MISSING, DIRECTED]


def test_gusts():
    hours = read("gusts.csv")
    np.testing.assert_allclose(hours.gust_mps, np.array([9, np.nan, 21]) * MPS_PER_KMH)
    assert "1 gust below the wind raised to it (line 2)" in hours.notes[0]


def test_components():
    hours = read("components.csv")
    assert list(hours.state) == [DIRECTED, DIRECTED, CALM, DIRECTED]
    np.testing.assert_allclose(hours.speed_mps, [4, 3, 0, 5])
    # blowing to the east-south-east at 3 east, 4 south: from 360 - atan(3/4)
    expected = [90, 180, np.nan, 360 - math.degrees(math.atan2(3, 4))]
    np.testing.assert_allclose(hours.wind_from_deg, expected)


def test_where_the_wind_goes_is_turned_about():
    assert read("towards.csv").wind_from_deg.tolist() == [45, 180]


def test_metar_groups():
    hours = read("metar.csv")
    assert clock(hours) == [6, 7, 8, 9, 10, 11, 12]
    assert list(hours.state) == [
        DIRECTED,
        VARIABLE,
        CALM,
        MISSING,
        DIRECTED,
        DIRECTED,
        DIRECTED,
    ]
    assert hours.gust_mps[0] == pytest.approx(17 * MPS_PER_KNOT)
    assert hours.half_width_deg[4] == 40  # 010V080 about 050 reaches 40 to the left
    assert hours.speed_mps[5] == 5
    assert hours.wind_from_deg[6] == 0


# --- units ---


def test_every_row_may_have_its_own_unit():
    hours = read("unit_by_row.csv")
    units = np.array([1.0, MPS_PER_KNOT, MPS_PER_MPH, MPS_PER_KMH, 1.0])
    np.testing.assert_allclose(hours.speed_mps, 8 * units)
    assert "line 7: 'paces' is no unit of wind" in hours.notes[0]


def test_units_in_cells_lines_and_headers():
    hours = read("unit_in_the_cell.csv")
    assert mph(hours.speed_low_mps[:1]) == [8]
    assert hours.speed_low_mps[1] == pytest.approx(10 * MPS_PER_KMH)
    assert hours.speed_high_mps[1] == pytest.approx(15 * MPS_PER_KMH)
    assert hours.gust_mps[2] == pytest.approx(14 * MPS_PER_KNOT)
    assert read("unit_line_below.csv").speed_mps[0] == pytest.approx(8 * MPS_PER_KNOT)
    assert read("unit_above.csv").speed_mps[0] == pytest.approx(8 * MPS_PER_KNOT)
    assert read("gust_in_other_unit.csv").gust_mps[0] == pytest.approx(9)
    assert read("two_heights.csv").speed_mps[0] == pytest.approx(5 * MPS_PER_KNOT)


@pytest.mark.parametrize(("name", "speed"), [("no_unit.csv", 8.0), ("components_no_unit.csv", 4.0)])
def test_the_unit_is_asked(name, speed):
    with pytest.raises(NeedsAnswer, match="does not say its unit") as asked:
        read(name)
    assert asked.value.asks == "speed_unit"
    assert [c.value for c in asked.value.choices] == ["mph", "kt", "m/s", "km/h"]
    assert asked.value.choices[2].means == f"line 2 is {speed * 2.236936:.1f} mph"
    for unit, factor in (("kt", MPS_PER_KNOT), ("mph", MPS_PER_MPH), ("m/s", 1.0)):
        assert read(name, Answers(speed_unit=unit)).speed_mps[0] == pytest.approx(speed * factor)
    with pytest.raises(BadRequest, match="paces"):
        read(name, Answers(speed_unit="paces"))


# --- National Weather Service ---


def test_hourly_periods_in_text():
    """No direction at 0 mph is calm; both ends of a range stay; speed 0 beats SW."""
    hours = read("nws_hourly_text.json")
    assert clock(hours) == [11, 12, 13, 14, 15]
    assert list(hours.state) == [CALM, DIRECTED, DIRECTED, MISSING, CALM]
    assert mph([hours.speed_low_mps[1], hours.speed_mps[1], hours.speed_high_mps[1]]) == [
        10,
        12.5,
        15,
    ]
    assert hours.speed_mps[2] == pytest.approx(5.0)  # 18 km/h
    assert hours.wind_from_deg[1:3].tolist() == [202.5, 180]
    assert hours.half_width_deg[1] == 11.25
    assert hours.temperature_c[1] == pytest.approx(10)
    assert (hours.rain_chance_frac[1], hours.thunder_frac[1]) == (0.3, 0.3)
    assert (hours.thunder_frac[2], hours.fog[1], hours.fog[2]) == (0, 0, 1)
    assert hours.updated_s == DAY + 9.5 * 3600
    assert hours.format == "nws-hourly"


def test_hourly_periods_in_numbers():
    hours = read("nws_hourly_numbers.json")
    np.testing.assert_allclose(hours.speed_mps, [10, 4])
    assert (hours.speed_low_mps[1], hours.speed_high_mps[1]) == (2, 6)
    assert hours.gust_mps[0] == pytest.approx(15)
    assert hours.temperature_c[0] == 7.5
    assert hours.half_width_deg[0] == 22.5  # no label of sixteen points is in it


def test_half_days_are_blocks():
    """18:00 to 06:00 over the change is 13 hours, then 12."""
    hours = read("nws_half_days.json")
    assert clock(hours, CHANGE) == list(range(-1, 24))
    assert hours.block_h.tolist() == [13] * 13 + [12] * 12
    assert hours.format == "nws-12-hour"
    assert "25 hours come in blocks of up to 13 h" in hours.notes


def test_a_stale_forecast_says_so_by_the_forecasters_time():
    hours = read("nws_stale.json")
    noon = DAY + 12 * 3600
    assert stale_note(hours, noon) == "forecast issued 10 days ago, no future hours"
    assert stale_note(hours, hours.start_s[-1]) == ""


def test_grid_intervals():
    """0 is north; speed 0 is calm whatever the direction; null is missing."""
    hours = read("nws_grid_intervals.json")
    assert clock(hours) == list(range(11, 19))
    assert list(hours.state) == [
        DIRECTED,
        DIRECTED,
        CALM,
        CALM,
        MISSING,
        MISSING,
        MISSING,
        DIRECTED,
    ]
    assert hours.wind_from_deg[[0, 1, 7]].tolist() == [0, 0, 340]
    np.testing.assert_allclose(hours.speed_mps[[0, 7]], np.array([8, 10]) * MPS_PER_KNOT)
    assert hours.block_h.tolist() == [2, 2, 2, 2, 3, 3, 3, 1]
    assert (hours.fog[0], math.isnan(hours.fog[1])) == (1, True)


def test_a_long_block_is_marked_in_each_hour():
    hours = read("nws_grid_long_block.json")
    assert hours.block_h.tolist() == [6] * 6
    assert hours.notes == ("6 hours come in blocks of up to 6 h",)


# --- Open-Meteo ---


def test_the_providers_own_csv():
    hours = read("meteo_own.csv")
    assert clock(hours) == [11, 12]
    assert list(hours.state) == [DIRECTED, CALM]
    np.testing.assert_allclose(hours.gust_mps, np.array([9.8, 5.1]) * MPS_PER_MPH)


def test_a_unit_under_the_old_name_and_one_undefined():
    assert read("meteo_unit_under_old_name.json").speed_mps[0] == pytest.approx(7.5)  # 27 km/h
    hours = read("meteo_undefined.json")
    assert clock(hours) == [6, 7]
    assert np.isnan(hours.gust_mps).all()


# --- refused ---


@pytest.mark.parametrize(
    ("name", "seen"),
    [
        ("decimal_comma_between_commas.csv", "line 2 does not have the 3 cells"),
        ("both_orders.csv", "line 3 has the day first .'13/06/2026.*line 2 the month"),
        ("by_the_day.csv", "'2026-10-12' is a day without a time"),
        ("two_stations.csv", r"several stations \(A1, B2\)"),
        ("eighty_metres.csv", "the wind is for 80 m above ground, not 10 m"),
        ("meteo_100_m_only.json", "the wind is for 100 m above ground, not 10 m"),
        ("beaufort.csv", r"'wind_force \(Bft\)' is in a unit that is not known"),
        ("no_direction.csv", "wind direction.*'wind_mph'"),
        ("header_only.csv", "no lines below its header"),
        ("empty.csv", "the file is empty"),
        ("blank.csv", "the file is empty"),
        ("web_page.json", "looks like a web page"),
        ("workbook.csv", "an Excel workbook"),
        ("half.json", "broken JSON"),
        ("problem.json", "Grid Gone It has expired"),
        ("point.json", "names where the forecast is"),
        ("nws_no_periods.json", "the forecast has no hours"),
        ("nws_all_null.json", "no report in it holds a wind"),
        ("nws_paces.json", "period 1: the wind '10 paces' is no speed"),
        ("nws_sideways.json", "period 1: the direction 'NNN' is none"),
        ("nws_grid_no_unit.json", "windSpeed is in the unknown unit ''"),
    ],
)
def test_what_is_refused_says_why(name, seen):
    with pytest.raises(BadWeather, match=seen) as refused:
        read(name, Answers(zone="UTC", speed_unit="mph", dayfirst=True))
    assert name in refused.value.where


@pytest.mark.parametrize("name", NAMES)
def test_every_trap_ends_on_the_command_line_in_a_table_or_one_line(name, capsys):
    code = main(["wind", str(FOLDER / name), "--json"])
    out, err = capsys.readouterr()
    if code == 0:
        assert json.loads(out)["hours"]
    else:
        assert (code, len(err.strip().splitlines())) == (2, 1)
        assert name in err


def test_answers_on_the_command_line(capsys):
    path = str(FOLDER / "no_unit.csv")
    assert main(["wind", path]) == 2
    assert "--speed-unit: mph (line 2 is 8.0 mph)" in capsys.readouterr().err
    assert main(["wind", path, "--speed-unit", "kt", "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert report["hours"][0]["wind_speed_mps"] == pytest.approx(8 * MPS_PER_KNOT, abs=1e-3)
    path = str(FOLDER / "skipped_hour_local.csv")
    assert main(["wind", path, "--zone", "-06:00"]) == 0
    assert "2026-03-08 08:00 UTC directed" in capsys.readouterr().out
    path = str(FOLDER / "day_or_month.csv")
    assert main(["wind", path, "--no-dayfirst"]) == 0
    assert "2026-05-06 06:00 UTC" in capsys.readouterr().out
    assert main(["wind", path, "--dayfirst", "--zone", "Mars"]) == 2
    assert "'Mars' is no time zone" in capsys.readouterr().err


def test_a_stale_forecast_on_the_command_line(capsys):
    path = str(FOLDER / "nws_stale.json")
    assert main(["wind", path, "--now", "2026-10-12T12:00Z"]) == 0
    assert "forecast issued 10 days ago, no future hours" in capsys.readouterr().out


def test_every_message_of_the_family_is_one_line():
    for name in NAMES:
        try:
            read(name)
        except StandWindError as fault:
            assert "\n" not in str(fault)
            assert len(str(fault)) < 600


def test_an_infinite_direction_is_an_impossible_wind_and_no_crash():
    data = (
        b"time_utc,wind_direction_deg,wind_speed_mps\n2026-11-05 06:00,inf,3\n"
        b"2026-11-05 07:00,270,3\n"
    )
    hours = read_weather(data, "table.csv")
    assert hours.wind_from_deg.tolist() == [270.0]
    assert "1 impossible wind left out (line 2: 3 m/s from inf)" in hours.notes


# --- tables within tables, sheets that are none, and times that look like others ---

NAMES_ROW = "time_utc,wind_dir_deg,wind_mph\n"
FIRST = f"{NAMES_ROW}2026-10-12 06:00,45,5\n2026-10-12 07:00,50,6\n2026-10-12 08:00,55,7\n"


def table(text: str, answers: Answers | None = None):
    return read_weather(text.encode(), "table.csv", answers or Answers())


@pytest.mark.parametrize(
    "second",
    [
        "time_utc,wind_dir_deg,wind_kt\n2026-10-12 09:00,60,5\n",  # knots, read as miles
        "time_utc,wind_mph,wind_dir_deg\n2026-10-12 09:00,5,60\n",  # 60 mph from 5 degrees
        "time_utc,wind_dir_deg,wind_mph,gust_mph\n2026-10-12 09:00,60,5,9\n",
        "Zeit,Vane,Puff\n2026-10-12 09:00,60,5\n",
    ],
)
def test_a_second_table_under_another_header_is_never_read_as_the_first(second):
    with pytest.raises(BadWeather, match=r"line 6 begins another table.*Keep one table"):
        table(f"{FIRST}\n{second}")


def test_what_is_no_second_table_is_let_through():
    again = f"{NAMES_ROW}UTC,deg,mph\n2026-10-12 06:00,45,5\n"
    for text in (
        f"{FIRST}M,M,M\n2026-10-12 09:00,60,5\n",  # a row without a value
        f"{FIRST}note,,\n2026-10-12 09:00,60,5\n",
        f"{FIRST}end,of,file\n",  # a footer
        f"{FIRST}{NAMES_ROW}2026-10-12 09:00,60,5\n",
        again + again.replace("06:00", "07:00"),
        "day,high,low\n1,60,40\n2,61,41\n\n" + FIRST,
    ):
        assert len(table(text)) >= 2


def test_an_end_of_the_hour_is_not_taken_for_a_zone():
    """06:00-07:00 alone may be six o'clock at seven hours behind; a file of spans is not."""
    spans = f"{NAMES_ROW}2026-10-12 06:00-07:00,45,5\n2026-10-12 07:00-08:00,50,6\n"
    with pytest.raises(BadWeather, match="'2026-10-12 06:00-07:00' looks like a span of time"):
        table(spans)
    half = f"{NAMES_ROW}2026-10-12 06:00-06:30,45,5\n2026-10-12 06:30-07:00,50,6\n"
    with pytest.raises(BadWeather, match="span of time"):
        table(half)
    daily = f"{NAMES_ROW}2026-10-12 06:00-07:00,45,5\n2026-10-13 06:00-07:00,50,6\n"
    assert clock(table(daily)) == [13, 37]
    changed = f"{NAMES_ROW}2026-11-01 01:00-05:00,45,5\n2026-11-01 01:00-06:00,50,6\n"
    assert clock(table(changed), CHANGE) == [6, 7]


def test_a_date_beside_a_clock_that_tells_its_zone():
    hours = table("date,time_utc,wind_dir_deg,wind_mph\n2026-10-12,06:00:30,45,5\n")
    assert clock(hours) == [6]
    hours = table("date,timestamp_utc,wind_dir_deg,wind_mph\n2026-10-12,2026-10-12 06:00,45,5\n")
    assert clock(hours) == [6]


def test_cells_that_a_spreadsheet_must_not_change():
    rows = '="2026-10-12 06:00",="045",="5"\n'
    hours = table(NAMES_ROW + rows)
    assert clock(hours) == [6]
    assert (hours.wind_from_deg[0], mph(hours.speed_mps)) == (45, [5])


def test_marks_inside_a_file_that_was_put_together_from_several():
    mark = b"\xef\xbb\xbf"
    data = mark + NAMES_ROW.encode() + mark + b"2026-10-12 06:00,45,5\n"
    assert clock(read_weather(data, "both.csv")) == [6]


@pytest.mark.parametrize(
    ("data", "seen"),
    [
        (b"<html><table><tr><td>time_utc</td></tr></table></html>", "as a web page, save as CSV"),
        (b"{\\rtf1\\ansi time_utc,wind_mph}", "a word processor's document"),
        (b"PK\x03\x04wind.csv", "a zip or an Excel workbook"),
    ],
)
def test_a_sheet_that_was_saved_as_another_thing_says_what_to_do(data, seen):
    with pytest.raises(BadWeather, match=seen) as refused:
        read_weather(data, "sheet.xls")
    assert "CSV" in refused.value.fix


def test_thousands_are_no_number_of_wind():
    hours = table(f'{FIRST}2026-10-12 09:00,60,"1,008"\n')
    assert clock(hours) == [6, 7, 8]
    assert any("'1,008' is no speed" in note for note in hours.notes)


@pytest.mark.parametrize("data", [b"1," * 100_000, b"seen;wind;" * 30_000, b"a " * 100_000])
def test_a_line_without_an_end_is_refused_at_once(data):
    """Word by word, a header of four million cells took eight minutes."""
    start = time.monotonic()
    with pytest.raises(BadWeather, match=r"first line is|no line names"):
        read_weather(data, "long.csv")
    assert time.monotonic() - start < 4
