"""The live forecast against a weather service on this machine."""

import dataclasses
import gzip
import json
import re
import threading
import time

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.errors import BadRequest, NoForecast, StandWindError
from core.units import MPS_PER_KMH, MPS_PER_KNOT
from core.weather.hours import DIRECTED, MISSING
from core.weather.services.kept import cache_folder, kept_files, newest
from core.weather.services.live import (
    age_words,
    fetch_camp_days,
    forecast_dict,
    forecast_for,
    notes_on,
)
from core.weather.services.service import drop_cache
from core.weather.services.sources import METEO_HOURLY, NWS, Services, rounded
from tests.weather_server import (
    FAR,
    GRID,
    LAT,
    LIST,
    LON,
    METEO,
    NEAR,
    NOW_S,
    POINT,
    PORTAL,
    Answer,
    WeatherServer,
    grid_body,
    iso,
    meteo_body,
    station_body,
    zipped,
)

HOUR_S = 3600
ABROAD = (13.4, 52.5)
SHORT = {"limit_s": 0.5, "answer_s": 0.3}  # for what does not come; else a busy machine has time


@pytest.fixture
def server():
    running = WeatherServer()
    yield running
    running.stop()


@pytest.fixture
def ask(server, tmp_path):
    """ask(...) is forecast_for with the loopback services and a folder of its own."""

    def go(center=(LON, LAT), now_s=NOW_S, limits=None, **more):
        at = server.services(**(limits or {}))
        return forecast_for(center, tmp_path, now_s=now_s, at=at, **more)

    return go


# --- what is asked, and what leaves the machine ---


def test_a_forecast_of_the_national_weather_service(ask, server):
    kept = ask()
    assert server.seen == [POINT, GRID, LIST, NEAR]
    assert (kept.source, kept.trouble) == ("nws", None)
    assert kept.hours.wind_from_deg[0] == 320
    assert kept.hours.speed_mps[0] == pytest.approx(6 * MPS_PER_KNOT)
    assert kept.horizon_s == NOW_S + 45 * HOUR_S
    assert kept.hours.fetched_s == NOW_S and kept.updated_s == NOW_S - HOUR_S


def test_only_rounded_places_and_the_programs_name_leave(ask, server):
    ask()
    ask(center=ABROAD)
    sent = " ".join(server.seen) + json.dumps(server.headers)
    for secret in (str(LON), str(LAT), "82.444", "40.005"):
        assert secret not in sent
    known = {"Host", "User-Agent", "Accept-Encoding", "Accept", "Connection", "Cache-Control"}
    assert {name for headers in server.headers for name in headers} <= known
    assert {h["User-Agent"] for h in server.headers} == {Services().agent}
    assert {h["Accept"] for h in server.headers} == {"application/geo+json"}


def test_a_first_request_asks_for_nothing_old(ask, server):
    ask()
    assert [h.get("Cache-Control") for h in server.headers] == [None] * 4


def test_passwords_of_other_programs_stay_here(ask, server, tmp_path, monkeypatch):
    (tmp_path / "netrc").write_text("machine 127.0.0.1 login me password secret")
    monkeypatch.setenv("NETRC", str(tmp_path / "netrc"))
    ask()
    assert not any("Authorization" in h for h in server.headers)


def test_elsewhere_open_meteo_is_asked_once(ask, server):
    kept = ask(center=ABROAD)
    assert len(server.seen) == 1
    path, _, query = server.seen[0].partition("?")
    asked = dict(part.split("=") for part in query.split("&"))
    assert path == METEO
    assert (asked["latitude"], asked["longitude"]) == ("52.5", "13.4")
    assert (asked["timezone"], asked["hourly"]) == ("GMT", METEO_HOURLY)
    assert kept.attribution == ("Weather data by Open-Meteo.com", "https://open-meteo.com/")
    assert (kept.updated_s, kept.station) == (None, None)
    assert kept.hours.speed_mps[0] == 3.0


SYDNEY = (151.21, -33.87)


