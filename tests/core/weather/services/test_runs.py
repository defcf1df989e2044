"""The runs of a model, against a service on this machine: all that its pages say it answers
(open-meteo.com/en/docs/ensemble-api, read in stored copies of August 2026)."""

import json
from urllib.parse import parse_qs

import numpy as np
import pytest

from core.__main__ import main
from core.errors import NoForecast
from core.ground.store import demo_path, open_property
from core.weather.model_runs import ModelRuns, blows_to, came_from_deg
from core.weather.services.runs import FOLDER, fetch_runs, kept_runs, read_runs, said_before
from core.weather.services.sources import rounded
from tests.weather_server import PORTAL, Answer, WeatherServer

CENTER = (-82.44413, 40.00517)
PLACE = rounded(CENTER)
NOW_S, HOUR_S = 1_794_240_000, 3600  # 9 Nov 2026, 16 UTC
RUNS = "/v1/ensemble"


def body(n_runs=51, hours=168, *, place=PLACE, units="m/s", blank=0, speed=3.0) -> dict:
    """An answer: the control run and those with a number; run k comes from 250 + k degrees."""
    hourly: dict = {"time": [NOW_S + HOUR_S * i for i in range(hours)]}
    for k in range(n_runs):
        more = f"_member{k:02d}" if k else ""
        hourly[f"wind_speed_10m{more}"] = [speed] * (hours - blank) + [None] * blank
        hourly[f"wind_direction_10m{more}"] = [250 + k] * (hours - blank) + [None] * blank
    return {
        "latitude": round(place[1] * 4) / 4,
        "longitude": round(place[0] * 4) / 4,
        "utc_offset_seconds": 0,
        "hourly_units": {"time": "unixtime", "wind_speed_10m": units},
        "hourly": hourly,
    }


@pytest.fixture
def server(monkeypatch):
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    running = WeatherServer()
    running.answers[RUNS] = Answer(body())
    yield running
    running.stop()


def fetched(server, folder, now_s=NOW_S):
    return fetch_runs(CENTER, folder, now_s=now_s, at=server.services())


def test_one_request_of_one_model_with_the_rounded_place(server, tmp_path):
    found = fetched(server, tmp_path)
    assert len(found) == 51 and found.horizon_s == NOW_S + 168 * HOUR_S
    (path,) = server.seen
    asked = {name: values[0] for name, values in parse_qs(path.partition("?")[2]).items()}
    assert path.startswith(RUNS + "?") and asked == {
        "latitude": "40.01",
        "longitude": "-82.44",
        "models": "ecmwf_ifs025_ensemble",
        "hourly": "wind_speed_10m,wind_direction_10m",
        "forecast_days": "7",
        "wind_speed_unit": "ms",
        "timeformat": "unixtime",
        "timezone": "GMT",
    }


def test_where_it_goes_and_the_terms_are_said_before():
    told = said_before(CENTER)
    for word in ("ensemble-api.open-meteo.com", "40.01", "-82.44", "CC BY 4.0", "ECMWF"):
        assert word in told
    assert "guiding for pay is not" in told and "82.444" not in told


def test_they_are_kept_for_a_day_and_need_no_network(server, tmp_path):
    fetched(server, tmp_path)
    server.stop()
    assert len(kept_runs(tmp_path, PLACE, NOW_S + 23 * HOUR_S)) == 51
    assert kept_runs(tmp_path, PLACE, NOW_S + 25 * HOUR_S) is None
    moved = (PLACE[0] + 0.02, PLACE[1])  # a corner was drawn on, and the middle with it
    assert kept_runs(tmp_path, moved, NOW_S) is not None
    assert kept_runs(tmp_path, (PLACE[0] + 1.0, PLACE[1]), NOW_S) is None


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (Answer({"error": True, "reason": "Data corrupted at path"}, 400), "Data corrupted"),
        (Answer({"error": True, "reason": "Daily API request limit exceeded."}, 429), "Daily API"),
        (Answer(PORTAL), "a web page came"),
        (Answer(b'{"latitude": 40.0, "hourly": {"time": [1, 2'), "cut-off"),
        (Answer(body(), cut=True), "cut off"),
        (Answer(body(place=(-79.0, 40.0))), "it is for a place"),
        (Answer(body(n_runs=4)), "4 runs, too few"),
        (Answer(body(units="kn")), "not in m/s"),
        (Answer(body(speed=300.0)), "a wind that there is not"),
        (Answer(body(blank=168)), "0 runs, too few"),
    ],
    ids=["400", "429", "portal", "half", "cut", "elsewhere", "few", "knots", "storm", "blank"],
)
def test_an_answer_that_is_none_replaces_nothing(server, tmp_path, answer, said):
    server.answers[RUNS] = answer
    with pytest.raises(NoForecast, match=said):
        fetched(server, tmp_path)
    assert not (tmp_path / FOLDER).exists()
    server.answers[RUNS] = Answer(body())
    fetched(server, tmp_path)
    server.answers[RUNS] = answer
    with pytest.raises(NoForecast):
        fetched(server, tmp_path, NOW_S + HOUR_S)
    assert kept_runs(tmp_path, PLACE, NOW_S).fetched_s == NOW_S


