"""The home page in a real Chromium, at both sizes."""


def test_the_answer_is_there_and_nothing_leaves_the_machine(open_page):
    page = open_page()
    page.get_by_role("heading").first.wait_for()
    assert page.locator("[data-testid=stException]").count() == 0
    words = page.inner_text("body")
    assert any(word in words for word in ("GO:", "STAY OUT", "CAN'T CALL"))
    assert page.outside == []
    assert page.console_errors == []


def test_no_sideways_scroll(open_page):
    page = open_page()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_a_typed_wind_changes_the_answer_and_a_wrong_one_is_told(open_page, settled):
    page = open_page()
    box = page.get_by_role("textbox", name="Wind")
    box.fill("NNN 8")
    box.press("Enter")
    page.get_by_text("NNN 8", exact=False).first.wait_for()
    settled(page)
    assert "no direction" in page.inner_text("body")
