"""The home page's logic, without a browser."""

import datetime
import re

import pytest

from core.ground.store import demo_path, new_path, open_property, save_property
from core.weather.given import FILE, GivenWind, given_now, keep_given
from tests.few_stands import STANDS
from tests.pages.conftest import opened, sheet_words, words


@pytest.fixture
def home():
    return opened()


def test_it_opens_on_the_next_sit_that_can_be_reached(home):
    assert not home.exception
    assert "Tue 10 Nov · morning" in sheet_words(home)
    assert "as strong as that far straight downwind" in sheet_words(home)  # where first met


def test_after_first_light_it_opens_on_the_evening(monkeypatch):
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T08:00:00-05:00")
    assert "Tue 10 Nov · evening" in sheet_words(opened())


@pytest.mark.parametrize("by", ["point", "typical day"])
def test_the_wind_may_be_pointed_at_or_typical(home, by):
    home.segmented_control(key="by").set_value(by).run()
    assert not home.exception
    assert ("typical day, not a forecast" in sheet_words(home)) == (by == "typical day")


def test_a_wrong_wind_keeps_the_last_answer_and_is_told_above_it(home):
    def answer():
        return re.sub(r"\b\d{10}\.\d+", "", sheet_words(home))  # the clock of its last word

    home.text_input(key="wind").set_value("E 12").run()
    before = answer()
    home.text_input(key="wind").set_value("NNN 8").run()
    assert not home.exception
    assert "NNN 8" in home.error[0].value and "gusting 20" in words(home, "caption")
    is_as_before = answer() == before  # pytest would compare 60,000 letters for a minute
    assert "E 12 mph" in before and is_as_before


def test_the_demo_says_at_once_that_its_wind_is_an_example_and_leads_to_another(home):
    assert "An example wind." in words(home, "caption")
    home.button(key="take_typical").click().run()
    assert "typical day, not a forecast" in sheet_words(home)
    assert "An example wind." not in words(home, "caption")


def test_without_a_wind_what_is_known_is_told_and_a_line_takes_it(home):
    home.button(key="give_wind").click().run()
    assert not home.exception
    told = words(home)
    for want in ("What is the wind?", "Legal light begins 6:21 am", "Leave 5:05 am by Branch walk"):
        assert want in told
    assert re.search(r"Dry fork\*\*: .*[NESW]", told) and not home.warning
    home.date_input(key="date").set_value(datetime.date(2026, 11, 28)).run()
    assert "Wear orange, with the bow too" in home.warning[0].value  # gun season covers it
    home.date_input(key="date").set_value(datetime.date(2026, 11, 10)).run()
    home.text_input(key="wind_here").set_value("out of the west at ten").run()
    assert not home.exception
    assert "W 10 mph" in sheet_words(home)


def test_a_wind_that_was_given_opens_again_with_its_age_until_the_sit_is_over(
    monkeypatch, tmp_path
):
    (tmp_path / "own.json").write_bytes(demo_path().read_bytes())
    home = opened(ground="own")
    home.text_input(key="wind").set_value("8 mph from the south").run()
    assert "S 8 mph" in sheet_words(home)
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T06:30:00-05:00")  # two hours later
    again = sheet_words(opened(ground="own", date="2026-11-10", sit="morning"))
    assert "S 8 mph: as you gave it 2 h ago" in again
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T12:00:00-05:00")  # the morning is over
    assert "S 8 mph" not in sheet_words(opened(ground="own"))


def test_what_is_kept_of_a_wind_may_be_spoiled(tmp_path):
    (tmp_path / FILE).write_text('{"x": {"text": 5, "cloud": "", "given_s": 0, "until_s": 9e9}}')
    assert given_now("x", 5) is None
    keep_given("x", GivenWind("NW 8", "clear", 10.0, 20.0))
    assert [given_now("x", at) is not None for at in (5, 10, 19, 20)] == [False, True, True, False]


def test_the_rows_of_the_stands_can_be_compared_morning_beside_evening(home):
    told = sheet_words(home)
    rows = re.findall(r'<div class="cells">.*?</div>', told, re.DOTALL)
    assert len(rows) == len(STANDS)
    best = rows[0]
    for cell, want in (
        ("leave", r"\d:\d\d"),
        ("way", "walk|road"),
        ("spare", r"\d+° to [NESW]+|over 45°"),
    ):
        assert re.search(rf'class="{cell}">[^<]*({want})', best), cell
    assert re.search(r'class="half">.*(go|stay out|can\'t call)', best)


def test_the_sit_by_the_clock_follows_the_stand_that_is_looked_at(home):
    """The ruler's words, and all stands beside it."""
    heads = words(home, "header")
    assert "Dry fork, the morning by the clock" in heads and "Which stand until when" in heads
    assert re.search(r"6:21 (am )?to \d+:\d\d am: (up|down)? ?to the [NESW]+, ", words(home))
    table = next(h.body for h in home.html if 'class="until"' in h.body)
    assert table.count('class="strip"') == len(STANDS) and "all morning" in table
    home.button(key="look-plum-edge").click().run()
    assert not home.exception
    assert "Plum edge, the morning by the clock" in words(home, "header")


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


def test_still_air_says_cant_call_and_no_clean_stand_says_stay_out():
    for wind, date, said in (
        ("calm", "2026-11-10", "Can't call"),
        ("NW 8", "2026-07-10", "Stay out"),  # outside every season
    ):
        told = sheet_words(opened(wind=wind, date=date, sit="morning"))
        head = re.search(r"<h1>.*?</h1>", told, re.DOTALL)[0]
        assert re.sub(r"<[^>]*>", "", head).strip() == said


def test_an_empty_property_says_what_to_do():
    demo, path = open_property(demo_path()), new_path("Empty ground")
    save_property(demo, {**demo.document, "features": []}, path, now_s=1_790_000_000)
    home = opened(ground=path.stem)
    assert not home.exception
    assert home.title[0].value == "No stands yet."


def test_the_lee_of_a_bed_is_told_and_changes_nothing():
    app = opened(wind="W 8", date="2026-11-10", sit="morning", stand="line-oak")
    assert not app.exception
    told = [line for line in words(app, "caption").splitlines() if "downwind side of" in line]
    assert all("nobody has tested it. It changes nothing here." in line for line in told)
    assert told
