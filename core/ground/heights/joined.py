"""Pieces of neighbouring files laid together as one grid."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from core.ground.heights.grid import BadElevation, HeightGrid

ALIKE = 1e-3  # sizes of cells that differ by less are of one lattice


def one_grid(grids: Sequence[HeightGrid], where: str) -> HeightGrid:
    """One grid over all; where two have heights, the first's.

    Args: grids of one size of cell and one unit, at least one; a name for messages.
    Returns: NaN where none has heights. A cell of a further grid goes to the nearest of the
    first's lattice, which is its own place where tiles are cut from one lattice.
    Raises: BadElevation for cells of different sizes.
    """
    first = grids[0]
    wide, high = first.cell_lon_deg, first.cell_lat_deg
    for grid in grids[1:]:
        sizes = (grid.cell_lon_deg / wide, grid.cell_lat_deg / high)
        if not all(math.isclose(size, 1.0, rel_tol=ALIKE) for size in sizes):
            raise BadElevation(
                "the cells of neighboring tiles are of different sizes",
                where,
                "Take a file that holds the whole ground.",
            )
    at = [
        (round((first.north_deg - g.north_deg) / high), round((g.west_deg - first.west_deg) / wide))
        for g in grids
    ]
    top, left = min(row for row, _ in at), min(column for _, column in at)
    bottom = max(row + g.height.shape[0] for (row, _), g in zip(at, grids, strict=True))
    right = max(column + g.height.shape[1] for (_, column), g in zip(at, grids, strict=True))
    height = np.full((bottom - top, right - left), np.nan)
    for (row, column), grid in zip(at, grids, strict=True):
        rows, columns = grid.height.shape
        here = height[row - top : row - top + rows, column - left : column - left + columns]
        np.copyto(here, grid.height, where=np.isnan(here))
    return replace(
        first,
        height=height,
        west_deg=first.west_deg + left * wide,
        north_deg=first.north_deg - top * high,
    )
