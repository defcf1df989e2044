"""The first stand of each sit, found before every stand is judged, is that of the whole order."""

import dataclasses
import datetime

import numpy as np
import pytest

from core.answer.one_sit import answer_sits, others_at, read_out
from core.ground.layout import Stand
from core.judge import first
from core.judge.every_way import ALL_ROUND, STRAIGHT, _of_classes, hopeless
from core.judge.row_verdicts import limits_of
from core.judge.stand import stand_sits
from core.judge.stand_rows import rows_of
from core.sit.clock import HALVES, clocks
from core.sit.dates import dates_on
from core.sit.prepare import prepare_sits
from core.sit.scene import Scene
from core.sit.trails import trails_in_range
from core.sit.verdicts import CANT, GO, STAY, WRONG
from core.weather.entry import parse_wind
from tests.random_grounds import random_ground

WINDS = ("N 5", "NE 12", "E 5", "SE 12", "S 5", "SW 12", "W 5", "NW 12", "calm")


def sits_on(ground, sit: str):
    """Sits of a ground, or of a random one, one for each wind."""
    ground = random_ground(ground) if isinstance(ground, int) else ground
    scene, hours = Scene(ground), [parse_wind(wind) for wind in WINDS]
    dates = dates_on(scene.ground, [datetime.date(2026, 10, 20)])
    clock = clocks(scene.ground, dates, sit, np.zeros(len(WINDS), int))
    return prepare_sits(scene, hours, clock)


@pytest.mark.parametrize(("seed", "sit"), [(i, HALVES[i % 2]) for i in range(10)])
def test_the_first_is_that_of_the_whole_order(monkeypatch, seed, sit):
    monkeypatch.setattr(first, "ROUND", 1)
    sits = sits_on(seed, sit)
    taken = {sits.ground.stands[0].id: "Somebody"}
    for others in ({}, taken):
        found = first.first_stands(sits, others_at(sits, others))
        whole = [answer.best for answer in answer_sits(sits, others)]
        assert [one.group for one in found] == [best.group for best in whole]
        told = [one.own.stand.id if one.own else None for one in found]
        assert told == [best.stand.id if best.group == GO else None for best in whole]
        for one, best in zip(found, whole, strict=True):
            if one.own:
                seat = read_out(one.own.rows.sits.one(one.place), one.own)
                assert (seat.verdict, seat.leave_truck_s) == (best.verdict, best.leave_truck_s)


def test_where_a_stand_cannot_be_beaten_the_rest_is_not_judged(monkeypatch):
    judged = []
    monkeypatch.setattr(first, "ROUND", 1)
    real = first.seat_air

    def counted(rows, stand):
        judged.append(len(rows.sits))
        return real(rows, stand)

    monkeypatch.setattr(first, "seat_air", counted)
    for seed in range(4):
        first.first_stands(sits_on(seed, "morning"), {})
    assert min(judged) < len(WINDS)


def hope(name: str, most: float, in_range: int) -> first._Hope:
    return first._Hope(Stand(name, name, (0.0, 0.0)), most, False, (-in_range, -1.0, name, name))


@pytest.mark.parametrize(
    ("most", "in_range", "settled"),
    [
        (0.68, 2, False),  # within 5 % of 0.69 and with more trails: it would stand first
        (0.68, 0, True),  # with fewer it stands behind
        (0.65, 2, True),  # under 0.69 x 0.95 = 0.6555
        (0.72, 0, True),  # better, but 0.69 is within 5 % of it, and has more trails
        (0.73, 0, False),  # 0.73 x 0.95 = 0.6935
    ],
)
def test_the_first_holds_while_nobody_left_can_stand_before_it(most, in_range, settled):
    sit = first._Sit()
    sit.add(hope("first", 0.7, 1), GO, 0.69)
    assert sit.settled([hope("left", most, in_range)]) is settled


def test_walks_are_judged_where_a_stand_may_still_count():
    sit, other = first._Sit(), hope("other", 1.0, 1)
    assert sit.open_to(other, CANT, 0.0) and not sit.open_to(other, STAY, 1.0)
    sit.add(other, CANT, 0.0)
    assert not sit.open_to(other, CANT, 1.0) and sit.open_to(other, GO, 0.01)
    sit.add(other, GO, 0.69)
    # 0.69 x 0.95 = 0.6555: within it a tie is settled by trails, rest and name
    assert sit.open_to(other, GO, 0.656) and not sit.open_to(other, GO, 0.655)
    behind = first._Hope(other.stand, 1.0, True, other.key)
    assert not sit.open_to(behind, GO, 1.0)


def test_in_air_that_nobody_on_foot_can_call_no_walk_is_clean():
    """A way in and a way out that can't be called are worth 0.8 each: 0.64 at most."""
    sits = sits_on(0, "evening")
    shares = first._walks_shares(sits)
    assert shares == [1.0] * (len(WINDS) - 1) + [pytest.approx(0.64)]
    sit = first._Sit(0.64)
    sit.add(hope("first", 1.0, 1), GO, 0.62)
    assert sit.settled([hope("left", 1.0, 0)])  # 0.64 x 0.95 = 0.608: within 5 %, fewer trails
    assert not sit.open_to(hope("left", 1.0, 1), GO, 0.92)  # 0.92 x 0.64 = 0.5888


@pytest.mark.parametrize("held", ["day", "never"])
def test_where_one_direction_is_wrong_no_calm_sit_is_go(held):
    """`hopeless` says so without the air; places that deer never hold say nothing."""
    found = {True: set(), False: set()}
    for seed in range(6):
        prop = random_ground(seed)
        areas = tuple(dataclasses.replace(area, held=held) for area in prop.areas)
        sits = sits_on(dataclasses.replace(prop, areas=areas), "morning")
        for stand in prop.stands:
            none = hopeless(rows_of(sits, stand), stand)
            groups = stand_sits(sits, stand).group
            assert not none[:-1].any()  # winds that have a direction
            found[bool(none[-1])].add(int(groups[-1]))
    assert GO not in found[True]
    assert bool(found[True]) is (held == "day")


def test_straight_at_each_place_is_the_worst_of_all_directions():
    for seed in range(4):
        sits = sits_on(random_ground(seed), "evening")
        for stand in sits.ground.stands:
            own, reach = rows_of(sits, stand), sits.range_yd(stand)
            trails = trails_in_range(sits.scene, stand, reach)
            limits = limits_of(sits.ground.air, len(sits.source.places), trails)
            rows = np.arange(len(own.kind))
            each = _of_classes(own, stand, rows, limits, ALL_ROUND)
            straight = _of_classes(own, stand, rows, limits, STRAIGHT)
            assert (each.max(axis=1) == straight[:, 0]).all() and (straight == WRONG).any()


def test_of_a_calm_no_more_stands_are_judged_than_may_be_go(monkeypatch):
    judged = []
    monkeypatch.setattr(first, "ROUND", 1)
    real = first.seat_air
    monkeypatch.setattr(
        first, "seat_air", lambda rows, stand: judged.append(stand) or real(rows, stand)
    )
    sits = sits_on(random_ground(2), "morning").take(np.arange(len(WINDS)) == len(WINDS) - 1)
    none = [hopeless(rows_of(sits, stand), stand)[0] for stand in sits.ground.stands]
    assert sum(none) > 1 and first.first_stands(sits, {})[0].group == CANT
    assert len(judged) <= 1 + none.count(False)
