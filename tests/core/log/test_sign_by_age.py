"""Sign on the map by its age: the bounds of each age, and what has no place."""

import datetime

import pytest

from core.keep.entries import SEEN, SIGN, entry_of
from core.log.sign_by_age import FRESH, OLD, YEAR, age_kind, age_text, signs_by_age
from core.show.map import property_map
from core.show.palette import DARK
from core.sit.scene import Scene
from tests import grounds
from tests.core.chores.test_due import farm

TODAY = datetime.date(2026, 11, 10)
HERE = grounds.PIEDMONT


def rub(days, **where):
    day = TODAY - datetime.timedelta(days=days)
    return entry_of(SIGN, day.isoformat(), {"what": "rub", **where})


@pytest.mark.parametrize(
    "days, kind, said",
    [
        (0, FRESH, "0 d"),
        (30, FRESH, "30 d"),
        (31, YEAR, "31 d"),
        (365, YEAR, "12 mo"),
        (366, OLD, "12 mo"),
        (731, OLD, "2 y"),
    ],
)
def test_ages(days, kind, said):
    assert (age_kind(days), age_text(days)) == (kind, said)


def test_the_newest_first_with_a_place_and_not_after_today():
    at = grounds.at(HERE, 90, 50)
    entries = [
        rub(400, place=at),
        rub(3, feature="trail"),
        rub(5),
        rub(-1, place=at),
        entry_of(SEEN, TODAY.isoformat(), {"trail": "trail"}),
    ]
    marks = signs_by_age(entries, farm(), TODAY)
    assert [(m.name, m.kind) for m in marks] == [("rub 3 d", FRESH), ("rub 13 mo", OLD)]
    assert marks[1].points == (tuple(at),)
    assert [m.kind for m in signs_by_age(entries, farm(), TODAY, (OLD,))] == [OLD]


def test_each_age_is_drawn_its_own_way():
    drawn = set()
    for days in (3, 90, 400):
        marks = signs_by_age([rub(days, place=HERE)], farm(), TODAY)
        ground = farm(marks=tuple(marks), stands=())
        sheet = property_map(Scene(ground))
        square = next(part for part in sheet.split("<rect") if 'width="6"' in part)
        drawn.add(square.split('fill="')[1].split('"')[0])
    assert drawn == {DARK.ink, DARK.soft, DARK.paper}
