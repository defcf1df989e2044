"""The way that still night air takes down from a place, or day air up: a streamline."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.land.relief import Relief, gradient

Floats = npt.NDArray[np.float64]

STEP_M = 10.0
LONGEST_M = 600.0
LEAST_RISE = 0.004  # under 0.4 % air does not know which way is down; ours
ENDS = FAR, FLAT, EDGE, POOL = "goes on", "flat", "edge of the grid", "pool"


@dataclass(frozen=True, eq=False)
class StillWay:
    """Points of a way, shape (point, 2), east and north of the centre [m], evenly apart;
    and how it ends."""

    points_m: Floats
    ends: str

    @property
    def length_m(self) -> float:
        steps = np.diff(self.points_m, axis=0)
        return float(np.hypot(steps[:, 0], steps[:, 1]).sum())


@dataclass(frozen=True, eq=False)
class Slopes:
    """Rises of a relief, made once for many ways."""

    relief: Relief
    east: Floats
    north: Floats

    def at(self, east_m: float, north_m: float) -> tuple[float, float]:
        """Rise to the east and to the north at a place, m per m; NaN outside.

        As `Relief.at`, for one place at a time: ways ask thousands of times.
        """
        relief, (rows, columns) = self.relief, self.east.shape
        row = (north_m - relief.south_m) / relief.cell_m
        column = (east_m - relief.west_m) / relief.cell_m
        if not (0.0 <= row <= rows - 1 and 0.0 <= column <= columns - 1):
            return math.nan, math.nan
        i, j = min(int(row), rows - 2), min(int(column), columns - 2)
        up, right = row - i, column - j
        return _between(self.east, i, j, up, right), _between(self.north, i, j, up, right)


def _between(values: Floats, i: int, j: int, up: float, right: float) -> float:
    """Linear both ways between four cells."""
    south = values.item(i, j) * (1.0 - right) + values.item(i, j + 1) * right
    north = values.item(i + 1, j) * (1.0 - right) + values.item(i + 1, j + 1) * right
    return south * (1.0 - up) + north * up


def slopes_of(relief: Relief) -> Slopes:
    """The rises of a relief, for many ways."""
    return Slopes(relief, *gradient(relief))


def still_way(
    slopes: Slopes, start_m, *, up: bool = False, pool=None, step_m: float = STEP_M
) -> StillWay:
    """The way from a place along the steepest fall, or the steepest rise.

    Args:
        slopes: of heights that are filled and smoothed.
        start_m: east and north of the centre. [m]
        up: against the fall, as air goes on a warmed slope.
        pool: truth of the cells in which still air lies; None for none.
        step_m: length of a step. [m]

    Returns: a way of at most 600 m; of one point where there is no fall to follow. Air goes on
    through a pool while the ground in it still falls.
    Source: midpoint rule on the rise between cells; where it ends is ours.
    """
    sign = 1.0 if up else -1.0
    points = [np.asarray(start_m, float)]
    ends = FAR
    for _ in range(round(LONGEST_M / step_m)):
        here = points[-1]
        half = _heading(slopes, here, sign)
        whole = None if half is None else _heading(slopes, here + half * step_m / 2.0, sign)
        if half is None or whole is None:
            ends = _why(slopes, here if half is None else here + half * step_m / 2.0)
            break
        points.append(here + whole * step_m)
    if not up and _inside(slopes.relief, pool, points[-1]):
        ends = POOL
    return StillWay(np.array(points), ends)


def _heading(slopes: Slopes, at, sign: float):
    """One metre along the way; None where the ground is flat or not known."""
    east, north = slopes.at(*at)
    rise = np.hypot(east, north)
    if not rise >= LEAST_RISE:
        return None
    return sign * np.array([east, north]) / rise


def _why(slopes: Slopes, at) -> str:
    return EDGE if np.isnan(slopes.at(*at)[0]) else FLAT


def _inside(relief: Relief, pool, at) -> bool:
    if pool is None:
        return False
    j, i = (round((a - b) / relief.cell_m) for a, b in zip(at, _corner(relief), strict=True))
    rows, columns = pool.shape
    return 0 <= i < rows and 0 <= j < columns and bool(pool[i, j])


def _corner(relief: Relief) -> tuple[float, float]:
    return relief.west_m, relief.south_m
