"""The ways that air takes over the land in hours of wind and slope air together."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air.slopes import FULL_GRADE_PCT
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
        rows, columns = self.cells.shape
        column = (place.real - self.relief.west_m) / self.relief.cell_m
        row = (place.imag - self.relief.south_m) / self.relief.cell_m
        j = np.minimum(np.maximum(column, 0.0), columns - 2).astype(np.int64)
        i = np.minimum(np.maximum(row, 0.0), rows - 2).astype(np.int64)
        right, up = column - j, row - i
        flat, at = self.cells.ravel(), i * columns + j
        south = flat[at] + (flat[at + 1] - flat[at]) * right
        north = flat[at + columns] + (flat[at + columns + 1] - flat[at + columns]) * right
        beside = (right < 0) | (right > 1) | (up < 0) | (up > 1)
        found = south + (north - south) * up
        return np.where(beside, np.nan, found) if beside.any() else found


def air_ways(
    uphill: Uphill,
    start_m: Floats,
    *,
    wind_mps: Vectors,
    full_slope_mps: Floats,
    step_m: float = STEP_M,
) -> Floats:
    """The lines along which air goes from a place, one a row. [m]

    Args:
        uphill: of heights that are filled and smoothed.
        start_m: east and north of the centre. [m]
        wind_mps: the wind at the hunter, east + i north, shape (row,); the same all along.
        full_slope_mps: slope wind on a slope of 20 % or more, uphill positive. (row,)
        step_m: length of a step. [m]

    Returns: points, shape (row, point, 2), evenly apart, 600 m of way; past the grid, and
    where air hardly moves, it goes on by its last heading.
    Missing: NaN in rows without wind. Source: midpoint rule; that the wind is the same all
    along is ours.
    """

    def heading(at: Vectors, before: Vectors) -> Vectors:
        air = wind_mps + full_slope_mps * uphill.at(at)
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
