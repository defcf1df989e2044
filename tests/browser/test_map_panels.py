"""The panels below the map, by finger and by mouse."""

import json
import re

import pytest
from playwright.sync_api import expect

from tests.browser.test_map import drawn, hand  # noqa: F401 (fixtures)


@pytest.mark.parametrize("view", ["phone"])
def test_a_tap_on_the_map_is_the_spot_that_is_tried(hand):  # noqa: F811
    page = hand.page
    page.get_by_test_id("stButtonGroup").get_by_text("Try a tree", exact=True).click()
    hand.rest()
    latitude = page.get_by_label("Latitude", exact=True)
    expect(latitude).to_have_value(re.compile("^36"))  # a new box shows its least number first
    before = latitude.input_value()
    page.evaluate("scrollTo(0, 0)")
    page.locator(".said").scroll_into_view_if_needed()
    page.wait_for_timeout(600)  # a page that still slides moves the place under the finger
    hand.tap(100, -100)
    hand.rest()
    page.wait_for_function(
        "([old]) => document.querySelector('input[aria-label=Latitude]').value !== old",
        arg=[before],
    )
    yards_south = (float(before) - float(latitude.input_value())) * 111_000 / 0.9144
    assert 95 < yards_south < 105


@pytest.mark.parametrize("view", ["desk"])
def test_a_criticism_is_accepted_and_saved(hand):  # noqa: F811
    page = hand.page
    page.get_by_test_id("stButtonGroup").get_by_text("Look it over", exact=True).click()
    hand.rest()
    page.get_by_role("button", name="Accept", exact=True).first.click()
    hand.rest()
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_text("Accepted: 1").wait_for()
    hand.rest()
    assert len(json.loads(hand.file.read_text(encoding="utf-8"))["property"]["accepted"]) == 1
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= page.viewport_size["width"]
