"""Wind too strong for a seat in the stretch of a sit, or on a walk to it or from it."""

from typing import Any

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.judge.limits import over_limits
from core.judge.stand_rows import StandRows
from core.judge.walked import Walked
from core.sit.prepare import Sits
from core.sit.rank import Judged
from core.sit.ways import Chosen
from core.units import SECONDS_PER_MINUTE

Ints = npt.NDArray[np.int64]
Bools = Any  # arrays of truth; numpy types their reductions as scalars


def too_windy(own: StandRows, judged: Judged, walked: Walked, asked: Bools) -> dict[str, Bools]:
    """Sits asked for that a wind limit rules out in the stretch or on a walk; (sit,), by limit.

    With an empty stretch the whole window is looked at.
    Args: the rows of the stand; its sits by their air; its walks; which sits, (sit,).
    """
    sits, stand, rows = own.sits, walked.stand, own.judged.rows
    limits = (stand.max_gust_mph, stand.height_ft > 0)
    found = {}
    for limit, (bad, touched) in sits.kept(("windy", limits), lambda: _over(sits, stand)).items():
        found[limit] = np.zeros(len(sits), bool)
        which = np.flatnonzero(touched & asked)
        if not len(which):
            continue
        stretch = (judged.empty[which, None] | judged.stretch[which]) & rows.inside[which]
        windy = (own.judged.by_sit(bad[own.judged.at])[which] & stretch).any(axis=1)
        for walk in walked.both(which):
            windy |= _bad_on_walk(sits, bad, walk, which)
        found[limit][which] = windy
    return found


def _over(sits: Sits, stand: Stand) -> dict[str, tuple[Bools, Bools]]:
    """Hours over each limit of a seat, and the sits whose block holds one; (hour,), (sit,)."""
    over = over_limits(stand, sits.found.hours.weather)
    shape = (len(sits), sits.found.length)
    return {limit: (bad, bad.reshape(shape).any(axis=1)) for limit, bad in over.items()}


def _bad_on_walk(sits: Sits, bad: Bools, walk: Chosen, which: Ints) -> Bools:
    """Whether a walk meets an hour of too much wind, in some of its sits."""
    at = np.searchsorted(walk.sits, which)
    first_s = walk.start_s[at] + SECONDS_PER_MINUTE / 2
    last_s = first_s + SECONDS_PER_MINUTE * (walk.minutes[at] - 1)
    first, last = (sits.found.index_of(time_s, which) for time_s in (first_s, last_s))
    total = np.concatenate([[0], np.cumsum(bad)])
    return total[last + 1] > total[first]
