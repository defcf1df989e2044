"""The home page in a real Chromium, at both sizes: the answer first, and nothing runs."""

import json
import re
import shutil
import subprocess

import pytest

from core.ground.store import DEMO
from tests.conftest import APP_RUN_MS, VIEWS

HEAD = (".head .place", ".head .group", ".head h1", ".head .times", ".head .part", ".head .trouble")
CLOCK = r"\d{1,2}:\d\d [ap]m"
LEAST_TARGET_PX = 44
SMALL_TARGETS = """least => [...document.querySelectorAll(
     'button, a[href], input:not([type=hidden]), [role=radio], [role=combobox], summary')]
   .map(e => [e, (e.closest('[data-baseweb=input], [data-baseweb=select] > div') || e)
                  .getBoundingClientRect()])
   .filter(([e, b]) => b.width > 2 && b.height > 2
                       && Math.min(b.height, b.width) < least - 0.5
                       && getComputedStyle(e).visibility !== 'hidden'
                       && !e.closest('[data-testid=stMainMenu], [data-testid=stToolbar]'))
   .map(([e, b]) => `${e.outerHTML.slice(0, 110)} ${b.width} x ${b.height}`)"""


def text_of(page, selector: str) -> str:
    return page.locator(selector).first.inner_text()


def open_popover(page, settled, name: str):
    page.get_by_role("button", name=name, exact=True).click()
    settled(page)


def widths_fit(page) -> bool:
    """Whether nothing is wider than the screen."""
    inside = "document.querySelector('[data-testid=stMain]')"
    page_fits = page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    return page_fits and page.evaluate(f"{inside}.scrollWidth <= {inside}.clientWidth")


def test_everything_needed_is_on_the_first_screen_and_nothing_leaves_the_machine(open_page):
    page = open_page("?wind=SW+8&date=2026-11-10&sit=morning")
    page.locator(".head h1").wait_for()
    assert page.locator("[data-testid=stException]").count() == 0
    assert re.match(r"GO|CAN'T CALL|STAY OUT", text_of(page, ".head .group").strip())
    height = page.viewport_size["height"]
    for selector in HEAD:
        boxes = [e.bounding_box() for e in page.locator(selector).all()]
        assert boxes and all(b["y"] >= 0 and b["y"] + b["height"] <= height for b in boxes), (
            selector
        )
    words = text_of(page, ".head")
    assert len(re.findall(CLOCK, words)) >= 3
    for want in ("leave", "seated", "legal light", "Way in", "Wind", "SW 8 mph"):
        assert want in words
    assert widths_fit(page)
    assert page.outside == []
    assert page.console_errors == []


def test_the_example_wind_is_beside_the_hours_and_a_typed_one_changes_the_answer(
    open_page, settled
):
    page = open_page("?date=2026-11-10&sit=morning")
    box = page.locator("ol.hours").first.bounding_box()
    assert box["y"] + box["height"] <= page.viewport_size["height"]
    assert page.get_by_role("button", name="Give the wind").is_visible()
    before = text_of(page, ".head h1")
    open_popover(page, settled, "Wind")
    box = page.get_by_role("textbox", name="Wind")
    box.fill("SW 12")
    box.press("Enter")
    settled(page)
    assert text_of(page, ".head h1") != before
    box.fill("NNN 8")
    box.press("Enter")
    settled(page)
    page.get_by_text("NNN 8", exact=False).first.wait_for()
    assert "no direction" in page.inner_text("body")


@pytest.mark.parametrize("view", ["phone"])
def test_choices_survive_a_reload_and_a_page_change(open_page, settled):
    page = open_page()
    open_popover(page, settled, "Wind")
    box = page.get_by_role("textbox", name="Wind")
    box.fill("E 12")
    box.press("Enter")
    settled(page)
    page.keyboard.press("Escape")
    chosen = text_of(page, ".head h1")
    assert "wind=E" in page.url
    page.reload()
    settled(page)
    assert "E 12 mph" in text_of(page, ".head") and text_of(page, ".head h1") == chosen
    links = page.locator(".st-key-menu a:not([disabled])")
    names = [name for name in links.all_inner_texts() if name != "Pick a sit"]
    page.locator(".st-key-menu a", has_text=names[0]).click()
    settled(page)
    page.locator(".st-key-menu a", has_text="Pick a sit").click()
    settled(page)
    page.locator(".head h1").wait_for()
    assert "E 12 mph" in text_of(page, ".head")


