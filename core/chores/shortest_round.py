"""The order of some stops that makes the shortest walk from a place and back, searched exactly.

A stop is a spot, or a path that is walked from one end to the other, either way.
Source: [heldkarp1962], the best end of every set of stops from those of the sets without it.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ends = tuple[int, int]  # spots at which a stop may be begun; the same twice for a spot
SAME_M = 0.01
Step = tuple[int, int]  # number of a stop, and which of its ends is come to first


def shortest_round(lengths_m: Floats, stops: Sequence[Ends], start: int = 0) -> list[Step]:
    """The stops in the order of the shortest walk from the start past all of them and back.

    Args: shortest lengths between spots, (spot, spot) [m]; the spots of each stop; the spot
    of the start. Returns: each stop once. Both ways round are as long: it goes the way that
    comes to the earlier of its two outer stops first. A path that may be begun at either end
    is begun at the nearer one, where the whole gets no longer.
    """
    if not stops:
        return []
    enter = np.array(stops).reshape(-1)  # stop i from its end m: 2 i + m
    leave = np.array([ends[::-1] for ends in stops]).reshape(-1)
    between = lengths_m[np.ix_(leave, enter)]
    cost, before = _best(lengths_m[start][enter], between, len(stops))
    order = _walked(cost[-1] + lengths_m[leave, start], before, len(stops))
    if order[0][0] > order[-1][0]:
        order = [(i, 1 - m) for i, m in order[::-1]]
    return _near_ends_first(lengths_m, stops, start, order)


def lengths_from(lengths_m: Floats, stops: Sequence[Ends], starts: Sequence[int]) -> Floats:
    """The shortest walk from each of several starts past all stops and back. (start,) [m]

    Args: as `shortest_round`; spots. A walk leaves the first stop by one end for the start,
    past some of the others, and comes to its other end past the rest: both halves are
    searched once for all starts.
    """
    if not stops:
        return np.zeros(len(starts))
    n, begun = len(stops) - 1, np.array(starts)
    enter = np.array(stops[1:], int).reshape(-1)
    leave = np.array([ends[::-1] for ends in stops[1:]], int).reshape(-1)
    between = lengths_m[np.ix_(leave, enter)]
    halves = []
    for end in stops[0]:
        half = np.empty((1 << n, len(begun)))
        half[0] = lengths_m[end, begun]
        if n:
            cost = _best(lengths_m[end][enter], between, n)[0]
            for k, start in enumerate(begun):
                half[1:, k] = (cost[1:] + lengths_m[leave, start]).min(axis=1)
        halves.append(half)
    return (halves[0] + halves[1][::-1]).min(axis=0)


def length_of(lengths_m: Floats, stops: Sequence[Ends], start: int, order: list[Step]) -> float:
    """The walk between the stops of an order, and back. Args: as `shortest_round`; it. [m]"""
    come = [stops[i][m] for i, m in order]
    gone = [stops[i][1 - m] for i, m in order]
    return float(lengths_m[[start, *gone], [*come, start]].sum())


def _near_ends_first(lengths_m: Floats, stops, start: int, order: list[Step]) -> list[Step]:
    most = length_of(lengths_m, stops, start, order) + SAME_M
    for k, (i, m) in enumerate(order):
        here = start if k == 0 else stops[order[k - 1][0]][1 - order[k - 1][1]]
        turned = [*order[:k], (i, 1 - m), *order[k + 1 :]]
        nearer = lengths_m[here, stops[i][1 - m]] < lengths_m[here, stops[i][m]]
        if nearer and length_of(lengths_m, stops, start, turned) <= most:
            order = turned
    return order


def _best(first: Floats, between: Floats, n: int):
    """Cheapest ways to have done a set of stops and to end at one. Shapes (set, 2 n)."""
    cost = np.full((1 << n, 2 * n), np.inf)
    before = np.full((1 << n, 2 * n), -1, np.int16)
    for i in range(n):
        cost[1 << i, 2 * i : 2 * i + 2] = first[2 * i : 2 * i + 2]
    sets = np.arange(1 << n)
    size = sum((sets >> i) & 1 for i in range(n))
    for k in range(1, n):  # sets of a size at once: each comes from those of one less
        for j in range(n):
            done = sets[(size == k) & ~((sets >> j) & 1).astype(bool)]
            for end in (2 * j, 2 * j + 1):
                ways = cost[done] + between[:, end]
                at = ways.argmin(axis=1)
                cost[done | 1 << j, end] = ways[np.arange(len(done)), at]
                before[done | 1 << j, end] = at
    return cost, before


def _walked(total: Floats, before, n: int) -> list[Step]:
    done, at = (1 << n) - 1, int(total.argmin())
    order = []
    while at >= 0:
        order.append((at // 2, at % 2))
        done, at = done ^ (1 << (at // 2)), int(before[done, at])
    return order[::-1]