def test_a_disk_that_will_not_is_told(server, tmp_path):
    (tmp_path / FOLDER).write_bytes(b"in the way")
    with pytest.raises(NoForecast, match="they can't be kept"):
        fetched(server, tmp_path)
    assert kept_runs(tmp_path, PLACE, NOW_S) is None


def test_a_kept_file_that_is_broken_is_none(server, tmp_path):
    fetched(server, tmp_path)
    (path,) = (tmp_path / FOLDER).rglob("*.gz")
    path.write_bytes(path.read_bytes()[:200])
    assert kept_runs(tmp_path, PLACE, NOW_S) is None


def test_hours_that_the_runs_do_not_tell():
    runs = read_runs(json.dumps(body(hours=48, blank=6)).encode(), 0.0)
    hours = NOW_S + HOUR_S * np.array([-1, 0, 41, 42, 47, 48])
    assert runs.tell(hours).tolist() == [False, True, True, False, False, False]
    assert runs.tell(hours[1:3] + 1800).tolist() == [True, True]  # clocks half an hour apart
    assert runs.horizon_s == NOW_S + 42 * HOUR_S


# --- moved onto a forecast ---


def test_winds_as_vectors_there_and_back():
    blows = blows_to([2.0, 0.0, 3.0], [270.0, np.nan, np.nan])
    assert blows[0] == pytest.approx(2.0)  # from the west it blows east
    assert blows[1] == 0.0 and np.isnan(blows[2])
    assert came_from_deg(np.array([2.0, -1j, 0.0]))[:2].tolist() == pytest.approx([270.0, 0.0])


def test_runs_are_moved_by_what_they_part_from_their_mean():
    # one blows 2 m/s to the east, one 2 to the north: their mean is (1, 1); a forecast of 5 m/s
    # from the south is then (0, 5) + (1, -1) and (0, 5) + (-1, 1)
    runs = ModelRuns(np.array([0, HOUR_S]), np.array([[2.0, 2.0], [2.0j, 2.0j]]), 0.0)
    speed, came_from = runs.moved_onto([0], [5.0], [180.0])
    assert speed[:, 0] == pytest.approx([np.hypot(1, 4), np.hypot(1, 6)])
    right = np.degrees(np.arctan([1 / 4, -1 / 6]))  # of the way north, and from the other side
    assert came_from[:, 0] == pytest.approx(180.0 + right)
    # their mean comes from 225 degrees
    assert runs.apart_deg([0], [5.0], [180.0]) == pytest.approx(45.0)
    calm, anyhow = runs.moved_onto([0], [0.0], [np.nan])
    assert calm[:, 0] == pytest.approx([np.sqrt(2.0)] * 2)
    assert anyhow[:, 0] == pytest.approx([315.0, 135.0])


# --- without a screen ---


def test_the_command_fetches_and_tells_them(server, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_RUNS_URL", server.url)
    place = rounded(open_property(demo_path()).property.center)
    server.answers[RUNS] = Answer(body(place=place))
    words = ["forecast", "--property", str(demo_path()), "--runs", "--now", "2026-11-09T16:00Z"]
    assert main([*words, "--offline"]) == 0
    assert "No runs are kept" in capsys.readouterr().out and not server.seen
    assert main(words) == 0
    told = capsys.readouterr().out
    assert told.index("Sent: latitude") < told.index(
        "51 runs of the European centre's model, fetched"
    )
    assert "Weather data by Open-Meteo.com: https://open-meteo.com/" in told
    server.answers[RUNS] = Answer({"error": True, "reason": "Hourly API limit"}, 429)
    assert main(words) == 2
    assert "Hourly API limit" in capsys.readouterr().err