def test_it_is_clean_for_readers_and_fingers_a_tap_looks_elsewhere_and_a_hunter_takes_a_stand(
    open_page, settled
):
    from axe_playwright_python.sync_playwright import Axe

    page = open_page("?wind=E+12&date=2026-11-10&sit=evening")
    found = Axe().run(page, options={"resultTypes": ["violations"]})
    told = [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in found.response["violations"]]
    assert told == []
    open_popover(page, settled, "Wind")
    small = page.evaluate(SMALL_TARGETS, LEAST_TARGET_PX)
    assert small == [], "\n".join(small)
    page.keyboard.press("Escape")
    settled(page)

    first = text_of(page, ".head h1")
    page.locator("[class*='st-key-look-'] button").first.click()
    settled(page)
    assert text_of(page, ".head h1") != first
    assert "stand=" in page.url
    page.get_by_role("button", name=re.compile("Back to the first choice")).click()
    settled(page)
    assert text_of(page, ".head h1") == first

    page.get_by_role("combobox").filter(has_text="").last.scroll_into_view_if_needed()
    box = page.get_by_label("Nell")
    box.click()
    page.get_by_role("option", name=first, exact=True).click()
    settled(page)
    assert text_of(page, ".head h1") != first
    assert "No warning is not clearance" in page.inner_text("body")


CUT = """() => [...document.querySelectorAll('[data-testid=stMain] *')]
  .filter(e => e.matches('button p, .st-key-terms a *, .hours li, table.year th'))
  .filter(e => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline')
  .map(e => e.textContent)"""


def fits_and_is_whole(page, where: str) -> None:
    """Nothing is scrolled to sideways, and no word is cut."""
    page.locator("[data-testid=stMain] h1").first.wait_for()
    inside = "document.querySelector('[data-testid=stMain]')"
    page.wait_for_function(f"{inside}.scrollWidth <= {inside}.clientWidth")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), where
    assert page.evaluate(CUT) == [], where


@pytest.mark.own_tab
@pytest.mark.parametrize("view", ["phone"])
def test_it_is_dark_on_a_light_phone_and_text_twice_as_large_is_neither_scrolled_to_nor_cut(
    open_page, page, settled
):
    page.emulate_media(color_scheme="light")  # what a phone says that is set to nothing, too
    open_page("?wind=NW+8")
    colour = page.evaluate(
        "getComputedStyle(document.querySelector('[data-testid=stApp]')).backgroundColor"
    )
    assert max(int(v) for v in re.findall(r"\d+", colour)[:3]) < 40

    size = page.evaluate("getComputedStyle(document.documentElement).fontSize")
    page.evaluate(f"document.documentElement.style.fontSize = '{2 * float(size[:-2])}px'")
    fits_and_is_whole(page, "Pick a sit")
    for name, choice in (("Learn", ""), ("", "Lessons"), ("Words", ""), ("Work", "The year")):
        if name:
            page.locator(".st-key-menu a", has_text=name).click()  # the letters stay as large
            settled(page)
        if choice:
            page.get_by_role("radio", name=choice, exact=True).click()
            settled(page)
        fits_and_is_whole(page, name or choice)
    assert page.locator("table.year th").count() > 0
    assert page.evaluate("document.documentElement.style.fontSize")


@pytest.mark.parametrize("view", ["desk"])
def test_the_keyboard_reaches_everything_in_order_and_shows_where_it_is(open_page):
    page = open_page("?wind=NW+8&date=2026-11-10&sit=morning")
    seen = []
    for _ in range(20):
        page.keyboard.press("Tab")
        name, ring, is_control = page.evaluate(
            """() => {
                 const e = document.activeElement, s = getComputedStyle(e);
                 return [e.innerText.split('\\n')[0],
                         s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) > 0,
                         e.matches('a, button, input, summary')];
               }"""
        )
        if is_control:
            assert ring, name
            seen.append(name)
    order = ["Pick a sit", "Season", "Learn", "Map", "Words", "Day and sit", "Wind"]
    assert [name for name in seen if name in order] == order
    assert any(name.split()[0] in "●◐◍○" for name in seen)  # then the other stands


