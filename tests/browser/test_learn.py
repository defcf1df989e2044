"""Learning and the words in a real Chromium: both sizes, axe, fingers and keys."""

import datetime
import re

import pytest

from core.ground.store import demo_path, open_property
from core.show.lesson_sheet import lesson_sheet
from core.sit.scene import Scene

LEAST_TARGET_PX = 44
PARTS = ("Turn the wind", "Lessons", "Pick one", "First sit")


def part(page, settled, name: str):
    page.get_by_role("radio", name=name, exact=True).or_(
        page.get_by_role("button", name=name, exact=True)
    ).first.click()
    settled(page)


def violations(page) -> list:
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    return [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in found]


def small_targets(page) -> list[str]:
    return page.evaluate(
        """least => [...document.querySelectorAll(
             'button, a[href], [role=radio], [role=combobox], summary')]
           .map(e => [e, e.getBoundingClientRect()])
           .filter(([e, b]) => b.width > 2 && b.height > 2 && b.height < least - 0.5
                               && getComputedStyle(e).visibility !== 'hidden'
                               && !e.closest('p'))
           .map(([e, b]) => e.outerHTML.slice(0, 110) + ' ' + b.height)""",
        LEAST_TARGET_PX,
    )


def test_the_wind_is_turned_and_every_part_is_clean_for_readers_and_fingers(
    open_page, settled, view
):
    page = open_page("learn_the_ground")
    inside = "document.querySelector('[data-testid=stMain]')"
    assert "north-west wind" in page.inner_text("[data-testid=stMain]")
    if view == "desk":
        page.locator(".st-key-learn_point button").first.focus()
        page.keyboard.press("Enter")
        turned = ("A north wind",)
    else:
        page.get_by_role("radio", name="SE", exact=True).or_(
            page.get_by_role("button", name="SE", exact=True)
        ).first.click()
        turned = ("south-east wind", "your air goes north-west")
    settled(page)
    assert all(words in page.inner_text("[data-testid=stMain]") for words in turned)
    for name in PARTS:
        part(page, settled, name)
        assert page.locator("[data-testid=stException]").count() == 0, name
        assert violations(page) == [], name
        assert small_targets(page) == [], name
        assert page.evaluate(f"{inside}.scrollWidth <= {inside}.clientWidth"), name
    assert page.outside == []


@pytest.mark.parametrize("view", ["phone"])
def test_a_lesson_is_clean_once_it_is_tried(open_page, settled):
    page = open_page("learn_the_ground?learn=Lessons&learn_lesson=5")
    page.locator("[data-testid=stRadioOption]").last.tap()
    settled(page)
    assert re.search(r"Right\.|Not so\.", page.inner_text("[data-testid=stMain]"))
    assert violations(page) == []
    heights = page.locator("[data-testid=stRadioOption]").evaluate_all(
        "all => all.map(e => e.getBoundingClientRect().height)"
    )
    assert min(heights) >= LEAST_TARGET_PX - 0.5


@pytest.mark.parametrize("view", ["desk"])
def test_a_lesson_is_tried_by_keys_alone(open_page, settled):
    page = open_page("learn_the_ground?learn=Lessons&learn_lesson=3")
    page.locator("[data-testid=stRadioOption] input").first.focus()
    page.keyboard.press("Space")
    settled(page)
    assert re.search(r"Right\.|Not so\.", page.inner_text("[data-testid=stMain]"))


@pytest.mark.parametrize("view", ["phone"])
def test_a_pick_is_answered_hour_by_hour(open_page, settled):
    page = open_page("learn_the_ground?learn=Pick+one&learn_seed=3")
    page.get_by_role("radio", name="go", exact=True).click()
    settled(page)
    page.get_by_role("combobox").first.click()
    page.keyboard.type("Plum edge")
    page.keyboard.press("Enter")
    settled(page)
    page.get_by_role("button", name="Show the answer").click()
    settled(page)
    words = page.inner_text("[data-testid=stMain]")
    assert "your pick" in words
    assert "From Plum edge" in words
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


@pytest.mark.parametrize("view", ["desk"])
@pytest.mark.parametrize("seed", [1, 40])
def test_the_sheet_of_eight_prints_on_two_pages(page, seed):
    scene = Scene(open_property(demo_path()).property)
    page.set_content(lesson_sheet(scene, 2026, seed, datetime.date(2026, 11, 25)))
    printed = page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 2
    assert violations(page) == []
    assert page.outside == []


@pytest.mark.parametrize("view", ["phone"])
def test_the_words_are_clean_and_a_link_brings_one_to_the_top(open_page):
    page = open_page("words?word=just-off")
    assert violations(page) == []
    assert "Just-off." in page.inner_text("[data-testid=stMain]")[:400]
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
