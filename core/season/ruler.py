"""The winds that work at each stand, by direction and speed: from the rules, no history.

One date in the middle of the season stands for all of it; its clock, sun and slope
winds are taken, and one wind is held through every hour and walk.
"""

import dataclasses
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.season.gaps import sit_winds
from core.season.half_days import Half
from core.season.one_stand import stand_season
from core.season.review import SeasonAnswer
from core.sit.legal import closed_on
from core.sit.verdicts import CANT_CALL, GO, STAY, WRONG
from core.units import MPS_PER_MPH
from core.weather.hours import Hours, make_hours

DIRECTIONS_DEG = np.arange(0.0, 360.0, 10.0)
SPEEDS_MPH = (4, 8, 12, 16)
HALF_CLOUD_FRAC = 0.5


class SweptWind:
    """One wind for each sit, held through all of its hours.

    Args: directions [deg] and speeds [m/s] of the sits, in order. Shape (sit,).
    """

    held = True
    source = "held winds"
    format = "typed"

    def __init__(self, wind_from_deg, speed_mps) -> None:
        self.wind_from_deg, self.speed_mps = wind_from_deg, speed_mps

    def at_rows(self, start_s) -> Hours:
        """The hours of blocks of equal length, a sit after the other. Args: starts."""
        block = len(start_s) // len(self.wind_from_deg)
        table = make_hours(
            start_s=np.arange(len(start_s)),
            wind_from_deg=np.repeat(self.wind_from_deg, block),
            half_width_deg=HALF_WIDTH_DEGREES_DEG,
            speed_mps=np.repeat(self.speed_mps, block),
            cloud_frac=HALF_CLOUD_FRAC,
        )
        return dataclasses.replace(table, start_s=np.asarray(start_s))


@dataclass(frozen=True, eq=False)
class Ruler:
    """Verdict of each stand in each of 36 winds at one speed, and the date it is for.

    `verdict`: shape (stand, direction), in `verdicts`' order, wrong for stay out.
    """

    sit: str
    date: str
    speed_mph: float
    verdict: npt.NDArray[np.int8]


def winds_that_work(answer: SeasonAnswer, sit: str, speed_mph: float) -> Ruler:
    """Judges every stand in 36 winds of one speed. Args: the answer; morning or evening
    (one that the answer has); the speed."""
    own = next(h.half for h in answer.halves if h.sit == sit)
    middle = _middle(own)
    n = len(DIRECTIONS_DEG)
    wind: Any = SweptWind(DIRECTIONS_DEG, np.full(n, speed_mph * MPS_PER_MPH))
    half = Half(answer.scene, own.dates, sit, wind, np.full(n, middle))
    rows = []
    for stand in answer.stands:
        found = stand_season(half, stand)
        held = np.where(found.group == GO, found.verdict, CANT_CALL)
        rows.append(np.where(found.group == STAY, WRONG, held))
    date = own.dates.date[middle].item()
    verdict = np.array(rows, np.int8).reshape(len(answer.stands), n)
    return Ruler(sit, f"{date.day} {date:%B}", speed_mph, verdict)


def _middle(half: Half) -> int:
    """A date in the middle of the sits, without closed hours where there is one."""
    at, dates = half.clock.at, half.dates
    nearest = at[np.argsort(np.abs(np.arange(len(at)) - len(at) // 2), kind="stable")]
    plain = (i for i in nearest if not closed_on(dates.season(i), dates.date[i].item()))
    return int(next(plain, nearest[0]))


@dataclass(frozen=True, eq=False)
class Blows:
    """How often each of 36 winds blows in a season's sits, and leaves no stand. (36,)"""

    share: npt.NDArray[np.float64]
    none_share: npt.NDArray[np.float64]  # of that wind's sits
    calm_share: float


def how_often(answer: SeasonAnswer, sit: str | None = None) -> Blows:
    """Shares of the sits by their mean wind, in tens of degrees.

    Args: the answer; one kind of sit, or None for all.
    """
    direction, _ = sit_winds(answer)
    some = np.asarray(~answer.serves.any(axis=1))
    if sit is not None:
        kind = np.concatenate([[h.sit] * len(h.half) for h in answer.halves])
        direction, some = direction[kind == sit], some[kind == sit]
    known = ~np.isnan(direction)
    bin_of = np.floor((direction[known] + 5.0) / 10.0).astype(int) % 36
    count = np.bincount(bin_of, minlength=36)
    none = np.bincount(bin_of, weights=some[known], minlength=36)
    total = max(1, len(direction))
    return Blows(count / total, none / np.maximum(count, 1), float((~known).sum() / total))
