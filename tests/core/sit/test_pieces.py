"""Hours cut at a turn: by hand, and against a loop over the minutes."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.sit.minutes import PIECE_WORDS, TURNING, WHOLE, cut_rows, whole_rows

HOUR = 3600


def told(row_start_s, spans, uncut=()):
    """Pieces of one sit as (start minute, end minute, word); those of no length left out."""
    starts = np.array([row_start_s]) * 60
    keep = np.isin(np.arange(len(row_start_s)), uncut)[None, :]
    sit = np.zeros(len(spans), int)
    first, last = (np.array([s[i] for s in spans], int) * 60 for i in (0, 1))
    found = cut_rows(starts, keep, sit, first, last)
    return [
        (int(a) // 60, int(b) // 60, PIECE_WORDS[k])
        for a, b, k in zip(found.start_s[0], found.end_s[0], found.kind[0], strict=True)
        if a < b
    ]


@pytest.mark.parametrize(
    ("spans", "wanted"),
    [
        ([], [(0, 60, "whole"), (60, 120, "whole")]),
        (
            [(27, 67)],
            [(0, 27, "before"), (27, 60, "turning"), (60, 67, "turning"), (67, 120, "after")],
        ),
        ([(10, 50)], [(0, 10, "before"), (10, 50, "turning"), (50, 60, "after"),
                      (60, 120, "whole")]),
        ([(-20, 20)], [(0, 20, "turning"), (20, 60, "after"), (60, 120, "whole")]),
        ([(0, 60)], [(0, 60, "turning"), (60, 120, "whole")]),
        ([(40, 80), (85, 125)], [(0, 40, "before"), (40, 60, "turning"), (60, 80, "turning"),
                                 (80, 85, "after"), (85, 120, "turning")]),
        ([(130, 170)], [(0, 60, "whole"), (60, 120, "whole")]),
        ([(30, 30)], [(0, 30, "before"), (30, 60, "after"), (60, 120, "whole")]),
    ],
)  # fmt: skip
def test_where_hours_are_cut(spans, wanted):
    assert told([0, 60], spans) == wanted


def test_an_hour_with_nothing_to_turn_stays_whole():
    assert told([0, 60], [(27, 67)], uncut=[1]) == [
        (0, 27, "before"),
        (27, 60, "turning"),
        (60, 120, "whole"),
    ]
    assert told([0, 60], [(27, 67)], uncut=[0, 1]) == [(0, 60, "whole"), (60, 120, "whole")]


def test_each_sit_has_its_own_cuts():
    starts = np.array([[0, 60], [1440, 1500], [2880, 2940]]) * 60
    found = cut_rows(
        starts,
        np.zeros(starts.shape, bool),
        np.array([0, 2, 2]),
        np.array([27, 2880, 2945]) * 60,
        np.array([67, 2890, 2950]) * 60,
    )
    long = found.start_s < found.end_s
    assert long.sum(axis=1).tolist() == [4, 2, 5]
    assert found.span[0][found.kind[0] == TURNING].tolist() == [0, 0]
    assert found.span[2][found.kind[2] == TURNING].tolist() == [1, 2]
    assert (found.kind[1][long[1]] == WHOLE).all()
    assert (np.diff(found.start_s, axis=1) >= 0).all()
    assert (found.start_s[:, 1:] == found.end_s[:, :-1]).all()


def test_whole_hours():
    found = whole_rows(np.array([[0, HOUR, 2 * HOUR]]))
    assert found.end_s.tolist() == [[HOUR, 2 * HOUR, 3 * HOUR]]
    assert found.row.tolist() == [[0, 1, 2]]
    assert (found.kind == WHOLE).all() and (found.span == -1).all()


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(st.integers(-90, 280), st.integers(0, 60)), max_size=3), st.data())
def test_pieces_add_up_to_the_hours_and_each_minute_has_its_kind(drawn, data):
    spans, at = [], -1000
    for start, length in sorted(drawn):
        if start > at:
            spans.append((start, start + length))
            at = start + length
    uncut = data.draw(st.lists(st.integers(0, 3), unique=True))
    found = told([0, 60, 120, 180], spans, uncut)
    assert found[0][0] == 0 and found[-1][1] == 240
    assert all(a[1] == b[0] for a, b in itertools.pairwise(found))
    for minute in range(240):
        row = minute // 60
        word = next(w for a, b, w in found if a <= minute < b)
        turning = any(a <= minute < b for a, b in spans)
        assert (word == "turning") == (turning and row not in uncut)
        cut = any(row * 60 < edge < row * 60 + 60 for span in spans for edge in span)
        if not turning and (row in uncut or not cut):
            assert word == "whole"
        elif not turning:
            ended = any(row * 60 < b <= minute for _, b in spans)
            assert word == ("after" if ended else "before")
    assert all(b // 60 == a // 60 or b % 60 == 0 for a, b, _ in found)  # none over two hours
