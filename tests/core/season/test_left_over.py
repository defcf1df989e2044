"""What a season comes to in words: why sits have no stand, and which winds are the hole."""

import dataclasses

import numpy as np
import pytest

from core.say.season.words import (
    ANY,
    fill_told,
    hole_told,
    ruler_rows,
    served_words,
    stand_words,
    told_lines,
)
from core.season.left_over import (
    SERVED,
    SHUT,
    STILL,
    UNSURE,
    WRONG_ALL,
    LeftOver,
    left_over,
    why_none,
)
from core.season.one_stand import BY_CALM, BY_OTHER, BY_SIT, BY_WAY, NOTHING
from core.season.report import season_report
from core.season.review import judge_season
from core.season.ruler import Ruler, winds_that_work
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.weather.files.typical import typical_year
from tests.demo_season import few_season


@pytest.fixture(scope="module")
def answer():
    return few_season()


@pytest.mark.parametrize(
    ("left", "right", "why"),
    [
        ((GO, NOTHING), (STAY, BY_SIT), SERVED),
        ((CANT, BY_CALM), (STAY, BY_SIT), STILL),
        ((CANT, BY_OTHER), (CANT, BY_CALM), STILL),
        ((CANT, BY_OTHER), (STAY, BY_SIT), UNSURE),
        ((STAY, BY_OTHER), (STAY, BY_SIT), WRONG_ALL),
        ((STAY, BY_WAY), (STAY, BY_OTHER), WRONG_ALL),
        ((STAY, BY_OTHER), (STAY, BY_OTHER), SHUT),
    ],
)
def test_why_a_sit_has_no_stand_is_the_best_that_is_left(left, right, why):
    group, out = [[left[0], right[0]]], [[left[1], right[1]]]
    assert why_none(group, out, [[False, False]]).tolist() == [why]
    swapped = [row[::-1] for row in group], [row[::-1] for row in out]
    assert why_none(*swapped, [[False, False]]).tolist() == [why]


def test_a_seat_to_watch_from_neither_serves_nor_tells_why():
    watch = [[True, False]]
    assert why_none([[GO, STAY]], [[NOTHING, BY_SIT]], watch).tolist() == [WRONG_ALL]
    assert why_none([[CANT, STAY]], [[BY_CALM, BY_OTHER]], watch).tolist() == [SHUT]


def test_the_left_over_are_the_sits_that_no_stand_serves(answer):
    left = left_over(answer)
    assert left.sits == int((~answer.serves.any(axis=1)).sum())
    assert left.unsure + left.wrong == sum(n for _, n in left.winds)
    report = season_report(answer)
    assert left.sits == sum(h.sits_lost for h in report.ground.holes)


def test_the_hole_in_words():
    left = LeftOver(3, 1, 5, 2, (("NE", 3), ("N", 2), ("S", 1)))
    said = hole_told(left)
    assert said.startswith("11 sits are left without a stand.")
    assert "In 3 of these the air is too still" in said
    assert "Holes by wind, in sits: NE (3), N (2), S (1)." in said
    assert "In 1 the best stand can't be called" in said
    assert "In 2 every stand is closed" in said
    assert "NE wind first" in fill_told(left)


def test_no_hole_is_said_as_no_hole():
    still = LeftOver(7, 0, 0, 0, ())
    assert "In all of these" in hole_told(still) and "No wind is a hole." in hole_told(still)
    assert "No new stand fills still air" in fill_told(still)
    shut = fill_told(LeftOver(3, 0, 0, 2, ()))
    assert "closed" in shut
    assert hole_told(LeftOver(0, 0, 0, 0, ())) == "No sit is left without a stand."
    assert hole_told(LeftOver(1, 0, 0, 0, ())).startswith("1 sit is left")


def test_the_row_of_any_stand_is_the_best_of_those_that_serve(answer):
    report = season_report(answer)
    n = len(answer.stands)
    verdict = np.full((n, 36), WRONG, np.int8)
    watch = [s.id for s in answer.stands].index("hay-tripod")
    assert report.ground.watch_seats == ("hay-tripod",)
    verdict[watch] = CLEAN
    verdict[(watch + 1) % n, 4] = JUST_OFF
    verdict[(watch + 2) % n, 4:6] = CLEAN
    names, rows, shares = ruler_rows(report, Ruler("morning", "", 8.0, verdict))
    assert names[0] == ANY
    assert np.flatnonzero(rows[0] == CLEAN).tolist() == [4, 5]
    assert (np.delete(rows[0], [4, 5]) == WRONG).all()
    assert shares[0] == report.ground.by_sit["morning"].some_stand_go
    assert shares[1:] == sorted(shares[1:], reverse=True)
    assert (rows[names.index("Hay tripod")] == CLEAN).all()


def test_what_the_fewest_serve_is_counted(answer):
    ids = season_report(answer).ground.smallest_set
    picked = [s.id in ids for s in answer.stands]
    kept, whole = answer.serves[:, picked].any(axis=1).sum(), answer.serves.any(axis=1).sum()
    assert kept >= 0.95 * whole
    assert (
        served_words(answer, ids)
        == f"{len(ids)} stands together serve {kept} of these {whole} sits:"
    )
    assert served_words(answer, []) == "No stand is go in any sit."


def test_mornings_and_evenings_are_told_apart_where_they_differ(answer):
    stand = answer.stands[0]
    some, none = np.full((len(answer.stands), 36), WRONG, np.int8), None
    some[0, 9:19] = CLEAN
    none = np.full_like(some, WRONG)
    rulers = [Ruler("morning", "", 8.0, some), Ruler("evening", "", 8.0, none)]
    assert stand_words(answer, [stand.id], rulers) == [
        f"{stand.name}: mornings E to S, evenings none"
    ]
    assert stand_words(answer, [stand.id], rulers[:1]) == [f"{stand.name}: E to S"]


def test_a_whole_review_of_the_ruler_has_a_row_for_each(answer):
    ruler = winds_that_work(answer, "evening", 8)
    names, rows, _ = ruler_rows(season_report(answer), ruler)
    assert len(names) == len(rows) == len(answer.stands) + 1


def test_a_ground_without_stands_says_so(answer):
    bare = dataclasses.replace(answer.scene.ground, stands=(), lanes=())
    empty = judge_season(Scene(bare), typical_year(), span=("11-01", "11-03"))
    assert told_lines(season_report(empty)) == [
        "There is no stand yet. Draw the first one on the map."
    ]
    assert told_lines(season_report(answer)) == [
        hole_told(left_over(answer)),
        fill_told(left_over(answer)),
    ]
