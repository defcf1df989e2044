"""The last few answers about the sun: each wind of a date asks for the same again."""

import functools
from collections.abc import Callable, Iterable
from typing import TypeVar

import numpy as np
import numpy.typing as npt

KEPT = 32
MOST_KEPT_BYTES = 16_000  # of times; a season's sun is megabytes, and asked for once
Kept = TypeVar("Kept")


def kept_lately(work: Callable[..., Kept]) -> Callable[..., Kept]:
    """Keeps the last few answers of something whose last argument is times, as bytes.

    Args: what answers; all its arguments are by position. Returns: the same, many times afresh.
    """
    kept = functools.lru_cache(KEPT)(work)

    @functools.wraps(work)
    def asked(*of) -> Kept:
        return (kept if len(of[-1]) <= MOST_KEPT_BYTES else work)(*of)

    return asked


def for_all(arrays: Iterable[npt.NDArray[np.float64]]) -> tuple[npt.NDArray[np.float64], ...]:
    """Arrays that several have at once: nobody may write into them. Args: they, changed so."""
    told = tuple(arrays)
    for array in told:
        array.setflags(write=False)
    return told
