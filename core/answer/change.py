"""What would change the answer: the winds that work, and the degrees to spare."""

import math

import numpy as np

from core.answer.one_sit import StandSit
from core.judge.stand import DECIDING, WAY_IN, WINDY, stand_sits
from core.sit.prepare import Sit
from core.sit.scene import IN
from core.sit.verdicts import GO

DIRECTIONS = np.arange(360.0)
MOST_SPARE_DEG = 180.0
FIRST_LOOK_DEG = 15  # most stands have their nearest edge within


def works_by_degree(sit: Sit, own: StandSit):
    """Whether a stand would be go under each whole degree of wind. Shape (360,).

    One direction stands in every directed hour and walk; speeds, states and
    half-widths stay. Closed stands, not-now, taken and season are left aside.
    Args: the sit; the stand in it. Several lines of one answer ask: it is worked out once.
    """
    return sit.sits.kept(_by_degree(sit, own), lambda: _works_under(sit, own, DIRECTIONS))


def _by_degree(sit: Sit, own: StandSit):
    return "works by degree", sit.at, own.stand


def works_near(sit: Sit, own: StandSit, within_deg: int):
    """The same, but only as far as the nearest wind that fails, for many stands at once.

    Args: the sit; the stand in it; degrees looked at to either side of its wind, at most.
    Returns: shape (360,); farther off every wind is taken to work. Missing: all work where the
    sit's wind has no direction.
    """
    works = np.ones(len(DIRECTIONS), bool)
    if math.isnan(sit.mean_wind_deg):
        return works
    if _by_degree(sit, own) in sit.sits.worked_out:
        return works_by_degree(sit, own)
    away = np.arange(-within_deg, within_deg + 1)
    for looked_at in (np.abs(away) <= FIRST_LOOK_DEG, np.abs(away) > FIRST_LOOK_DEG):
        near = (int(sit.mean_wind_deg + 0.5) + away[looked_at]) % 360
        works[near] = _works_under(sit, own, near.astype(float))
        if not works.all():
            break
    return works


def _works_under(sit: Sit, own: StandSit, directions_deg):
    """Whether a stand would be go under each of some winds. Shape (direction,)."""
    if sit.clock.start_s is None or not sit.scene.ways(own.stand, IN):
        return np.zeros(len(directions_deg), bool)
    key = ("swept", sit.at, float(directions_deg[0]), len(directions_deg))
    swept = sit.sits.kept(key, lambda: sit.sits.swept(sit.at, directions_deg))
    found = stand_sits(swept, own.stand, walks=DECIDING)
    return (found.judged.air_group == GO) & ~found.any_of((WAY_IN, *WINDY))


def ranges_deg(works) -> list[tuple[int, int]]:
    """Runs of whole degrees that work, clockwise, as (from, to), through north."""
    works = np.asarray(works, bool)
    if works.all():
        return [(0, 360)]
    starts = np.flatnonzero(works & ~np.roll(works, 1))
    ends = np.flatnonzero(works & ~np.roll(works, -1))
    if len(starts) and ends[0] < starts[0]:
        ends = np.roll(ends, -1)
    return [(int(a), int(b)) for a, b in zip(starts, ends, strict=True)]


def spare_deg(works, wind_from_deg: float) -> tuple[float | None, float | None]:
    """Degrees from a wind to the edge of what works: (left, right), at most 180.

    Left is counter-clockwise. None where that wind is not go or is unknown.
    """
    works = np.asarray(works, bool)
    if math.isnan(wind_from_deg) or not works[int(wind_from_deg + 0.5) % 360]:
        return None, None
    if works.all():
        return MOST_SPARE_DEG, MOST_SPARE_DEG
    for a, b in ranges_deg(works):
        span = (b - a) % 360
        into = (wind_from_deg - a + 0.5) % 360 - 0.5
        if into <= span + 0.5:
            left, right = max(0.0, into), max(0.0, span - into)
            return min(left, MOST_SPARE_DEG), min(right, MOST_SPARE_DEG)
    return None, None
