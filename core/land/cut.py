"""Cutting a grid of heights to a ground, and what is odd about it."""

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from core.errors import StandWindError
from core.ground.heights.grid import BadElevation, HeightGrid, elsewhere
from core.ground.heights.slope_at import slope_at
from core.ground.layout import LonLat, Property
from core.ground.plan import Plane
from core.units import M_PER_FT, M_PER_YD

AROUND_M = 1000.0
LEAST_AROUND_M = 500.0
COARSEST_M = 31.0  # a second of arc along the meridian is 30.9 m
CELL_M = 10.0
MOST_MISSING = 0.5
LEAST_SLOPES = 3
FEET_AS_METERS = 1.0 / M_PER_FT
NEAR_SHARE = 1.33  # within a third of 3.28 times as steep still reads as feet; ours


def cut_to(grid: HeightGrid, ground: Property, where: str) -> tuple[HeightGrid, list[str]]:
    """The part of a grid that a ground needs, and what the owner should know of it.

    Args:
        grid: heights in meters.
        ground: the property.
        where: the file's name, for messages.

    Returns: cells of about 10 m or coarser over all features and 1 km about them, as far as
    the file goes; sentences on what is short, missing or odd.
    Raises: BadElevation for cells over 30 m, a grid elsewhere, one that ends inside the
    ground, and one that is mostly without heights there.
    """
    plane = Plane(ground.center)
    _check_cells(grid, plane, where)
    _check_inside(grid, ground, where)
    cut = _averaged(_boxed(grid, ground), plane)
    missing = float(np.isnan(cut.height).mean())
    if missing > MOST_MISSING:
        raise BadElevation(
            f"{missing:.0%} of its cells about this ground have no height", where, "Take another."
        )
    notes = []
    if missing:
        notes.append(f"{max(missing, 0.001):.1%} of its cells have no height: ways end there.")
    notes += _short(cut, ground)
    return cut, notes


def named_points(ground: Property) -> Iterator[tuple[str, LonLat]]:
    """Every vertex of a ground's features, with the feature's name."""
    for stand in ground.stands:
        yield stand.name or stand.id, stand.at
    for lane in ground.lanes:
        for point in lane.line:
            yield lane.name or lane.id, point
    for corridor in ground.corridors:
        for point in corridor.line:
            yield corridor.name or corridor.id, point
    for area in ground.areas:
        for point in area.ring:
            yield area.name or area.id, point
    for mark in ground.marks:
        for point in mark.points:
            yield mark.name or mark.id, point


def _cells_m(grid: HeightGrid, plane: Plane) -> tuple[float, float]:
    return grid.cell_lon_deg * plane.m_per_lon_deg, grid.cell_lat_deg * plane.m_per_lat_deg


def _check_cells(grid: HeightGrid, plane: Plane, where: str) -> None:
    widest = max(_cells_m(grid, plane))
    if widest > COARSEST_M:
        raise BadElevation(
            f"the grid's cells are {widest:.0f} m wide, over 30",
            where,
            "Take a finer one: air follows the ground in smaller steps.",
        )


def _check_inside(grid: HeightGrid, ground: Property, where: str) -> None:
    points = list(named_points(ground)) or [(ground.name, ground.center)]
    out = [name for name, (lon, lat) in points if not _holds(grid, lon, lat)]
    if len(out) == len(points):
        reach = (grid.west_deg, grid.south_deg, grid.east_deg, grid.north_deg)
        raise elsewhere(reach, where, grid.read_as)
    if out:
        raise BadElevation(
            f"the grid ends inside the ground: {out[0]} lies beside it",
            where,
            "Take a piece that reaches a kilometer past every feature.",
        )


def _holds(grid: HeightGrid, lon: float, lat: float) -> bool:
    return grid.west_deg <= lon <= grid.east_deg and grid.south_deg <= lat <= grid.north_deg


def box_about(ground: Property) -> tuple[float, float, float, float]:
    """West, south, east, north of all features and 1 km about them. [deg] Args: the property."""
    points = [point for _, point in named_points(ground)] or [ground.center]
    lon, lat = np.array(points).T
    plane = Plane(ground.center)
    more_lon, more_lat = AROUND_M / plane.m_per_lon_deg, AROUND_M / plane.m_per_lat_deg
    return (
        float(lon.min()) - more_lon,
        float(lat.min()) - more_lat,
        float(lon.max()) + more_lon,
        float(lat.max()) + more_lat,
    )


