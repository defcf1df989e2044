"""The first stand of each of some sits, without judging every stand in every one of them.

Which stand is first is settled by score and, within a band of scores, by the trails in
range, rest and name. All but the score is known without any air, and so is the most that
the score can come to; where the first so far cannot be beaten, the rest is not judged.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.judge.order import BAND, Seat, after_shots, in_order, rested, score_of, wanted_shares
from core.judge.stand import StandSits, stand_sits, wanted_words
from core.sit.prepare import Sits
from core.sit.verdicts import GO, STAY

Ints = npt.NDArray[np.int64]
Key = tuple[int, float, str, str]

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


class _Sit:
    """What is known of one sit: its go stands, those with a shot and the others; its best group."""

    def __init__(self) -> None:
        self.group = STAY
        self._go: dict[bool, dict[str, tuple[float, Key]]] = {False: {}, True: {}}

    def add(self, hope: _Hope, group: int, score: float) -> None:
        """A stand that was judged. Args: the stand; its group and score."""
        self.group = min(self.group, group)
        if group == GO:
            self._go[hope.behind][hope.stand.id] = score, hope.key

    def first(self) -> str | None:
        """The id of the first of the stands that were judged; None where none is go."""
        found = self._go[False] or self._go[True]
        each = enumerate(found.values())
        scored = [(score, -k[0], -k[1], k[2], k[3], i) for i, (score, k) in each]
        return list(found)[in_order(scored)[0]] if scored else None

    def settled(self, left: list[_Hope]) -> bool:
        """Whether none of some stands can change which is first. Args: those not judged."""
        go, first = self._go[False], self.first()
        if not go or first is None:
            return False
        score, key = go[first]
        top = max(score for score, _ in go.values())
        most = max((h.most for h in left if not h.behind), default=0.0)
        if score < max(top, most) * (1.0 - BAND):
            return False
        floor = top * (1.0 - BAND) - CRUMB
        return not any(h.key < key and h.most >= floor for h in left if not h.behind)


@dataclass(frozen=True, eq=False)
class FirstStand:
    """The first stand of one of some sits; without one that is go the best group, and None."""

    group: int
    own: StandSits | None


def first_stands(
    every: Sits, prepared: Callable[[Ints], Sits], others: dict[str, str]
) -> list[FirstStand]:
    """The first stand of each of some sits of one date, as `order.orders` has it.

    Args: the sits; gives some of them by their places; who sits at stands that another hunter
    has taken, by stand id.
    """
    found, left = [_Sit() for _ in range(len(every))], np.arange(len(every))
    hopes, sits, n = _hopes(every), every, ROUND
    while len(left) and hopes:
        for hope in hopes[:n]:
            own = stand_sits(sits, hope.stand, others.get(hope.stand.id, ""))
            each = score_of(sits, own, rested(sits, hope.stand).share)
            for i, group, score in zip(left, own.group.tolist(), each.tolist(), strict=True):
                found[i].add(hope, group, score)
        hopes, n = hopes[n:], 2 * n
        open_ = np.array([i for i in left if not found[i].settled(hopes)], np.int64)
        if len(open_) < len(left):
            left, sits = open_, prepared(open_) if len(open_) else sits
    firsts = [sit.first() for sit in found]
    stands = {stand.id: stand for stand in every.ground.stands}
    judged = {i: stand_sits(every, stands[i], others.get(i, "")) for i in set(firsts) if i}
    return [
        FirstStand(GO, judged[first]) if first else FirstStand(sit.group, None)
        for sit, first in zip(found, firsts, strict=True)
    ]


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
