"""The season page in a real Chromium: it reads on a phone, and nothing leaves."""

import json

import pytest
from playwright.sync_api import expect

from tests.few_stands import TWO_WEEKS, few_stands
from tests.history_files import open_log


@pytest.fixture
def season(open_page):
    page = open_page("season_winds")
    page.locator(".js-plotly-plot").nth(1).wait_for()  # the last of the two charts
    return page


@pytest.fixture
def two_weeks(open_page, dashboard_home):
    """The page on a ground of one stand with a season of two weeks: its spots are soon found."""
    document = few_stands(("plum-edge",), TWO_WEEKS)
    document["property"]["uid"] = "two-weeks"
    (dashboard_home / "two-weeks.json").write_text(json.dumps(document), encoding="utf-8")
    page = open_page("season_winds?ground=two-weeks")
    page.locator(".js-plotly-plot").nth(1).wait_for()
    return page


@pytest.mark.parametrize("view", ["desk"])
def test_it_reads_and_nothing_leaves_the_machine(season):
    assert season.locator("[data-testid=stException]").count() == 0
    assert "of 222 sits" in season.locator("h2").first.inner_text()
    assert season.locator(".js-plotly-plot").count() == 2
    chart_y = season.locator(".js-plotly-plot").first.bounding_box()["y"]
    for words in ("Which stand, which wind", "The hole.", "What would fill it."):
        box = season.locator(".st-key-season_head").get_by_text(words).bounding_box()
        assert 0 < box["y"] < min(chart_y, season.viewport_size["height"])
    main = "document.querySelector('[data-testid=stMain]')"
    assert season.evaluate(f"{main}.scrollWidth <= {main}.clientWidth")
    assert season.outside == []
    # Streamlit asks for its own files beside a page first, and is told they are elsewhere
    assert [e for e in season.console_errors if "404" not in e] == []


@pytest.mark.parametrize("view", ["phone"])
def test_it_has_no_faults_that_axe_sees_and_scrolls_under_a_finger(two_weeks, settled):
    from axe_playwright_python.sync_playwright import Axe

    main = "document.querySelector('[data-testid=stMain]')"
    assert two_weeks.evaluate(f"{main}.scrollWidth <= {main}.clientWidth")
    assert two_weeks.locator(".js-plotly-plot").count() == 2
    two_weeks.get_by_text("Look for spots along the trails").click()
    two_weeks.get_by_text("A tree may not stand there").first.wait_for()
    settled(two_weeks)
    result = Axe().run(two_weeks)
    assert [v["id"] for v in result.response["violations"]] == []
    # a still chart takes no touches, so that the page scrolls over it
    assert two_weeks.locator(".js-plotly-plot .nsewdrag").count() == 0


@pytest.mark.parametrize("view", ["phone"])
def test_a_log_is_uploaded_and_what_it_leaves_open_is_asked_in_place(two_weeks, settled, tmp_path):
    season = two_weeks
    log = tmp_path / "mast.csv"
    log.write_bytes(open_log())
    season.get_by_text("files of a station", exact=True).click()
    settled(season)
    season.locator("input[type=file]").set_input_files(log)
    for question, answer in (
        ("Which unit is its wind in?", "mph: line 2 is 8.0 mph"),
        ("Which date is it?", "3 Nov 2025"),
        ("Which time zone are its times in?", "America/New_York"),
    ):
        season.get_by_text(question).wait_for()
        expect(season.locator("h2")).to_have_count(0)  # no answer from a guess
        season.locator("[data-testid=stRadio] label").filter(has_text=answer).last.click()
        settled(season)
    season.locator("h2").first.wait_for()
    assert "of 12 sits" in season.locator("h2").first.inner_text()
    main = "document.querySelector('[data-testid=stMain]')"
    assert season.evaluate(f"{main}.scrollWidth <= {main}.clientWidth")
    assert season.locator("[data-testid=stException]").count() == 0
    season.get_by_role("button", name="Leave these files out").click()
    expect(season.locator("h2")).to_have_count(0)
    assert season.outside == []
