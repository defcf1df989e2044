"""The best seats for all hunters at once: a search that ends with the proof of best.

Branch and bound. What the hunters left could bring at most is the best assignment that
heeds nothing but one hunter a seat (`scipy.optimize.linear_sum_assignment`): a choice that
cannot beat the best in hand with even that is given up.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
from scipy.optimize import linear_sum_assignment

Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

Ask = Callable[[int, int, int, int], bool]

STAYS = -1
NOT_HIS = -1  # the value of a seat that a hunter may not have


def always(i: int, a: int, k: int, b: int) -> bool:  # noqa: ARG001 (as what is asked)
    """Two who are not known to disagree agree. Args: hunter, seat, hunter, seat."""
    return True


def best_seats(value: Ints, agree: Bools, ask: Ask = always) -> list[int]:
    """The seats with the largest sum of values in which every two hunters agree.

    Args:
        value: what each seat is worth to each hunter, `NOT_HIS` where he may not have it;
            staying is worth 0. Shape (hunter, seat), each under 2**50.
        agree: whether the first hunter in his seat and the second in hers spoil nothing for
            each other, as far as it is known. Shape (hunter, seat, hunter, seat), symmetric.
        ask: the same for two of them, where it takes long to find out: asked of those that
            come into question, once each.

    Returns: the seat of each hunter, or `STAYS`. Of equal sums the first found, seats in
    their order.
    """
    search = _Search(np.asarray(value, np.int64), np.array(agree, bool), ask)
    search.go_on({}, np.asarray(value) >= 0, 0)
    return [search.best.get(hunter, STAYS) for hunter in range(len(value))]


@dataclass(eq=False)
class _Search:
    """The best in hand. `best`: seats by hunter."""

    value: Ints
    agree: Bools
    ask: Ask
    asked: set[tuple[int, int, int, int]] = field(default_factory=set)
    best: dict[int, int] = field(default_factory=dict)
    best_sum: int = -1

    def go_on(self, chosen: dict[int, int], free: Bools, total: int) -> None:
        """Seats the hunters who are not `chosen` yet in seats that are `free` to them.

        Args: seats by hunter so far; (hunter, seat); the sum so far.
        """
        left = [h for h in range(len(self.value)) if h not in chosen]
        if total + self._at_most(left, free) <= self.best_sum:
            return
        if not left:
            self.best, self.best_sum = dict(chosen), total
            return
        hunter = min(left, key=lambda h: int(free[h].sum()))
        seats = np.flatnonzero(free[hunter])
        for seat in seats[np.argsort(-self.value[hunter, seats], kind="stable")]:
            if not all(self._agree(hunter, int(seat), k, b) for k, b in chosen.items()):
                continue
            still = free & self.agree[hunter, seat]
            still[:, seat] = False
            gained = int(self.value[hunter, seat])
            self.go_on({**chosen, hunter: int(seat)}, still, total + gained)
        self.go_on({**chosen, hunter: STAYS}, free, total)

    def _agree(self, i: int, a: int, k: int, b: int) -> bool:
        """Whether two hunters agree in two seats; one who stays agrees with everybody."""
        if b == STAYS or not self.agree[i, a, k, b]:
            return b == STAYS
        if (i, a, k, b) not in self.asked:
            self.asked |= {(i, a, k, b), (k, b, i, a)}
            self.agree[i, a, k, b] = self.agree[k, b, i, a] = self.ask(i, a, k, b)
        return bool(self.agree[i, a, k, b])

    def _at_most(self, left: list[int], free: Bools) -> int:
        """What the hunters left may bring at most."""
        if not left:
            return 0
        worth = np.where(free[left], self.value[left], 0)
        rows, seats = linear_sum_assignment(worth, maximize=True)
        return int(worth[rows, seats].sum())
