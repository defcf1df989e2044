"""The history in one press, against an archive on this machine: all that its pages say it
answers (open-meteo.com/en/docs/historical-weather-api and /terms, read in stored copies of
August 2026)."""

import datetime
import gzip
import json
from urllib.parse import parse_qs

import numpy as np
import pytest

from core.errors import BadRequest, NoForecast
from core.ground.layout import Season
from core.weather.services.autumns import (
    autumn_file,
    autumn_of,
    autumns,
    kept_years,
    modelled_history,
    read_autumn,
)
from core.weather.services.history_press import fetch_autumns, said_before
from core.weather.services.sources import rounded
from core.weather.services.station_years import (
    fetch_station,
    measured_history,
    nearest_stations,
    station_line,
)
from tests.weather_server import Answer, WeatherServer

CENTER = (-82.44413, 40.00517)
PLACE = rounded(CENTER)
NOW_S = datetime.datetime(2026, 11, 27, 12, tzinfo=datetime.UTC).timestamp()
SEASONS = (Season("bow", "09-26", "01-31"), Season("gun", "11-30", "12-06"))
ARCHIVE, LIST = "/v1/archive", "/pub/data/noaa/isd-history.csv"


def archive(path: str, *, share: float = 1.0, east_deg: float = 0.0) -> Answer:
    """What the archive answers to its own address: hours of UTC, in m/s; `share` of them."""
    asked = {name: values[0] for name, values in parse_qs(path.partition("?")[2]).items()}
    first = datetime.datetime.fromisoformat(f"{asked['start_date']}T00:00+00:00").timestamp()
    last = datetime.datetime.fromisoformat(f"{asked['end_date']}T23:00+00:00").timestamp()
    n = round((last - first) / 3600) + 1
    known = round(n * share)
    columns = {
        "wind_speed_10m": 3.0,
        "wind_direction_10m": 250,
        "wind_gusts_10m": 9.0,
        "cloud_cover": 50,
        "temperature_2m": 4.0,
        "precipitation": 0.0,
    }
    return Answer(
        {
            # the middle of the cell of 0.25°, not of the ground
            "latitude": round(float(asked["latitude"]) * 4) / 4,
            "longitude": round(float(asked["longitude"]) * 4) / 4 + east_deg,
            "elevation": 300.0,
            "utc_offset_seconds": 0,
            "timezone": "GMT",
            "hourly_units": {"time": "unixtime", "wind_speed_10m": "m/s", "wind_gusts_10m": "m/s"},
            "hourly": {"time": [int(first) + 3600 * i for i in range(n)]}
            | {name: [v] * known + [None] * (n - known) for name, v in columns.items()},
        }
    )


def refused(reason: str, status: int = 429) -> Answer:
    return Answer({"error": True, "reason": reason}, status)


@pytest.fixture
def server():
    running = WeatherServer()
    running.answers[ARCHIVE] = archive
    yield running
    running.stop()


@pytest.fixture
def press(server, tmp_path):
    """press(years) gets them all; `press.waits` is how long it waited in between. [s]"""

    def go(years=3, now_s=NOW_S):
        more = {"now_s": now_s, "at": server.services(), "wait": go.waits.append}
        return list(fetch_autumns(SEASONS, CENTER, years, tmp_path, **more))

    go.waits = []
    return go


def asked_years(server) -> list[str]:
    queries = [parse_qs(path.partition("?")[2]) for path in server.seen]
    return [query["start_date"][0][:4] for query in queries]


# --- what is asked ---


def test_an_autumn_is_that_of_all_seasons_and_a_day_more_at_each_end():
    one = autumn_of(SEASONS, 2019)
    assert (one.first, one.last) == (datetime.date(2019, 9, 25), datetime.date(2020, 2, 1))
    assert one.n_hours == 130 * 24
    today = datetime.date(2026, 11, 27)
    found = autumns(SEASONS, 3, today)
    assert [a.year for a in found] == [2026, 2025, 2024]
    assert found[0].last == datetime.date(2026, 11, 21)  # the archive comes some days late
    assert autumns(SEASONS, 1, datetime.date(2026, 9, 28))[0].year == 2025  # none of it there yet


def test_one_request_an_autumn_of_one_model_with_the_rounded_place(press, server):
    got = press()
    assert [one.words for one in got] == [
        "autumn 2026, 1 of 3",
        "autumn 2025, 2 of 3",
        "autumn 2024, 3 of 3",
    ]
    asked = [parse_qs(path.partition("?")[2]) for path in server.seen]
    assert {path.partition("?")[0] for path in server.seen} == {ARCHIVE}
    assert [(q["start_date"][0], q["end_date"][0]) for q in asked] == [
        ("2026-09-25", "2026-11-21"),
        ("2025-09-25", "2026-02-01"),
        ("2024-09-25", "2025-02-01"),
    ]
    for query in asked:
        assert (query["latitude"], query["longitude"]) == (["40.01"], ["-82.44"])
        assert query["models"] == ["era5"]
        assert query["wind_speed_unit"] == ["ms"] and query["timezone"] == ["GMT"]
    sent = " ".join(server.seen) + json.dumps(server.headers)
    assert "82.444" not in sent and "40.005" not in sent
    assert press.waits == [1.0, 1.0]


