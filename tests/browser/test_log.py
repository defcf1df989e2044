"""After a sit, on a phone: three taps, and the line of notes with the keyboard up."""

import time

import pytest

from core.ground.store import demo_path, open_property
from core.keep.entries import AIR, SEEN, SIT, entry_of
from core.keep.log import kept_entries, open_journal

UID = open_property(demo_path()).property.uid
KEYBOARD_UP = {"width": 390, "height": 508}  # what a phone's keyboard leaves of 844
PLAN = {"stand": "dry-fork", "sit": "evening", "planned": True, "told": {"verdict": "clean"}}


@pytest.mark.own_tab
@pytest.mark.parametrize("view", ["phone"])
def test_three_taps_after_a_sit_and_a_line_with_a_typing_error(
    page, start_dashboard, settled, tmp_path
):
    with open_journal(UID, tmp_path) as journal:
        journal.add([entry_of(SIT, "2026-11-09", PLAN)])
    url = start_dashboard(tmp_path)
    page.goto(f"{url}/?wind=NW+8")  # warms the server: a phone has it open already
    settled(page)
    begun = time.monotonic()
    page.goto(f"{url}/?wind=NW+8")
    page.get_by_text("How was Dry fork the evening of 2026-11-09?").wait_for()
    page.get_by_role("radio", name="as told").click()
    page.get_by_role("radio", name="winded me").click()
    page.get_by_role("button", name="Done").click()
    page.get_by_text("Add more below").wait_for()
    assert time.monotonic() - begun < 10.0
    kept = {e.kind: e for e in kept_entries(UID, tmp_path)}
    assert not kept[SIT].get("planned")
    assert (kept[AIR].get("felt"), kept[SEEN].get("winded")) == ("as-told", True)

    page.goto(f"{url}/log")
    settled(page)
    page.set_viewport_size(KEYBOARD_UP)
    line = page.get_by_label("Your line")
    line.fill("plum edge am. 7:40 2 does east trial. left 9:30")
    line.press("Control+Enter")
    page.get_by_text("2 does on East trail").wait_for()
    keep = page.get_by_role("button", name="Keep it")
    keep.scroll_into_view_if_needed()
    keep.click()
    settled(page)
    seen = [e for e in kept_entries(UID, tmp_path) if e.kind == SEEN]
    assert [e.get("trail") for e in seen if e.get("count") == 2] == ["east-trail"]
    assert page.outside == [] and page.locator("[data-testid=stException]").count() == 0