def _boxed(grid: HeightGrid, ground: Property) -> HeightGrid:
    west, south, east, north = box_about(ground)
    rows, columns = grid.height.shape
    first_row = _index(grid.north_deg - north, grid.cell_lat_deg, rows, math.floor)
    last_row = _index(grid.north_deg - south, grid.cell_lat_deg, rows, math.ceil)
    first = _index(west - grid.west_deg, grid.cell_lon_deg, columns, math.floor)
    last = _index(east - grid.west_deg, grid.cell_lon_deg, columns, math.ceil)
    return replace(
        grid,
        height=grid.height[first_row : last_row + 1, first : last + 1],
        west_deg=grid.west_deg + first * grid.cell_lon_deg,
        north_deg=grid.north_deg - first_row * grid.cell_lat_deg,
    )


def _index(away_deg: float, cell_deg: float, cells: int, rounded) -> int:
    return min(max(rounded(away_deg / cell_deg), 0), cells - 1)


def _averaged(grid: HeightGrid, plane: Plane) -> HeightGrid:
    """Cells finer than 10 m as means of whole blocks; what is left at the edge is dropped."""
    across, down = (max(1, round(CELL_M / size)) for size in _cells_m(grid, plane))
    if across == down == 1:
        return grid
    rows, columns = grid.height.shape[0] // down, grid.height.shape[1] // across
    if rows < 3 or columns < 3:
        return grid
    blocks = grid.height[: rows * down, : columns * across].reshape(rows, down, columns, across)
    return replace(
        grid,
        height=blocks.mean(axis=(1, 3)),  # a block with a hole in it is a hole
        west_deg=grid.west_deg + (across - 1) / 2.0 * grid.cell_lon_deg,
        north_deg=grid.north_deg - (down - 1) / 2.0 * grid.cell_lat_deg,
        cell_lon_deg=grid.cell_lon_deg * across,
        cell_lat_deg=grid.cell_lat_deg * down,
    )


def nearest_edge(grid: HeightGrid, ground: Property) -> tuple[float, str]:
    """How far the grid reaches past the feature that is nearest to its edge, and its name.

    Args: heights; the property. Returns: [m], under 0 outside; infinity without features.
    """
    plane, nearest, name = Plane(ground.center), math.inf, ""
    for told, (lon, lat) in named_points(ground):
        across = min(lon - grid.west_deg, grid.east_deg - lon) * plane.m_per_lon_deg
        along = min(lat - grid.south_deg, grid.north_deg - lat) * plane.m_per_lat_deg
        if min(across, along) < nearest:
            nearest, name = min(across, along), told
    return nearest, name


def _short(grid: HeightGrid, ground: Property) -> list[str]:
    """Where the grid ends closer than 500 m to a feature."""
    nearest, name = nearest_edge(grid, ground)
    if nearest >= LEAST_AROUND_M:
        return []
    return [
        f"The grid stops {max(nearest, 0.0) / M_PER_YD:.0f} yd from {name}: air is not "
        "followed past it."
    ]


def feet_question(grid: HeightGrid, ground: Property) -> str:
    """A question where the ground is some 3.28 times as steep as its typed slopes.

    Args: heights, taken for meters; the property. Returns: empty where nothing is odd, and
    for under three stands with slopes.
    """
    ratios = []
    for stand in ground.stands:
        if not stand.grade_pct:
            continue
        try:
            ratios.append(slope_at(grid, stand.at).grade_pct / stand.grade_pct)
        except StandWindError:
            continue
    if len(ratios) < LEAST_SLOPES:
        return ""
    steeper = float(np.median(ratios))
    if not FEET_AS_METERS / NEAR_SHARE <= steeper <= FEET_AS_METERS * NEAR_SHARE:
        return ""
    return (
        f"Feet for meters? By this grid your stands' slopes are {steeper:.1f} times as steep "
        "as you typed them."
    )


def as_feet(grid: HeightGrid) -> HeightGrid:
    """Heights that were taken for meters and are feet, in meters. Args: the grid."""
    return replace(grid, height=grid.height * M_PER_FT)