def test_the_terms_and_where_it_goes_are_said_before():
    told = said_before(CENTER, 30)
    for word in ("archive-api.open-meteo.com", "40.01", "-82.44", "CC BY 4.0", "Copernicus"):
        assert word in told
    assert "guiding for pay is not" in told and "198 of 10,000" in told  # 30 times 6.6 calls
    assert "82.444" not in told


# --- kept for ever, gone on with ---


def test_what_is_kept_is_asked_for_no_more_and_needs_no_network(press, server, tmp_path):
    press()
    server.stop()
    assert press() == []  # nobody was asked
    hours = modelled_history(tmp_path, PLACE)
    assert hours.kind == "modelled"
    assert hours.source.endswith("of this ground, 3 autumns, 2024 to 2026")
    assert len(hours) == (58 + 130 + 130) * 24
    assert hours.speed_mps[0] == 3.0
    assert np.isnan(hours.gust_mps).all()
    notes = " ".join(hours.notes)
    assert "at most" in notes and "not measured" in notes
    assert "Weather data by Open-Meteo.com (https://open-meteo.com/" in notes
    moved = (PLACE[0] + 0.02, PLACE[1])  # a corner was drawn on, and the middle with it
    assert len(modelled_history(tmp_path, moved)) == len(hours)
    assert modelled_history(tmp_path, (PLACE[0] + 1, PLACE[1])) is None


def test_stopped_after_one_it_goes_on_with_the_others(server, tmp_path):
    more = {"now_s": NOW_S, "at": server.services(), "wait": lambda _: None}
    running = fetch_autumns(SEASONS, CENTER, 3, tmp_path, **more)
    assert next(running).done == 1
    running.close()
    assert kept_years(tmp_path, PLACE) == [2026]
    assert [got.year for got in fetch_autumns(SEASONS, CENTER, 3, tmp_path, **more)] == [2025, 2024]
    assert asked_years(server) == ["2026", "2025", "2024"]


def test_a_year_with_holes_is_said_asked_for_again_and_never_replaced_by_less(
    press, server, tmp_path
):
    server.answers[ARCHIVE] = lambda path: archive(path, share=0.9)
    (got,) = press(1)
    assert "hours are missing" in got.words and got.done == 0
    path = autumn_file(tmp_path, PLACE, 2026)
    before = path.read_bytes()
    server.answers[ARCHIVE] = lambda path: archive(path, share=0.5)
    press(1)
    assert path.read_bytes() == before
    server.answers[ARCHIVE] = archive
    assert press(1)[0].done == 1
    assert len(read_autumn(path)) == 58 * 24
    assert press(1) == []


# --- what the archive may answer besides ---


def test_a_full_minute_is_waited_for_once(press, server):
    reason = "Minutely API request limit exceeded. Please try again in one minute."
    good, asked = archive, []

    def twice(path):
        asked.append(path)
        return refused(reason) if len(asked) == 1 else good(path)

    server.answers[ARCHIVE] = twice
    assert press(2)[-1].done == 2
    assert press.waits == [60.0, 1.0]
    server.answers[ARCHIVE] = refused(reason)
    press.waits.clear()
    with pytest.raises(NoForecast, match=r"press again in some minutes. 2 of 4 autumns are kept"):
        press(4)
    assert press.waits == [60.0]


def test_a_second_full_minute_is_not_waited_for(press, server):
    asked = []

    def first_and_third(path):
        asked.append(path)
        full = len(asked) in (1, 3)
        return refused("Minutely API request limit exceeded.") if full else archive(path)

    server.answers[ARCHIVE] = first_and_third
    with pytest.raises(NoForecast, match="1 of 3 autumns are kept"):
        press(3)
    assert press.waits == [60.0, 1.0]


@pytest.mark.parametrize(
    ("reason", "when", "waits"),
    [
        ("Hourly API request limit exceeded. Please try again in the next hour.", "an hour", 0),
        ("Daily API request limit exceeded. Please try again tomorrow.", "after midnight UTC", 0),
        ("Too many concurrent requests", "some minutes", 1),
    ],
)
def test_other_limits_stop_it_and_say_when_to_go_on(press, server, reason, when, waits):
    server.answers[ARCHIVE] = refused(reason)
    with pytest.raises(NoForecast) as told:
        press()
    assert when in told.value.text() and reason[:30] in told.value.text()
    assert "0 of 3 autumns are kept" in told.value.text()
    assert len(press.waits) == waits
    assert len(server.seen) == 1 + waits


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (refused("Parameter 'start_date' is out of allowed range", 400), "out of allowed range"),
        (Answer(b"<html>sign in</html>"), "a web page came"),
        (Answer({"hourly": {}}), "no forecast that can be used"),
        (Answer(b'{"latitude": 40.0, "hourly": {"time": [1, 2'), "broken JSON"),
        (Answer({"latitude": 40.0}, 200, cut=True), "cut off"),
        (Answer(status=301, headers={"Location": "https://evil.example/x"}), "leads elsewhere"),
    ],
    ids=["400", "portal", "empty", "half", "cut", "elsewhere"],
)
def test_an_answer_that_is_none_is_not_kept(press, server, tmp_path, answer, said):
    server.answers[ARCHIVE] = answer
    with pytest.raises(NoForecast, match=said):
        press(1)
    assert kept_years(tmp_path, PLACE) == []


