"""Shares told in tenths: whole ones that add to ten, and the words at the ends."""

from collections.abc import Sequence

import numpy as np

HOLDS, MAY_HOLD = 0.75, 0.5
STANDINGS = ("holds", "may hold", "toss-up")


def in_tenths(shares: Sequence[float]) -> list[int]:
    """Shares as whole tenths that add to ten, by the largest remainder.

    Args: shares that add to one. Of equal remainders the earlier one is rounded up.
    Source: the method of largest remainders; plain arithmetic.
    """
    scaled = np.asarray(shares, float) * 10.0
    whole = np.floor(scaled + 1e-9).astype(int)
    left = 10 - int(whole.sum())
    order = np.argsort(-(scaled - whole), kind="stable")
    whole[order[:left]] += 1
    return [int(n) for n in whole]


def standing(share: float) -> str:
    """How a go is told: holds, may hold, toss-up. Args: its share of go, 0 to 1."""
    return STANDINGS[0 if share >= HOLDS else 1 if share >= MAY_HOLD else 2]
