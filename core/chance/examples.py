"""Some of the draws judged by the formula, to say what goes wrong in them."""

import dataclasses

import numpy as np

from core.answer.chances import Chances
from core.answer.one_sit import StandSit, read_out
from core.ground.layout import Stand
from core.judge.stand import stand_sits
from core.sit.prepare import FORMULA, Sit
from core.sit.verdicts import STAY

MOST = 8


def that_stay_out(chances: Chances, stand: Stand) -> list[tuple[Sit, StandSit]]:
    """A few of the draws in which a stand is out, spread over their winds.

    Args: the chances of a sit; the stand. Returns: those that the formula keeps out too; empty
    where there are none.
    """
    groups = chances.groups.get(stand.id)
    if groups is None or chances.drawn is None:
        return []
    out = np.flatnonzero(groups == STAY)
    if not len(out):
        return []
    wind = np.nan_to_num(chances.wind_from_deg[out], nan=-1.0)
    by_wind = out[np.argsort(wind, kind="stable")]
    shares = (np.arange(min(MOST, len(out))) + 0.5) / min(MOST, len(out))
    picked = by_wind[(shares * len(out)).astype(int)]
    which = np.isin(np.arange(len(chances.drawn)), chances.first + picked)
    some = dataclasses.replace(chances.drawn.take(which), strengths=FORMULA)
    judged = stand_sits(some, stand)
    sits = [some.one(i) for i in range(len(some))]
    read = [(sit, read_out(sit, judged)) for sit in sits]
    return [(sit, seat) for sit, seat in read if seat.group == STAY]
