"""The sits of a season that have no stand, and why each has none."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, POINTS_16
from core.season.gaps import sit_winds
from core.season.one_stand import BY_CALM, BY_SIT, BY_WAY
from core.season.review import SeasonAnswer, SitsReview
from core.sit.verdicts import CANT, GO, STAY

SERVED, STILL, UNSURE, WRONG_ALL, SHUT = range(5)  # why a sit has no stand
NO_WIND = "calm or variable"


def why_none(group, out, watch):
    """Why each sit has no stand: the best that is left of it.

    Args: groups of the sits at each stand; what keeps them out (`OUT_WORDS`); whether the
    owner only watches from there, which serves no sit. Shapes (sit, stand).

    Returns: shape (sit,). SERVED where a stand is go; STILL where calm, light or missing
    wind is what can't be called at one; UNSURE where one can't be called for another reason;
    WRONG_ALL where all are to stay out, one at least for its air; SHUT for the rest.
    """
    out, counts = np.asarray(out), np.logical_not(watch)
    cant = (np.asarray(group) == CANT) & counts
    wrong = (np.asarray(group) == STAY) & np.isin(out, (BY_SIT, BY_WAY)) & counts
    served = ((np.asarray(group) == GO) & counts).any(axis=1)
    still = (cant & (out == BY_CALM)).any(axis=1)
    return np.select(
        [served, still, cant.any(axis=1), wrong.any(axis=1)],
        [SERVED, STILL, UNSURE, WRONG_ALL],
        SHUT,
    )


@dataclass(frozen=True, slots=True)
class LeftOver:
    """How many sits have no stand, by why; `winds` those that another stand could serve,
    most first: a compass point or `NO_WIND`, and sits."""

    still: int
    unsure: int
    wrong: int
    shut: int
    winds: tuple[tuple[str, int], ...]

    @property
    def sits(self) -> int:
        return self.still + self.unsure + self.wrong + self.shut


def left_over(answer: SeasonAnswer) -> LeftOver:
    """The sits without a stand, by why. Args: the answer."""
    why = np.concatenate([_why(review) for review in answer.reviews])
    direction, _ = sit_winds(answer)
    hole = direction[np.isin(why, (UNSURE, WRONG_ALL))]
    still, unsure, wrong, shut = np.bincount(why, minlength=SHUT + 1)[STILL:].tolist()
    names = Counter(_point(d) for d in hole)
    return LeftOver(still, unsure, wrong, shut, tuple(names.most_common()))


def _why(review: SitsReview):
    if not review.by_stand:
        return np.full(len(review.sits), SHUT)
    out, watch = (
        np.stack([getattr(s, name) for s in review.by_stand], axis=1) for name in ("out", "watch")
    )
    return why_none(review.group, out, watch)


def _point(wind_from_deg: float) -> str:
    if np.isnan(wind_from_deg):
        return NO_WIND
    return POINTS_16[int((wind_from_deg + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG) % 16]
