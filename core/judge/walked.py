"""The walks of a stand in some sits, as far as they are judged; and what the way out decides."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.sit.prepare import Sits
from core.sit.scene import OUT, Way
from core.sit.verdicts import CANT_CALL, WRONG
from core.sit.ways import Chosen, Given, Walks, choose, ways_out

Ints = npt.NDArray[np.int64]
Bools = Any  # arrays of truth; numpy types their reductions as scalars

# which walks are judged: every one, for words; those that can decide; none
EVERY, DECIDING, NO_WALKS = range(3)


@dataclass(frozen=True, eq=False)
class Walked:
    """The walks of a stand, as far as they were judged."""

    sits: Sits
    stand: Stand
    walks: int
    down_s: Ints
    way_in: Chosen | None
    way_out: Chosen | None

    def both(self, which: Ints) -> list[Chosen]:
        """The ways in and out of some sits; out is judged only where there is a choice.

        Args: the sits.
        """
        if self.walks == NO_WALKS:
            return []
        way_out, ways = self.way_out, self.sits.scene.ways(self.stand, OUT)
        if self.walks == DECIDING and len(ways) == 1:
            way_out = choose([unjudged(ways[0], self.down_s[which], which)])
        elif self.walks == DECIDING:
            way_out = choose(ways_out(self.sits, self.stand, self.down_s[which], which))
        return [walk for walk in (self.way_in, way_out) if walk is not None]


def out_reaches(walked: Walked, is_out: Bools) -> tuple[Bools, Bools]:
    """Sits that the way out alone keeps out, and those in which it is wrong. (sit,), (sit,)

    Args: the walks; sits that are wrong already, (sit,): left aside where not every walk
    is judged.
    """
    sits, stand = walked.sits, walked.stand
    keeps_out, wrong = np.zeros(len(sits), bool), np.zeros(len(sits), bool)
    way_out = walked.way_out
    if walked.walks == DECIDING:
        which = np.flatnonzero(~is_out)
        way_out = choose(ways_out(sits, stand, walked.down_s[which], which))
    if way_out is not None:
        bad = way_out.verdict == WRONG
        wrong[way_out.sits] = bad
        within_yd = sits.ground.sit.out_stay_within_yd
        keeps_out[way_out.sits] = bad & (way_out.equivalent_yd < within_yd)
    return keeps_out, wrong


def unjudged(way: Way, start_s, which) -> Walks:
    """A way of which only the time matters. Args: as `judge_walks`."""
    shape = (len(which), way.minutes)
    nothing, never = np.zeros((*shape, 0)), np.zeros((*shape, 0), bool)
    given = Given(nothing, never, never, np.zeros(shape, bool))
    return Walks(
        way=way,
        sits=which,
        start_s=np.asarray(start_s, float),
        verdict=np.full(len(which), CANT_CALL, np.int8),
        equivalent_yd=np.full(len(which), np.nan),
        ends=np.zeros(len(which), np.int64),
        second=np.zeros(len(which), bool),
        given=given,
    )