def drawn_map(page):
    """The map as the browser laid it out: where each marked shape lies, and its words."""
    return page.locator(".drawn svg").evaluate(
        """svg => {
             const shapes = [...svg.querySelectorAll('[data-id]')].map(e => {
               const b = e.getBoundingClientRect();
               return {id: e.dataset.id, fill: e.getAttribute('fill') || '',
                       x: b.x + b.width / 2, y: b.y + b.height / 2};
             });
             return {shapes, words: [...svg.querySelectorAll('text')].map(e => e.textContent)};
           }"""
    )


@pytest.mark.parametrize("view", ["phone"])
def test_on_a_north_west_wind_the_places_reached_lie_south_east_and_a_tap_tells_of_one(
    open_page, dashboard_home
):
    document = json.loads(DEMO.read_text(encoding="utf-8"))
    document["property"]["uid"] = "all-stands"
    del document["property"]["land"]  # by the wind alone
    (dashboard_home / "all-stands.json").write_text(json.dumps(document), encoding="utf-8")
    day = "wind=NW+8&date=2026-11-10&sit=morning"
    page = open_page(f"?ground=all-stands&{day}&stand=orchard-corner")
    drawn = drawn_map(page)
    tree = next(s for s in drawn["shapes"] if s["id"] == "orchard-corner")
    reached = [s for s in drawn["shapes"] if "reached" in s["fill"]]
    assert len(reached) >= 3
    for shape in reached:
        assert shape["x"] > tree["x"] and shape["y"] > tree["y"], shape["id"]
    assert any(word.startswith("like ") for word in drawn["words"])
    page.locator(f".drawn [data-id='{reached[0]['id']}']").first.click()
    assert "your air is like" in text_of(page, ".said")


@pytest.mark.own_tab
@pytest.mark.parametrize("view", ["phone"])
def test_a_deep_link_may_be_the_first_visit_and_the_phone_four_times_as_slow(
    page, fresh_dashboard, settled
):
    """On the whole demo, with its heights."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
    page.goto(f"{fresh_dashboard}/?wind=SE+10&date=2026-11-12&sit=evening&stand=spring")
    page.locator(".head h1").wait_for(timeout=APP_RUN_MS)
    settled(page)
    assert text_of(page, ".head .place").endswith("Thu 12 Nov · evening")
    assert "SE 10 mph" in text_of(page, ".head")
    assert page.locator("[role=dialog]").count() == 0


@pytest.mark.parametrize("view", ["desk"])
@pytest.mark.parametrize("wind", ["SW 8", "NW 8"])
def test_the_pocket_page_prints_on_one_sheet_with_all_its_words(page, tmp_path, wind):
    from core.__main__ import main
    from core.ground.store import demo_path

    out, sheet = tmp_path / "sit.html", tmp_path / "sit.pdf"
    words = ["pocket", "--property", str(demo_path()), "--date", "2026-11-10", "--wind", wind]
    assert main([*words, "--out", str(out)]) == 0
    asked = []
    page = page.context.browser.new_context(offline=True).new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda m: pytest.fail(m.text) if m.type == "error" else None)
    page.goto(out.as_uri())
    assert asked == [out.as_uri()]  # itself, and nothing more
    for view in VIEWS.values():
        page.set_viewport_size(view["viewport"])
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        page.pdf(path=str(sheet), prefer_css_page_size=True)
        assert len(re.findall(rb"/Type\s*/Page[^s]", sheet.read_bytes())) == 1
    if shutil.which("pdftotext") is None:
        pytest.skip("the words of a PDF are read by pdftotext, which is not here")
    told = subprocess.run(
        ["pdftotext", "-raw", str(sheet), "-"], capture_output=True, text=True, check=True
    ).stdout
    page.emulate_media(media="print")
    missing = set(page.inner_text("body").split()) - set(told.split())
    assert missing == set()