@pytest.mark.parametrize("place", [SYDNEY, (LAT, LON)], ids=["elsewhere", "swapped"])
def test_an_answer_for_another_place_is_refused_and_not_kept(ask, server, tmp_path, place):
    cell = {"type": "Point", "coordinates": list(place)}
    server.answers[METEO] = Answer(meteo_body(place=place))
    server.answers[GRID] = Answer(grid_body() | {"geometry": cell})
    for source in ("nws", "open-meteo"):
        with pytest.raises(NoForecast, match=r"miles .* of this ground") as fault:
            ask(source=source)
        assert ("swapped" in fault.value.text()) == (place != SYDNEY)
    assert not kept_files(tmp_path, rounded((LON, LAT)))


def test_an_answer_for_a_place_some_miles_off_is_kept_and_said(ask, server):
    cell = {"type": "Point", "coordinates": [LON, LAT + 0.2]}  # 0.2 degrees are 13.8 miles
    server.answers[GRID] = Answer(grid_body() | {"geometry": cell})
    for kept in (ask(), ask(offline=True)):
        assert notes_on(kept, (LON, LAT))[0].startswith("it is for a place 14 miles N of this")


def test_a_look_up_that_was_cached_for_another_place_is_asked_anew(ask, server):
    point = server.answers[POINT].body
    astray = {"type": "Point", "coordinates": list(SYDNEY)}
    server.answers[POINT] = Answer(point | {"geometry": astray})
    with pytest.raises(NoForecast, match="miles"):
        ask(source="nws")
    server.answers[POINT] = Answer(point)
    assert ask(source="nws").source == "nws"


def test_a_kept_forecast_of_another_place_is_passed_over(ask, tmp_path):
    kept = ask()
    (path,) = kept_files(tmp_path, kept.place)
    record = json.loads(gzip.decompress(path.read_bytes()))
    record["body"]["geometry"] = {"type": "Point", "coordinates": list(SYDNEY)}
    path.write_bytes(gzip.compress(json.dumps(record).encode()))
    assert newest(tmp_path, kept.place, NOW_S) is None


def test_a_source_can_be_chosen(ask, server):
    assert ask(source="open-meteo").source == "open-meteo"
    assert POINT not in server.seen
    with pytest.raises(BadRequest, match="'almanac'"):
        ask(source="almanac")


def test_a_place_over_the_border_gets_the_other_source(ask, server):
    server.answers[POINT] = Answer({"title": "Data Unavailable For Requested Point"}, 404)
    assert ask().source == "open-meteo"
    with pytest.raises(NoForecast, match=r"no forecast for 41, -82\.44.*Open-Meteo"):
        ask(center=(LON, 41.0), source="nws")


# --- the cache, and asking again ---


def test_within_minutes_nothing_is_asked_twice(ask, server):
    ask()
    server.seen.clear()
    again = ask()
    assert server.seen == []
    assert again.station.name == "Near Field"
    assert ask(fresh=True).trouble is None
    assert server.seen == [GRID]


def test_after_a_quarter_of_an_hour_it_is_asked_again(ask, server):
    ask()
    server.seen.clear()
    assert ask(now_s=NOW_S + 899).fetched_s == NOW_S
    assert server.seen == []
    assert ask(now_s=NOW_S + 900).fetched_s == NOW_S + 900
    assert server.seen == [GRID]  # the place and the station are known for longer


def test_no_stale_copy_can_stand_in_for_a_forecast(ask, server, tmp_path):
    server.answers[GRID] = Answer(
        grid_body(), headers={"ETag": '"one"', "Last-Modified": "Tue, 10 Nov 2026 00:00:00 GMT"}
    )
    ask()
    server.headers.clear()
    ask(fresh=True)
    assert not {"If-None-Match", "If-Modified-Since"} & set(server.headers[0])
    assert not any(b"skyCover" in p.read_bytes() for p in cache_folder(tmp_path).iterdir())


def test_nothing_new_where_nothing_was_is_no_forecast(ask, server):
    server.answers[GRID] = Answer(b"", 304)
    with pytest.raises(NoForecast, match="nothing is there"):
        ask()


def test_a_grid_that_moved_is_looked_up_again(ask, server):
    ask()
    moved = "/gridpoints/XYZ/32,44"
    server.answers[GRID] = Answer({"title": "Not Found"}, 404)
    server.answers[moved] = Answer(grid_body(wind=90))
    point = {"properties": {"forecastGridData": f"{server.url}{moved}"}}
    server.answers[POINT] = Answer(point)
    server.seen.clear()
    kept = ask(fresh=True)
    assert server.seen == [GRID, POINT, moved]
    assert kept.hours.wind_from_deg[0] == 90


