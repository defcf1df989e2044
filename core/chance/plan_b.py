"""Plan B: where to go in the winds in which the first choice does not hold."""

from dataclasses import dataclass

import numpy as np

from core.answer.one_sit import SitAnswer
from core.answer.shots import nothing_in_range
from core.chance.tenths import in_tenths
from core.sit.verdicts import GO, STAY

LEAST_ADDED = 0.1  # of all draws: less is not worth a plan


@dataclass(frozen=True, slots=True)
class PlanB:
    """A second stand, by its place among `SitAnswer.judged`; of ten mornings, how many the
    first one leaves, and how many of these the second covers."""

    at: int
    left: int
    covers: int


def plan_b(answer: SitAnswer) -> PlanB | None:
    """The stand that goes most often where the first choice does not, from the same draws.

    Args: an answer with its chances.
    Returns: None without chances, where the first choice is to stay out of, and where no
    stand adds one morning in ten. A stand without a shot is no plan for one with a shot.
    """
    chances, best = answer.chances, answer.best
    if chances is None or best is None or best.group == STAY:
        return None
    shares, first = chances.shares(best.stand.id), chances.groups.get(best.stand.id)
    if shares is None or first is None:
        return None
    shot = not nothing_in_range(answer.sit, best)
    found = []
    for rank, k in enumerate(answer.order[1:], start=1):
        other = chances.groups.get(answer.judged[k].stand.id)
        if other is not None:
            found.append((-float(np.mean((first != GO) & (other == GO))), rank))
    for added, rank in sorted(found):
        if -added < LEAST_ADDED:
            return None
        if not (shot and nothing_in_range(answer.sit, answer.at(rank))):
            return _plan(shares, answer.order[rank], -added)
    return None


def _plan(shares: tuple[float, float, float], at: int, added: float) -> PlanB | None:
    left = 10 - in_tenths(shares)[0]
    covers = min(left, int(added * 10.0 + 0.5))
    return PlanB(at, left, covers) if covers else None
