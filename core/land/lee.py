"""Where wind parts from the ground behind a steep fall, and may roll back."""

from dataclasses import dataclass

import numpy as np

from core.air.stability import D
from core.land.relief import Floats, Relief

UPWIND_M = 600.0
STEP_M = 10.0
STEEP_OVER_M = 50.0
LEAST_ABOVE_M = 8.0  # ours
MOST_DROPS = 8.0  # ours
AS_HIGH_M = 1.0  # ours
LEE_DEG = 15.0
WOODS_DEG = 10.0  # wind over woods parts sooner; from memory, and no more than a caution
LEAST_MPS = 2.0
EVERY_DEG = 5.0
WINDS = np.arange(0.0, 360.0, EVERY_DEG)


@dataclass(frozen=True, eq=False)
class LeeSlope:
    """What stands upwind of a place, by direction of wind; shape (wind,) each.

    `above_m`: how high the highest point within 600 m stands over the place; `away_m`: how
    far it is; `steepest_deg`: the steepest 50 m of the fall between; NaN where the ground
    upwind is not known.
    """

    wind_from_deg: Floats
    above_m: Floats
    away_m: Floats
    steepest_deg: Floats

    def parted(self, lee_deg: float = LEE_DEG):
        """Whether wind from each direction may part from the ground, and roll back here."""
        return (
            (self.above_m >= LEAST_ABOVE_M)
            & (self.away_m <= MOST_DROPS * self.above_m)
            & (self.steepest_deg >= lee_deg)
        )


def lee_slope(relief: Relief, east_m: float, north_m: float) -> LeeSlope:
    """What stands upwind of a place, for every fifth degree.

    Args: heights, smoothed over 15 m; the place on the plane [m].
    Source: wind parts from two-dimensional ridges above some 15 degrees and from round hills
    above some 20 [finnigan2020]; least height, reach and the 50 m are ours.
    """
    away = np.arange(0.0, UPWIND_M + STEP_M, STEP_M)
    turn = np.radians(WINDS)[:, None]
    height = relief.at(east_m + np.sin(turn) * away, north_m + np.cos(turn) * away)
    above = height - height[:, :1]
    known = np.where(np.isfinite(above), above, -np.inf)
    # the nearest that is as high but for a step: level ground behind a brink has no top
    top = np.argmax(known >= known.max(axis=1, keepdims=True) - AS_HIGH_M, axis=1)
    span = int(STEEP_OVER_M / STEP_M)
    falls = (above[:, span:] - above[:, :-span]) / STEEP_OVER_M
    between = np.arange(falls.shape[1]) + span <= np.maximum(top, span)[:, None]
    steepest = np.where(between, falls, -np.inf).max(axis=1)
    at = np.arange(len(WINDS))
    return LeeSlope(WINDS, above[at, top], away[top], np.degrees(np.arctan(steepest)))


def rolls_back(parted, stability, speed_10m_mps):
    """Whether an hour's air behind a parting fall cannot be called.

    Args (elementwise): whether the wind's direction is one of those; class 0 to 5 for A to F;
        wind at 10 m [m/s]. Missing: NaN speed is False.
    Source: strong layering delays parting [ambaum2005], so classes E and F are left out; the
    2 m/s are an assumption.
    """
    return (
        np.asarray(parted)
        & (np.asarray(stability) <= D)
        & (np.asarray(speed_10m_mps, float) >= LEAST_MPS)
    )
