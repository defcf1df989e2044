"""Hostile names on every sheet, card and drawing: words stay words."""

import datetime
from html.parser import HTMLParser

import pytest

from core.answer.one_sit import answer_sit
from core.chores.due import chores
from core.chores.rounds import due_jobs, first_that_fit, round_of
from core.ground.parse import property_from_document
from core.harmless import harmless
from core.say.headline import head_of, sit_line
from core.show.card import air_html, head_html, hours_html
from core.show.charts import ruler_figure, shares_figure
from core.show.hours.dusk_clock import dusk_clock
from core.show.hours.ruler import day_ruler
from core.show.hours.until import until_html, until_rows
from core.show.lesson_sheet import lesson_sheet
from core.show.map import Emphasis, property_map, sit_map
from core.show.palette import DARK
from core.show.take_along.days import pocket_days
from core.show.visor import visor_sheet
from core.show.yearly.round_sheet import round_sheet
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests.grounds import NOV_10
from tests.hostile import NAMES, OBEYED, small

FEBRUARY = datetime.date(2027, 2, 10)
MADE_S = datetime.datetime(2026, 11, 10, 1, tzinfo=datetime.UTC).timestamp()


def pocket(scene):
    taken = {scene.ground.stands[1].id: scene.ground.people[0].name}
    return pocket_days(scene, parse_wind("NW 8"), NOV_10, 1, MADE_S, taken=taken)


def visor(scene):
    return visor_sheet(scene, NOV_10, MADE_S, "bow")


def lessons(scene):
    return lesson_sheet(scene, 2026, 40, NOV_10)


def card(scene):
    answer = answer_sit(prepare_sit(scene, parse_wind("NW 8"), NOV_10, "morning"))
    sit, own = answer.sit, answer.best
    return (
        head_html(head_of(sit, own, MADE_S), sit_line(sit))
        + hours_html(sit, own)
        + (air_html(sit, own) + sit_map(sit, own) + day_ruler(sit, DARK))
        + dusk_clock(sit, own, DARK)
        + until_html(answer, until_rows(answer, 9), own.stand.id)
    )


def whole_map(scene):
    spots = [(0.0, 0.0, scene.ground.name)]
    noted = {area.id: area.name for area in scene.areas}
    return property_map(scene, Emphasis(spots=spots, noted=noted, whole=True))


def round_(scene):
    jobs = first_that_fit(due_jobs(chores(scene.ground, [], FEBRUARY), FEBRUARY))
    return round_sheet(round_of(scene.ground, jobs), scene.ground, FEBRUARY, MADE_S)


SHEETS = {
    "round": round_,
    "pocket": pocket,
    "visor": visor,
    "lessons": lessons,
    "card": card,
    "map": whole_map,
}


class Page(HTMLParser):
    """Kinds of elements with the names of their attributes, and all words, titles too."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.kinds, self.words = set(), ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.kinds.add((tag, frozenset(name for name, _ in attrs)))
        self.words += "".join(f" {value} " for _, value in attrs)

    def handle_data(self, data):
        self.words += data


@pytest.mark.parametrize("sheet", SHEETS)
def test_names_are_words_on_every_sheet(sheet, monkeypatch):
    # a lesson's first draw will do: whether its stands differ is no matter of names
    monkeypatch.setattr("core.learn.situations._fits", lambda *_: True)
    make, every = SHEETS[sheet], list(NAMES.values())
    plain = Page(str(make(Scene(property_from_document(small(["Oak"]))))))
    document = small(every)
    document["property"]["name"] = " ".join(every)
    text = str(make(Scene(property_from_document(document))))
    page = Page(text)
    assert page.kinds <= plain.kinds
    assert not set(text) & (OBEYED - {"\n"})
    for name in every:
        assert harmless(name) in page.words


@pytest.mark.parametrize("name", NAMES)
def test_names_are_words_beside_the_rows_of_charts(name):
    figures = [
        ruler_figure([NAMES[name]], [[0] * 36], [NAMES[name]], [0.1] * 36, [0.0] * 36),
        shares_figure([NAMES[name]], [0.5], [0.1]),
    ]
    for figure in figures:
        labels = [text for axis in figure.select_yaxes() for text in axis.ticktext or ()]
        labels += [note.text for note in figure.layout.annotations if "<br>" not in note.text]
        assert labels
        for label in labels:
            assert not set(label) & ({"<", ">", '"'} | OBEYED)
