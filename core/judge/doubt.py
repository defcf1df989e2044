"""What several directions that the air may take come to: one verdict, never a guess."""

import numpy as np

from core.sit.verdicts import CANT_CALL, WRONG


def of_directions(verdict, first):
    """The verdict of cases whose air may go several ways.

    Args: verdicts of every way, those of a case behind one another, shape (way, ...);
        where each case begins, shape (case,), each with at least one way.

    Returns: shape (case, ...). Clean where every way is, just-off where none is wrong, wrong
    where all are, else can't call: never cleaner than the best of the ways.
    """
    verdict = np.asarray(verdict)
    if not len(first):
        return verdict[:0].astype(np.int8)
    worst = np.maximum.reduceat(verdict, first, axis=0)
    return _between(worst, np.minimum.reduceat(verdict, first, axis=0))


def all_round(verdict):
    """The same of cases with equally many ways. Args: verdicts, (case, way, ...)."""
    return _between(verdict.max(axis=1), verdict.min(axis=1))


def _between(worst, best):
    unsure = (worst == WRONG) & (best != WRONG)
    return np.where(unsure, CANT_CALL, worst).astype(np.int8)