def test_a_grid_that_stays_away_ends_in_one_message(ask, server):
    server.answers[GRID] = Answer({"title": "Not Found"}, 404)
    with pytest.raises(NoForecast, match="404 Not Found"):
        ask()


def test_a_moved_address_is_followed_on_the_same_host(ask, server):
    server.answers["/points/again"] = server.answers[POINT]
    server.answers[POINT] = Answer(b"", 301, {"Location": "/points/again"})
    assert ask().trouble is None
    assert server.seen[:3] == [POINT, "/points/again", GRID]


def test_an_answer_that_names_another_host_is_not_followed(ask, server):
    server.answers[POINT] = Answer({"properties": {"forecastGridData": "http://127.0.0.1:9/x"}})
    with pytest.raises(NoForecast, match=r"leads elsewhere \(127\.0\.0\.1:9\)"):
        ask()


def test_packed_answers_are_read(ask, server):
    server.answers[GRID] = zipped(grid_body())
    assert len(ask().hours) == 48


def test_one_failure_is_tried_once_more(ask, server):
    server.answers[GRID] = [Answer({}, 500), Answer(grid_body())]
    assert ask().trouble is None
    server.answers[GRID] = [Answer(drop=True), Answer(grid_body(wind=10))]
    assert ask(fresh=True).hours.wind_from_deg[0] == 10


# --- nothing that is no forecast replaces a forecast ---

BAD_ANSWERS = {
    "portal": (Answer(PORTAL), "web page"),
    "portal elsewhere": (Answer(b"", 302, {"Location": "http://127.0.0.1:9/"}), "leads elsewhere"),
    "round in a circle": (Answer(b"", 302, {"Location": GRID}), "in a circle"),
    "error 500": (Answer({"title": "Unexpected Problem"}, 500), "500 Unexpected Problem"),
    "error 503": (Answer({"title": "Forecast Grid Expired"}, 503), "503 Forecast Grid Expired"),
    "error page": (Answer(PORTAL, 502), "502"),
    "refused": (Answer({}, 403), "403"),
    "nothing": (Answer(b""), "empty"),
    "no content": (Answer(b"", 204), "204"),
    "other JSON": (Answer({"hello": 1}), "not a forecast"),
    "no hours": (Answer({"properties": {"windSpeed": {"values": []}}}), "no hours of wind"),
    "empty periods": (Answer({"properties": {"periods": []}}), "forecast"),
    "a table": (Answer(b"time,wind speed mph,wind direction\n"), "not a forecast"),
    "another format": (Answer(meteo_body()), "open-meteo, not nws-gridpoint"),
    "no values": (Answer(grid_body(kmh=None)), "wind"),
    "half a body": (Answer(json.dumps(grid_body()).encode()[:4000]), "no forecast that can be"),
    "cut off": (Answer(grid_body(), cut=True), "cut off"),
    "no gzip": (Answer(b"xx", headers={"Content-Encoding": "gzip"}), "can't be reached|cut off"),
    "dropped": (Answer(drop=True), "can't be reached"),
    "late": (Answer(grid_body(), wait_s=1), "in time"),
    "too much": (Answer(b" " * 10_100_000), "over 10 MB"),
    "ended": (Answer(grid_body(first_s=NOW_S - 60 * HOUR_S)), "ended 12 h ago"),
}


@pytest.mark.parametrize("name", BAD_ANSWERS)
def test_the_kept_forecast_outlives(name, ask, server, tmp_path):
    first = ask(now_s=NOW_S - HOUR_S)
    files = kept_files(tmp_path, rounded((LON, LAT)))
    server.answers[GRID], seen = BAD_ANSWERS[name]
    began = time.monotonic()
    kept = ask(fresh=True, limits=SHORT if name == "late" else None)
    assert time.monotonic() - began < 10
    assert re.search(seen, kept.trouble), kept.trouble
    assert kept.trouble.endswith("The kept one is used.")
    assert age_words(kept, NOW_S) == "from 60 min ago; the forecasters' update 60 min ago"
    assert np.array_equal(kept.hours.wind_from_deg, first.hours.wind_from_deg)
    assert kept_files(tmp_path, rounded((LON, LAT))) == files
    server.usual()
    assert ask(now_s=NOW_S + HOUR_S, fresh=True).trouble is None


