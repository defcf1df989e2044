"""What a trail or a way in is worth, on a ground where it can be counted by hand."""

import dataclasses

import pytest

from core.chores.due import Chore
from core.chores.worth import by_worth, worths
from core.ground.layout import Season, Stand
from core.season.review import judge_season
from core.sit.scene import Scene
from tests import grounds
from tests.core.chores.test_due import D

HERE = grounds.PIEDMONT
TRUCK_S, OAK_S = (180, 440), (180, 5)
FIVE_DAYS = Season("bow", "11-10", "11-14")


def season(days=10, **more):
    """Five mornings and evenings of a steady north wind: Oak and Elm, both go in all of them."""
    elm = grounds.at(HERE, 90, 300)
    told = {
        "stands": (Stand("oak", "Oak", HERE), Stand("elm", "Elm", elm)),
        "lanes": (
            grounds.lane(HERE, TRUCK_S, OAK_S, id_="south"),
            grounds.lane(elm, TRUCK_S, OAK_S, id_="elm-walk", stands=("elm",)),
        ),
        "corridors": (
            grounds.corridor(HERE, (0, 20), (0, 200), id_="north-trail"),
            grounds.corridor(elm, (0, 20), (0, 200), id_="elm-trail"),
        ),
        "areas": (grounds.bed(HERE, 0, 900),),
        "seasons": (FIVE_DAYS,),
        **more,
    }
    weather = grounds.hourly(1794200400 - 86400, [0.0] * 24 * days)
    return judge_season(Scene(grounds.ground(**told)), weather)


@pytest.fixture(scope="module")
def plain():
    return season()


def test_the_season_of_these_tests_is_go_throughout(plain):
    assert plain.n_sits == 10 and plain.serves.all()


def test_the_only_trail_and_the_only_way_in_take_all_sits_of_their_stand(plain):
    found = worths(plain)
    for id_, stand in (("north-trail", "oak"), ("elm-trail", "elm"), ("south", "oak")):
        worth = found[id_]
        assert (worth.no_stand, worth.stand_sits, worth.of_sits) == (0, 10, 10), id_
        assert worth.stands == (stand,)


def test_with_one_stand_those_sits_have_no_stand_at_all(plain):
    ground = plain.scene.ground
    alone = season(
        stands=ground.stands[:1],
        lanes=(ground.lanes[-1],) if ground.lanes[-1].id == "south" else (ground.lanes[0],),
    )
    assert worths(alone)["north-trail"].no_stand == 10
    assert worths(alone)["elm-trail"] == dataclasses.replace(
        worths(alone)["elm-trail"], no_stand=0, stand_sits=0, stands=()
    )


def test_a_second_trail_or_food_in_range_keeps_sits(plain):
    ground = plain.scene.ground
    second = grounds.corridor(HERE, (10, 25), (10, 200), id_="second")
    assert worths(season(corridors=(*ground.corridors, second)))["north-trail"].stand_sits == 0
    food = grounds.food(HERE, 0, 30, held="never")
    fed = season(areas=(*ground.areas, food))
    evenings = int(fed.serves[5:, list(fed.stands).index(fed.scene.ground.stand("oak"))].sum())
    assert worths(fed)["north-trail"].stand_sits == 10 - evenings > 0


def test_a_second_way_in_keeps_what_it_serves(plain):
    """The way past the bed is wrong in a south wind; in this north wind it serves as well."""
    ground = plain.scene.ground
    other = grounds.lane(HERE, (200, 440), OAK_S, id_="other")
    found = worths(season(lanes=(*ground.lanes, other)))
    assert found["south"].stand_sits == found["other"].stand_sits == 0


def test_a_ground_without_stands_or_trails_has_no_worth():
    bare = season(stands=(), lanes=())
    assert {w.stand_sits for w in worths(bare).values()} == {0}


def test_dearest_first_within_a_state(plain):
    found = worths(plain)
    dear = found | {"elm-trail": dataclasses.replace(found["elm-trail"], stand_sits=2)}
    day = D(2026, 2, 1)
    chores = [
        Chore("cut", "elm-trail", day, day, "now"),
        Chore("walk-sign", "", day, day, "now"),
        Chore("cut", "north-trail", day, day, "now"),
        Chore("cut", "north-trail", day, day, "overdue"),
    ]
    order = [(c.state, c.feature) for c in by_worth(chores, dear)]
    assert order == [
        ("overdue", "north-trail"),
        ("now", "north-trail"),
        ("now", "elm-trail"),
        ("now", ""),
    ]


def test_two_seasons_give_what_one_loses():
    two = season(days=376)  # with the same five days of the next year
    assert two.n_sits == 20 and len(two.years) == 2
    found = worths(two)["south"]
    assert (found.stand_sits, found.of_sits) == (10, 10)
