"""Undo and redo: a step back and forth is exact, and nothing is changed in place."""

import copy

from hypothesis import given
from hypothesis import strategies as st

from core.ground.drawing.draft import MOST_STEPS, Draft, changed, redone, undone


def numbered(n: int) -> dict:
    return {"features": [], "property": {"n": n}}


def drawn(*numbers: int):
    draft = Draft(numbered(0))
    for n in numbers:
        draft = changed(draft, numbered(n), f"step {n}")
    return draft


def test_back_and_forth():
    draft = drawn(1, 2)
    assert undone(draft).document == numbered(1)
    assert undone(undone(draft)).document == numbered(0)
    assert redone(undone(draft)) == draft
    assert [s.done for s in undone(draft).future] == ["step 2"]


def test_there_is_nothing_before_the_first_step_nor_after_the_last():
    assert undone(Draft(numbered(0))) == Draft(numbered(0))
    assert redone(drawn(1)) == drawn(1)


def test_a_new_step_forgets_what_was_undone():
    draft = changed(undone(drawn(1, 2)), numbered(7), "step 7")
    assert draft.future == ()
    assert undone(draft).document == numbered(1)


def test_no_change_is_no_step():
    assert changed(drawn(1), numbered(1), "again") == drawn(1)
    undone_once = undone(drawn(1))
    assert changed(undone_once, numbered(0), "again").future == undone_once.future


def test_the_oldest_steps_are_forgotten():
    draft = drawn(*range(1, MOST_STEPS + 20))
    said = [step.done for step in draft.past]
    assert said == [f"step {n}" for n in range(20, MOST_STEPS + 20)]
    assert undone(draft).document == numbered(MOST_STEPS + 18)


@given(st.lists(st.sampled_from(["do", "undo", "redo"]), max_size=40))
def test_it_behaves_like_a_list_with_a_finger_on_it(moves):
    draft, states, at = Draft(numbered(0)), [numbered(0)], 0
    for count, move in enumerate(moves, 1):
        before = copy.deepcopy(draft)
        if move == "do":
            states, at = [*states[: at + 1], numbered(count)], at + 1
            after = changed(draft, numbered(count), "do")
        elif move == "undo":
            at, after = max(0, at - 1), undone(draft)
        else:
            at, after = min(len(states) - 1, at + 1), redone(draft)
        assert draft == before  # the old draft is as it was
        draft = after
        assert draft.document == states[at]
        assert (len(draft.past), len(draft.future)) == (at, len(states) - 1 - at)
