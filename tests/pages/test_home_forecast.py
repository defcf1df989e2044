"""The home page with a forecast: fetched on asking, used later without signal, with its age."""

import datetime

import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Closed, Season
from core.ground.store import demo_path, open_property
from core.weather.services.sources import rounded
from pages.ui.home.pocket import _asked_days
from tests.core.weather.services.test_runs import RUNS, body
from tests.grounds import ground, hourly, sit_of
from tests.pages.conftest import opened, sheet_words, words
from tests.weather_server import GRID, NOW_S, Answer, grid_body, iso, serving_the_demo

pytestmark = pytest.mark.demo_of("dry-fork", "plum-edge")


@pytest.fixture
def server(monkeypatch, tmp_path):
    running = serving_the_demo(monkeypatch, tmp_path)
    yield running
    running.stop()


@pytest.mark.usefixtures("server")
def test_a_fetched_forecast_heads_the_screen_and_gives_the_next_sits():
    home = opened()
    home.segmented_control(key="by").set_value("forecast").run()
    assert not home.exception
    assert home.title[0].value == "What is the wind?"  # nothing was asked of anyone yet
    home.button(key="get_forecast").click().run()
    assert not home.exception
    assert "the forecasters' update" in sheet_words(home)
    assert " of 10" in sheet_words(home) and "not deer" in sheet_words(home)
    assert any("draws, longer where more fall" in c.value for c in home.caption)
    lines = [c.value for c in home.caption if ": " in c.value and "leave" in c.value]
    assert any(" of 10" in line for line in lines)
    coming = [b for b in home.button if b.key.startswith("go-")]
    assert len(coming) >= 3 and all(" mph" in b.label for b in coming)
    coming[2].click().run()
    assert not home.exception
    _, year, month, day, sit = coming[2].key.split("-")
    assert home.date_input(key="date").value == datetime.date(int(year), int(month), int(day))
    assert f"{int(day)} Nov · {sit}" in sheet_words(home)


def test_over_two_days_out_the_runs_of_a_model_tell(server, monkeypatch):
    monkeypatch.setenv("STAND_WIND_RUNS_URL", server.url)
    place = rounded(open_property(demo_path()).property.center)
    server.answers[GRID] = Answer(grid_body(hours=110))
    runs = body(place=place)
    runs["hourly"]["time"] = [NOW_S - 12 * 3600 + 3600 * i for i in range(168)]
    server.answers[RUNS] = Answer(runs)
    home = opened()
    home.segmented_control(key="by").set_value("forecast").run()
    home.button(key="get_forecast").click().run()
    home.date_input(key="date").set_value(datetime.date(2026, 11, 13)).run()
    assert "Too far out to say how likely" in sheet_words(home)
    assert any("then it can be told" in c.value for c in home.caption)
    home.button(key="get_runs").click().run()
    assert not home.exception
    assert "Too far out" not in sheet_words(home) and "around 51 runs" in sheet_words(home)
    assert any("408 draws" in c.value for c in home.caption)


def test_fetched_kept_and_used_where_the_network_is_gone(server, monkeypatch, tmp_path):
    home = opened()
    home.segmented_control(key="by").set_value("forecast").run()
    assert f"Asks {server.url.removeprefix('http://')} (National Weather Service)" in words(home)
    assert server.seen == []  # it says so first, and asks nobody yet
    home.button(key="get_forecast").click().run()
    fresh = "fetched just now; the forecasters' update 60 min ago"
    assert f"National Weather Service, {fresh}" in words(home) and fresh in sheet_words(home)
    assert "NW 7 mph" in sheet_words(home)  # 11.112 km/h from 320
    assert len(list(tmp_path.glob("forecasts/*/*.json.gz"))) == 1

    server.answers[GRID] = Answer(grid_body(wind=90, updated_s=NOW_S))
    home.button(key="get_camp").click().run()
    assert "Kept for camp until" in words(home)
    assert "E 7 mph" in sheet_words(home)  # the newest of two fetches heads the screen

    server.stop()
    monkeypatch.setenv("STAND_WIND_NOW", iso(NOW_S + 14 * 3600))
    camp = opened()
    assert not camp.exception
    assert camp.segmented_control(key="by").value == "forecast"  # before anything is pressed
    age = "from 14 h ago; the forecasters' update 14 h ago"
    assert age in sheet_words(camp) and "E 7 mph" in sheet_words(camp)
    camp.button(key="get_forecast").click().run()
    told = words(camp)
    assert "can't be reached" in told and "The kept one is used" in told and age in told
    assert not camp.exception and age in sheet_words(camp)


@pytest.mark.usefixtures("server")
def test_a_day_beyond_the_forecast_is_told_plainly():
    home = opened()
    home.segmented_control(key="by").set_value("forecast").run()
    home.button(key="get_forecast").click().run()
    home.date_input(key="date").set_value(datetime.date(2026, 11, 20)).run()
    assert not home.exception
    assert "2026" in home.error[0].value and "forecast" in home.error[0].value


def test_a_day_that_is_closed_whole_is_shown_with_a_forecast_too():
    """Nothing of it is sat: how many days the pocket page may hold is asked all the same."""
    shut = Season("bow", "01-01", "12-31", closed=(Closed(("Tue",), "00:00", "23:59"),))
    midnight_s = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
    answer = answer_sit(sit_of(ground(seasons=(shut,)), hourly(midnight_s, [315.0] * 24)))
    assert answer.sit.clock.start_s is None
    assert _asked_days(answer) == 1
