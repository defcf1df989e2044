"""A stand's winds on a straight ruler: those it works with, and those that may come.

Above the line a mark every ten degrees, full where the stand is go; under it a short tick,
longer where more of the drawn winds fall. North stands at both ends.
"""

import math

import numpy as np

from core.angles import POINTS_16, point_name
from core.answer.change import works_by_degree
from core.answer.one_sit import SitAnswer, StandSit
from core.say.what_would_change import winds_text
from core.show.canvas import Sheet
from core.show.marks import mark
from core.show.palette import Palette
from core.show.svg import num
from core.sit.verdicts import CLEAN, WRONG

WIDTH, HEIGHT, SIDE = 390.0, 96.0, 14.0
MARKS_Y, BASE = 34.0, 46.0
MOST_TICK, LEAST_TICK = 34.0, 3.0
STEP_DEG = 10
EVERY = range(0, 360 + STEP_DEG, STEP_DEG)


def falls(wind_from_deg) -> np.ndarray:
    """How many winds fall nearest to each ten degrees. Args: winds [deg], NaN left out.

    Returns: shape (36,), from north on.
    """
    known = np.asarray(wind_from_deg, float)
    known = known[np.isfinite(known)]
    at = np.rint(known / STEP_DEG).astype(int) % (360 // STEP_DEG)
    return np.bincount(at, minlength=360 // STEP_DEG)


def ticks_told(answer: SitAnswer, seat: StandSit) -> str:
    """The drawing in words. Args: an answer with its chances; the stand."""
    chances = answer.chances
    if chances is None or not chances.draws:
        return ""
    counts = falls(chances.wind_from_deg)
    middle, half = int(counts.argmax()), 0
    while _around(counts, middle, half) < 0.5 * counts.sum() and half < len(counts) // 2:
        half += 1
    low, high = ((middle + side * half) * STEP_DEG for side in (-1, 1))
    works = winds_text(works_by_degree(answer.sit, seat))
    return (
        f"Works with {works}. Of {chances.draws} winds drawn about the forecast, half come "
        f"from {point_name(low)} to {point_name(high)}."
    )


def _around(counts, middle: int, half: int) -> int:
    steps = (middle + np.arange(-half, half + 1)) % len(counts)
    return int(counts[steps].sum())


def wind_ticks(answer: SitAnswer, seat: StandSit, colours: Palette) -> str:
    """The ruler of a stand with the winds drawn. Returns: one <svg>; empty without draws.

    Args: an answer with its chances; the stand; colours.
    """
    chances = answer.chances
    if chances is None or not chances.draws:
        return ""
    sheet = Sheet((0.0, 0.0, WIDTH, HEIGHT), WIDTH, "winds")
    works, counts = works_by_degree(answer.sit, seat), falls(chances.wind_from_deg)
    for degree in EVERY:
        x, at = _x(degree), degree % 360
        sheet.parts += mark(CLEAN if works[at] else WRONG, x, MARKS_Y, 3.4, colours)
        n = int(counts[at // STEP_DEG])
        if n:
            length = LEAST_TICK + (MOST_TICK - LEAST_TICK) * n / max(1, int(counts.max()))
            d = f"M{num(x)},{num(BASE)} v{num(length)}"
            sheet.add("path", d=d, stroke=colours.ink, stroke_width=2)
    sheet.add("path", d=f"M{num(_x(0))},{num(BASE)} H{num(_x(360))}", stroke=colours.soft)
    for degree in range(0, 361, 45):
        name = POINTS_16[round(degree / 22.5) % 16]
        sheet.words(_x(degree), 18, name, 11, fill=colours.soft, text_anchor="middle")
    wind = answer.sit.mean_wind_deg
    if not math.isnan(wind):
        told = f"M{num(_x(wind) - 4)},{num(HEIGHT - 1)} l4,-7 l4,7 Z"
        sheet.add("path", d=told, fill=colours.blue)
    return sheet.svg(ticks_told(answer, seat), paper=colours.paper)


def _x(degree: float) -> float:
    return SIDE + degree / 360.0 * (WIDTH - 2 * SIDE)
