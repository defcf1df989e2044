"""The first stand of each of some sits, without judging every stand in every one of them.

Which stand is first is settled by score and, within a band of scores, by the trails in
range, rest and name. All but the score is known without any air, and so is the most that
the score can come to; where the first so far cannot be beaten, the rest is not judged.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.judge.every_way import hopeless
from core.judge.order import (
    BAND,
    WAY_IN_SHARE,
    WAY_OUT_SHARE,
    Seat,
    after_shots,
    in_order,
    rested,
    score_of,
    wanted_shares,
)
from core.judge.stand import StandSits, seat_air, wanted_words, with_walks
from core.judge.stand_rows import rows_of
from core.judge.walked import NO_WALKS
from core.sit.prepare import Sits
from core.sit.verdicts import CANT, CANT_CALL, GO, STAY
from core.sit.ways import can_be_called

Ints = npt.NDArray[np.int64]
Key = tuple[int, float, str, str]
Seated = tuple[StandSits, int]  # a stand in some sits, and which of them

ROUND = 32  # so many stands are judged before it is asked what they settle, then twice as many
CRUMB = 1e-9  # of rounding, on the most that a score can come to


@dataclass(frozen=True)
class _Hope:
    """A stand before its air is known: the most its score can come to, whether it stands behind
    those with a shot, and what settles a tie."""

    stand: Stand
    most: float
    behind: bool
    key: Key


class _Go(NamedTuple):
    """A go stand of a sit: its score, what settles a tie, and what was found of it."""

    score: float
    key: Key
    seat: Seated | None


class _Sit:
    """What is known of one sit: its go stands, those with a shot and the others; its best group;
    and what walks leave of a score at most."""

    def __init__(self, walks_share: float = 1.0) -> None:
        self.group, self._walks_share = STAY, walks_share
        self._go: dict[bool, dict[str, _Go]] = {False: {}, True: {}}

    def add(self, hope: _Hope, group: int, score: float, seat: Seated | None = None) -> None:
        """A stand that was judged. Args: the stand; its group and score; what was found of it."""
        self.group = min(self.group, group)
        if group == GO:
            self._go[hope.behind][hope.stand.id] = _Go(score, hope.key, seat)

    def open_to(self, hope: _Hope, group: int, most: float) -> bool:
        """Whether a stand may still count. Args: the stand; the best group that it can have; the
        most that its score can come to."""
        if group != GO:
            return group < self.group
        go = self._go[hope.behind]
        top = max((one.score for one in go.values()), default=0.0)
        can = most * self._walks_share >= top * (1.0 - BAND) - CRUMB
        return can and not (hope.behind and self._go[False])

    def first(self) -> "_Go | None":
        """The first of the stands that were judged; None where none is go."""
        found = list((self._go[False] or self._go[True]).values())
        keys = [(go.score, -go.key[0], -go.key[1], *go.key[2:], i) for i, go in enumerate(found)]
        return found[in_order(keys)[0]] if found else None

    def settled(self, left: list[_Hope]) -> bool:
        """Whether none of some stands can change which is first. Args: those not judged."""
        go, first = self._go[False], self.first()
        if not go or first is None:
            return False
        score, key = first.score, first.key
        top = max(one.score for one in go.values())
        share = self._walks_share
        most = max((h.most * share for h in left if not h.behind), default=0.0)
        if score < max(top, most) * (1.0 - BAND):
            return False
        floor = top * (1.0 - BAND) - CRUMB
        return not any(h.key < key and h.most * share >= floor for h in left if not h.behind)


@dataclass(frozen=True, eq=False)
class FirstStand:
    """The first stand of one of some sits; without one that is go the best group, and None.

    `own`: the stand in some sits, `place` which of them it is.
    """

    group: int
    own: StandSits | None = None
    place: int = 0


def first_stands(every: Sits, others: dict[str, str]) -> list[FirstStand]:
    """The first stand of each of some sits of one date, as `order.orders` has it.

    Args: the sits; who sits at stands that another hunter has taken, by stand id.
    """
    found = [_Sit(share) for share in _walks_shares(every)]
    hopes = _hopes(every)
    directed = np.asarray(every.found.hours.directed.reshape(len(every), -1).all(axis=1))
    for alike in (directed, ~directed):  # of winds without a direction most stands need no air
        if alike.any():
            some = [sit for sit, holds in zip(found, alike.tolist(), strict=True) if holds]
            _settle(every.take(alike), hopes, others, some)
    return [_first(sit) for sit in found]


def _settle(sits: Sits, hopes: list[_Hope], others: dict[str, str], left: list[_Sit]) -> None:
    """Judges stands until none of those left can change what is first in some sits.

    Args: the sits; the stands, the most likely first; who else sits where; what is known of
    each sit.
    """
    n = ROUND
    while left and hopes:
        for hope in hopes[:n]:
            _judge(sits, hope, others.get(hope.stand.id, ""), left)
        hopes, n = hopes[n:], 2 * n
        is_open = np.array([not sit.settled(hopes) for sit in left])
        if not is_open.all():
            left = [sit for sit, still in zip(left, is_open, strict=True) if still]
            sits = sits.take(is_open) if left else sits


def _walks_shares(sits: Sits) -> list[float]:
    """What walks leave of any score at most: in air that nobody on foot can call, none is clean."""
    called = can_be_called(sits).reshape(len(sits), -1).any(axis=1)
    unsure = WAY_IN_SHARE[CANT_CALL] * WAY_OUT_SHARE[CANT_CALL]
    return np.where(called, 1.0, unsure).tolist()


def _first(sit: _Sit) -> FirstStand:
    first = sit.first()
    if first is None or first.seat is None:
        return FirstStand(sit.group)
    return FirstStand(GO, *first.seat)


def _judge(sits: Sits, hope: _Hope, taken_by: str, found: list[_Sit]) -> None:
    """Judges a stand in some sits; its walks only where they can matter to one of them.

    Args: the sits; the stand; who else sits there; what is known of each sit.
    """
    rows = rows_of(sits, hope.stand)
    at_best = np.where(hopeless(rows, hope.stand), CANT, GO)
    if not _open(found, hope, at_best, np.full(len(sits), hope.most)):
        return
    air = seat_air(rows, hope.stand)
    at_best = with_walks(air, taken_by, NO_WALKS).group
    if not _open(found, hope, at_best, hope.most * air.judged.air_share):
        return
    own = with_walks(air, taken_by)
    scores = score_of(sits, own, rested(sits, hope.stand).share)
    for i, sit in enumerate(found):
        sit.add(hope, int(own.group[i]), float(scores[i]), (own, i))


def _open(found: list[_Sit], hope: _Hope, at_best, most) -> bool:
    """Whether a stand may still count in one of some sits, see `_Sit.open_to`."""
    each = zip(found, at_best.tolist(), most.tolist(), strict=True)
    return any(sit.open_to(hope, group, share) for sit, group, share in each)


def _hopes(sits: Sits) -> list[_Hope]:
    """The stands of some sits of one date, those first that may well come first."""
    hopes = []
    for stand in sits.ground.stands:
        seat = Seat(stand, sits.range_yd(stand), wanted_words(sits, stand))
        rest = float(rested(sits, stand).share[0])
        most = float(wanted_shares(sits, seat)[0]) * rest * (1.0 + CRUMB)
        in_range = len(sits.scene.corridors_in_range(stand, seat.range_yd))
        key = -in_range, -rest, stand.name, stand.id
        hopes.append(_Hope(stand, most, bool(after_shots(sits, seat)[0]), key))
    most = max((h.most for h in hopes if not h.behind), default=0.0)
    return sorted(hopes, key=lambda h: (h.behind, h.most < most * (1.0 - BAND), h.key))
