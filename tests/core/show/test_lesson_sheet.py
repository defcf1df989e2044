"""The sheet to print: eight situations, answers on a second page, nothing that runs."""

import dataclasses
import datetime
import html
import re
from html.parser import HTMLParser

import pytest

from core.learn.pick_one import best_of
from core.learn.situations import draw_situation
from core.show.lesson_sheet import lesson_sheet, winds_line
from core.sit.scene import Scene
from tests.few_stands import few_stands_scene
from tests.grounds import PIEDMONT, ground, sit_of, wind

PRINTED = datetime.date(2026, 11, 10)
NASTY = "<img src=x onerror=alert(1)>&\"'"


@pytest.fixture(scope="module")
def scene() -> Scene:
    return few_stands_scene()


@pytest.fixture(scope="module")
def sheet(scene) -> str:
    return lesson_sheet(scene, 2026, 40, PRINTED)


class Tags(HTMLParser):
    """Every tag with its attributes; open ones must be closed in their order."""

    VOID = frozenset(("meta", "br", "img", "rect", "circle", "path", "line", "polyline", "polygon"))

    def __init__(self, page: str) -> None:
        super().__init__()
        self.seen, self.open = [], []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.seen.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.seen.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_eight_situations_and_eight_answers(sheet):
    asked, told = sheet.split('<section class="answers">')
    assert len(re.findall("<li>", asked)) == len(re.findall("<li>", told)) == 8
    assert "break-before: page" in sheet


def test_questions_hold_no_answer(scene, sheet):
    asked, told = sheet.split('<section class="answers">')
    for i in range(8):
        found = draw_situation(scene, 2026, 40 + i)
        assert winds_line(found) in html.unescape(asked)
        best = best_of(found)
        said = "Right: stay out." if best is None else f"Go: {best.stand.name} ("
        assert said in told
    assert "Go: " not in asked
    assert "straight downwind" not in asked


def test_it_carries_its_date_and_what_to_check(sheet):
    for page in sheet.split('<section class="answers">'):
        assert "printed November 10 2026, sheet 40" in page
        assert "Check today's legal light." in page
        assert "not a forecast" in page
        assert "Local rules come first." in page


def test_nothing_runs_and_nothing_is_fetched(sheet):
    tags = Tags(sheet)
    assert tags.open == []
    assert {t for t, _ in tags.seen} <= {
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "main",
        "section",
        "h1",
        "p",
        "ol",
        "li",
        "div",
        "span",
        "br",
        "svg",
        "defs",
        "pattern",
        "line",
        "rect",
        "path",
        "polyline",
        "polygon",
        "circle",
        "text",
        "clippath",
        "g",
    }
    for _, attributes in tags.seen:
        assert not [a for a in attributes if a.startswith("on") or a in ("href", "src")]
    assert "url(http" not in sheet
    assert "@import" not in sheet


def test_names_that_look_like_markup_stay_words(scene):
    base = scene.ground
    evil = dataclasses.replace(
        base,
        name=NASTY,
        stands=tuple(dataclasses.replace(s, name=f"{NASTY}{s.id}") for s in base.stands),
        areas=tuple(dataclasses.replace(a, name=NASTY) for a in base.areas),
        lanes=tuple(dataclasses.replace(x, name=NASTY) for x in base.lanes),
    )
    page = lesson_sheet(Scene(evil), 2026, 40, PRINTED)
    tags = Tags(page)
    assert tags.open == []
    assert "img" not in {t for t, _ in tags.seen}
    assert "<img" not in page
    assert NASTY in html.unescape(page)


def test_equal_hours_are_told_once():
    from core.learn.situations import Situation

    ready = sit_of(ground(center=PIEDMONT), wind(315, 10))
    found = Situation(1, PRINTED, "morning", PRINTED, ready.weather, ready, {})
    assert re.fullmatch(r"Wind: 6:\d\d am NW 10 mph\.", winds_line(found))
