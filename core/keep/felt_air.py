"""How the air at a stand differs from the wind that was told, by what was felt there.

Turns are signed: clockwise is positive. They are drawn together within sectors of the told
wind, and shrunk towards none, since a few mornings prove little.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.angles import signed_difference_deg, wrap_deg

LEAST = 5  # felt winds before anything is offered
PRIOR_TURN_DEG = 60.0  # turns that sites have, as a spread about none: common practice, no source
PRIOR_SCATTER_DEG, PRIOR_CASES = 30.0, 2.0  # scatter to begin with, and what it is worth
LEVEL = 0.8  # of the range that is told
SURE = 0.95  # of the range that must leave out no turn before it is offered
SECTOR_HALF_DEG = 45.0  # told winds this near the middle of a sector belong to it


@dataclass(frozen=True, slots=True)
class FeltSector:
    """What was felt in one sector of told winds. [deg]"""

    told_deg: float  # the middle of the sector
    felt_deg: float  # where it came from instead, the told middle turned
    turn_deg: float  # shrunk towards none
    low_deg: float
    high_deg: float
    cases: int
    alike: int  # of them, how many turned that way
    offered: bool


def circular_mean_deg(angles_deg) -> float:
    """The mean of directions, -180 to 180; NaN for none or where they cancel.

    Args: directions, shape (n,). Source: [mardia2000] 2.2, the direction of the resultant.
    """
    angle = np.radians(np.asarray(angles_deg, float))
    if not len(angle):
        return math.nan
    east, north = np.sin(angle).mean(), np.cos(angle).mean()
    return math.nan if math.hypot(east, north) < 1e-9 else math.degrees(math.atan2(east, north))


def turn_of(
    told_deg: Sequence[float], felt_deg: Sequence[float], middle_deg: float, tried: int = 1
) -> FeltSector | None:
    """The turn of one sector.

    Args: told and felt directions from, shape (n,); the middle of the sector [deg]; how many
    sectors of the stand are tried. Returns: None with fewer than five cases.

    The turns' scatter about their circular mean and a prior of 30 degrees worth two cases
    give the variance of one; the mean's posterior under a normal prior of 60 degrees about
    none is told with Student's t. Source: [gelman2013] 2.5 and 3.3.
    """
    n = len(told_deg)
    if n < LEAST:
        return None
    from scipy.special import stdtrit  # scipy.stats takes a third of a second to load

    turns = signed_difference_deg(np.asarray(felt_deg, float), np.asarray(told_deg, float))
    mean = circular_mean_deg(turns)
    if math.isnan(mean):
        return None
    about = signed_difference_deg(turns, mean)
    freedom = PRIOR_CASES + n - 1.0
    variance = (PRIOR_CASES * PRIOR_SCATTER_DEG**2 + float(about @ about)) / freedom
    worth, prior = n / variance, 1.0 / PRIOR_TURN_DEG**2
    turn = mean * worth / (worth + prior)
    spread = math.sqrt(1.0 / (worth + prior))
    # each of several sectors is surer, so that the stand as a whole is wrong in one of twenty
    levels = (LEVEL, 1.0 - (1.0 - SURE) / tried)
    told, sure = (spread * float(stdtrit(freedom, 0.5 + level / 2.0)) for level in levels)
    return FeltSector(
        told_deg=middle_deg,
        felt_deg=float(wrap_deg(middle_deg + turn)),
        turn_deg=turn,
        low_deg=turn - told,
        high_deg=turn + told,
        cases=n,
        alike=int(np.sum(np.sign(turns) == np.sign(turn))),
        offered=abs(turn) > sure,
    )


def turns_by_sector(
    told_deg: Sequence[float], felt_deg: Sequence[float], middles_deg: Sequence[float]
) -> list[FeltSector]:
    """The turns of the sectors that have cases enough.

    Args: told and felt directions from, shape (n,); the sectors' middles, each told wind
    within 45 degrees of one belongs to it. [deg] Missing: pairs with NaN are left out.
    """
    told, felt = np.asarray(told_deg, float), np.asarray(felt_deg, float)
    known = ~np.isnan(told) & ~np.isnan(felt)
    told, felt = told[known], felt[known]
    near = [np.abs(signed_difference_deg(told, m)) <= SECTOR_HALF_DEG for m in middles_deg]
    tried = len({one.tobytes() for one in near if one.sum() >= LEAST})
    found = (
        turn_of(told[one], felt[one], float(middle), tried)
        for middle, one in zip(middles_deg, near, strict=True)
    )
    return [turn for turn in found if turn is not None]
