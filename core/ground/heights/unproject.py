"""A grid in meters of a UTM zone, laid anew in longitude and latitude."""

from dataclasses import replace

import numpy as np

from core.ground.heights.grid import BadElevation, HeightGrid
from core.ground.heights.utm import FALSE_NORTH_M, from_utm, to_utm
from core.ground.plan import Plane

MOST_EAST_M = 1_000_000.0
FINEST_M = 0.1


def unprojected(grid: HeightGrid, zone: int, south: bool, where: str) -> HeightGrid:
    """The heights of a grid at even steps of longitude and latitude.

    Args:
        grid: its edges and cells in meters of the zone, though the names say degrees.
        zone, south: the zone, and whether it is one of the south.
        where: the file's name, for messages.

    Returns: cells of about the same size over the box that the grid fills whole, linear
    between its cells; NaN beside no data. A grid in a zone lies turned by a degree or two,
    so a strip at its edges is lost.
    Raises: BadElevation for what does not lie in a zone, and for cells of a kilometre.
    """
    _check(grid, where)
    edges = _outline(grid)
    lon, lat = from_utm(*edges, zone, south)
    sides = np.split(np.stack([lon, lat]), 4, axis=1)  # south, east, north, west
    low_lat, high_lat = sides[0][1].max(), sides[2][1].min()
    low_lon, high_lon = sides[3][0].max(), sides[1][0].min()
    plane = Plane((float(lon.mean()), float(lat.mean())))
    wide = grid.cell_lon_deg / plane.m_per_lon_deg
    high = grid.cell_lat_deg / plane.m_per_lat_deg
    columns = int(max(0.0, high_lon - low_lon) / wide + 1e-9) + 1
    rows = int(max(0.0, high_lat - low_lat) / high + 1e-9) + 1
    if columns < 3 or rows < 3:
        raise BadElevation(
            "the grid is too small to lay it in longitude and latitude",
            where,
            "Cut a larger piece.",
        )
    to_lon = low_lon + np.arange(columns) * wide
    to_lat = low_lat + (rows - 1 - np.arange(rows)) * high
    lon_cells, lat_cells = np.meshgrid(to_lon, to_lat)
    east, north = to_utm(lon_cells, lat_cells, zone, south)
    return replace(
        grid,
        height=_between(grid, east, north),
        west_deg=float(low_lon),
        north_deg=float(to_lat[0]),
        cell_lon_deg=wide,
        cell_lat_deg=high,
    )


def could_be_in_a_zone(grid: HeightGrid) -> bool:
    """Whether edges and cells could be meters of a UTM zone. Args: as `unprojected`."""
    inside = grid.west_deg > 0 and grid.east_deg < MOST_EAST_M
    finest = min(grid.cell_lon_deg, grid.cell_lat_deg)
    return (
        inside and grid.south_deg > -1e6 and grid.north_deg < FALSE_NORTH_M and finest >= FINEST_M
    )


def _check(grid: HeightGrid, where: str) -> None:
    if not could_be_in_a_zone(grid):
        raise BadElevation(
            f"the grid reaches from {grid.west_deg:,.0f}, {grid.south_deg:,.0f} to "
            f"{grid.east_deg:,.0f}, {grid.north_deg:,.0f}, which no UTM zone holds",
            where,
            "Save it in longitude and latitude, WGS 84 (EPSG:4326).",
        )
    if max(grid.cell_lon_deg, grid.cell_lat_deg) > 1000:
        raise BadElevation(
            f"a cell is {grid.cell_lon_deg:,.0f} m wide", where, "Take a finer one, 30 m or less."
        )


def _outline(grid: HeightGrid) -> tuple[np.ndarray, np.ndarray]:
    """East and north along the four edges: south, east, north, west; 50 points each."""
    t = np.linspace(0.0, 1.0, 50)
    x = grid.west_deg + t * (grid.east_deg - grid.west_deg)
    y = grid.south_deg + t * (grid.north_deg - grid.south_deg)
    east = np.concatenate([x, np.full(50, grid.east_deg), x, np.full(50, grid.west_deg)])
    north = np.concatenate([np.full(50, grid.south_deg), y, np.full(50, grid.north_deg), y])
    return east, north


def _between(grid: HeightGrid, east: np.ndarray, north: np.ndarray) -> np.ndarray:
    """Heights between the middles of cells, linear; NaN where a neighbour has none."""
    rows, columns = grid.height.shape
    row = np.clip((grid.north_deg - north) / grid.cell_lat_deg, 0.0, rows - 1.0)
    column = np.clip((east - grid.west_deg) / grid.cell_lon_deg, 0.0, columns - 1.0)
    i = np.minimum(row.astype(int), rows - 2)
    j = np.minimum(column.astype(int), columns - 2)
    down, right = row - i, column - j
    z = grid.height
    upper = z[i, j] * (1.0 - right) + z[i, j + 1] * right
    lower = z[i + 1, j] * (1.0 - right) + z[i + 1, j + 1] * right
    return upper * (1.0 - down) + lower * down
