"""python -m core forecast, and --forecast live or kept, against a loopback service."""

import json

import pytest

from core.__main__ import main
from core.ground.store import demo_path
from tests.weather_server import (
    GRID,
    NOW_S,
    PORTAL,
    Answer,
    grid_body,
    iso,
    serving_the_demo,
)

HOUR_S = 3600
NOW, LATER = iso(NOW_S), iso(NOW_S + 14 * HOUR_S)


@pytest.fixture
def one_stand(tmp_path):
    """The demo's ground with one stand, and nothing else to work out."""
    document = json.loads(demo_path().read_text(encoding="utf-8"))
    stands = [f for f in document["features"] if f["properties"].get("kind") == "stand"]
    path = tmp_path / "one.json"
    path.write_text(json.dumps({**document, "features": stands[:1]}), encoding="utf-8")
    return path


@pytest.fixture
def server(monkeypatch, tmp_path):
    running = serving_the_demo(monkeypatch, tmp_path)
    yield running
    running.stop()


def run(*words: str, ground=None) -> int:
    return main([words[0], "--property", str(ground or demo_path()), *words[1:]])


def test_fetched_then_read_offline(server, capsys):
    assert run("forecast", "--json", "--now", NOW) == 0
    first = json.loads(capsys.readouterr().out)
    assert (first["source"], first["age_h"], first["trouble"]) == ("nws", 0.0, None)
    server.seen.clear()
    assert run("forecast", "--offline", "--json", "--now", LATER) == 0
    kept = json.loads(capsys.readouterr().out)
    assert server.seen == []
    assert kept["age"] == "from 14 h ago; the forecasters' update 15 h ago"
    assert (kept["age_h"], kept["updated_age_h"]) == (14.0, 15.0)
    assert kept["hours"][-1] == first["hours"][-1]


@pytest.mark.usefixtures("server")
def test_answers_that_a_service_leaves_no_room_for_are_named(capsys):
    assert run("forecast", "--json", "--now", NOW, "--zone", "UTC") == 0
    assert capsys.readouterr().err.startswith("--zone was not used")


def test_in_words_where_it_goes_comes_first(server, capsys):
    assert run("forecast", "--now", NOW) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith(f"Asks {server.url.removeprefix('http://')} (National Weather")
    assert "rounded to 0.01°" in lines[0] and "stand-and-wind/1" in lines[0]
    assert lines[1] == (
        "National Weather Service, fetched just now; the forecasters' update 60 min ago."
    )
    assert lines[2].endswith("the forecast said NW 7 mph.")
    assert lines[3] == "Forecast by the National Weather Service: https://www.weather.gov/"
    assert lines[4] == "2026-11-09 17:00 UTC directed 7 mph from 320°, gusts 10"


@pytest.mark.usefixtures("server")
def test_nothing_kept_is_one_message(capsys):
    assert run("forecast", "--offline", "--now", NOW) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == (
        "the forecast: no forecast is kept for this ground. Get a forecast where there is signal.\n"
    )


def test_a_sign_in_page_is_one_message_or_the_kept_one(server, capsys):
    server.all_answer(Answer(PORTAL))
    assert run("forecast", "--json", "--now", NOW) == 2
    assert capsys.readouterr().err.count("\n") == 1
    server.usual()
    assert run("forecast", "--json", "--now", NOW, "--source", "open-meteo") == 0
    capsys.readouterr()
    server.all_answer(Answer(PORTAL))
    assert run("forecast", "--json", "--now", LATER, "--source", "open-meteo", "--fresh") == 0
    report = json.loads(capsys.readouterr().out)
    assert "a web page came instead of a forecast" in report["trouble"]
    assert report["attribution"]["link"] == "https://open-meteo.com/"


def test_an_unknown_source_is_named(server, capsys):
    assert run("forecast", "--source", "almanac") == 2
    assert "'almanac' is no source of forecasts" in capsys.readouterr().err
    assert server.seen == []


def test_sits_and_next_take_the_live_and_the_kept_one(server, one_stand, capsys):
    server.answers[GRID] = Answer(grid_body(hours=96, wind=300))
    sit = ("sits", "--date", "2026-11-10", "--sit", "evening", "--json", "--now", NOW)
    assert run(*sit, "--forecast", "kept", ground=one_stand) == 2
    assert "no forecast is kept" in capsys.readouterr().err
    assert run(*sit, "--forecast", "live", ground=one_stand) == 0
    live = json.loads(capsys.readouterr().out)
    server.stop()
    assert run(*sit, "--forecast", "kept", ground=one_stand) == 0
    assert json.loads(capsys.readouterr().out) == live
    assert live["wind"]["updated"] is not None
    assert run("next", "--forecast", "kept", "--json", "--now", NOW, ground=one_stand) == 0
    assert len(json.loads(capsys.readouterr().out)["sits"]) >= 4


def test_how_the_kept_forecasts_did(server, capsys, tmp_path):
    assert run("forecast", "--against", "--json") == 0
    assert json.loads(capsys.readouterr().out)["leads"] == []
    server.answers[GRID] = Answer(grid_body(first_s=NOW_S, hours=40, wind=320))
    assert run("forecast", "--json", "--now", NOW) == 0
    server.seen.clear()
    capsys.readouterr()
    asos = tmp_path / "asos.csv"
    rows = [
        f"ABC,{iso(NOW_S + h * HOUR_S)[:16].replace('T', ' ')},300.00,6.00,M" for h in range(24)
    ]
    asos.write_text("\n".join(["station,valid,drct,sknt,gust", *rows]) + "\n", encoding="utf-8")
    assert run("forecast", "--zone", "UTC", "--against", str(asos)) == 0
    told = capsys.readouterr().out
    assert "in 24 of 24 hours the wind came from within 45° of the forecast" in told
    assert "half of them within 20°. On the whole it blew as strong as told." in told
    # a table leaves something open, and the command takes the answer
    mast = tmp_path / "mast.csv"
    lines = [f"{iso(NOW_S + h * HOUR_S)[:16]}Z,300,6.00" for h in range(24)]
    mast.write_text("\n".join(["seen,vane,puff", *lines]) + "\n", encoding="utf-8")
    assert run("forecast", "--against", str(mast)) == 2
    assert "--column time=NAME --column from=NAME" in capsys.readouterr().err
    named = ("time=seen", "from=vane", "speed=puff")
    words = [word for pair in named for word in ("--column", pair)]
    assert run("forecast", "--against", str(mast), *words, "--speed-unit", "kt") == 0
    assert capsys.readouterr().out.split("\n")[1:] == told.split("\n")[1:]
    assert server.seen == []
