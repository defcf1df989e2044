"""Air on the trails in range: on it, beside it or clear, and what that makes of an hour.

An approach is one trail from one end: the part that deer walk before the shot.
"""

import numpy as np

from core.ground.layout import AirRules
from core.sit.before import reach_m
from core.sit.verdicts import CLEAN, JUST_OFF, WRONG
from core.units import M_PER_YD


def approach_verdict(like_yd, away_yd, rules: AirRules):
    """Verdict on an approach: wrong where the air is on it, just-off beside it, else clean.

    Args (elementwise): how strongly the air reaches it, as "like N yards" [yd]; how far
    the trail is from the stand [yd]; the property's rules.
    Missing: NaN (no air known) is clean; callers say can't call themselves.
    Source: common practice, no source: settings of the property.
    """
    like_yd = np.asarray(like_yd, float)
    near_yd = np.maximum(rules.trail_within_yd, rules.trail_shot_times * np.asarray(away_yd))
    on_it = like_yd < np.minimum(near_yd, rules.wrong_within_yd)
    beside = like_yd < rules.wrong_within_yd
    return np.where(on_it, WRONG, np.where(beside, JUST_OFF, CLEAN)).astype(np.int8)


def counting(away_yd, range_yd: float):
    """Which of the trails within a stand's own range count for a hunter. Shape (approach,).

    Args: how far each is from the stand, shape (approach,) [yd]; the hunter's range [yd].

    Those within the hunter's range, distances to the whole yard; where none is, the
    nearest: so a shorter range never frees an hour.
    """
    away_yd = np.asarray(away_yd, float)
    within = away_yd * M_PER_YD <= reach_m(range_yd)
    return within | (~within.any() & (away_yd <= away_yd.min(initial=np.inf)))


def trails_verdict(verdict, counts):
    """What the approaches that are walked in an hour make of it.

    Args: their verdicts, shape (..., approach); which of them count, shape (approach,).

    Returns: shape (...,). Wrong where the air is on every approach that counts, and there
    is one; just-off where it is on or beside any; else clean.
    """
    verdict = np.asarray(verdict)
    on_all = ((verdict == WRONG) | ~np.asarray(counts, bool)).all(axis=-1) & np.any(counts)
    off = np.where((verdict != CLEAN).any(axis=-1), JUST_OFF, CLEAN)
    return np.where(on_all, WRONG, off).astype(np.int8)
