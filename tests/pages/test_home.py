"""The home page's logic, without a browser."""

import re

import pytest

from core.ground.store import demo_path, new_path, open_property, save_property
from tests.pages.conftest import opened, sheet_words


@pytest.fixture
def home():
    return opened()


def test_it_opens_on_the_next_sit_that_can_be_reached(home):
    assert not home.exception
    assert "Tue 10 Nov · morning" in sheet_words(home)


def test_after_first_light_it_opens_on_the_evening(monkeypatch):
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T08:00:00-05:00")
    assert "Tue 10 Nov · evening" in sheet_words(opened())


@pytest.mark.parametrize("by", ["point", "typical day"])
def test_the_wind_may_be_pointed_at_or_typical(home, by):
    home.segmented_control(key="by").set_value(by).run()
    assert not home.exception
    assert ("typical day, not a forecast" in sheet_words(home)) == (by == "typical day")


def test_a_wrong_wind_is_told_with_examples_and_no_traceback(home):
    home.text_input(key="wind").set_value("NNN 8").run()
    assert not home.exception
    assert "NNN 8" in home.error[0].value


def test_looking_at_another_stand_and_a_new_wind_leads_back(home):
    first = sheet_words(home)
    home.button(key="look-oats-box").click().run()
    assert sheet_words(home) != first and home.button(key="back")
    home.text_input(key="wind").set_value("E 12").run()
    assert not [b for b in home.button if b.key == "back"]


def test_a_stand_that_is_taken_is_stay_out_for_the_others(home):
    best = sheet_words(home)
    head = re.search(r"<h1>([^<]+)</h1>", best).group(1)
    home.selectbox(key="seat0").set_value(head.lower().replace(" ", "-")).run()
    assert not home.exception
    assert sheet_words(home) != best


def test_the_pocket_page_is_made_on_asking(home):
    home.button(key="make-pocket").click().run()
    assert not home.exception
    assert home.get("download_button")


def test_an_empty_property_says_what_to_do():
    demo, path = open_property(demo_path()), new_path("Empty ground")
    save_property(demo, {**demo.document, "features": []}, path, now_s=1_790_000_000)
    home = opened(ground=path.stem)
    assert not home.exception
    assert home.title[0].value == "No stands yet."
