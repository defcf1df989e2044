"""The forecast and file panels, against a weather service on this machine."""

import re

import pytest
from streamlit.testing.v1 import AppTest

from core.ground.store import demo_path, open_property
from core.weather.services.sources import degrees, rounded
from tests.core.weather.services.test_runs import RUNS, body
from tests.pages.conftest import opened_panel, words
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
ASKING_FILE = b"date,time,wind speed,wind direction\n03/04/2026,06:00,8,NW\n03/04/2026,07:00,9,W\n"


def live_app():
    import streamlit as st

    from core.ground.store import demo_path, open_property
    from pages.ui.home.forecast import forecast_panel

    hours = forecast_panel(open_property(demo_path()).property)
    st.text("none" if hours is None else f"{len(hours)} hours from {hours.wind_from_deg[0]:.0f}")


def file_app():
    import streamlit as st

    from core.ground.store import demo_path, open_property
    from pages.ui.home.forecast import file_panel

    hours = file_panel(open_property(demo_path()).property)
    st.text("none" if hours is None else f"{len(hours)} hours from {hours.start_s[0]}")


@pytest.fixture
def server(monkeypatch, tmp_path):
    running = serving_the_demo(monkeypatch, tmp_path)
    yield running
    running.stop()


def press(at, key: str) -> AppTest:
    at.button(key=key).click().run()
    assert not at.exception
    return at


def said(at) -> str:
    return words(at, "markdown", "caption", "success", "error", "warning")


def found(at) -> str:
    return at.text[0].value


def test_it_says_where_the_request_goes_and_asks_nobody_yet(server):
    at = opened_panel(live_app)
    lon, lat = rounded(open_property(demo_path()).property.center)
    host = server.url.removeprefix("http://")
    assert f"Asks {host} (National Weather Service)" in said(at)
    assert f"latitude {degrees(lat)}, longitude {degrees(lon)}" in said(at)
    assert "no forecast is kept for this ground" in said(at)
    assert found(at) == "none" and server.seen == []


def test_the_forecast_with_its_age_its_source_and_the_station(server):
    at = press(opened_panel(live_app), "get_forecast")
    assert found(at) == "48 hours from 320"
    words = said(at)
    assert "National Weather Service, fetched just now; the forecasters' update 60 min ago" in words
    assert "It ends Wed 11 Nov, 12:00 pm" in words
    assert "Near Field, " in words and "said W 6 mph 25 min ago; the forecast said NW 7" in words
    assert "[Forecast by the National Weather Service](https://www.weather.gov/)" in words
    asked = len(server.seen)
    assert found(at.run()) == "48 hours from 320"
    assert len(server.seen) == asked


def test_in_camp_the_kept_one_is_there_with_its_age(server, monkeypatch):
    press(opened_panel(live_app), "get_camp")
    server.stop()
    monkeypatch.setenv("STAND_WIND_NOW", iso(NOW_S + 14 * HOUR_S))
    at = opened_panel(live_app)
    assert found(at) == "48 hours from 320"
    assert "from 14 h ago; the forecasters' update 15 h ago" in said(at)
    assert not at.warning
    at = press(at, "get_forecast")
    assert "can't be reached" in said(at) and "The kept one is used" in said(at)
    assert found(at) == "48 hours from 320"
    # it is still said when something else on the page is changed
    assert "can't be reached" in said(at.run())


def test_the_next_days_for_camp_tell_until_when(server):
    server.answers[GRID] = Answer(grid_body(hours=120))
    at = press(opened_panel(live_app), "get_camp")
    assert at.success[0].value == (
        "Kept for camp until Sat 14 Nov, 12:00 pm. It opens without signal."
    )
    assert found(at) == "120 hours from 320"


def test_a_sign_in_page_with_nothing_kept_is_one_message(server):
    server.all_answer(Answer(PORTAL))
    at = press(opened_panel(live_app), "get_forecast")
    assert found(at) == "none"
    assert len(at.error) == 1
    assert "a web page came instead of a forecast. Open a browser, sign in" in said(at)
    server.usual()
    at.segmented_control(key="source").set_value("open-meteo").run()
    assert not at.error


@pytest.mark.usefixtures("server")
def test_the_other_source_by_choice_with_its_link():
    at = opened_panel(live_app)
    at.segmented_control(key="source").set_value("open-meteo").run()
    assert "(Open-Meteo)" in said(at) and "(National Weather Service)" not in said(at)
    at = press(at, "get_forecast")
    assert "[Weather data by Open-Meteo.com](https://open-meteo.com/) (CC BY 4.0)." in said(at)
    assert "Open-Meteo does not say when it was updated" in said(at)
    assert found(at) == "72 hours from 250"


# --- files ---


def give(at, data: bytes, name: str) -> AppTest:
    at.file_uploader[0].set_value((name, data, "text/plain")).run()
    assert not at.exception
    return at


@pytest.fixture
def in_november(monkeypatch):
    monkeypatch.setenv("STAND_WIND_NOW", iso(NOW_S))


@pytest.mark.usefixtures("in_november")
def test_a_forecast_file_is_read_and_can_be_left_out():
    import json

    at = opened_panel(file_app)
    assert "No weather file yet" in said(at) and found(at) == "none"
    at = give(at, json.dumps(grid_body()).encode(), "mine_*1*.json")
    assert found(at).startswith("48 hours")
    assert "In use: mine_*1*.json" in said(at)
    assert not at.warning
    press(at, "leave_file")
    assert found(at) == "none"


