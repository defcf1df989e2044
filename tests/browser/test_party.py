"""Three hunters in a real Chromium: seated, taken everywhere, on every sheet."""

import json
import re

import pytest

from core.ground.store import DEMO
from tests.conftest import VIEWS

IN_GUN_SEASON = "?ground=three&date=2026-11-28&sit=morning&wind=NW+8"


def three_hunters(home) -> None:
    document = json.loads(DEMO.read_text(encoding="utf-8"))
    ida = {"name": "Ida", "range_yd": 20, "beginner": True, "climbs_ft": 16}
    document["property"]["people"].append(ida)
    document["property"]["uid"] = "three"
    del document["property"]["land"]  # its heights cost twice the time
    (home / "three.json").write_text(json.dumps(document), encoding="utf-8")


@pytest.mark.parametrize("view", ["phone"])
def test_three_are_seated_and_taken_on_every_screen_and_sheet(open_page, dashboard_home, settled):
    three_hunters(dashboard_home)
    page = open_page(IN_GUN_SEASON)
    assert "Wear orange, with the bow too" in page.locator(".head").first.inner_text()
    page.locator("summary").filter(has_text="Seat us all").click()
    page.locator(".st-key-seat-us-all button").click()
    settled(page)
    page.locator(".st-key-take-seats button").wait_for()
    proposed = page.locator("details").filter(has_text="Who is out").inner_text()
    seats = dict(re.findall(r"(Nell|Owen|Ida) \(bow\): ([^,]+),", proposed))
    assert set(seats) == {"Nell", "Owen", "Ida"} and len(set(seats.values())) == 3
    with page.expect_download() as sheet:
        page.locator(".st-key-leave-all button").click()
    told = sheet.value.path().read_text(encoding="utf-8")
    assert all(f"At {stand}" in told for stand in seats.values()) and "Wear orange" in told
    page.locator(".st-key-take-seats button").click()
    settled(page)
    screen = page.locator("[data-testid=stMain]")
    for name, stand in seats.items():
        assert f"{name} sits here." in screen.inner_text(), stand
    for size in ("desk", "phone"):
        page.set_viewport_size(VIEWS[size]["viewport"])
        assert screen.evaluate("e => e.scrollWidth <= e.clientWidth")
    page.get_by_text("each of the party").click()
    settled(page)
    page.locator(".st-key-make-pocket button").click()
    settled(page)
    with page.expect_download() as pocket:
        page.locator(".st-key-pocket button").click()
    pages = pocket.value.path().read_text(encoding="utf-8").split("<article")[1:]
    assert len(pages) == 3
    for each in pages:
        assert len(set(re.findall(r"(Nell|Owen|Ida) sits at", each))) == 2
        assert "in and out by" in each and "Wear orange" in each
    assert page.console_errors == []
