"""What would change the answer: the winds that work, and the degrees to spare."""

import math

import numpy as np

from core.answer.one_sit import (
    Sit,
    StandSit,
    judge_ways_in,
    seated_s,
    too_windy,
    wind_rows,
    window_hours,
)
from core.sit.rank import Judged, hour_value, judge_sit, leave_by_s
from core.sit.scene import OUT
from core.sit.verdicts import GO, WRONG
from core.sit.ways import choose_way, judge_way

DIRECTIONS = np.arange(360.0)
MOST_SPARE_DEG = 180.0


def works_by_degree(sit: Sit, own: StandSit):
    """Whether a stand would be go under each whole degree of wind. Shape (360,).

    One direction stands in every directed hour and walk; speeds, states and
    half-widths stay. Closed stands, not-now, taken and season are left aside.
    """
    stand, clock = own.stand, sit.clock
    if clock.start_s is None or not sit.scene.ways(stand, "in"):
        return np.zeros(360, bool)
    hours = window_hours(sit, stand, own.slope, DIRECTIONS)
    shape = (360, len(clock.row_start_s))
    value = hour_value(hours.verdict, hours.still, stand.edge_ok)
    judged = judge_sit(clock.sit, clock, hours.verdict.reshape(shape), value.reshape(shape))
    go = judged.air_group == GO
    seats = np.array([seated_s(sit, stand, judged, i)[0] for i in range(360)])
    for seat in np.unique(seats[go]):
        cases = np.flatnonzero(go & (seats == seat))
        ways = judge_ways_in(sit, stand, int(seat), DIRECTIONS[cases])
        best = np.min([w.verdict for w in ways], axis=0)
        go[cases[best == WRONG]] = False
    if _wind_could_matter(sit, own):
        for i in np.flatnonzero(go):
            go[i] = not _too_windy_at(sit, own, judged, int(i), int(seats[i]))
    return go


def _wind_could_matter(sit: Sit, own: StandSit) -> bool:
    return bool(too_windy(sit, own.stand, np.arange(len(sit.rows.start_s))))


def _too_windy_at(sit: Sit, own: StandSit, judged: Judged, case: int, seat: int) -> bool:
    """The wind limits with the ways that would be chosen under one direction."""
    wind = DIRECTIONS[case : case + 1]
    ends_s = leave_by_s(sit.clock, judged, case) or sit.clock.end_s or sit.clock.legal_end_s
    out = [judge_way(sit.scene, sit.rows, w, ends_s, wind) for w in sit.scene.ways(own.stand, OUT)]
    ways = (choose_way(judge_ways_in(sit, own.stand, seat, wind)), choose_way(out))
    return bool(too_windy(sit, own.stand, wind_rows(sit, judged, ways, case)))


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
