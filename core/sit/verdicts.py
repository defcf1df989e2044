"""The four verdicts and the three groups: their order, and grading a distance."""

import numpy as np

CLEAN, JUST_OFF, CANT_CALL, WRONG = 0, 1, 2, 3  # in order, the worse the larger
VERDICT_WORDS = ("clean", "just-off", "cant-call", "wrong")
GO, CANT, STAY = 0, 1, 2
GROUP_WORDS = ("go", "cant-call", "stay-out")


def grade(distance_yd, wrong_within_yd: float, clean_beyond_yd: float):
    """Verdict of an equivalent distance: wrong below one, clean above the other.

    Missing: NaN (no air known) is clean; callers say can't call themselves.
    """
    distance_yd = np.asarray(distance_yd, float)
    with np.errstate(invalid="ignore"):
        near = np.where(distance_yd < wrong_within_yd, WRONG, JUST_OFF)
        clean = ~(distance_yd <= clean_beyond_yd)
    return np.where(clean, CLEAN, near).astype(np.int8)


def milder(verdict):
    """One step milder: wrong is just-off, just-off is clean. Elementwise."""
    verdict = np.asarray(verdict)
    return np.where(verdict == WRONG, np.int8(JUST_OFF), np.int8(CLEAN))
