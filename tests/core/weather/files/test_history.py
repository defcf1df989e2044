"""Files of one station together; what is refused, and the message that says so."""

import csv
import gzip
from pathlib import Path

import numpy as np
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as some

from core.errors import BadWeather
from core.weather.files.history import read_history
from core.weather.files.recognise import read_weather
from core.weather.files.typical import typical_year
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE
from core.weather.reading import packed, weather_file
from core.weather.reading.observations import make_observations, to_hours
from core.weather.reading.spliced import years_word, zone_word
from tests.years import laid_over

NAME = "999999-00042-2019"


def isd(rows):
    """ISD-Lite text of (day and hour, direction, tenths of m/s)."""
    return "\n".join(
        f"2019 {stamp} -9999 -9999 -9999{wind:6d}{tenths:6d} -9999 -9999 -9999"
        for stamp, wind, tenths in rows
    ).encode()


DAY = [(f"10 12 {hour:02d}", 10 * (hour + 1), 20 + hour) for hour in range(24)]
TMY3 = Path(__file__).parents[3] / "traps" / "history" / "tmy3_seam.csv"
EPW = Path(__file__).parents[3] / "traps" / "history" / "epw_seven_head_lines.epw"
ASOS = b"station,valid(UTC),drct,sknt\n"
HOURLY = b"STATION,DATE,REPORT_TYPE,WND\n"


def test_overlapping_files_in_any_order_are_one_table():
    early, late = isd(DAY[:15]), isd(DAY[12:])
    whole = read_history([(isd(DAY), NAME)])
    for files in ([early, late], [late, early]):
        hours = read_history([(data, NAME) for data in files])
        np.testing.assert_array_equal(hours.start_s, whole.start_s)
        np.testing.assert_array_equal(hours.wind_from_deg, whole.wind_from_deg)
        assert hours.notes == ("3 duplicates dropped",)


def test_where_two_files_differ_the_first_read_counts():
    other = isd([("10 12 05", 270, 99)])
    hours = read_history([(isd(DAY), NAME), (other, NAME)])
    assert hours.speed_mps[5] == 2.5
    assert hours.notes == ("1 report of a minute already told with another wind not used",)


def test_a_wind_beats_no_wind_of_another_file():
    lost = isd([("10 12 05", -9999, -9999)])
    hours = read_history([(lost, NAME), (isd(DAY), NAME)])
    assert hours.state[5] == DIRECTED
    assert len(hours) == 24
    assert hours.notes == ("1 further report inside an hour not used",)


def test_gaps_between_files_are_counted_not_filled():
    hours = read_history([(isd(DAY[:4]), NAME), (isd(DAY[9:12]), NAME)])
    assert len(hours) == 7
    assert hours.notes == ("5 hours missing",)
    asked = hours.at_rows(np.arange(hours.start_s[0], hours.start_s[-1] + 1, 3600))
    assert (asked.state == MISSING).sum() == 5


def test_a_path_and_a_packed_file_are_read(tmp_path):
    path = tmp_path / f"{NAME}.gz"
    path.write_bytes(gzip.compress(isd(DAY)))
    hours = read_history([(path, path.name)])
    assert len(hours) == 24
    assert (hours.source, hours.kind) == ("99999900042: measured wind, 2019", "measured")


def test_files_without_a_station_are_taken_as_one_and_it_is_said():
    hours = read_history([(isd(DAY[:4]), "a.txt"), (isd(DAY[4:]), "b.txt")])
    assert hours.notes == ("not every file names its station: they were taken as one",)


def test_what_was_mended_in_each_file_is_added_up():
    cut = isd(DAY[:3]) + b"\n2019 10 12"
    more = isd(DAY[3:6]) + b"\n2019 10 12"
    hours = read_history([(cut, NAME), (more, NAME)])
    assert hours.notes == (f"2 lines that can't be read left out (first: {NAME}, line 4)",)


def test_specials_do_not_weigh_more():
    """Of the routine report at :53 and specials, an hour has the routine one."""
    rows = b"""QQQ,2019-10-12 05:53,270,6
QQQ,2019-10-12 06:10,300,14
QQQ,2019-10-12 06:31,310,15
QQQ,2019-10-12 06:53,290,8
"""
    hours = read_history([(ASOS + rows, "a.csv")])
    assert hours.wind_from_deg.tolist() == [270.0, 290.0]