@pytest.mark.parametrize("name", BAD_ANSWERS)
def test_without_a_kept_one_it_ends_in_one_message(name, ask, server):
    server.answers[GRID], seen = BAD_ANSWERS[name]
    with pytest.raises(NoForecast) as caught:
        ask(limits=SHORT if name == "late" else None)
    assert re.search(seen, caught.value.text()), caught.value.text()
    assert "No earlier forecast is kept for this ground" in caught.value.fix


def test_a_dripping_answer_ends_at_the_limit_and_progress_is_told(ask, server):
    server.answers[GRID] = Answer(grid_body(), drip_s=0.05)
    told = []
    began = time.monotonic()
    with pytest.raises(NoForecast, match=r"no answer within 0\.3 s"):
        ask(limits={"limit_s": 0.3}, progress=lambda words, part: told.append((words, part)))
    assert time.monotonic() - began < 3
    assert len(told) >= 3 and "asking 127.0.0.1" in told[0][0]
    parts = [part for _, part in told]
    assert parts == sorted(parts) and parts[0] >= 0 and parts[-1] <= 1


def test_the_usual_limits_end_within_ten_seconds():
    assert Services().limit_s < 10


def test_no_signal(ask, server):
    ask()
    server.stop()
    kept = ask(now_s=NOW_S + 14 * HOUR_S, fresh=True)
    assert "can't be reached" in kept.trouble
    words = age_words(kept, NOW_S + 14 * HOUR_S)
    assert words == "from 14 h ago; the forecasters' update 15 h ago"


def test_an_older_forecast_does_not_replace_a_newer_one(ask, server, tmp_path):
    ask()
    server.answers[GRID] = Answer(grid_body(wind=10, updated_s=NOW_S - 30 * HOUR_S))
    kept = ask(now_s=NOW_S + HOUR_S, fresh=True)
    assert kept.hours.wind_from_deg[0] == 320
    assert kept.trouble == (
        "National Weather Service sent an older forecast, updated 31 h ago: the newer one is used."
    )
    assert newest(tmp_path, rounded((LON, LAT)), NOW_S + 2 * HOUR_S).hours.wind_from_deg[0] == 320


# --- the kept one ---


def test_offline_asks_nobody_and_ends_at_the_horizon(ask, server):
    with pytest.raises(NoForecast, match="no forecast is kept for this ground"):
        ask(offline=True)
    ask()
    server.seen.clear()
    kept = ask(offline=True, now_s=NOW_S + 44 * HOUR_S)
    assert kept.trouble is None and server.seen == []
    assert kept.hours.start_s[-1] == NOW_S + 44 * HOUR_S
    after = kept.hours.at_rows([NOW_S + 44 * HOUR_S, NOW_S + 45 * HOUR_S])
    assert list(after.state) == [DIRECTED, MISSING]
    with pytest.raises(NoForecast, match=r"from 45 h ago.*ended just now"):
        ask(offline=True, now_s=NOW_S + 45 * HOUR_S)
    server.stop()
    with pytest.raises(NoForecast, match=r"ended 5 h ago.*can't be reached"):
        ask(now_s=NOW_S + 50 * HOUR_S, fresh=True)


def test_blank_ends_and_hours_long_past_are_left_out(ask, server):
    body = grid_body(first_s=NOW_S - 30 * HOUR_S, hours=60)
    for entry in body["properties"]["windSpeed"]["values"][50:]:
        entry["value"] = None
    server.answers[GRID] = Answer(body)
    kept = ask()
    assert kept.hours.start_s[0] == NOW_S - 18 * HOUR_S
    assert kept.horizon_s == NOW_S + 20 * HOUR_S == kept.hours.start_s[-1] + HOUR_S


