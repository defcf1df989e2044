"""The ways that air takes over the land in hours of wind and slope air together."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air.slopes import FULL_GRADE_PCT
from core.land.linear_wind import WindChange, along_itself
from core.land.relief import Relief
from core.land.still_way import LONGEST_M, STEP_M, Slopes, StillWay

Floats = npt.NDArray[np.float64]
Vectors = npt.NDArray[np.complex128]  # east and north as one number: quick to walk with

FULL_RISE = FULL_GRADE_PCT / 100.0
STOPS_MPS = 0.05  # slower air keeps the heading it had; ours


@dataclass(frozen=True, eq=False)
class Uphill:
    """How slope air is driven at each cell: uphill, of length 1 from 20 % on, less under it."""

    relief: Relief
    cells: npt.NDArray[Any]

    @classmethod
    def of(cls, slopes: Slopes) -> "Uphill":
        """That of a relief. Args: its rises."""
        up = slopes.east + 1j * slopes.north
        return cls(slopes.relief, up / np.maximum(np.abs(up), FULL_RISE))

    def at(self, place: Vectors) -> Vectors:
        """Between the middles of cells; NaN outside. Args: places [m]."""
        return Between.of(self.relief, place).values(self.cells)


@dataclass(frozen=True, eq=False)
class Between:
    """Where places lie between the middles of four cells each; shapes (place,)."""

    columns: int
    at: npt.NDArray[np.int64]  # of the south-western cell, flat
    right: Floats
    up: Floats
    beside: npt.NDArray[np.bool_]  # past the grid

    @classmethod
    def of(cls, relief: Relief, place: Vectors) -> "Between":
        """Those of places on a relief. Args: it; east + i north [m]."""
        rows, columns = relief.height_m.shape
        column = (place.real - relief.west_m) / relief.cell_m
        row = (place.imag - relief.south_m) / relief.cell_m
        j = np.minimum(np.maximum(column, 0.0), columns - 2).astype(np.int64)
        i = np.minimum(np.maximum(row, 0.0), rows - 2).astype(np.int64)
        right, up = column - j, row - i
        beside = (right < 0) | (right > 1) | (up < 0) | (up > 1)
        return cls(columns, i * columns + j, right, up, beside)

    def values(self, cells, further: npt.NDArray[np.int64] | int = 0):
        """Values of cells there; NaN past the grid.

        Args: the cells, or several grids of them one behind another; where that of each place
        begins.
        """
        flat, at, across = cells.ravel(), self.at + further, self.columns
        south = flat[at] + (flat[at + 1] - flat[at]) * self.right
        north = flat[at + across] + (flat[at + across + 1] - flat[at + across]) * self.right
        found = south + (north - south) * self.up
        return np.where(self.beside, np.nan, found) if self.beside.any() else found


@dataclass(frozen=True, eq=False)
class OverHills:
    """How the land changes wind at any place: u' = M U, in two parts.

    `mean`: (xx + yy) / 2; `turn`: (xx - yy) / 2 + i xy; grids one behind another. For a wind
    of length one along e, conj(e) M e is mean + turn conj(e)^2: what it gains along itself,
    and i times to its left.
    """

    mean: npt.NDArray[Any]
    turn: npt.NDArray[Any]

    @classmethod
    def by(cls, changes: Sequence[WindChange]) -> "OverHills":
        """By some changes of the wind. Args: they."""
        mean = np.stack([(c.xx + c.yy) / 2.0 for c in changes])
        turn = np.stack([(c.xx - c.yy) / 2.0 + 1j * c.xy for c in changes])
        return cls(mean, turn)

    def wind_mps(self, wind_mps: Vectors, there: Between, change_at) -> Vectors:
        """The wind of each row at its place.

        Args: before the land changes it; the places; which of the changes each row has.
        """
        further = change_at * (self.mean.size // len(self.mean))
        back = np.conj(wind_mps) / np.maximum(np.abs(wind_mps), 1e-12)
        gain = there.values(self.mean, further) + there.values(self.turn, further) * back**2
        return wind_mps * (along_itself(gain.real) + 1j * gain.imag)


def air_ways(
    uphill: Uphill,
    start_m: Floats,
    *,
    wind_mps: Vectors,
    full_slope_mps: Floats,
    hills: tuple[OverHills, npt.NDArray[np.int64]] | None = None,
    step_m: float = STEP_M,
) -> Floats:
    """The lines along which air goes from a place, one a row. [m]

    Args:
        uphill: of heights that are filled and smoothed.
        start_m: east and north of the centre. [m]
        wind_mps: the wind at the hunter, east + i north, shape (row,), before the land
            changes it.
        full_slope_mps: slope wind on a slope of 20 % or more, uphill positive. (row,)
        hills: how the land changes wind, and which of its changes each row has; None where
            it does not.
        step_m: length of a step. [m]

    Returns: points, shape (row, point, 2), evenly apart, 600 m of way; past the grid, and
    where air hardly moves, it goes on by its last heading.
    Missing: NaN in rows without wind. Source: midpoint rule; that wind and slope air add up
    at each place is ours.
    """

    def heading(at: Vectors, before: Vectors) -> Vectors:
        there = Between.of(uphill.relief, at)
        wind = wind_mps if hills is None else hills[0].wind_mps(wind_mps, there, hills[1])
        air = wind + full_slope_mps * there.values(uphill.cells)
        speed = np.abs(air)
        with np.errstate(invalid="ignore"):
            return np.where(speed >= STOPS_MPS, air / np.maximum(speed, STOPS_MPS), before)

    n, steps = len(wind_mps), round(LONGEST_M / step_m)
    here = np.full(n, complex(*start_m))
    goes = heading(here, wind_mps / np.maximum(np.abs(wind_mps), STOPS_MPS))
    points = [here]
    for _ in range(steps):
        first = heading(here, goes)
        goes = heading(here + first * (step_m / 2.0), first)
        here = here + goes * step_m
        points.append(here)
    return np.stack([np.stack(points, axis=1).real, np.stack(points, axis=1).imag], axis=-1)


def _unit(vectors: Floats) -> Floats:
    length = np.maximum(np.hypot(vectors[:, 0], vectors[:, 1]), 1e-12)
    return vectors / length[:, None]


def ways_by_range(points_m: Floats, range_m: Floats) -> tuple[Floats, Floats]:
    """Where ways are as they first come that far from their start.

    Args: ways of one start, shape (row, point, 2) [m]; distances from it, (range,) [m].

    Returns: bearing from the start, -180 to 180 [deg], and length along the way [m]; shape
    (row, range) each. Past its end a way goes on by its last heading.
    Missing: NaN for a way of NaN. Source: plain geometry.
    """
    wanted = np.asarray(range_m, float)
    moved = points_m - points_m[:, :1]
    last = _unit(moved[:, -1] - moved[:, -2])
    beyond = 3.0 * np.max(wanted, initial=0.0) + 1.0
    moved = np.concatenate([moved, moved[:, -1:] + last[:, None] * beyond], axis=1)
    step = np.diff(moved, axis=1)
    length = np.hypot(step[..., 0], step[..., 1])
    along = np.concatenate([np.zeros((len(step), 1)), np.cumsum(length, axis=1)], axis=1)
    reach = np.maximum.accumulate(np.hypot(moved[..., 0], moved[..., 1]), axis=1)
    k = np.sum(reach[:, :, None] < wanted, axis=1).clip(1, reach.shape[1] - 1)
    row = np.arange(len(k))[:, None]
    share = _share_on_step(moved[row, k - 1], step[row, k - 1], wanted)
    at = moved[row, k - 1] + share[..., None] * step[row, k - 1]
    at = np.where((wanted > 0)[:, None], at, step[:, :1])
    bearing = np.degrees(np.arctan2(at[..., 0], at[..., 1]))
    return bearing, along[row, k - 1] + share * length[row, k - 1]


def _share_on_step(start: Floats, step: Floats, wanted: Floats) -> Floats:
    """How far along a step its distance from the origin is the wanted one; 0 to 1."""
    a = (step**2).sum(axis=-1)
    b = 2.0 * (start * step).sum(axis=-1)
    c = (start**2).sum(axis=-1) - wanted**2
    root = np.sqrt(np.maximum(b * b - 4.0 * a * c, 0.0))
    return np.clip((-b + root) / (2.0 * np.maximum(a, 1e-12)), 0.0, 1.0)


def by_range(way: StillWay, range_m: Floats) -> tuple[Floats, Floats]:
    """The same of one way; NaN for a way of one point.

    Args: the way; distances from its start, (range,) [m].
    Returns: bearing [deg] and length along the way [m], shape (range,) each.
    """
    if len(way.points_m) < 2:
        nothing = np.full(np.shape(range_m), np.nan)
        return nothing, nothing
    bearing, along = ways_by_range(way.points_m[None], range_m)
    return bearing[0], along[0]
