"""The ways that air takes over the land in hours of wind and slope air together."""

import functools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air.slopes import FULL_GRADE_PCT
from core.land.linear_wind import WindChange, along_itself
from core.land.relief import Relief
from core.land.still_way import LONGEST_M, Slopes, StillWay

Floats = npt.NDArray[np.float64]
Vectors = npt.NDArray[np.complex128]  # east and north as one number: quick to walk with

FULL_RISE = FULL_GRADE_PCT / 100.0
# twice that of still air: many winds are walked at once, and of 197,000 verdicts of the demo one
# differs from that at a quarter of it, which lies on its limit
MIXED_STEP_M = 20.0
STOPS_MPS = 0.05  # slower air keeps the heading it had; ours


@dataclass(frozen=True, eq=False)
class Drive:
    """What drives air at each cell, for ways of many hours at once.

    `cells`, shape (cell, column), grids one behind another: uphill, of length 1 from 20 % on,
    less under it; and where hills change the wind, u' = M U, in a column each
    (xx + yy) / 2 and (xx - yy) / 2 + i xy. For a wind of length one along e, conj(e) M e is the
    first and the second times conj(e)^2: what it gains along itself, and i times to its left.
    """

    relief: Relief
    cells: npt.NDArray[Any]

    @classmethod
    def of(cls, slopes: Slopes, changes: Sequence[WindChange] = ()) -> "Drive":
        """That of a relief. Args: its rises; how its hills change wind, none for not at all."""
        up = slopes.east + 1j * slopes.north
        up = up / np.maximum(np.abs(up), FULL_RISE)
        each: list[tuple[Any, ...]] = [
            (up, (c.xx + c.yy) / 2.0, (c.xx - c.yy) / 2.0 + 1j * c.xy) for c in changes
        ] or [(up,)]
        grids = [np.stack(columns, axis=-1) for columns in each]
        return cls(slopes.relief, np.stack(grids).reshape(-1, len(each[0])))

    @functools.cached_property
    def _corners(self) -> npt.NDArray[np.int64]:
        columns = self.relief.height_m.shape[1]
        return np.array([[0], [1], [columns], [columns + 1]])

    def reaches(self, start_m: Floats, away_m: float) -> bool:
        """Whether all within a distance of a place lies on the grid. Args: both [m]."""
        rows, columns = self.relief.height_m.shape
        corner = np.array([self.relief.west_m, self.relief.south_m])
        far = corner + (np.array([columns, rows]) - 1) * self.relief.cell_m
        return bool(
            (np.asarray(start_m) - away_m > corner).all() and (start_m + away_m < far).all()
        )

    def at(self, place: Vectors, further=0, *, is_inside: bool = False) -> Vectors:
        """Between the middles of cells, shape (column, place); NaN past the grid.

        Args: places [m]; where the grid of each begins; whether all are known to lie on it.
        """
        rows, columns = self.relief.height_m.shape
        cell = place - complex(self.relief.west_m, self.relief.south_m)
        cell *= 1.0 / self.relief.cell_m
        j, i = cell.real.astype(np.int64), cell.imag.astype(np.int64)
        right, up = cell.real - j, cell.imag - i
        both = right * up
        corners = self._corners + (i * columns + j + further)
        values = self.cells.take(corners, axis=0, mode="clip")
        weights = np.empty(corners.shape)  # quicker than stacking
        weights[0], weights[1] = 1.0 - right - up + both, right - both
        weights[2], weights[3] = up - both, both
        if values.shape[-1] > 1:  # as plain numbers, where that is quicker
            parts = np.einsum("kp,kpc->pc", weights, values.view(np.float64))
            found = parts.view(np.complex128).T
        else:
            found = np.einsum("kp,kpc->cp", weights, values)
        if is_inside:
            return found
        inside = (cell.real >= 0) & (cell.real <= columns - 1)
        inside &= (cell.imag >= 0) & (cell.imag <= rows - 1)
        return found if inside.all() else np.where(inside, found, np.nan)


