"""The wind from a service and from a file, on the home page in a real Chromium.

The service is `tests/weather_server.py`, on this machine.
"""

import re

import pytest

from tests.weather_server import GRID, NOW_S, Answer, grid_body, iso, serving_the_demo

HOUR_S = 3600
GONE_S = NOW_S + 14 * HOUR_S
COLUMNS = {"The time": "Seen", "Where the wind comes from": "Vane", "The wind speed": "Puff"}


@pytest.fixture
def home(tmp_path):
    place = tmp_path / "home"
    place.mkdir()
    return place


@pytest.fixture
def server(monkeypatch, home):
    running = serving_the_demo(monkeypatch, home)
    yield running
    running.stop()


@pytest.fixture
def visit(page, settled):
    def at(url: str):
        page.goto(url)
        settled(page)
        return page

    return at


def open_wind(page, settled, way: str) -> None:
    page.get_by_role("button", name="Wind", exact=True).click()
    settled(page)
    page.get_by_role("radio", name=way, exact=True).click()
    settled(page)


def press(page, settled, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()
    settled(page)


@pytest.mark.parametrize("view", ["desk"])
def test_fetched_kept_and_used_where_the_network_is_gone(
    visit, settled, server, home, start_dashboard
):
    page = visit(start_dashboard(home, iso(NOW_S)))
    open_wind(page, settled, "forecast")
    host = server.url.removeprefix("http://")
    panel = page.locator("[data-testid=stPopoverBody]")
    assert f"Asks {host} (National Weather Service)" in panel.inner_text()
    assert server.seen == []  # it says so first, and asks nobody yet
    press(page, settled, "Get the forecast")
    age = "National Weather Service, fetched just now; the forecasters' update 60 min ago"
    assert age in panel.inner_text()
    page.keyboard.press("Escape")
    head = page.locator(".head").first
    head.wait_for()
    assert "fetched just now; the forecasters' update 60 min ago" in head.inner_text()
    assert "NW 7 mph" in head.inner_text()  # 11.112 km/h from 320
    assert len(list(home.glob("forecasts/*/*.json.gz"))) == 1
    assert page.outside == []

    # the newest of two fetches heads the screen
    server.answers[GRID] = Answer(grid_body(wind=90, updated_s=NOW_S))
    page.get_by_role("button", name="Wind", exact=True).click()
    settled(page)
    press(page, settled, "Get the next days for camp")
    assert "Kept for camp until" in panel.inner_text()
    page.keyboard.press("Escape")
    page.locator(".head").get_by_text(re.compile("E 7 mph")).first.wait_for()

    server.stop()
    page = visit(start_dashboard(home, iso(GONE_S)))
    age = "from 14 h ago; the forecasters' update 14 h ago"
    page.locator(".head").get_by_text(age).first.wait_for()  # before anything is pressed
    assert "E 7 mph" in page.inner_text("body")
    page.get_by_role("button", name="Wind", exact=True).click()
    settled(page)
    press(page, settled, "Get the forecast")
    told = page.locator("[data-testid=stPopoverBody]").inner_text()
    assert re.search(r"can't be reached.*The kept one is used", told, re.DOTALL)
    assert age in told
    assert page.locator("[data-testid=stException]").count() == 0
    assert page.locator(".head h1").is_visible()
    assert page.outside == []


@pytest.mark.parametrize("view", ["phone"])  # the narrower: lists open over one another there
def test_a_table_under_no_known_names_is_answered_by_hand(open_page, settled, tmp_path):
    """Columns, then what else is open; the answers outlast a visit to another page."""
    rows = "".join(f"2026-11-10 {hour:02d}:00;225;8;{hour};x\n" for hour in range(24))
    mast = tmp_path / "mast.csv"
    mast.write_text("North plot\nSeen;Vane;Puff;Sky;Note\n" + rows, encoding="utf-8")
    page = open_page()
    open_wind(page, settled, "file")
    page.locator("input[type=file]").set_input_files(mast)
    page.get_by_text("No column is known as its time").wait_for()
    for label, column in COLUMNS.items():
        box = page.locator("[data-testid=stSelectbox]", has_text=label).first
        box.scroll_into_view_if_needed()
        page.wait_for_timeout(600)  # a list that opens while the page scrolls closes again
        box.get_by_role("combobox").click()
        page.get_by_role("option", name=f"{column}:").click()
        settled(page)
    page.get_by_text("mph: line 3 is 8.0 mph").click()
    settled(page)
    page.get_by_text("America/New_York: ").click()
    settled(page)
    page.keyboard.press("Escape")
    page.locator(".head").get_by_text(re.compile("SW 8 mph")).first.wait_for()

    page.locator(".st-key-menu a", has_text="Words").click()
    settled(page)
    page.locator(".st-key-menu a", has_text="Pick a sit").click()
    settled(page)
    page.locator(".head").get_by_text(re.compile("SW 8 mph")).first.wait_for()
    assert page.outside == []