@pytest.mark.usefixtures("in_november")
def test_what_a_file_leaves_open_is_asked_with_what_each_answer_means():
    at = give(opened_panel(file_app), ASKING_FILE, "log.csv")
    assert found(at) == "none"
    assert "does not say its unit" in said(at)
    units = [re.sub(r"\\(.)", r"\1", option) for option in at.radio[0].options]
    assert units[:2] == ["mph: line 2 is 8.0 mph", "kt: line 2 is 9.2 mph"]
    assert at.radio[0].value is None
    at.radio[0].set_value("kt").run()
    assert "3 Apr 2026" in at.radio[1].options[0]
    at.radio[1].set_value("no").run()
    assert found(at) == "none"
    assert at.radio[2].options[0].startswith("America/New\\_York")
    at.radio[2].set_value("another zone").run()
    at.text_input[0].set_value("Mars/Olympus").run()
    assert "'Mars/Olympus' is no time zone" in said(at) and found(at) == "none"
    at.text_input[0].set_value("-07:00").run()
    # 4 March 2026 06:00 seven hours behind UTC
    assert found(at) == f"2 hours from {1772629200}"
    at.radio[1].set_value("yes").run()
    assert found(at) == f"2 hours from {1772629200 + 30 * 86400}"


@pytest.mark.usefixtures("in_november")
@pytest.mark.parametrize(("data", "seen"), [(PORTAL, "web page"), (b" ", "empty")])
def test_what_is_no_weather_is_said_and_nothing_is_used(data, seen):
    at = give(opened_panel(file_app), data, "bad.txt")
    assert len(at.error) == 1 and seen in said(at)
    assert found(at) == "none"


def test_a_forecast_without_hours_left_is_said(monkeypatch):
    import json

    monkeypatch.setenv("STAND_WIND_NOW", iso(NOW_S + 100 * HOUR_S))
    at = give(opened_panel(file_app), json.dumps(grid_body()).encode(), "old.json")
    assert "forecast issued 4 days ago, no future hours" in said(at)


@pytest.mark.usefixtures("in_november")
def test_a_zone_that_does_not_fit_the_hours_is_asked_again():
    """02:00 of 8 March 2026 is no time in Chicago: the clocks go from 2 to 3 then."""
    lines = b"time,wind_mph,wind_dir_deg\n2026-03-08 01:00,5,45\n2026-03-08 02:00,6,50\n"
    at = give(opened_panel(file_app), lines, "skips.csv")
    at.radio[0].set_value("America/Chicago").run()
    assert not at.exception
    assert "looks like a fixed offset, not local" in said(at) and found(at) == "none"
    at.radio[1].set_value("UTC-06:00").run()
    # 01:00 at six hours behind UTC is 07:00 UTC of 8 March 2026
    assert found(at) == f"2 hours from {1772928000 + 7 * 3600}"


UNKNOWN = (
    b"Seen,Vane,Puff (mph),Blast,Sky\n"
    b"2026-11-10 06:00Z,45,5,9,80\n2026-11-10 07:00Z,50,6,,90\n2026-11-10 08:00Z,55,7,,100\n"
)


@pytest.mark.usefixtures("in_november")
def test_columns_under_no_known_name_are_chosen_by_what_is_in_them():
    at = give(opened_panel(file_app), UNKNOWN, "mast.csv")
    assert found(at) == "none"
    assert "No column is known as its time or wind direction or wind speed" in said(at)
    boxes = {box.label: box for box in at.selectbox}
    time, wind, speed = list(boxes)[:3]
    assert (time, wind, speed) == ("The time", "Where the wind comes from", "The wind speed")
    assert "Vane: 45 | 50 | 55" in boxes[wind].options
    assert all(boxes[name].value is None for name in (time, wind, speed))
    assert "not in this file" in boxes["The gust"].options
    boxes[time].set_value("Seen").run()
    at.selectbox[1].set_value("Vane").run()
    assert found(at) == "none"
    at.selectbox[2].set_value("Puff (mph)").run()
    assert not at.exception
    # 10 November 2026, 06:00 UTC
    assert found(at) == "3 hours from 1794290400"
    # a wrong choice is said, and can be changed in its place
    at.selectbox[0].set_value("Blast").run()
    assert "is no time" in said(at) and found(at) == "none"
    at.selectbox[0].set_value("Vane").run()
    assert "'Vane' is named for time and for from" in said(at)
    at.selectbox[0].set_value("Seen").run()
    assert found(at) == "3 hours from 1794290400"


@pytest.mark.usefixtures("in_november")
def test_after_the_columns_what_else_is_open_is_asked():
    at = give(
        opened_panel(file_app), UNKNOWN.replace(b" (mph)", b"").replace(b"Z", b""), "mast.csv"
    )
    for box, name in enumerate(("Seen", "Vane", "Puff")):
        at.selectbox[box].set_value(name).run()
    assert "The column 'Puff' does not say its unit" in said(at)
    at.radio[0].set_value("mph").run()
    at.radio[1].set_value("UTC").run()
    assert found(at) == "3 hours from 1794290400"


# --- how far forecasts part ---


def test_runs_are_fetched_by_a_press_of_their_own(server, monkeypatch):
    monkeypatch.setenv("STAND_WIND_RUNS_URL", server.url)
    place = rounded(open_property(demo_path()).property.center)
    server.answers[RUNS] = Answer({"error": True, "reason": "Daily API request limit"}, 429)
    at = press(opened_panel(live_app), "get_forecast")
    told = said(at)
    assert "51 runs of" in told and "guiding for pay is not" in told and "0.01°" in told
    assert not [path for path in server.seen if path.startswith(RUNS)]  # said, and not asked yet
    assert "Daily API request limit" in said(press(at, "get_runs"))
    server.answers[RUNS] = Answer(body(place=place))
    told = said(press(at, "get_runs"))
    assert "51 runs of the European centre's model" in told and "fetched just now" in told
    assert len([path for path in server.seen if path.startswith(RUNS)]) == 2