def test_a_routine_report_beats_a_nearer_special():
    rows = b"""QQQ,2019-10-12T05:50:00,FM-15,"270,1,N,0030,1"
QQQ,2019-10-12T06:00:00,FM-16,"300,1,N,0070,1"
"""
    hours = read_history([(HOURLY + rows, "a.csv")])
    assert hours.wind_from_deg.tolist() == [270.0]


def test_a_report_without_a_wind_is_no_broken_line():
    rows = b"""QQQ,2019-10-12T05:50:00,FM-15,"270,1,N,0030,1"
QQQ,2019-10-12T06:50:00,FM-15,""
QQQ,2019-10-12T07:50:00,FM-15,"999,9,C,9999,9"
"""
    hours = read_history([(HOURLY + rows, "a.csv")])
    assert list(hours.state) == [DIRECTED, MISSING, CALM]
    assert hours.notes == ("1 hour missing",)


@pytest.mark.parametrize(
    ("files", "seen"),
    [
        ([], "no file was given"),
        ([(b"  \n", "a.txt")], "^a.txt: the file is empty"),
        ([(Path("nowhere.txt"), "nowhere.txt")], "^nowhere.txt: can't be opened"),
        ([(b"\x1f\x8b\x08nothing", "a.gz")], "^a.gz: "),
        ([(gzip.compress(isd(DAY))[:-12], "a.gz")], "^a.gz: the packed file is broken"),
        ([(isd(DAY), NAME), (isd(DAY), "888888-00042-2019")], "88888800042, and .*99999900042"),
        (
            [(isd(DAY), NAME), (TMY3, "t.csv")],
            "^t.csv: it holds a typical year, .* holds measured wind",
        ),
        ([(TMY3, "t.csv"), (TMY3, "u.csv")], "^u.csv: a typical year stands alone, and t.csv"),
        ([(isd([("10 12 05", -9999, -9999)]), NAME)], "no report in it holds a wind"),
        ([(isd(DAY) + b"\nx y\nz\nw\n", NAME)], "3 of 27 lines can't be read, .* line 25"),
        ([(isd([("02 30 05", 270, 30), ("13 01 05", 270, 30)]), NAME)], "2 of 2 lines"),
        ([(ASOS, "a.csv")], "^a.csv: the file has no lines below its header"),
        ([(ASOS + b"QQQ,soon,270,6\n", "a.csv")], "1 of 1 lines can't be read"),
        ([(HOURLY, "g.csv")], "^g.csv: the file has no lines below its header"),
        ([(HOURLY + b'1,2019-10-12T05:53,FM-15,"270"\n', "g.csv")], "1 of 1 lines"),
        ([(HOURLY + b'1,2019-10-12T05:53,SOD,""\n', "g.csv")], "no line of it can be used"),
        ([(b'STATION,DATE,WND\n1,"2,3\n', "g.csv")], "^g.csv: "),
        ([(b'"DATE,WND\n",b\n1,2\n', "g.csv")], "no columns DATE and WND"),
        (
            [(HOURLY + b'1,2019-10-12T05,A,"270,1,N,0030,1"\n2,2019-10-12T06,A,x\n', "g.csv")],
            "several stations \\(1, 2\\)",
        ),
    ],
)
def test_what_is_refused(files, seen):
    with pytest.raises(BadWeather, match=seen):
        read_history(files)


@pytest.mark.parametrize(
    ("old", "new", "seen"),
    [
        (b"NC,-5.0", b"NC,-20.0", "zone -20 is no offset"),
        (b"NC,-5.0", b"NC,east", "can't be read .*east"),
        (b"Wdir (degrees)", b"Wdirt", "no column wind_direction"),
        (b"02/28/1996", b"31/28/1996", "can't be read"),
    ],
)
def test_broken_typical_years(old, new, seen):
    with pytest.raises(BadWeather, match=seen):
        read_weather(TMY3.read_bytes().replace(old, new), "t.csv")


@pytest.mark.parametrize(
    ("old", "new", "seen"),
    [
        (b"-79.90,-5.0", b"-79.90,-20.0", "zone -20 is no offset"),
        (b"-79.90,-5.0", b"-79.90,east", "can't be read .*east"),
        (b"DATA PERIODS", b"PERIODS", "no line DATA PERIODS"),
        (b"2019,10,12,1", b"2019,10,92,1", "can't be read"),
        (b"2019,10,12", b"", "can't be read|can't be"),
    ],
)
def test_broken_epw_files(old, new, seen):
    with pytest.raises(BadWeather, match=seen):
        read_weather(EPW.read_bytes().replace(old, new), "e.epw")