def test_the_cell_of_another_place_is_refused(press, server, tmp_path):
    server.answers[ARCHIVE] = lambda path: archive(path, east_deg=3.0)
    with pytest.raises(NoForecast, match="it is for a place"):
        press(1)
    assert kept_years(tmp_path, PLACE) == []


def test_a_kept_file_that_is_broken_is_asked_for_again(press, tmp_path):
    press(1)
    autumn_file(tmp_path, PLACE, 2026).write_bytes(gzip.compress(b"{}"))
    assert modelled_history(tmp_path, PLACE) is None
    assert press(1)[0].done == 1


# --- measured wind ---


def listed(*rows: str) -> Answer:
    """The list of stations, in the columns of NCEI's isd-history.csv."""
    names = "USAF,WBAN,STATION NAME,CTRY,STATE,ICAO,LAT,LON,ELEV(M),BEGIN,END"
    lines = [",".join(f'"{part}"' for part in line.split(",")) for line in (names, *rows)]
    return Answer("\n".join(lines).encode())


STATIONS = listed(
    "720001,00001,NEAR FIELD,US,OH,KAAA,+40.100,-082.440,+0300.0,20100101,20261120",
    "720002,00002,CLOSED FIELD,US,OH,KBBB,+40.010,-082.440,+0300.0,19700101,20191231",
    "720003,00003,NOWHERE,US,OH,KCCC,,,,20100101,20261120",
    "720004,00004,FAR FIELD,US,OH,KDDD,+41.500,-082.440,-0999.9,20000101,20261120",
)


def isd_year(year: int) -> Answer:
    """A year of ISD-Lite, packed, as its format note has it: NW at 3 m/s all the time."""
    rows = []
    for day in range(365):
        date = datetime.date(year, 1, 1) + datetime.timedelta(days=day)
        rows += [
            f"{date:%Y %m %d} {hour:02d}    50   -10 10132   310    30     0 -9999 -9999"
            for hour in range(24)
        ]
    return Answer(gzip.compress("\n".join(rows).encode()))


def test_the_nearest_stations_that_still_report_are_offered_with_distance_height_and_years(server):
    server.answers[LIST] = STATIONS
    found = nearest_stations(CENTER, now_s=NOW_S, at=server.services())
    assert [one.id for one in found] == ["720001-00001", "720004-00004"]
    # a degree of latitude is 69 miles: 0.095 degrees are 6.5
    assert station_line(found[0]) == (
        "720001-00001  Near Field, 7 miles off, at 984 ft, 2010 to 2026"
    )
    assert "164 ft higher than the ground" in station_line(found[0], ground_m=250.0)  # 50 m
    assert " ft" not in station_line(found[1]) and "far for a ground" in station_line(found[1])
    assert server.seen == [LIST]  # which tells nothing of the ground
    server.answers[LIST] = Answer(b"<html>moved</html>")
    with pytest.raises(NoForecast, match="web page"):
        nearest_stations(CENTER, now_s=NOW_S, at=server.services())


def test_the_years_of_a_station_are_fetched_and_kept_and_a_missing_one_is_no_fault(
    server, tmp_path
):
    for year in (2024, 2025):
        server.answers[f"/pub/data/noaa/isd-lite/{year}/720001-00001-{year}.gz"] = isd_year(year)
    more = {"now_s": NOW_S, "at": server.services(), "wait": lambda _: None}
    args = (SEASONS, CENTER, 3, "720001-00001", tmp_path)
    got = list(fetch_station(*args, **more))
    assert [one.words for one in got] == [
        "2026, which this list does not have: 0 of 3",
        "2025, 1 of 3",
        "2024, 2 of 3",
    ]
    hours = measured_history(tmp_path, PLACE)
    assert (hours.kind, hours.wind_from_deg[0]) == ("measured", 310)
    assert hours.source == "station 720001-00001: measured wind, 2024 to 2025"
    server.seen.clear()
    list(fetch_station(*args, **more))
    assert [path[-11:-3] for path in server.seen] == ["001-2026", "001-2025"]  # may have grown
    with pytest.raises(BadRequest, match="no station"):
        list(fetch_station(SEASONS, CENTER, 3, "../x", tmp_path, **more))