def test_a_broken_kept_file_is_passed_over(ask, tmp_path):
    ask()
    ask(now_s=NOW_S + HOUR_S, fresh=True)
    last, first = kept_files(tmp_path, rounded((LON, LAT)))
    whole = last.read_bytes()
    for broken in (
        b"",
        b"rubbish",
        whole[:200],
        whole[:-9],
        whole[:60] + b"\0" * 80 + whole[140:],
        gzip.compress(b"[]"),
        gzip.compress(b'{"kept": 1}'),
    ):
        last.write_bytes(broken)
        assert ask(offline=True, now_s=NOW_S + HOUR_S).fetched_s == NOW_S
    first.unlink()
    with pytest.raises(NoForecast, match="no forecast is kept"):
        ask(offline=True, now_s=NOW_S + HOUR_S)


def test_what_is_kept_is_small_and_gives_the_same_hours(ask, tmp_path):
    fresh = ask()
    kept = ask(offline=True)
    [path] = kept_files(tmp_path, rounded((LON, LAT)))
    for field in dataclasses.fields(fresh.hours):
        a, b = getattr(fresh.hours, field.name), getattr(kept.hours, field.name)
        same = np.array_equal(a, b, equal_nan=True) if isinstance(a, np.ndarray) else a == b
        assert same, field.name
    assert kept.station == fresh.station
    assert path.stat().st_size < 4000
    assert b"hazards" not in gzip.decompress(path.read_bytes())


def test_a_ground_whose_middle_moved_keeps_its_forecast(ask):
    ask()
    kept = ask(center=(LON + 0.03, LAT), offline=True)
    assert notes_on(kept, (LON + 0.03, LAT)) == ("it was fetched for a place 3 km away",)
    assert notes_on(kept, (LON, LAT)) == ()
    with pytest.raises(NoForecast):
        ask(center=(LON + 0.2, LAT), offline=True)


def test_a_chosen_source_is_not_answered_by_the_other(ask):
    ask()
    with pytest.raises(NoForecast):
        ask(source="open-meteo", offline=True)
    assert ask(source=NWS, offline=True).source == NWS


def test_a_forecast_dated_ahead_by_a_wrong_clock_comes_last(ask):
    ask(now_s=NOW_S + 30 * HOUR_S)
    ahead = ask(offline=True)
    assert age_words(ahead, NOW_S) == "dated ahead of this machine's clock: check the clock"
    ask(now_s=NOW_S - HOUR_S, fresh=True)
    assert ask(offline=True).fetched_s == NOW_S - HOUR_S


def test_a_disk_that_takes_nothing_is_said(ask, tmp_path):
    (tmp_path / "forecasts").write_text("a file stands where the folder should")
    kept = ask()
    assert kept.trouble.startswith("It could not be kept for later: ")
    assert len(kept.hours) == 48


# --- the HTTP cache can break in any way ---


@pytest.mark.parametrize(
    "broken", [b"", b"rubbish", b"{}", b"[]", b"null", b'{"status_code": 200}', b"\xff\xfe\x00"]
)
def test_a_corrupt_cache_is_done_without(broken, ask, server, tmp_path):
    ask()
    for path in cache_folder(tmp_path).iterdir():
        path.write_bytes(broken)
    server.answers[GRID] = Answer(grid_body(wind=200))
    kept = ask(fresh=True)
    assert (kept.trouble, kept.hours.wind_from_deg[0]) == (None, 200)
    assert ask(fresh=True).trouble is None


def test_a_file_in_the_caches_place_is_done_without(ask, tmp_path):
    (tmp_path / "forecasts").mkdir()
    cache_folder(tmp_path).write_bytes(b"SQLite format 3")
    assert ask().trouble is None
    assert ask(fresh=True).trouble is None


def test_a_cached_answer_that_fails_its_check_is_asked_again(ask, server, tmp_path):
    ask()
    for path in cache_folder(tmp_path).iterdir():
        entry = json.loads(path.read_text())
        if entry["url"].endswith(POINT):
            entry["_decoded_content"] = "<html>sign in</html>"
            path.write_text(json.dumps(entry))
    server.seen.clear()
    assert ask(fresh=True).trouble is None
    assert server.seen == [POINT, GRID]


# --- two at once, and connections that stay open ---


