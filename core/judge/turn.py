"""When the slope wind of a stand turns, in many sits: spans of turning air.

Each whole minute has its slope wind (`core.air.turning`). Where no ramp of the sun's first
or last beam runs, its sign holds for the hour; in a ramp, under the one cloud of an hour, it
changes once at most, and that minute is found by halving. Where both ramps may meet in one
hour every minute is looked at.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.slopes import RAMP_S
from core.air.turning import sign_of, turning_spans, turns
from core.sit.clock import Clock
from core.sit.prepare import LOOKED_BEYOND_S
from core.sit.rows import Blocks
from core.sit.slope import StandSlope
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

EVERY_MINUTE = np.arange(60)
FIRST_AND_LAST = EVERY_MINUTE[[0, -1]]
HALVINGS = 6  # of an hour, to a minute


@dataclass(frozen=True, eq=False)
class Turns:
    """The spans of turning air of a stand, in order of sit and time. Shapes (span,).

    `from_mps`, `to_mps`: the slope wind at its start and end, before the general wind fades
    it, uphill positive; of several turns in one span the least and the most.
    """

    sit: Ints
    start_s: Ints
    end_s: Ints
    from_mps: Floats
    to_mps: Floats

    def __len__(self) -> int:
        return len(self.sit)


def turns_of(clock: Clock, found: Blocks, slope: StandSlope, turn_min: float) -> Turns:
    """The spans of turning air at a stand.

    Args: the clock of the sits; their hours; the stand's slope wind; minutes on either side
    of a turn that count as turning.
    """
    close = slope.last_beam_s - slope.first_beam_s < 2 * RAMP_S + SECONDS_PER_HOUR
    sit, turn_s = _turns(np.flatnonzero(~close), FIRST_AND_LAST, clock, found, slope)
    if close.any():
        more = _turns(np.flatnonzero(close), EVERY_MINUTE, clock, found, slope)
        sit, turn_s = (np.concatenate(both) for both in zip((sit, turn_s), more, strict=True))
        order = np.lexsort((turn_s, sit))
        sit, turn_s = sit[order], turn_s[order]
    within = (turn_s >= clock.start_s[sit] - LOOKED_BEYOND_S) & (
        turn_s < clock.end_s[sit] + LOOKED_BEYOND_S
    )
    sit, turn_s = sit[within], turn_s[within]
    first, start_s, end_s = turning_spans(sit, turn_s, turn_min)
    beside_s = round(turn_min * SECONDS_PER_MINUTE)
    ends = np.stack([slope.at(turn_s + side, sit) for side in (-beside_s, beside_s)])
    return Turns(sit[first], start_s, end_s, *_least_and_most(ends, first))


def _least_and_most(ends: Floats, first: Ints) -> tuple[Floats, Floats]:
    """Of each span the slope wind that it goes from and to; of several turns the extremes."""
    if not len(first):
        return np.zeros(0), np.zeros(0)
    count = np.diff(np.append(first, ends.shape[1]))
    least = np.minimum.reduceat(ends.min(axis=0), first)
    most = np.maximum.reduceat(ends.max(axis=0), first)
    falls = ends[0, first] > ends[1, first]
    from_mps, to_mps = np.where(falls, most, least), np.where(falls, least, most)
    return np.where(count == 1, ends[0, first], from_mps), np.where(
        count == 1, ends[1, first], to_mps
    )


def _turns(
    sit: Ints, minutes: Ints, clock: Clock, found: Blocks, slope: StandSlope
) -> tuple[Ints, Ints]:
    """Every turn near the windows of some sits: its sit and its minute, in order.

    Args: the sits; the minutes of an hour that are looked at first; and as `turns_of`.
    """
    length = found.length
    hour = sit[:, None] * length + np.arange(length)
    hour_s = found.hours.start_s[hour]
    near = (hour_s < clock.end_s[sit, None] + LOOKED_BEYOND_S) & (
        hour_s + SECONDS_PER_HOUR > clock.start_s[sit, None] - LOOKED_BEYOND_S
    )
    ramp = near & slope.ramps(hour_s, sit)
    sign = np.zeros((*hour.shape, len(minutes)), np.int8)
    steady = near & ~ramp
    sign[steady] = sign_of(slope.in_hours(hour[steady], SECONDS_PER_HOUR // 2))[:, None]
    sign[ramp] = sign_of(slope.in_hours(hour[ramp][:, None], minutes * SECONDS_PER_MINUTE))
    turned = turns(sign.reshape(len(sit), length * len(minutes))).reshape(sign.shape)
    which, of_block, seen = np.nonzero(turned)
    at = hour[which, of_block]
    minute = minutes[seen]
    if len(minutes) < len(EVERY_MINUTE):
        minute = np.where(seen == 0, 0, _first_minute(slope, at, sign[which, of_block, seen]))
    return sit[which], found.hours.start_s[at] + SECONDS_PER_MINUTE * minute


def _first_minute(slope: StandSlope, hour: Ints, sign) -> Ints:
    """The first minute of hours that has the sign of their last one, by halving."""
    low, high = np.zeros(len(hour), np.int64), np.full(len(hour), FIRST_AND_LAST[1])
    for _ in range(HALVINGS):
        middle = (low + high) // 2
        same = sign_of(slope.in_hours(hour, middle * SECONDS_PER_MINUTE)) == sign
        low, high = np.where(same, low, middle), np.where(same, middle, high)
    return high
