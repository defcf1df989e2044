"""Starting one's own ground in a real Chromium, from the first tap to the saved file."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.conftest import VIEWS


@pytest.mark.parametrize("view", ["phone"])
def test_own_ground_from_the_first_tap(page, start_dashboard, settled, view, tmp_path):
    # a server of its own: the ground started here would open first everywhere else
    page.goto(f"{start_dashboard(tmp_path)}/map")
    settled(page)
    page.get_by_text("Choose a ground or start your own").click()
    page.get_by_text("Start my own property", exact=True).click()
    settled(page)
    name = f"Kitchen table {view}"
    page.get_by_label("What you call your ground").fill(name)
    page.get_by_label("A spot on it").fill("36.101234, -79.901234")
    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    assert [(v["id"], [n["html"][:100] for n in v["nodes"]]) for v in found] == []
    inside = "document.querySelector('[data-testid=stMain]')"
    for size in ("desk", "phone"):
        page.set_viewport_size(VIEWS[size]["viewport"])
        assert page.evaluate(f"{inside}.scrollWidth <= {inside}.clientWidth")
    page.get_by_role("button", name="Start it").click()
    settled(page)
    assert f"Started {name}" in page.inner_text("body")
    assert (tmp_path / f"kitchen-table-{view}.json").exists()
    assert f"ground=kitchen-table-{view}" in page.url
    # the form is gone: the map that is said to lie below begins on this screen
    drawn = page.locator(".leaflet-container").first
    for size in ("desk", "phone"):
        page.set_viewport_size(VIEWS[size]["viewport"])
        drawn.wait_for()
        assert drawn.bounding_box()["y"] < page.viewport_size["height"] * 0.62
    assert page.outside == [] and page.locator("[data-testid=stException]").count() == 0
