"""The wind of one's own ground on the Season screen: said, pressed, kept, and headed at most."""

import pytest

from core.ground.looking import LOOK_VARIABLE
from core.ground.store import demo_path, open_property
from core.weather.services.autumns import kept_years
from core.weather.services.sources import rounded
from tests.core.weather.services.test_history_press import (
    ARCHIVE,
    LIST,
    STATIONS,
    archive,
    isd_year,
    refused,
)
from tests.few_stands import TWO_WEEKS
from tests.pages.conftest import opened, words
from tests.weather_server import WeatherServer

pytestmark = pytest.mark.demo_of("plum-edge", season=TWO_WEEKS)
PLACE = rounded(open_property(demo_path()).property.center)


@pytest.fixture
def server(monkeypatch):
    running = WeatherServer()
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.setenv("STAND_WIND_ARCHIVE_URL", running.url)
    monkeypatch.setattr("core.weather.services.history_press.time.sleep", lambda _: None)
    yield running
    running.stop()


def test_it_is_said_pressed_stopped_by_a_limit_and_judged_as_at_most(server, tmp_path):
    asked = []

    def one_and_no_more(address):
        asked.append(address)
        return archive(address) if len(asked) < 2 else refused("Hourly API request limit exceeded.")

    server.answers[ARCHIVE] = one_and_no_more
    app = opened("season_winds", winds_by="my own ground")
    assert not app.exception and not server.seen  # nothing is asked before the press
    assert "No wind of this ground is kept yet" in words(app)
    assert "guiding for pay is not" in words(app) and "CC BY 4.0" in words(app)
    app.button(key="get_history").click().run()
    assert not app.exception
    assert "press again in an hour. 1 of 10 autumns are kept" in words(app)
    assert kept_years(tmp_path, PLACE) == [2026]
    told = words(app)
    assert "Some stand can be sat on at most " in told
    assert "not measured" in told and "Weather data by Open-Meteo.com" in told
    server.answers[ARCHIVE] = archive
    app.button(key="get_history").click().run()
    assert len(kept_years(tmp_path, PLACE)) == 10 and "nobody was asked" not in words(app)
    n_asked = len(server.seen)
    app.button(key="get_history").click().run()
    assert "All of it is kept: nobody was asked." in words(app) and len(server.seen) == n_asked


def test_a_station_is_listed_fetched_and_judged_as_measured(server, monkeypatch):
    monkeypatch.setenv("STAND_WIND_NCEI_URL", server.url)
    server.answers[LIST] = STATIONS
    address = "/pub/data/noaa/isd-lite/2025/720001-00001-2025.gz"
    server.answers[address] = isd_year(2025)
    app = opened("season_winds", winds_by="my own ground")
    app.button(key="list_stations").click().run()
    assert "720001-00001  Near Field" in words(app)
    app.button(key="get_720001-00001").click().run()
    assert not app.exception
    told = words(app)
    assert "Some stand can be sat on " in told and "at most" not in told
    assert ARCHIVE not in " ".join(server.seen)


def test_who_only_looks_is_offered_no_press(monkeypatch):
    monkeypatch.setenv(LOOK_VARIABLE, "1")
    app = opened("season_winds", winds_by="my own ground")
    assert not app.exception
    assert not [b for b in app.button if b.key in ("get_history", "list_stations")]
