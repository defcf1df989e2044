"""Rest, score and felt air: sums against arithmetic, libraries and simulated notes."""

import datetime
import math

import numpy as np
import pytest
from scipy import stats

from core.keep.entries import SEEN, SIT, WORK, entry_of
from core.keep.felt_air import circular_mean_deg, turn_of, turns_by_sector
from core.keep.rest import last_sat, loads, uses
from core.keep.score import jeffreys, scores
from core.log.offers import MIDDLES_DEG

DAY = datetime.date(2026, 11, 10)


def sit(date, stand="plum", half="morning", **more):
    return entry_of(SIT, date, {"stand": stand, "sit": half, **more})


def winded(of):
    return entry_of(SEEN, of.date, {"winded": True}, of=of.id)


# --- rest ---


def test_a_sit_two_days_ago_with_three_days_of_rest():
    used = uses([sit("2026-11-08")], DAY)
    assert loads(used, DAY, 3.0, {"plum": ()})["plum"] == pytest.approx(math.exp(-2 / 3))


def test_a_winded_deer_counts_double_and_the_sit_not_again():
    burned = sit("2026-11-10")
    used = uses([burned, winded(burned)], DAY)
    assert loads(used, DAY, 3.0, {"plum": ()})["plum"] == pytest.approx(2.0)


def test_what_is_shared_counts_half():
    used = uses([sit("2026-11-10", "oats")], DAY)
    told = loads(used, DAY, 3.0, {"plum": ("oats",), "oats": ("plum",), "cane": ()})
    assert told == {"plum": pytest.approx(0.5), "oats": pytest.approx(1.0), "cane": 0.0}


def test_work_by_day_at_a_shared_trail():
    work = entry_of(WORK, "2026-11-10", {"what": "cut", "feature": "east-trail"})
    dark = entry_of(WORK, "2026-11-10", {"what": "cut", "feature": "east-trail", "daytime": False})
    told = loads(uses([work, dark], DAY), DAY, 3.0, {"plum": ("east-trail",)})
    assert told["plum"] == pytest.approx(0.25)


def test_plans_and_days_to_come_do_not_count():
    used = uses([sit("2026-11-09", planned=True), sit("2026-11-11")], DAY)
    assert used == []


def test_days_since_a_stand_was_sat():
    entries = [sit("2026-11-08"), sit("2026-11-05"), sit("2026-11-10", "oats")]
    assert last_sat(entries, DAY) == {"plum": 2, "oats": 0}
    assert last_sat(entries, DAY, evening=False) == {"plum": 2}


# --- score ---


@pytest.mark.parametrize(("hits", "cases"), [(2, 11), (0, 7), (7, 7), (1, 20)])
def test_the_interval_against_scipy(hits, cases):
    found = stats.beta(hits + 0.5, cases - hits + 0.5).interval(0.8)
    expected = (0.0 if hits == 0 else found[0], 1.0 if hits == cases else found[1])
    assert jeffreys(hits, cases) == pytest.approx(expected)


def test_no_cases_say_nothing():
    assert jeffreys(0, 0) == (0.0, 1.0)


def test_clean_sits_and_the_winded_among_them():
    told = {"told": {"verdict": "clean", "source": "forecast"}}
    entries = []
    for day in range(1, 12):
        one = sit(f"2026-11-{day:02d}", nothing_seen=True, **told)
        entries += [one, *([winded(one)] if day < 3 else [])]
    entries += [sit("2026-11-12", **told)]  # nothing was said of it afterwards
    entries += [sit("2026-11-13", planned=True, nothing_seen=True, **told)]
    entries += [sit("2026-11-14", nothing_seen=True)]  # the program had said nothing
    found = {(s.stand, s.verdict, s.source): s for s in scores(entries)}
    mine = found["plum", "clean", ""]
    assert (mine.sits, mine.winded, mine.claims) == (11, 2, True)
    assert (mine.low, mine.high) == jeffreys(2, 11)
    assert found[None, "clean", "forecast"].sits == 11


def test_under_five_there_is_no_claim():
    told = {"told": {"verdict": "clean"}, "nothing_seen": True}
    four = scores([sit(f"2026-11-0{d}", **told) for d in range(1, 5)])
    assert [s.claims for s in four] == [False] * len(four)


# --- felt air ---


def test_the_circular_mean_against_scipy():
    angles = np.array([350.0, 10.0, 30.0, 355.0])
    expected = math.degrees(stats.circmean(np.radians(angles)))
    assert circular_mean_deg(angles) % 360 == pytest.approx(expected % 360)


def test_opposite_directions_have_no_mean():
    assert math.isnan(circular_mean_deg([0.0, 180.0]))
    assert math.isnan(circular_mean_deg([]))


def test_four_are_too_few():
    assert turn_of([315.0] * 4, [270.0] * 4, 315.0) is None


def test_a_plain_turn_is_offered_the_right_way_round():
    told = [315.0, 310.0, 320.0, 315.0, 312.0, 318.0]
    turn = turn_of(told, [t - 45.0 for t in told], 315.0)
    assert turn.offered
    assert turn.turn_deg == pytest.approx(-45.0, abs=3.0)
    assert turn.felt_deg == pytest.approx(270.0, abs=3.0)
    assert (turn.cases, turn.alike) == (6, 6)


def test_sectors_over_north_and_pairs_without_a_wind():
    told = [350.0, 355.0, 0.0, 5.0, 10.0, math.nan, 180.0]
    felt = [20.0, 25.0, 30.0, 35.0, 40.0, 10.0, 180.0]
    (turn,) = turns_by_sector(told, felt, [0.0, 180.0])
    assert (turn.told_deg, turn.cases) == (0.0, 5)
    assert turn.turn_deg == pytest.approx(30.0, abs=2.0)


def simulated(turn_deg, cases, runs=1500):
    """Turns found in simulated notes: told winds of one sector, felt with 30 deg of scatter."""
    lot = np.random.default_rng(7)
    found = []
    for _ in range(runs):
        told = lot.uniform(270.0, 360.0, cases)
        felt = (told + turn_deg + lot.normal(0.0, 30.0, cases)) % 360.0
        found.append(turn_of(told, felt, 315.0))
    return [turn for turn in found if turn]


@pytest.mark.parametrize("cases", [7, 12, 25])
def test_a_turn_of_25_degrees_is_recovered_and_its_range_holds(cases):
    found = simulated(25.0, cases)
    assert np.mean([t.turn_deg for t in found]) == pytest.approx(25.0, abs=1.5)
    assert 0.76 <= np.mean([t.low_deg <= 25.0 <= t.high_deg for t in found]) <= 0.84


@pytest.mark.parametrize("cases", [5, 9, 25])
def test_no_turn_gives_no_offer_in_19_of_20(cases):
    assert np.mean([t.offered for t in simulated(0.0, cases)]) <= 0.055  # 0.05 and its own error


def test_a_stand_without_a_turn_is_offered_none_in_19_of_20_whatever_winds_it_had():
    """All sectors together: each alone at its 19 of 20, eight of them would offer in 5 of 20."""
    lot, runs, offered = np.random.default_rng(7), 300, 0
    for _ in range(runs):
        told = lot.uniform(0.0, 360.0, 40)
        felt = (told + lot.normal(0.0, 30.0, 40)) % 360.0
        offered += any(t.offered for t in turns_by_sector(told, felt, MIDDLES_DEG))
    assert offered / runs <= 0.05
