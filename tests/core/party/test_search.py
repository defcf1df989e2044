"""The search against brute force: every way to seat everybody is tried on small cases."""

import itertools

import numpy as np
import pytest

from core.party.search import NOT_HIS, STAYS, best_seats


def worth(value, agree, seats) -> int:
    """The sum of a seating; -1 where two may not sit so."""
    total = 0
    for hunter, seat in enumerate(seats):
        if seat == STAYS:
            continue
        if value[hunter, seat] == NOT_HIS:
            return -1
        total += int(value[hunter, seat])
    for (i, a), (k, b) in itertools.combinations(enumerate(seats), 2):
        if STAYS not in (a, b) and (a == b or not agree[i, a, k, b]):
            return -1
    return total


def drawn(seed: int):
    """A small case by lot: hunters, seats, how many pairs agree, equal values now and then."""
    rng = np.random.default_rng(seed)
    hunters, seats = int(rng.integers(1, 4)), int(rng.integers(1, 7))
    value = rng.integers(0, 9 if seed % 2 else 10**12, (hunters, seats))
    value = np.where(rng.random(value.shape) < 0.2, NOT_HIS, value)
    agree = np.ones((hunters, seats) * 2, bool)
    for i, k in itertools.combinations(range(hunters), 2):
        agree[i, :, k, :] = rng.random((seats, seats)) < rng.random()
        agree[k, :, i, :] = agree[i, :, k, :].T
    return value, agree


@pytest.mark.parametrize("seeds", [range(0, 60), range(60, 120)], ids=["first", "second"])
def test_no_seating_is_better_than_the_one_found(seeds):
    for seed in seeds:
        value, agree = drawn(seed)
        hunters, seats = value.shape
        each = itertools.product([STAYS, *range(seats)], repeat=hunters)
        best = max(worth(value, agree, seating) for seating in each)
        assert worth(value, agree, best_seats(value, agree)) == best, seed
        nothing_known = np.ones_like(agree)
        asked = best_seats(value, nothing_known, lambda *pair: bool(agree[pair]))  # noqa: B023
        assert worth(value, agree, asked) == best, seed


def test_six_on_two_seats_and_nobody_without_one():
    agree = np.ones((6, 2, 6, 2), bool)
    found = best_seats(np.full((6, 2), 5), agree)
    assert sorted(found) == [STAYS] * 4 + [0, 1]
    assert best_seats(np.full((2, 1), NOT_HIS), np.ones((2, 1, 2, 1), bool)) == [STAYS, STAYS]
    assert best_seats(np.zeros((2, 0), int), np.ones((2, 0, 2, 0), bool)) == [STAYS, STAYS]