def test_two_tabs_at_once(server, tmp_path):
    found, faults = [], []

    def tab(n: int) -> None:
        try:
            at = server.services(limit_s=5, answer_s=4)
            for turn in range(3):
                now_s = NOW_S + turn
                found.append(forecast_for((LON, LAT), tmp_path, now_s=now_s, at=at, fresh=n % 2))
        except Exception as fault:
            faults.append(fault)

    tabs = [threading.Thread(target=tab, args=(n,)) for n in range(4)]
    for each in tabs:
        each.start()
    for each in tabs:
        each.join()
    assert faults == []
    assert [k.trouble for k in found] == [None] * 12
    assert newest(tmp_path, rounded((LON, LAT)), NOW_S + 9).hours.wind_from_deg[0] == 320


def test_a_kept_alive_connection_is_used_and_its_end_survived(tmp_path):
    server = WeatherServer("HTTP/1.1")
    at = server.services()
    first = forecast_for((LON, LAT), tmp_path, now_s=NOW_S, at=at)
    assert first.trouble is None
    assert len(server.seen) == 4 and len(server.connections) == 1
    server.answers[GRID] = [
        Answer(grid_body(), headers={"Connection": "close"}),
        Answer(grid_body()),
    ]
    (tmp_path / "other").mkdir()
    assert forecast_for((LON, LAT), tmp_path / "other", now_s=NOW_S, at=at).trouble is None
    assert len(server.connections) == 3
    server.stop()
    # nothing is left open: no answer can come over the old connection
    kept = forecast_for((LON, LAT), tmp_path, now_s=NOW_S + 60, at=at, fresh=True)
    assert "can't be reached" in kept.trouble


# --- for camp, and the station ---


def test_the_next_days_for_camp_are_asked_anew_to_the_last_hour(ask, server, tmp_path):
    ask()
    server.answers[GRID] = Answer(grid_body(hours=170, wind=45))
    camp = fetch_camp_days((LON, LAT), tmp_path, now_s=NOW_S, at=server.services())
    assert camp.horizon_s == NOW_S + 167 * HOUR_S
    assert ask(offline=True, now_s=NOW_S + 160 * HOUR_S).hours.wind_from_deg[0] == 45


def test_the_station_report_beside_the_forecast(ask):
    report = forecast_dict(ask(), (LON, LAT), NOW_S)
    station = report["station"]
    assert station["words"] == (
        "Near Field, 7 mi off, said W 6 mph 25 min ago; the forecast said NW 7 mph."
    )
    assert station["wind_speed_mps"] == pytest.approx(9.26 * MPS_PER_KMH, abs=1e-3)
    assert station["forecast"]["wind_from_deg"] == 320
    assert station["age_h"] == pytest.approx(0.42, abs=0.01)


@pytest.mark.parametrize(
    "no_use",
    [
        Answer(PORTAL),
        Answer({}, 404),
        Answer(b"{"),
        Answer([1]),
        Answer(station_body(kmh=None)),
        Answer(station_body(kmh=-5)),
        Answer(station_body(windSpeed={"unitCode": "wmoUnit:league", "value": 3})),
        Answer(station_body(timestamp="today")),
        Answer(station_body(timestamp="2026-11-09T12:00:00")),
    ],
)
def test_a_station_without_a_wind_is_passed_over(no_use, ask, server):
    server.answers[NEAR] = no_use
    kept = ask()
    assert (kept.trouble, kept.station.id, kept.station.name) == (None, "KBBB", "Far Field")


@pytest.mark.parametrize("listed", [Answer(PORTAL), Answer({}, 500), Answer({"features": [1, {}]})])
def test_the_forecast_stands_without_a_station(listed, ask, server):
    server.answers[LIST] = listed
    kept = ask()
    assert (kept.trouble, kept.station) == (None, None)
    assert forecast_dict(kept, (LON, LAT), NOW_S)["station"] is None


def test_a_station_in_other_country_is_not_asked(ask, server):
    server.answers[NEAR] = server.answers[FAR] = Answer({}, 404)
    assert ask().station is None
    assert not any("KCCC" in path for path in server.seen)


