"""The trail before the shot against an exhaustive walk, which tries every way back."""

import itertools
import math

import numpy as np
import pytest
import shapely

from core.sit import before
from core.sit.before import Trails

# 150 and 10 yards: common practice, no source
FOLLOWED_M, NEAR_M = 150 * 0.9144, 10 * 0.9144
STEP_M = 0.2
SLACK_M = 0.5  # the walk below goes by steps


def sampled(line):
    """Places along a line every 20 cm, its corners among them: (along, point)."""
    legs = np.hypot(*np.diff(np.asarray(line.coords), axis=0).T)
    steps = np.arange(0.0, line.length, STEP_M)
    along = np.unique(np.concatenate([steps, np.append(0.0, np.cumsum(legs)), [line.length]]))
    return along, shapely.get_coordinates(shapely.line_interpolate_point(line, along))


def near_stretches(line, point):
    """Each time a line passes within ten yards of a point: (from, to, nearest place)."""
    if line.distance(shapely.Point(point)) > NEAR_M:
        return []
    along, places = sampled(line)
    far = np.hypot(*(places - point).T)
    runs = itertools.groupby(range(len(along)), key=lambda i: far[i] <= NEAR_M)
    found = [list(run) for inside, run in runs if inside]
    return [(along[r[0]], along[r[-1]], along[min(r, key=far.__getitem__)]) for r in found]


def all_joins(lines):
    """(corridor, from, to, best place, the other, place along that), of every end."""
    for one, other in itertools.permutations(lines, 2):
        for end in (0.0, lines[other].length):
            point = lines[other].interpolate(end).coords[0]
            for low, high, at in near_stretches(lines[one], point):
                yield one, low, high, at, other, end
                yield other, end, end, end, one, at


def every_way_back(lines, name, at):
    """All that is followed, one way back after another, none left out. Spans by corridor."""
    joins, spans = list(all_joins(lines)), {}

    def walk(name, at, used, walked):
        low = max(0.0, at - (FOLLOWED_M - used))
        spans.setdefault(name, []).append((low, at))
        for one, first, last, best, other, place in joins:
            on_part = one == name and last >= low - 1e-6 and first <= at + 1e-6
            if on_part and other not in walked:
                left = min(max(best, low), at)
                walk(other, place, used + at - left, walked | {other})

    walk(name, at, 0.0, {name})
    return spans


def shape(lines, spans):
    parts = [shapely.ops.substring(lines[n], *span) for n, found in spans.items() for span in found]
    return shapely.union_all(parts)


def drawn(seed, count, step_m):
    """A net of bent trails by lot."""
    lot = np.random.default_rng(seed)
    legs = [lot.uniform(-step_m, step_m, (lot.integers(1, 5), 2)) for _ in range(count)]
    starts = lot.uniform(-90, 90, (count, 2))
    return {
        f"t{i}": shapely.LineString(np.cumsum(np.vstack([start, leg]), axis=0))
        for i, (start, leg) in enumerate(zip(starts, legs, strict=True))
    }


@pytest.mark.parametrize(("count", "step_m", "nets"), [(6, 60, 20), (9, 35, 8), (8, 22, 8)])
def test_every_way_back_is_followed_and_no_other(count, step_m, nets):
    for seed in range(nets):
        lines = drawn(seed, count, step_m)
        trails = Trails(lines)
        for k, (name, line) in enumerate(lines.items()):
            at = line.length * (0.2 + 0.8 * ((seed + k) % 7) / 6)
            theirs = shape(lines, every_way_back(lines, name, at))
            ours = shape(lines, trails.followed(name, at))
            assert theirs.difference(ours.buffer(SLACK_M)).length < SLACK_M, (seed, name)
            assert ours.difference(theirs.buffer(SLACK_M)).length < SLACK_M, (seed, name)


def touched():
    """A trail that the shorter way back only touches at its start, and the longer one walks.

    Deer reach `side` by the start of `loop`, 22 m before the shot, or straight, 30 m
    before it. Only who came straight may go on from side's start to the end of loop.
    """
    drawn = {
        "trail": [(10, -400), (10, 300)],
        "loop": [(16, -22), (60, -22)],
        "side": [(62, -28), (15, -30)],
    }
    return {name: shapely.LineString(points) for name, points in drawn.items()}


def test_a_trail_that_the_first_arrival_only_touched_is_followed_by_the_second():
    lines = touched()
    # 30 m of trail and 47 m of side leave 60 m for the 44 m of loop
    assert FOLLOWED_M - 30 - math.hypot(47, 2) > 44
    spans = Trails(lines).followed("trail", 400.0)
    assert spans["loop"] == [(0.0, pytest.approx(44.0))]


def test_a_trail_that_passes_an_end_twice_is_joined_at_both():
    # from the start of spur deer came along bend, by its upper leg or by its lower one
    lines = {
        "spur": shapely.LineString([(0, 0), (0, 60)]),
        "bend": shapely.LineString([(-100, -8), (60, -8), (60, 8), (-100, 8)]),
    }
    spans = Trails(lines).followed("spur", 60.0)
    # 77.16 m are left on each leg; the nearest places lie at x = 0: 100 and 236 m along
    left = FOLLOWED_M - 60
    assert spans["bend"] == [
        (pytest.approx(100 - left), pytest.approx(100)),
        (pytest.approx(236 - left), pytest.approx(236)),
    ]


@pytest.mark.parametrize("seed", range(12))
def test_where_the_ways_are_too_many_some_trail_too_much_is_followed_and_none_too_little(
    seed, monkeypatch
):
    lines = drawn(seed, 12, 30)
    exact = {n: Trails(lines).followed(n, x.length) for n, x in lines.items()}
    monkeypatch.setattr(before, "MOST_WAYS", 0)
    for name, line in lines.items():
        more = shape(lines, Trails(lines).followed(name, line.length))
        assert shape(lines, exact[name]).difference(more.buffer(1e-3)).length < 1e-6


def test_eighty_trails_from_one_thicket_take_no_million_ways(monkeypatch):
    lot = np.random.default_rng(1)
    star = {
        f"t{i}": shapely.LineString([start, start + 200 * np.array([np.sin(a), np.cos(a)])])
        for i, (start, a) in enumerate(
            zip(lot.uniform(-20, 20, (80, 2)), np.arange(80), strict=True)
        )
    }
    trails, asked = Trails(star), []
    reached = Trails._reached
    monkeypatch.setattr(
        Trails, "_reached", lambda self, *way: asked.append(way) or reached(self, *way)
    )
    assert len(trails.followed("t0", 30.0)) == 80
    assert len(asked) < 20_000
