"""A small grid of heights in longitude and latitude, as its readers give it."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.errors import StandWindError
from core.units import M_PER_FT, M_PER_US_SURVEY_FT

MOST_BYTES = 40_000_000
MOST_CELLS = 4_000_000
GROUND, TREETOPS = "ground", "treetops"  # what heights are of
METERS, FEET, SURVEY_FEET = "meters", "feet", "US survey feet"
M_PER_UNIT = {METERS: 1.0, FEET: M_PER_FT, SURVEY_FEET: M_PER_US_SURVEY_FT}


class BadElevation(StandWindError):
    """An elevation file that cannot be used, or a place that it does not cover."""


class UnitOpen(BadElevation):
    """The file does not say whether its heights are meters or feet: ask the user."""


class NoHeightInIt(BadElevation):
    """A grid of holes alone."""


class ZoneOpen(BadElevation):
    """A grid in meters that does not say in which UTM zone: ask the user."""


@dataclass(frozen=True, eq=False)
class HeightGrid:
    """Heights at the middles of cells; rows from north to south, columns from the west.

    `height` has the shape (row, column), NaN where there is no data, in `unit`; an empty
    unit was not told. `west_deg` and `north_deg` are the middle of the first cell. `read_as`
    names what the user said of its place, for messages.
    """

    height: npt.NDArray[np.float64]
    west_deg: float
    north_deg: float
    cell_lon_deg: float
    cell_lat_deg: float
    unit: str = ""
    read_as: str = ""

    @property
    def south_deg(self) -> float:
        return self.north_deg - (self.height.shape[0] - 1) * self.cell_lat_deg

    @property
    def east_deg(self) -> float:
        return self.west_deg + (self.height.shape[1] - 1) * self.cell_lon_deg


def check_cells(columns: int, rows: int, where: str) -> None:
    """That a grid is neither empty nor too large. Raises: BadElevation."""
    if columns < 3 or rows < 3:
        raise BadElevation(
            f"the grid has {columns} columns and {rows} rows, under 3",
            where,
            "Cut a piece that holds the whole ground.",
        )
    if columns * rows > MOST_CELLS:
        raise BadElevation(
            f"the grid has {columns:.10g} by {rows:.10g} cells, over {MOST_CELLS:,}",
            where,
            "Cut out the piece that is this ground.",
        )


def elsewhere(reach: tuple[float, float, float, float], where: str, read_as: str = ""):
    """The fault of a grid that holds nothing of the ground.

    Args: west, south, east, north of it; the file's name; what the user said of its place.
    """
    west, south, east, north = (f"{v:.4f}" if abs(v) < 1000 else f"{v:.8g} m" for v in reach)
    told = f"the grid, {read_as}," if read_as else "the grid"
    return BadElevation(
        f"{told} lies elsewhere: it reaches from {west}, {south} to {east}, {north}",
        where,
        "Give its own zone, or take the piece that holds this ground."
        if read_as
        else "Take the piece that holds this ground.",
    )


def checked(grid: HeightGrid, where: str) -> HeightGrid:
    """A grid whose cells lie on the earth and hold heights.

    Args: the grid; the file's name. Returns: it. Raises: BadElevation.
    """
    west, east = grid.west_deg, grid.east_deg
    south, north = grid.south_deg, grid.north_deg
    if not (-180 <= west < east <= 180.5 and -90 <= south < north <= 90):
        raise BadElevation(
            f"the grid reaches from {west:g}, {south:g} to {east:g}, {north:g}, which is not "
            "longitude and latitude in degrees",
            where,
            "Save it in longitude and latitude, WGS 84 or NAD 83.",
        )
    if np.isnan(grid.height).all():
        raise NoHeightInIt("the grid has no height in it", where, "Take a piece with data.")
    return grid
