"""The slope at a place, from a small grid of heights.

`slope_at` gives the way that still night air would slide, and the grade, from the heights
next to the place; `slope_about` from those that air at night feels, some 30 m about it.
Nothing is kept here: a screen shows both before the user keeps them.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from core.angles import point_name, wrap_deg
from core.ground.drawing.edits import told_all
from core.ground.heights.grid import BadElevation, HeightGrid
from core.ground.layout import LonLat
from core.ground.plan import Plane

REACH_M = 10.0  # humps smaller than this do not steer air down a hill; an assumption
COARSEST_M = 120.0
LEAST_GRADE_PCT = 0.1  # under it the way down is the noise of the grid
ABOUT_M, COARSE_M, ABOUT_COARSE_M = 30.0, 20.0, 60.0  # ours; as the ways of still air have it
LEAST_KNOWN = 0.5  # of the weight of all cells about a place


@dataclass(frozen=True, slots=True)
class Slope:
    """Which way is down, and how steep. `downhill_deg` is None on flat ground."""

    downhill_deg: float | None
    grade_pct: float
    reach_m: float  # from the place to the heights it was worked out from

    @property
    def slope_deg(self) -> float:
        return math.degrees(math.atan(self.grade_pct / 100.0))


def slope_at(grid: HeightGrid, at: LonLat) -> Slope:
    """The slope round a place, from the eight heights about it.

    Args:
        grid: heights in meters.
        at: (lon, lat) of the place. [deg]

    Returns: the slope at the cell that holds the place; on fine grids from heights
        about 10 m away.
    Raises: BadElevation outside the grid, at its edge, beside no data, and on a grid
        whose cells are over 120 m wide.
    Source: [horn1981]: weights 1-2-1, on an ellipsoid's metres per degree.
    """
    plane = Plane(at)
    wide_m = grid.cell_lon_deg * plane.m_per_lon_deg
    high_m = grid.cell_lat_deg * plane.m_per_lat_deg
    if max(wide_m, high_m) > COARSEST_M:
        raise BadElevation(
            f"the grid's cells are {max(wide_m, high_m):.0f} m wide, over {COARSEST_M:g}",
            "the elevation file",
            "Take a finer one, 30 m or less.",
        )
    across, down = (max(1, round(REACH_M / size)) for size in (wide_m, high_m))
    z = _neighbors(grid, at, across, down)
    west, east = z[:, 0] @ (1, 2, 1), z[:, 2] @ (1, 2, 1)
    north, south = z[0] @ (1, 2, 1), z[2] @ (1, 2, 1)
    rise_east = (east - west) / (8 * across * wide_m)
    rise_north = (north - south) / (8 * down * high_m)
    return _slope(float(rise_east), float(rise_north), max(across * wide_m, down * high_m))


def slope_about(grid: HeightGrid, at: LonLat) -> Slope:
    """The slope that air at night feels at a place: humps well under 160 m are smoothed away.

    Args:
        grid: heights in meters.
        at: (lon, lat) of the place. [deg]

    Returns: the slope of the plane of least squares, cells weighted by a bell of 30 m, of 60 m
        where cells are over 20 m wide.
    Raises: BadElevation outside the grid, and where half of the cells' weight is missing.
    Source: the same as the gradient of heights smoothed by that bell; its widths are ours.
    """
    plane = Plane(at)
    rows, columns = (np.arange(n) for n in grid.height.shape)
    east, _ = plane.to_local(grid.west_deg + columns * grid.cell_lon_deg, at[1])
    _, north = plane.to_local(at[0], grid.north_deg - rows * grid.cell_lat_deg)
    wide_m, high_m = (
        grid.cell_lon_deg * plane.m_per_lon_deg,
        grid.cell_lat_deg * plane.m_per_lat_deg,
    )
    over_m = ABOUT_COARSE_M if max(wide_m, high_m) > COARSE_M else ABOUT_M
    i, j = (np.flatnonzero(np.abs(side) <= 4.0 * over_m) for side in (north, east))
    z = grid.height[np.ix_(i, j)]
    x, y = np.meshgrid(east[j], north[i])
    known = np.isfinite(z)
    weight = np.exp(-(x**2 + y**2) / (2.0 * over_m**2))[known]
    if weight.sum() < LEAST_KNOWN * 2.0 * math.pi * over_m**2 / (wide_m * high_m):
        raise BadElevation(
            f"there are too few heights about {at[0]:.5f}, {at[1]:.5f}",
            "the elevation file",
            "Take a piece that reaches over the ground on all sides.",
        )
    root = np.sqrt(weight)
    design = np.column_stack([x[known], y[known], np.ones(len(root))]) * root[:, None]
    (rise_east, rise_north, _), *_ = np.linalg.lstsq(design, z[known] * root, rcond=None)
    return _slope(float(rise_east), float(rise_north), over_m)


def _slope(rise_east: float, rise_north: float, reach_m: float) -> Slope:
    grade = 100.0 * math.hypot(rise_east, rise_north)
    downhill = float(wrap_deg(math.degrees(math.atan2(-rise_east, -rise_north))))
    return Slope(downhill if grade >= LEAST_GRADE_PCT else None, grade, reach_m)


def _neighbors(grid: HeightGrid, at: LonLat, across: int, down: int) -> np.ndarray:
    """Nine heights round a place, (3, 3), north first. [m]"""
    column = round((at[0] - grid.west_deg) / grid.cell_lon_deg)
    row = round((grid.north_deg - at[1]) / grid.cell_lat_deg)
    rows, columns = grid.height.shape
    if not (down <= row < rows - down and across <= column < columns - across):
        raise BadElevation(
            f"the place {at[0]:.5f}, {at[1]:.5f} is outside the grid or at its edge: it reaches "
            f"from {grid.west_deg:.5f}, {grid.south_deg:.5f} to {grid.east_deg:.5f}, "
            f"{grid.north_deg:.5f}",
            "the elevation file",
            "Take a piece that reaches over the ground on all sides.",
        )
    z = grid.height[
        row - down : row + down + 1 : down, column - across : column + across + 1 : across
    ]
    if np.isnan(z).any():
        raise BadElevation(
            f"there is no height beside {at[0]:.5f}, {at[1]:.5f}",
            "the elevation file",
            "Type the slope instead, or take another file.",
        )
    return z


def slope_text(downhill_deg: float | None, grade_pct: float | None) -> str:
    """A slope in words: down to the WSW (255°), 8 % (4.6°).

    Args: the way down [deg]; the grade [%]; None for neither known.
    """
    if downhill_deg is None:
        return "none" if grade_pct is None else "flat"
    slope_deg = math.degrees(math.atan((grade_pct or 0.0) / 100.0))
    point = point_name(downhill_deg % 360.0)
    return f"down to the {point} ({downhill_deg:.0f}°), {grade_pct:g} % ({slope_deg:.1f}°)"


def rounded_slope(slope: Slope) -> tuple[float, float] | None:
    """What is worth keeping of a slope: whole degrees, tenths of a percent; None if flat."""
    if slope.downhill_deg is None:
        return None
    return float(round(slope.downhill_deg) % 360), round(slope.grade_pct, 1)


def with_slopes(document: dict, slopes: Mapping[str, tuple[float, float] | None]) -> dict:
    """A document in which stands have new slopes.

    Args:
        document: a property's document, not changed.
        slopes: the way down [deg] and the grade [%] by a stand's id; None takes it out.

    Raises: BadProperty for an unknown id, and for numbers that no slope has.
    """
    for id_, slope in slopes.items():
        downhill, grade = slope or (None, None)
        both = [(("downhill_deg",), downhill), (("grade_pct",), grade)]
        document = told_all(document, id_, both)
    return document
