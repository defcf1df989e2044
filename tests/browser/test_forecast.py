"""The wind from a file, on the home page in a real Chromium."""

import re

import pytest

COLUMNS = {"The time": "Seen", "Where the wind comes from": "Vane", "The wind speed": "Puff"}


def open_wind(page, settled, way: str) -> None:
    page.get_by_role("button", name="Wind", exact=True).click()
    settled(page)
    page.get_by_role("radio", name=way, exact=True).click()
    settled(page)


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
