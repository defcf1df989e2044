"""The order of the stands of one sit, group by group."""

import dataclasses

from core.ground.layout import Stand
from core.sit.clock import SitClock
from core.sit.minutes import EVENING, MORNING
from core.sit.prepare import Sit
from core.sit.rank import WANTED_SHARE, WAY_IN_SHARE, WAY_IN_WRONG_SHARE, WAY_OUT_SHARE, in_order
from core.sit.verdicts import CANT_CALL, STAY, WRONG

UNSET_WANTED, UNSET_WATCH = 0.7, 0.4  # common practice, no source
IS_CLOSED, NOT_NOW, IS_TAKEN, WATCH = "closed", "not-now", "taken", "watch"


def wanted_word(stand: Stand, clock: SitClock) -> str | None:
    """The owner's word for a stand in this sit and part; all day takes the lower."""
    by_part = dict(stand.wanted.by_part).get(clock.part.name) if clock.part else None
    morning, evening = by_part or (None, None)
    morning, evening = morning or stand.wanted.morning, evening or stand.wanted.evening
    if clock.sit == MORNING:
        return morning
    if clock.sit == EVENING:
        return evening
    order = ("best", "good", "watch", "not-now")
    return max((w for w in (morning, evening) if w), key=order.index, default=None)


def ordered(sit: Sit, stands: list) -> list:
    """The stands of a sit (`answer.StandSit`), best first, with rank and score.

    Args: the sit; its stands in the file's order.
    """
    last = {IS_CLOSED, NOT_NOW, IS_TAKEN}
    scores = [_score(sit, s) for s in stands]
    found: list = []
    for group in (0, 1, 2):
        for at_end in (False, True):
            members = [
                (scores[i], len(s.corridors), s.rest, s.stand.name, s.stand.id, i)
                for i, s in enumerate(stands)
                if s.group == group and bool(set(s.causes) & last) == at_end
            ]
            found += [stands[i] for i in in_order(members)]
    return [
        dataclasses.replace(s, rank=i + 1, score=scores[stands.index(s)])
        for i, s in enumerate(found)
    ]


def _score(sit: Sit, s) -> float:
    """Air x way x wanted x rest. It only orders; it is never shown as a number."""
    way_in = CANT_CALL if s.way_in is None else int(s.way_in.verdict[0])
    way_out = CANT_CALL if s.way_out is None else int(s.way_out.verdict[0])
    share_in = WAY_IN_SHARE[way_in]
    if s.group == STAY and way_in == WRONG:
        share_in = WAY_IN_WRONG_SHARE
    air = s.judged.window_share[0] if s.group == STAY else s.judged.air_share[0]
    return float(air * share_in * WAY_OUT_SHARE[way_out] * _wanted_share(sit, s) * s.rest)


def _wanted_share(sit: Sit, s) -> float:
    if s.wanted is not None:
        return WANTED_SHARE[s.wanted]
    food = sit.clock.sit == EVENING and sit.scene.food_in_range(s.stand, s.range_yd)
    return UNSET_WANTED if s.corridors or food else UNSET_WATCH