def air_ways(
    drive: Drive,
    start_m: Floats,
    *,
    wind_mps: Vectors,
    full_slope_mps: Floats,
    change_at: npt.NDArray[np.int64] | None = None,
    step_m: float = MIXED_STEP_M,
) -> Floats:
    """The lines along which air goes from a place, one a row. [m]

    Args:
        drive: of heights that are filled and smoothed.
        start_m: east and north of the centre, of all or of each row, (2,) or (row, 2). [m]
        wind_mps: the wind at the hunter, east + i north, shape (row,), before the land
            changes it.
        full_slope_mps: slope wind on a slope of 20 % or more, uphill positive. (row,)
        change_at: which of the changes of the wind each row has; None where there are none.
        step_m: length of a step. [m]

    Returns: points, shape (row, point, 2), evenly apart, 600 m of way; past the grid, and
    where air hardly moves, it goes on by its last heading.
    Missing: NaN in rows without wind. Source: midpoint rule; that wind and slope air add up
    at each place is ours.
    """
    with np.errstate(invalid="ignore"):  # a row without wind
        back = (np.conj(wind_mps) / np.maximum(np.abs(wind_mps), 1e-12)) ** 2
    is_inside = drive.reaches(np.asarray(start_m, float), LONGEST_M + step_m)
    further = 0 if change_at is None else change_at * drive.relief.height_m.size

    def heading(at: Vectors, before: Vectors) -> Vectors:
        uphill, *change = drive.at(at, further, is_inside=is_inside)
        air = full_slope_mps * uphill
        if change:
            gain = change[0] + change[1] * back
            gain.real = along_itself(gain.real)
            air += wind_mps * gain
        else:
            air += wind_mps
        speed = np.abs(air)
        ahead = air * (1.0 / np.maximum(speed, STOPS_MPS))
        return np.where(speed >= STOPS_MPS, ahead, before)

    n, steps = len(wind_mps), round(LONGEST_M / step_m)
    here = np.broadcast_to(np.asarray(start_m, float) @ (1.0, 1j), n)
    points = [here]
    with np.errstate(invalid="ignore"):
        goes = heading(here, wind_mps / np.maximum(np.abs(wind_mps), STOPS_MPS))
        for _ in range(steps):
            first = heading(here, goes)
            goes = heading(here + first * (step_m / 2.0), first)
            here = here + goes * step_m
            points.append(here)
    return np.stack(points, axis=1).view(np.float64).reshape(n, steps + 1, 2)


def ways_by_range(points_m: Floats, range_m: Floats) -> tuple[Floats, Floats]:
    """Where ways are as they first come that far from their start.

    Args: ways of one start, shape (row, point, 2) [m]; distances from it, (range,) [m].

    Returns: bearing from the start, -180 to 180 [deg], and length along the way [m]; shape
    (row, range) each. Past its end a way goes on by its last heading.
    Missing: NaN for a way of NaN. Source: plain geometry.
    """
    wanted = np.asarray(range_m, float)
    # east and north apart: arrays that lie in one piece are quicker
    east, north = _gone_on(points_m, 3.0 * np.max(wanted, initial=0.0) + 1.0)
    step_east, step_north = np.diff(east, axis=1), np.diff(north, axis=1)
    length = np.hypot(step_east, step_north)
    along = np.zeros(east.shape)
    np.cumsum(length, axis=1, out=along[:, 1:])
    reach = np.maximum.accumulate(np.hypot(east, north), axis=1)
    first = [of_way.searchsorted(wanted) for of_way in reach]
    k = np.reshape(first, (len(reach), len(wanted))).clip(1, reach.shape[1] - 1).astype(int)
    row = np.arange(len(k))[:, None]
    on_point, on_step = row * reach.shape[1] + k - 1, row * length.shape[1] + k - 1
    x, y, dx, dy = (
        east.take(on_point),
        north.take(on_point),
        step_east.take(on_step),
        step_north.take(on_step),
    )
    share = _share_on_step(x, y, dx, dy, wanted)
    is_away = wanted > 0
    x = np.where(is_away, x + share * dx, step_east[:, :1])
    y = np.where(is_away, y + share * dy, step_north[:, :1])
    return np.degrees(np.arctan2(x, y)), along.take(on_point) + share * length.take(on_step)


def _gone_on(points_m: Floats, beyond_m: float) -> tuple[Floats, Floats]:
    """East and north of ways from their start, with one more point so far past their end."""
    east, north = (points_m[..., i] - points_m[:, :1, i] for i in (0, 1))
    step = east[:, -1] - east[:, -2], north[:, -1] - north[:, -2]
    length = np.maximum(np.hypot(*step), 1e-12)
    east, north = (
        np.concatenate([at, (at[:, -1] + along / length * beyond_m)[:, None]], axis=1)
        for at, along in zip((east, north), step, strict=True)
    )
    return east, north


def _share_on_step(east, north, step_east, step_north, wanted) -> Floats:
    """How far along a step its distance from the origin is the wanted one; 0 to 1."""
    a = step_east**2 + step_north**2
    b = 2.0 * (east * step_east + north * step_north)
    c = east**2 + north**2 - wanted**2
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
