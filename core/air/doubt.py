"""How far off "like N yards" is likely to be, from the one field test there is.

Tested over open grass, on days and clear nights, with means of ten minutes in a steady
wind, straight downwind, to 440 yards. Woods, slopes, light gusty air and places off to
the side were not.
"""

from core.air.stability import A, B, C, D, E, F
from core.units import M_PER_YD

GROUPS = {"sunny": (A, B, C), "even": (D,), "still night": (E, F)}
UP_TO_M = (150.0, 300.0)  # steps of distance: the arcs at 50 and 100, 200, and 400 m
# low and high factor on N that hold 8 in 10, by step of distance; derived from the
# measured arcs by `tests/field/likely.py`, which a test repeats where the data lie
LIKELY = {
    "sunny": ((0.6, 1.6), (0.7, 2.5), (0.8, 3.9)),  # three runs
    "even": ((0.7, 1.6), (0.6, 1.8), (0.6, 2.5)),  # twenty
    "still night": ((0.6, 1.5), (0.4, 1.5), (0.3, 1.6)),  # five
}


def likely_factor(distance_yd: float, stability: int) -> tuple[float, float]:
    """Between which factors of "like N yards" the air is in 8 of 10 cases.

    Args: how far the place is [yd]; class of the air, 0 to 5.

    Returns: low and high, to multiply N with: (0.6, 1.8) of 200 is 120 to 360 yards.
    Beyond 440 yards it is that of the farthest step, and untested.
    Source: [barad1958], as the program says it from what a forecast gives.
    """
    group = next(name for name, classes in GROUPS.items() if stability in classes)
    step = sum(distance_yd * M_PER_YD > edge for edge in UP_TO_M)
    return LIKELY[group][step]
