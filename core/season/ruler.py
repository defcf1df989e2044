"""The winds that work at each stand, by direction and speed: from the rules, no history.

One date in the middle of the season stands for all of it; its clock, sun and slope
winds are taken, and one wind is held through every hour and walk.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.season.gaps import sit_winds
from core.season.one_stand import stand_season
from core.season.review import SeasonAnswer
from core.sit.clock import Clock
from core.sit.dates import closed_on
from core.sit.prepare import TABLE, prepare_sits
from core.sit.verdicts import CANT_CALL, GO, STAY, WRONG
from core.units import MPS_PER_MPH
from core.weather.hours import Hours, make_hours

DIRECTIONS_DEG = np.arange(0.0, 360.0, 10.0)
SPEEDS_MPH = (4, 8, 12, 16)
HALF_CLOUD_FRAC = 0.5


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
    clock = next(r.sits.clock for r in answer.reviews if r.sit == sit)
    middle = clock.take(np.array([_middle(clock)]))
    one = prepare_sits(answer.scene, _held(speed_mph), middle, strengths=TABLE)
    swept = one.swept(0, DIRECTIONS_DEG)
    rows = []
    for stand in answer.stands:
        found = stand_season(swept, stand)
        held = np.where(found.group == GO, found.verdict, CANT_CALL)
        rows.append(np.where(found.group == STAY, WRONG, held))
    date = clock.dates.date[middle.at[0]].item()
    verdict = np.array(rows, np.int8).reshape(len(answer.stands), len(DIRECTIONS_DEG))
    return Ruler(sit, f"{date.day} {date:%B}", speed_mph, verdict)


def _held(speed_mph: float) -> Hours:
    """A north wind of one speed under half a sky of cloud, held through all hours."""
    return make_hours(
        start_s=[0],
        wind_from_deg=0.0,
        half_width_deg=HALF_WIDTH_DEGREES_DEG,
        speed_mps=speed_mph * MPS_PER_MPH,
        cloud_frac=HALF_CLOUD_FRAC,
        held=True,
        kind="typed",
    )


def _middle(clock: Clock) -> int:
    """A sit in the middle of them, on a date without closed hours where there is one."""
    dates = clock.dates
    nearest = np.argsort(np.abs(np.arange(len(clock)) - len(clock) // 2), kind="stable")
    days = [(i, clock.at[i]) for i in nearest]
    plain = (i for i, d in days if not closed_on(dates.season(d), dates.date[d].item()))
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
        kind = np.concatenate([[h.sit] * len(h.sits) for h in answer.reviews])
        direction, some = direction[kind == sit], some[kind == sit]
    known = ~np.isnan(direction)
    bin_of = np.floor((direction[known] + 5.0) / 10.0).astype(int) % 36
    count = np.bincount(bin_of, minlength=36)
    none = np.bincount(bin_of, weights=some[known], minlength=36)
    total = max(1, len(direction))
    return Blows(count / total, none / np.maximum(count, 1), float((~known).sum() / total))
