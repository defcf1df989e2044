"""What several directions come to, against the rule in words."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.judge.doubt import of_directions
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG
from tests import oracle

WORDS = {CLEAN: "clean", JUST_OFF: "just-off", CANT_CALL: "cant-call", WRONG: "wrong"}
sure = st.sampled_from([CLEAN, JUST_OFF, WRONG])


@pytest.mark.parametrize(
    ("ways", "verdict"),
    [
        ([CLEAN, CLEAN], CLEAN),
        ([CLEAN, JUST_OFF], JUST_OFF),
        ([JUST_OFF], JUST_OFF),
        ([WRONG, WRONG], WRONG),
        ([WRONG, CLEAN], CANT_CALL),
        ([WRONG, JUST_OFF], CANT_CALL),
        ([WRONG], WRONG),
    ],
)
def test_one_verdict_of_several_ways(ways, verdict):
    assert of_directions(np.array(ways), [0]).tolist() == [verdict]
    assert WORDS[verdict] == oracle.of_doubt([WORDS[w] for w in ways])


@given(st.lists(st.lists(sure, min_size=1, max_size=6), min_size=1, max_size=5))
def test_each_case_has_its_own_ways(cases):
    first = np.cumsum([0, *[len(c) for c in cases[:-1]]])
    flat = np.array([v for c in cases for v in c])
    found = of_directions(np.stack([flat, flat], axis=1), first)
    for ways, (left, right) in zip(cases, found, strict=True):
        assert left == right
        assert WORDS[left] == oracle.of_doubt([WORDS[w] for w in ways])
        assert left >= min(ways)


def test_nothing_comes_to_nothing():
    assert of_directions(np.zeros((0, 4), int), np.zeros(0, int)).shape == (0, 4)