def test_a_head_without_hours():
    head = b"\n".join(EPW.read_bytes().split(b"\n")[:7]) + b"\n"
    with pytest.raises(BadWeather, match="the EPW table has no hours"):
        read_weather(head, "e.epw")
    head = b"\n".join(TMY3.read_bytes().split(b"\n")[:2]) + b"\n"
    with pytest.raises(BadWeather, match="the TMY3 table has no hours"):
        read_weather(head, "t.csv")


@pytest.mark.parametrize(
    ("name", "end"),
    [
        ("tmy3_seam.csv", b",200"),
        ("epw_seven_head_lines.epw", b",3.1,10,3"),
        ("nsrdb_middles.csv", b",20"),
        ("asos_states.csv", b",0.00,4.00"),
    ],
)
def test_a_line_cut_short_is_left_out_not_read_half(name, end):
    """A download that broke off inside a number must not leave another number."""
    data = (TMY3.parent / name).read_bytes()
    whole = read_history([(data, name)])
    cut = read_history([(data[: data.rindex(end) + len(end) - 1], name)])
    np.testing.assert_array_equal(cut.speed_mps[:-1], whole.speed_mps[: len(cut) - 1])
    assert len(cut) == len(whole) - 1
    assert "1 line that can't be read left out" in cut.notes[0]


def test_a_last_line_without_its_end_is_whole_with_all_its_cells():
    rows = ASOS + b"QQQ,2019-10-12 05:53,270,6\nQQQ,2019-10-12 06:53,280,16"
    hours = read_history([(rows, "a.csv")])
    assert hours.wind_from_deg.tolist() == [270.0, 280.0]


@pytest.mark.parametrize("end", [b",", b",a,b"])
def test_cells_beyond_the_header_move_no_column(end):
    rows = b"QQQ,2019-10-12 05:53,270,6" + end + b"\nQQQ,2019-10-12 06:53,280,16" + end + b"\n"
    hours = read_history([(ASOS + rows, "a.csv")])
    assert hours.wind_from_deg.tolist() == [270.0, 280.0]
    wind = b'"270,1,N,0030,1"'
    row = b"Q,2019-10-12T05:53,FM-15," + wind + end + b"\n"
    hours = read_history([(HOURLY + row, "g.csv")])
    assert hours.speed_mps.tolist() == [3.0]


@pytest.mark.parametrize("name", ["isd_lite_states.txt", "asos_states.csv", "tmy3_seam.csv"])
@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig"])
def test_a_file_saved_again_in_another_encoding(name, encoding):
    data = (TMY3.parent / name).read_bytes()
    again = data.decode("ascii").replace("\n", "\r\n").encode(encoding)
    hours, whole = read_history([(again, name)]), read_history([(data, name)])
    np.testing.assert_array_equal(hours.speed_mps, whole.speed_mps)
    assert hours.notes == whole.notes


def test_a_packed_bomb_is_refused(monkeypatch):
    monkeypatch.setattr(packed, "LARGEST_BYTES", 1000)
    with pytest.raises(BadWeather, match=f"^{NAME}: the packed file holds over 50 MB"):
        read_history([(gzip.compress(isd(DAY)), NAME)])


def test_a_file_too_large_is_refused(monkeypatch):
    monkeypatch.setattr(weather_file, "LARGEST_BYTES", 1000)
    size = len(isd(DAY))
    with pytest.raises(BadWeather, match=f"the file has {size:,} bytes"):
        read_history([(isd(DAY), NAME)])


def test_another_format_is_read_by_the_reader_for_all_files():
    """An answer of an archive has the form of a forecast; its hours are a model's."""
    body = b"""{"utc_offset_seconds": 0, "timezone": "GMT",
        "hourly_units": {"wind_speed_10m": "m/s"},
        "hourly": {"time": ["2019-10-12T05:00", "2019-10-12T06:00"],
                   "wind_speed_10m": [3.1, 0.0], "wind_direction_10m": [0, 10]}}"""
    hours = read_history([(body, "archive.json")])
    assert list(hours.state) == [DIRECTED, CALM]
    assert hours.wind_from_deg[0] == 0.0  # a model's north
    assert hours.kind == "modelled"
    assert "modelled wind, not measured" in hours.source
    with pytest.raises(BadWeather, match=r"^a\.txt: "):
        read_history([(b"something else", "a.txt")])


def test_a_table_of_unknown_making_is_no_measured_wind():
    rows = b"time_utc,wind_dir_deg,wind_ms\n2019-10-12 05:00,270,3\n2019-10-12 06:00,280,4\n"
    hours = read_history([(rows, "log.csv")])
    assert hours.kind == "unsaid"
    assert "does not say if it was measured, 2019" in hours.source
    with pytest.raises(BadWeather, match=r"^log.csv: it holds wind of a table .* holds measured"):
        read_history([(isd(DAY), NAME), (rows, "log.csv")])


