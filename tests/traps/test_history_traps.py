"""Traps of history files: each comes out as it must, or is refused in one line."""

import gzip
import json
from pathlib import Path

import numpy as np
import pytest

from core.errors import BadWeather, NeedsAnswer
from core.units import MPS_PER_KNOT
from core.weather.answers import Answers
from core.weather.files.history import read_history
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE

FOLDER = Path(__file__).with_name("history")
NAMES = sorted(p.name for p in FOLDER.iterdir())
TEN = int(np.datetime64("2019-10-12T10", "s").astype(int))  # 10:00 UTC of the day used


UTC = Answers(zone="UTC")


def read(name, answers=None):
    return read_history([(FOLDER / name, name)], answers)


def clock(hours):
    """Hours of the day, UTC, counted from the day used."""
    return list((hours.start_s - TEN) // 3600 + 10)


def test_isd_lite_states():
    """Calm, variable (not missing), north as 360, missing; 0 with wind is no direction."""
    hours = read("isd_lite_states.txt")
    assert clock(hours) == [10, 11, 12, 13, 15, 16]
    assert list(hours.state) == [DIRECTED, CALM, VARIABLE, MISSING, DIRECTED, VARIABLE]
    assert hours.wind_from_deg[[0, 4]].tolist() == [0.0, 240.0]
    assert hours.speed_mps[[0, 2, 4, 5]].tolist() == [2.6, 2.1, 4.6, 1.5]
    assert hours.temperature_c[[0, 4]].tolist() == [6.1, 10.0]
    assert hours.cloud_frac[[0, 1, 2, 4]].tolist() == [0.25, 0.5, 1.0, 1.0]
    assert hours.rain_mm[[2, 4]].tolist() == [0.2, 0.0]
    assert hours.notes == (
        "2 hours missing, 1 hour of direction 0 with wind has no direction (line 6)",
    )
    assert hours.kind == "measured"


def test_isd_lite_packed_is_the_same():
    data = (FOLDER / "isd_lite_states.txt").read_bytes()
    packed = read_history([(gzip.compress(data), "999999-00042-2019.gz")])
    plain = read("isd_lite_states.txt")
    np.testing.assert_array_equal(packed.speed_mps, plain.speed_mps)
    assert packed.source == "99999900042: measured wind, 2019"


def test_isd_lite_cut_off_in_its_last_line():
    hours = read("isd_lite_cut.txt")
    assert clock(hours) == [10, 11]
    assert hours.notes[0] == "1 line that can't be read left out (line 3)"


def test_global_hourly_codes():
    """C calm, V variable, quality 7 rejected, a summary and a special do not count."""
    hours = read("global_hourly_codes.csv")
    assert clock(hours) == [11, 12, 13, 14, 15, 16, 17]
    assert list(hours.state) == [DIRECTED, CALM, VARIABLE, DIRECTED, MISSING, MISSING, CALM]
    assert hours.wind_from_deg[[0, 3]].tolist() == [50.0, 0.0]
    assert hours.speed_mps[[0, 2, 3]].tolist() == [3.6, 2.1, 5.7]
    assert hours.gust_mps[0] == 9.8
    assert hours.temperature_c[[0, 3]].tolist() == [6.1, -1.2]
    assert hours.cloud_frac[[0, 1]].tolist() == [0.5, 1.0]
    assert hours.rain_mm[0] == 0.5
    assert hours.notes[0] == (
        "2 hours missing, 1 further report inside an hour not used, "
        "1 report that its source marks as wrong left out (line 8), "
        "1 daily summary left out (line 10)"
    )
    assert hours.source == "99999900042 MADE UP FIELD, US: measured wind, 2019"


def test_asos_states():
    """0 with 0 is calm, M with a speed variable, 360 north, M missing; :53 is the next hour."""
    hours = read("asos_states.csv")
    assert clock(hours) == [11, 12, 13, 14, 15, 16]
    assert list(hours.state) == [CALM, VARIABLE, DIRECTED, MISSING, DIRECTED, VARIABLE]
    assert hours.wind_from_deg[2] == 0.0
    assert hours.speed_mps[1] == pytest.approx(5 * MPS_PER_KNOT)
    assert hours.gust_mps[2] == pytest.approx(9 * MPS_PER_KNOT)  # 8 kt lies below the wind
    assert np.isnan(hours.gust_mps[1])  # none given is none, not 0
    assert hours.temperature_c[0] == pytest.approx((43 - 32) / 1.8)
    assert hours.cloud_frac[:3].tolist() == [0.0, 0.75, 1.0]
    assert hours.rain_mm[:3].tolist() == [0.0, 0.0, pytest.approx(0.508)]
    assert (hours.fog[2], hours.thunder_frac[2]) == (1.0, 0.0)
    assert hours.notes[0] == (
        "1 hour missing, 1 further report inside an hour not used, "
        "1 hour of direction 0 with wind has no direction (line 10), "
        "1 gust below the wind raised to it (line 7)"
    )


def test_impossible_winds_are_left_out_by_line():
    hours = read("asos_impossible.csv", UTC)
    assert clock(hours) == [11, 16]
    assert "4 hours missing" in hours.notes[0]
    assert "4 impossible winds left out (first: line 3: 160.507 m/s from 130" in hours.notes[0]


def test_backwards_with_duplicates():
    hours = read("asos_backwards.csv", UTC)
    assert clock(hours) == [11, 12, 15]
    assert hours.wind_from_deg.tolist() == [140.0, 150.0, 210.0]
    assert hours.notes[0] == (
        "2 hours missing, 1 duplicate dropped, "
        "1 report of a minute already told with another wind not used"
    )


@pytest.mark.parametrize(
    ("name", "winds"),
    [("asos_tabs_bare_cr.tsv", [80, 90]), ("asos_byte_order_mark.csv", [220])],
)
def test_forms_of_text(name, winds):
    assert read(name, UTC).wind_from_deg.tolist() == winds


def test_local_times_over_the_end_of_summer_time():
    """01:53 comes twice: at 06:53 and at 07:53 UTC; neither is a duplicate."""
    hours = read("asos_local_times.csv")
    first = np.datetime64("2019-11-03T06", "s").astype(int)
    assert list((hours.start_s - first) // 3600) == [0, 1, 2, 3]
    assert hours.wind_from_deg.tolist() == [220, 230, 240, 250]
    assert hours.notes == ()


@pytest.mark.parametrize("head", ["", "#DEBUG: Time Zone -> CST\n"])
def test_reports_whose_zone_nothing_tells_are_asked_about(head):
    """The archive gives times of any zone; its header need not say of which."""
    data = f"{head}station,valid,drct,sknt\nQQQ,2019-11-03 00:53,220,10\n".encode()
    with pytest.raises(NeedsAnswer, match="'2019-11-03 00:53' does not say its time zone") as asked:
        read_history([(data, "a.csv")])
    assert asked.value.asks == "zone"
    for zone, hour in (("UTC", 1), ("America/Chicago", 6)):
        hours = read_history([(data, "a.csv")], Answers(zone=zone))
        assert hours.start_s[0] == np.datetime64(f"2019-11-03T{hour:02d}", "s").astype(int)
    told = data.replace(b"valid,", b"valid(GMT-5),")
    assert read_history([(told, "a.csv")]).start_s[0] == np.datetime64("2019-11-03T06", "s").astype(
        int
    )


def test_a_local_hour_told_once_of_two_is_left_out():
    hours = read("asos_local_once.csv")
    first = np.datetime64("2019-11-03T06", "s").astype(int)
    assert list((hours.start_s - first) // 3600) == [0, 3]
    assert "1 hour that the clock shows twice and the file once left out (line 3)" in hours.notes[0]


def test_a_typical_year_over_a_leap_day_and_a_seam():
    """24:00 of 28 February of a leap year is an hour of that day; labels move back."""
    hours = read("tmy3_seam.csv")
    starts = hours.start_s.astype("datetime64[s]").astype("datetime64[h]").astype(str).tolist()
    assert starts == [
        "2001-03-01T03",
        "2001-03-01T04",
        "2001-03-01T05",
        "2001-03-01T06",
        "2001-03-01T07",
    ]
    assert list(hours.state) == [CALM, DIRECTED, VARIABLE, MISSING, DIRECTED]
    assert hours.wind_from_deg[1] == 0.0
    assert hours.cloud_frac[[0, 2]].tolist() == [0.2, 1.0]
    assert np.isnan(hours.temperature_c[3])
    assert hours.kind == "typical"
    assert hours.source == "999999 MADE UP FIELD: a typical year, no real one"
    assert "made of the years 1988 to 1996" in hours.notes


def test_an_epw_with_a_head_line_less_loses_no_hour():
    hours = read("epw_seven_head_lines.epw")
    first = np.datetime64("2019-10-12T05", "s").astype(int)  # hour 1 starts at 00:00, UTC-5
    assert list((hours.start_s - first) // 3600) == [0, 1, 2, 3]
    assert list(hours.state) == [DIRECTED, CALM, MISSING, DIRECTED]
    assert hours.temperature_c[[0, 3]].tolist() == [4.0, 2.5]
    assert np.isnan(hours.temperature_c[2])
    assert np.isnan(hours.cloud_frac[2])
    assert np.isnan(hours.rain_mm[2])
    assert hours.rain_mm[3] == 1.5
    assert (hours.kind, hours.zone) == ("typical", "UTC-05:00")


def test_an_actual_epw_year_is_modelled_and_has_north_at_0():
    hours = read("epw_actual_year.epw")
    assert hours.kind == "modelled"
    assert list(hours.state) == [DIRECTED, CALM, MISSING, DIRECTED]
    assert hours.wind_from_deg[3] == 0.0
    assert hours.source == "999999 Made Up Field: modelled wind, not measured, 2019"


@pytest.mark.parametrize(
    ("name", "winds", "speeds"),
    [
        ("nsrdb_half_hours.csv", [0, 14], [2.6, 2.4]),
        ("nsrdb_middles.csv", [8, 20], [2.5, 2.3]),  # labels in the middle of the hour
    ],
)
def test_nsrdb_hours(name, winds, speeds):
    hours = read(name)
    assert clock(hours) == [10, 11]
    assert hours.wind_from_deg.tolist() == winds
    assert hours.speed_mps.tolist() == speeds
    assert hours.kind == "modelled"
    assert "the file does not tell the height of its wind: 10 m is taken" in hours.notes


def test_the_hours_of_a_half_hour_zone_are_those_of_its_own_clock():
    """Five o'clock in India is 23:30 UTC: a row is the hour from there, not from midnight."""
    nsrdb = (FOLDER / "nsrdb_middles.csv").read_bytes().replace(b",-5,240,-5,", b",5.5,240,5.5,")
    epw = (FOLDER / "epw_actual_year.epw").read_bytes().replace(b"-79.90,-5.0", b"-79.90,5.5")
    for data, name in ((nsrdb, "n.csv"), (epw, "e.epw")):
        hours = read_history([(data, name)])
        assert set(hours.start_s % 3600) == {1800}
        assert hours.zone == "UTC+05:30"
    first = int(np.datetime64("2019-10-11T23:30", "s").astype(int))
    assert read_history([(nsrdb, "n.csv")]).start_s[0] == first
    broken = nsrdb.replace(b",5.5,240,", b",east,240,")
    with pytest.raises(BadWeather, match="its facts tell no time zone"):
        read_history([(broken, "n.csv")])


@pytest.mark.parametrize(
    ("name", "seen"),
    [
        ("nsrdb_no_direction.csv", "no wind direction"),
        ("asos_two_stations.csv", "several stations \\(QQQ, RRR\\)"),
        ("asos_unknown_zone.csv", "unknown zone Mars/Olympus"),
        ("epw_quarter_hours.epw", "4 records an hour"),
    ],
)
def test_what_is_refused(name, seen):
    with pytest.raises(BadWeather, match=f"^{name}: .*{seen}"):
        read(name)


def test_the_command_line_says_what_kind_of_wind_it_is(capsys):
    from core.__main__ import main

    assert main(["wind", str(FOLDER / "tmy3_seam.csv"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["format"], told["kind"], told["zone"]) == ("tmy3", "typical", "UTC-05:00")
    assert told["source"].endswith("MADE UP FIELD: a typical year, no real one")
    assert [h["state"] for h in told["hours"]] == [
        "calm",
        "directed",
        "variable",
        "missing",
        "directed",
    ]
    assert told["hours"][0]["start"] == "2001-03-01T03:00:00+00:00"


def test_every_trap_file_is_used():
    used = Path(__file__).read_text(encoding="utf-8")
    assert [n for n in NAMES if n not in used] == []
