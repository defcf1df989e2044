"""After a sit, on a phone: three taps, and the line of notes with the keyboard up."""

import json

import pytest

from core.keep.entries import AIR, SEEN, SIT, entry_of
from core.keep.log import kept_entries, open_journal
from tests.few_stands import few_stands

UID = "with-a-log"
KEYBOARD_UP = {"width": 390, "height": 508}  # what a phone's keyboard leaves of 844
PLAN = {"stand": "dry-fork", "sit": "evening", "planned": True, "told": {"verdict": "clean"}}


@pytest.mark.own_tab
@pytest.mark.parametrize("view", ["phone"])
def test_three_taps_after_a_sit_and_a_line_with_a_typing_error(open_page, settled, dashboard_home):
    document = few_stands()
    document["property"]["uid"] = UID
    (dashboard_home / f"{UID}.json").write_text(json.dumps(document), encoding="utf-8")
    with open_journal(UID, dashboard_home) as journal:
        journal.add([entry_of(SIT, "2026-11-09", PLAN)])
    page = open_page(f"?ground={UID}&wind=NW+8")  # warms it: a phone has it open already
    page.reload()
    page.get_by_text("How was Dry fork the evening of 2026-11-09?").wait_for()
    page.get_by_role("radio", name="as told").click()
    page.get_by_role("radio", name="winded me").click()
    page.get_by_role("button", name="Done").click()
    page.get_by_text("Add more below").wait_for()
    kept = {e.kind: e for e in kept_entries(UID, dashboard_home)}
    assert not kept[SIT].get("planned")
    assert (kept[AIR].get("felt"), kept[SEEN].get("winded")) == ("as-told", True)

    page = open_page(f"log?ground={UID}")
    page.set_viewport_size(KEYBOARD_UP)
    line = page.get_by_label("Your line")
    line.fill("plum edge am. 7:40 2 does east trial. left 9:30")
    line.press("Control+Enter")
    page.get_by_text("2 does on East trail").wait_for()
    keep = page.get_by_role("button", name="Keep it")
    keep.scroll_into_view_if_needed()
    keep.click()
    settled(page)
    seen = [e for e in kept_entries(UID, dashboard_home) if e.kind == SEEN]
    assert [e.get("trail") for e in seen if e.get("count") == 2] == ["east-trail"]
    assert page.outside == [] and page.locator("[data-testid=stException]").count() == 0