@pytest.mark.parametrize("name", ["tmy3_seam.csv", "asos_states.csv", "nsrdb_middles.csv"])
def test_the_reader_for_all_files_knows_history_files(name):
    data = (TMY3.parent / name).read_bytes()
    alone, in_history = read_weather(data, name), read_history([(data, name)])
    np.testing.assert_array_equal(alone.wind_from_deg, in_history.wind_from_deg)
    np.testing.assert_array_equal(alone.start_s, in_history.start_s)
    assert (alone.kind, alone.notes) == (in_history.kind, in_history.notes)


def test_line_by_line_reads_the_same_as_all_at_once():
    """The slow way round a broken line, against the fast one."""
    rows = [(f"10 {1 + i // 24:02d} {i % 24:02d}", 10 * (i % 36 + 1), i) for i in range(100)]
    fast = read_weather(isd(rows), NAME)
    slow = read_weather(isd(rows) + b"\n2019 10", NAME)
    np.testing.assert_array_equal(fast.speed_mps, slow.speed_mps)
    np.testing.assert_array_equal(fast.start_s, slow.start_s)
    assert slow.notes == ("1 line that can't be read left out (line 101)",)


@given(some.permutations(range(12)))
def test_the_order_of_lines_does_not_matter(order):
    whole = read_weather(isd(DAY[:12]), NAME)
    mixed = read_weather(isd([DAY[i] for i in order]), NAME)
    np.testing.assert_array_equal(mixed.start_s, whole.start_s)
    np.testing.assert_array_equal(mixed.speed_mps, whole.speed_mps)


def test_an_impossible_year_is_left_out():
    at_s = [0, int(np.datetime64("2450-01-01", "s").astype(int))]
    reports = make_observations(at_s=at_s, speed_mps=3.0, wind_from_deg=90.0, line=[7, 8])
    hours = to_hours(reports)
    assert len(hours) == 1
    assert hours.notes == ("1 report of an impossible year left out (line 8)",)


@pytest.mark.parametrize(
    ("offset_s", "word"),
    [(-18000, "UTC-05:00"), (19800, "UTC+05:30"), (0, "UTC+00:00"), (-12600, "UTC-03:30")],
)
def test_the_word_of_an_offset(offset_s, word):
    assert zone_word(offset_s) == word


@pytest.mark.parametrize("name", ["723170TYA.CSV", "703165TY.csv"])
def test_the_years_that_pvlib_carries_against_a_plain_count(name):
    """Calm, north as 360, and 0 with a wind, counted from the file's own cells."""
    path = Path(pvlib.__file__).parent / "data" / name
    with path.open(encoding="ascii", newline="") as stream:
        next(stream)
        cells = [(int(r["Wdir (degrees)"]), float(r["Wspd (m/s)"])) for r in csv.DictReader(stream)]
    hours = read_history([(path, name)])
    assert len(hours) == len(cells) == 8760
    assert (hours.state == CALM).sum() == sum(speed == 0 for _, speed in cells)
    assert (hours.state == VARIABLE).sum() == sum(d == 0 < speed for d, speed in cells) > 0
    assert (hours.wind_from_deg == 0).sum() == sum(d == 360 and s > 0 for d, s in cells) > 200


def test_a_typical_year_laid_over_others_keeps_its_clock():
    """Hour, day and month of the file's own clock stay; 29 February is left empty."""
    year = typical_year()
    laid = laid_over(year, (2027, 2028))
    assert len(laid) == 2 * 8760
    assert (np.diff(laid.start_s) > 0).all()
    local = (laid.start_s - 5 * 3600).astype("datetime64[s]")
    july = np.flatnonzero(local == np.datetime64("2028-07-04T06:00:00"))
    own = np.flatnonzero(
        (year.start_s - 5 * 3600).astype("datetime64[s]") == np.datetime64("2001-07-04T06:00:00")
    )
    assert laid.speed_mps[july] == year.speed_mps[own]
    assert not (local.astype("datetime64[D]") == np.datetime64("2028-02-29")).any()


def test_the_word_of_years():
    first = int(np.datetime64("2019-12-31T23", "s").astype(int))
    assert years_word(np.array([first])) == "2019"
    assert years_word(np.array([first]), 3600) == "2020"
    assert years_word(np.array([first, first + 86400])) == "2019 to 2020"