def test_a_slow_station_does_not_cost_the_forecast(ask, server):
    server.answers[NEAR] = server.answers[FAR] = Answer(station_body(), wait_s=2)
    kept = ask(limits={"limit_s": 0.8})
    assert (kept.trouble, kept.station) == (None, None)
    assert len(kept.hours) == 48


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"kmh": 0, "wind": 0}, "said calm 25"),
        ({"kmh": 5.4, "wind": None}, "said variable 3 mph"),
        ({"kmh": 5.4, "wind": 0, "rawMessage": "KAAA 091935Z VRB03KT"}, "said variable 3 mph"),
        ({"kmh": 5.4, "wind": 0, "rawMessage": "KAAA 091935Z 36003KT"}, "said N 3 mph"),
        ({"at_s": NOW_S - 2 * HOUR_S}, "said W 6 mph 2 h ago"),
    ],
)
def test_what_a_station_says(changes, said, ask, server):
    server.answers[NEAR] = Answer(station_body(**changes))
    assert said in forecast_dict(ask(), (LON, LAT), NOW_S)["station"]["words"]


def test_an_old_station_report_is_data_but_not_said(ask):
    ask()
    late = NOW_S + 4 * HOUR_S
    station = forecast_dict(ask(offline=True, now_s=late), (LON, LAT), late)["station"]
    assert (station["words"], station["age_h"]) == ("", 4.42)


# --- what comes is damaged in any way ---


@given(st.sampled_from([GRID, LIST, NEAR, POINT]), st.data())
@settings(max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_damaged_answer_ends_in_a_forecast_or_one_message(fuzzed, which, data):
    server, folder = fuzzed
    server.usual()
    whole = server.answers[which].data()
    at = data.draw(st.integers(0, len(whole) - 1))
    piece = data.draw(st.sampled_from([b"", b"null", b"[]", b"{}", b"0", b'"', b"NaN", b"\xff"]))
    cut = data.draw(st.integers(0, 60))
    server.answers[which] = Answer(whole[:at] + piece + whole[at + cut :])
    place = (LON, LAT)
    drop_cache(cache_folder(folder))
    try:
        kept = forecast_for(place, folder, now_s=NOW_S, at=server.services(), fresh=True)
    except NoForecast as fault:
        assert fault.where and fault.fix
    else:
        assert len(kept.hours) >= 1
        json.dumps(forecast_dict(kept, place, NOW_S), allow_nan=False)


@pytest.fixture
def fuzzed(server, tmp_path):
    return server, tmp_path


# --- words ---


def test_the_report_says_all_ages(ask):
    ask()
    late = NOW_S + 14 * HOUR_S
    report = forecast_dict(ask(offline=True, now_s=late), (LON, LAT), late)
    assert report["format"] == "nws-gridpoint" and report["source"] == "nws"
    assert report["fetched"] == iso(NOW_S) and report["updated"] == iso(NOW_S - HOUR_S)
    assert (report["age_h"], report["updated_age_h"]) == (14.0, 15.0)
    assert report["horizon"] == iso(NOW_S + 45 * HOUR_S)
    assert report["place"] == {"latitude": 40.01, "longitude": -82.44}
    assert report["hours"][0]["wind_from_deg"] == 320.0
    json.dumps(report, allow_nan=False)


def test_open_meteo_says_no_update(ask, server):
    server.answers[METEO] = Answer(meteo_body(hours=384))
    kept = ask(center=ABROAD)
    report = forecast_dict(kept, ABROAD, NOW_S)
    assert (report["updated"], report["updated_age_h"]) == (None, None)
    assert report["age"] == "fetched just now; Open-Meteo does not say when it was updated"
    assert report["horizon"] == iso(NOW_S + 382 * HOUR_S)


def test_every_failure_is_of_the_programs_own_kind(ask, server):
    for name, (answer, _) in BAD_ANSWERS.items():
        server.all_answer(answer)
        for center in ((LON, LAT), ABROAD):
            if name not in ("late", "another format"):
                with pytest.raises(StandWindError):
                    ask(center=center)


def test_an_answer_that_can_not_be_kept_leaves_the_kept_one(monkeypatch, server, tmp_path):
    from core.errors import BadWeather
    from core.weather.services import live

    live.forecast_for((LON, LAT), tmp_path, now_s=NOW_S, at=server.services())

    def broken(_record, where):
        raise BadWeather("no wind in it", where, "Fetch it again.")

    monkeypatch.setattr(live, "from_record", broken)
    later = NOW_S + 3600
    kept = live.forecast_for((LON, LAT), tmp_path, now_s=later, at=server.services(), fresh=True)
    assert "no wind in it" in kept.trouble and kept.fetched_s == NOW_S
