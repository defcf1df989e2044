"""The page for the pocket: whole, small, harmless, and honest about its wind."""

import dataclasses
import datetime
import functools
import html
import re
from html.parser import HTMLParser
from zoneinfo import ZoneInfo

import pytest

from core.__main__ import main
from core.answer.one_sit import answer_sit
from core.answer.other_winds import POINTS, choice, other_winds
from core.errors import NoForecast
from core.ground.layout import Stand
from core.ground.store import demo_path, open_property
from core.show.pocket import print_pt
from core.show.take_along.days import pocket_days
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import STAY
from core.weather.entry import parse_wind
from core.weather.files.typical import typical_hours
from tests.few_stands import few_stands_file, few_stands_scene
from tests.grounds import NOV_10, PIEDMONT, bed, ground, hourly

MADE_S = datetime.datetime(2026, 11, 10, 1, tzinfo=datetime.UTC).timestamp()
NIGHT_BEFORE = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())


@pytest.fixture(scope="module")
def scene():
    return few_stands_scene()


@pytest.fixture(scope="module")
def page_in(scene):
    """page_in("SW 8"): the demo's page in a typed wind, made once."""
    return functools.cache(lambda wind: pocket_days(scene, parse_wind(wind), NOV_10, 1, MADE_S))


class Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.tags, self.attributes, self.words = set(), [], []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes += attrs

    def handle_data(self, data):
        self.words.append(data)


def read(page: str) -> Tags:
    tags = Tags()
    tags.feed(page)
    return tags


def words_of(page: str) -> str:
    body = page[page.index("<body") :]
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", body)))


def test_it_is_one_small_file_that_asks_for_nothing():
    """All stands of the demo are in it."""
    page = pocket_days(
        Scene(open_property(demo_path()).property), parse_wind("SW 8"), NOV_10, 1, MADE_S
    )
    tags = read(page)
    assert len(page.encode()) < 200_000
    assert not tags.tags & {"script", "iframe", "object", "form", "audio", "video"}
    assert not [
        v for k, v in tags.attributes if k in ("src", "href") and not v.startswith(("#", "data:"))
    ]
    assert not [k for k, _ in tags.attributes if k.startswith("on")]


def test_it_says_when_and_from_what_it_was_made(page_in, scene):
    words = words_of(page_in("SW 8"))
    assert "Made Mon 9 Nov 8:00 pm for a wind that was typed: SW 8" in words
    assert "not confirmed: check your state's rule" in words
    assert "Full-body harness" in words
    typical = words_of(pocket_days(scene, typical_hours(NOV_10), NOV_10, 1, MADE_S))
    assert "typical day, not a forecast" in typical


def test_a_confirmed_rule_has_no_star(scene):
    seasons = tuple(dataclasses.replace(s, checked_on="2026-09-01") for s in scene.ground.seasons)
    other = Scene(dataclasses.replace(scene.ground, seasons=seasons))
    assert "not confirmed" not in pocket_days(other, parse_wind("SW 8"), NOV_10, 1, MADE_S)


def test_both_sits_and_all_nine_winds_are_there(page_in):
    words = words_of(page_in("SW 8"))
    for want in ("morning", "evening", "seated", "legal light", "still air", "Way in"):
        assert want in words
    table = words[words.index("If the wind at the truck") :]
    for point in POINTS:
        assert f" {point} " in table


def test_the_table_holds_the_answers_of_those_winds(scene):
    rows = other_winds(scene, NOV_10, "morning")
    assert [row[0] for row in rows] == [*POINTS, "still air"]
    for point, light, steady in rows[:-1]:
        wind = f"{point} 5 mph"
        alone = answer_sit(prepare_sit(scene, parse_wind(wind), NOV_10, "morning"))
        assert light == choice(wind, alone.best.group, alone.sit, alone.best)
        assert steady.wind == f"{point} 12 mph"
    assert rows[-1][1].stand == ""  # still air is never go


def test_minutes_are_those_before_legal_light(scene):
    answer = answer_sit(prepare_sit(scene, parse_wind("SW 12 mph"), NOV_10, "morning"))
    first = choice("SW 12 mph", answer.best.group, answer.sit, answer.best)
    light = datetime.datetime(2026, 11, 10, 6, 21, tzinfo=ZoneInfo("America/New_York"))
    assert first.minutes_before_light == (light.timestamp() - first.leave_s) / 60


def test_names_run_nothing():
    evil = '"><script>alert(1)</script><img src=x onerror=alert(2)>'
    oak = Stand("oak", evil, PIEDMONT)
    place = ground(stand=oak, areas=(dataclasses.replace(bed(PIEDMONT, 135, 150), name=evil),))
    place = dataclasses.replace(place, name=evil)
    page = pocket_days(Scene(place), parse_wind("NW 8"), NOV_10, 1, MADE_S)
    tags = read(page)
    assert not tags.tags & {"script", "img"}
    assert not [k for k, _ in tags.attributes if k.startswith("on")]
    assert evil in "".join(tags.words)


def test_a_guest_reads_what_the_marks_mean_whom_to_call_and_which_stands_to_leave(page_in, scene):
    words = words_of(page_in("NW 8"))
    assert "it comes near one, lies beside a trail before the shot, or on one of several" in words
    assert "Phone Nell 336-555-0147" in re.sub(r"\s+", " ", words)
    assert "Stay until 10:30 am. Way out: " in words
    morning = words[: words.index("evening")]
    out = morning[morning.index("Stay out of") :]
    answer = answer_sit(prepare_sit(scene, parse_wind("NW 8"), NOV_10, "morning"))
    for stand in answer.stands[1:]:
        assert (stand.stand.name in out) == (stand.group == STAY), stand.stand.name


def test_winds_with_one_answer_share_their_row(page_in):
    page = page_in("NW 8")
    rows = re.findall(r"<tr><th>(.*?)</th>(.*?)</tr>", page)
    for _, cells in rows[1:]:
        found = re.findall(r"<td[^>]*>(.*?)</td>", cells)
        assert len(set(found)) == len(found)
    assert any("colspan=2" in cells for _, cells in rows)


def test_a_sit_beyond_the_forecast_is_said_to_be_missing(scene):
    morning_only = hourly(NIGHT_BEFORE, [225.0] * 12)
    words = words_of(pocket_days(scene, morning_only, NOV_10, 1, MADE_S))
    assert "Not known" in words and "evening of 2026-11-10" in words
    with pytest.raises(NoForecast, match="2026-11-20"):
        pocket_days(scene, morning_only, datetime.date(2026, 11, 20), 1, MADE_S)


def test_the_command_writes_it(tmp_path, capsys):
    out = tmp_path / "sit.html"
    words = [
        "pocket",
        "--property",
        str(few_stands_file()),
        "--date",
        "2026-11-10",
        "--wind",
        "SW 8",
    ]
    assert main([*words, "--out", str(out)]) == 0
    assert out.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert main([*words, "--out", str(tmp_path / "no" / "where.html")]) == 2
    assert "where.html" in capsys.readouterr().err


def test_more_words_print_in_smaller_type():
    few, many = "<p>" + "word " * 100 + "</p>", "<p>" + "word " * 2000 + "</p>"
    assert print_pt(few) == 8.4
    assert print_pt(many) < 6.0
    assert print_pt(f"<svg>{'x' * 90_000}</svg>{few}") == 8.4  # a drawing is no words
    assert print_pt(many * 20) == 4.5
