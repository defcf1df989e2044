"""Hostile names on every screen in a real Chromium: nothing runs, links or draws."""

import json
from pathlib import Path

import pytest

from core.harmless import harmless
from core.keep.log import open_journal
from tests.few_stands import TWO_WEEKS, few_stands
from tests.hostile import NAMES, OBEYED, log_of, spiked

ROOT = Path(__file__).resolve().parents[2]
PAGES = ("", *sorted(path.stem for path in (ROOT / "pages").glob("*.py")))
JOINER = "\u2060"  # what keeps Streamlit from seeing links; nobody sees it
# links that are the program's own, by what their address begins with
OWN_LINKS = (
    "http://127.0.0.1",
    "https://www.weather.gov",
    "https://open-meteo.com",
    "https://creativecommons.org",
    "https://leafletjs.com",
)
MARKUP = (
    "a[href*='evil']:not([href^='#'])",  # a heading's own mark leads to itself
    "img[src*='evil']",
    "img[src='x']",
    "[onmouseover]",
    "code",
    ".katex",
    "[data-testid=stIconMaterial]:text-is('home')",
    "[data-testid=stMarkdownContainer] img",
)


@pytest.fixture(scope="session")
def hostile_ground(dashboard_home):
    """A property in the dashboard's folder, full of hostile names, `evil` in many of them."""
    document = spiked(few_stands(season=TWO_WEEKS), NAMES.values())
    document["property"]["name"] = " ".join(NAMES.values())
    document["property"]["uid"] = uid = "hostile-ground"  # a log of its own
    (dashboard_home / "hostile.json").write_text(json.dumps(document), encoding="utf-8")
    stand = next(f for f in document["features"] if f["properties"]["kind"] == "stand")["id"]
    with open_journal(uid, dashboard_home) as journal:
        journal.add(log_of(NAMES.values(), stand))
    return "hostile"


@pytest.fixture
def no_dialog(page):
    opened = []

    def note(dialog):
        opened.append(dialog.message)
        dialog.dismiss()

    page.on("dialog", note)
    yield
    page.remove_listener("dialog", note)
    assert opened == [], "a script ran"


@pytest.mark.parametrize("view", ["phone"])
@pytest.mark.parametrize("path", PAGES)
@pytest.mark.usefixtures("no_dialog")
def test_names_are_words_on_every_screen(open_page, hostile_ground, settled, path):
    shown = open_page(f"{path}?ground={hostile_ground}&wind=NW+8&date=2026-11-10&sit=morning")
    for closed in shown.locator("details").all():  # by number: each is found anew
        closed.locator("summary").click()
    settled(shown)
    assert shown.locator("[data-testid=stException]").count() == 0
    assert shown.evaluate("window.ran === undefined")
    for markup in MARKUP:
        found = shown.locator(markup)
        assert [found.nth(i).inner_text()[:80] for i in range(found.count())] == [], markup
    links = shown.evaluate("[...document.querySelectorAll('a[href]')].map(a => a.href)")
    assert [x for x in links if not x.startswith(OWN_LINKS)] == []
    text = shown.inner_text("body")
    assert not set(text) & (OBEYED - {"\n", "\t"})
    assert shown.outside == []
    # Streamlit's own probes on a page's address are answered 404
    assert [e for e in shown.console_errors if "404" not in e] == []
    text = " ".join(text.replace(JOINER, "").split())
    for kind, name in NAMES.items() if path == "" else ():  # letter by letter
        assert " ".join(harmless(name).split()) in text, kind
