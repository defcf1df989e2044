"""From rows to a sit: stretch, air share, and the group and verdict of its air."""

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
import numpy.typing as npt

from core.sit.clock import NEVER_S
from core.sit.minutes import ALL_DAY, EVENING, SHORT_MIN, WindowRows
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, VERDICT_WORDS, WRONG
from core.units import SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = Any  # arrays of truth; numpy types their reductions as scalars

LEAVE_BEFORE_S = 15 * SECONDS_PER_MINUTE
LEAST_AIR_SHARE = 0.5
CANT_CALL_SHARE = 1.0 / 3.0
STRONG_WIND_MPS = 13.9  # Beaufort 7 begins

# values of a row: common practice, no source
JUST_OFF_VALUE, EDGE_OK_VALUE, CANT_CALL_VALUE, UNKNOWN_VALUE = 0.6, 0.85, 0.4, 0.2


def hour_value(verdict, still, edge_ok: bool):
    """q: what an hour is worth, 0 to 1. Elementwise.

    Args: verdict of the hour; slope-only verdict, -1 without; the owner's
    `edge_ok`.
    """
    worth = np.zeros(len(VERDICT_WORDS))
    worth[CLEAN], worth[JUST_OFF] = 1.0, EDGE_OK_VALUE if edge_ok else JUST_OFF_VALUE
    of_both = np.tile(worth, (len(worth) + 1, 1))  # slope-only verdict, the last for none; verdict
    of_both[:-1, CANT_CALL], of_both[-1, CANT_CALL] = CANT_CALL_VALUE * worth, UNKNOWN_VALUE
    return of_both.ravel()[still * np.int8(len(worth)) + verdict]  # -1 counts from the end


@dataclass(frozen=True, eq=False)
class Judged:
    """Some sits by their air; shapes (sit,), that of `stretch` (sit, row).

    `first_wrong` and `last_wrong` are rows, -1 for none; `air_group` and
    `air_verdict` are what the air alone makes of the sit, before the ways.
    """

    stretch: Bools
    first_wrong: npt.NDArray[np.int64]
    last_wrong: npt.NDArray[np.int64]
    empty: Bools
    air_share: Floats
    window_share: Floats
    has_prime: Bools
    left_out: Bools  # an all-day sit whose last light lies after leave by
    air_group: npt.NDArray[np.int8]
    air_verdict: npt.NDArray[np.int8]
    wrong_prime: Bools
    low_share: Bools

    def one(self, inside: Bools, i: int) -> "Judged":
        """One of the sits, without rows that lie outside its window; shapes (1,).

        Args: which rows of the sits lie inside, (sit, row); its place.
        """
        one = slice(i, i + 1)
        picked = {f.name: getattr(self, f.name)[one] for f in fields(self)}
        before = np.concatenate([[0], np.cumsum(inside[i])])
        for name in ("first_wrong", "last_wrong"):
            row = picked[name]
            picked[name] = np.where(row < 0, row, before[row])
        return Judged(**{**picked, "stretch": self.stretch[one, inside[i]]})


def judge_sit(sit: str, rows: WindowRows, verdict, value) -> Judged:
    """Stretch, shares, group and verdict of a sit from its hours.

    Args: the kind of sit; the rows of each; their verdicts and values, shapes (sit, row).
    """
    decides = rows.deciding
    is_wrong, unsure = verdict == WRONG, verdict == CANT_CALL
    stretch, first, last = _stretch(sit, is_wrong & decides)
    empty: Bools = ~(stretch & decides).any(axis=1)
    stretch &= ~empty[:, None]
    weighed = rows.weight * value
    # laid out sit after sit: added in another order the last digit would be another
    air_share = np.multiply(weighed, stretch, order="C").sum(axis=1) / rows.total
    window_share = weighed.sum(axis=1) / rows.total
    prime, left_out = _prime(sit, rows, stretch)
    has_prime = prime.any(axis=1)
    wrong_prime, cant = (prime & is_wrong).any(axis=1), (prime & unsure).any(axis=1)
    if not has_prime.all():
        unsure_share = (rows.weight * unsure).sum(axis=1) / rows.total
        cant = np.where(has_prime, cant, unsure_share >= CANT_CALL_SHARE - 1e-9)
    low = ~has_prime & ~cant & (air_share < LEAST_AIR_SHARE - 1e-9)
    group = np.where(wrong_prime | low, STAY, np.where(cant, CANT, GO))
    looked_at = np.where(has_prime[:, None], prime, stretch & decides)
    off = (looked_at & (verdict == JUST_OFF)).any(axis=1) | (has_prime & left_out)
    off |= ~has_prime & (last >= 0)
    air_verdict = np.where(off, np.int8(JUST_OFF), np.int8(CLEAN))
    air_verdict[group == CANT] = CANT_CALL
    air_verdict[group == STAY] = WRONG
    return Judged(
        stretch=stretch,
        first_wrong=first,
        last_wrong=last,
        empty=empty,
        air_share=air_share,
        window_share=window_share,
        has_prime=has_prime,
        left_out=left_out,
        air_group=group.astype(np.int8),
        air_verdict=air_verdict,
        wrong_prime=wrong_prime,
        low_share=low,
    )


def _stretch(sit: str, wrong: Bools):
    """Rows of the stretch, and the first and the last wrong row of each case, -1 for none."""
    n = wrong.shape[-1]
    at, by_row = np.arange(n)[:, None], wrong.T  # row after row: quick to go over few rows
    last = np.where(by_row, at, -1).max(axis=0, initial=-1)  # closed hours may leave no row
    until = np.where(by_row, at, n).min(axis=0, initial=n)
    first = np.where(until < n, until, -1)
    return (at > last if sit == EVENING else at < until).T, first, last


def _prime(sit: str, rows: WindowRows, stretch: Bools) -> tuple[Bools, Bools]:
    """Rows of the prime block that decide, and whether last light was left out."""
    if sit != ALL_DAY:
        return np.broadcast_to(rows.in_prime, stretch.shape), np.zeros(len(stretch), bool)
    first = np.broadcast_to(rows.prime_first_min >= SHORT_MIN, stretch.shape)
    last = np.broadcast_to(rows.prime_last_min >= SHORT_MIN, stretch.shape)
    return first | (last & stretch), (last & ~stretch).any(axis=1)


def leave_by_s(sit: str, rows: WindowRows, judged: Judged) -> Ints:
    """When a morning or all-day hunter must be down; `NEVER_S` where the sit holds. (sit,)

    Args: the kind of sit; its rows; the sits judged. [epoch s]
    """
    holds = (judged.first_wrong < 0) | judged.empty | (sit == EVENING)
    wrong_s = rows.start_s[np.arange(len(holds)), np.maximum(judged.first_wrong, 0)]
    return np.where(holds, NEVER_S, wrong_s - LEAVE_BEFORE_S)


def opens_s(sit: str, rows: WindowRows, judged: Judged) -> Ints:
    """When an evening's last wrong row ends; `NEVER_S` where none is before it. (sit,)

    Args: as `leave_by_s`.
    """
    free = (judged.last_wrong < 0) | judged.empty | (sit != EVENING)
    wrong_s = rows.end_s[np.arange(len(free)), np.maximum(judged.last_wrong, 0)]
    return np.where(free, NEVER_S, wrong_s)
