"""Heights on a square grid of local metres, smoothed and filled, and their slopes.

Air at night runs over humps smaller than itself, so slopes are taken from smoothed
heights; and it fills small pits, as water would, before it goes on.
"""

import heapq
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from core.ground.heights.grid import BadElevation, HeightGrid
from core.ground.plan import Plane

Floats = npt.NDArray[np.float64]

CELL_M = 10.0
SMOOTHED_M = (15.0, 30.0, 60.0)  # the middle one counts, the others are its doubt; ours
MOST_SIDE = 600  # cells along a side
DEEPEST_PIT_M = 3.0  # ours
BASIN_ROUNDS = 4
NEIGHBORS = tuple((i, j) for i in (-1, 0, 1) for j in (-1, 0, 1) if i or j)


@dataclass(frozen=True, eq=False)
class Relief:
    """Heights at the middles of square cells, [row, column]: rows from the south, columns
    from the west; NaN where there is none. `west_m` and `south_m` are the middle of the
    first cell on the ground's plane.
    """

    height_m: Floats
    west_m: float
    south_m: float
    cell_m: float = CELL_M

    def at(self, east_m, north_m, values: Floats | None = None) -> Floats:
        """Heights, or other values of the cells, between their middles; NaN outside.

        Args: places on the plane, any one shape [m]; values of the cells' shape.
        Source: linear both ways; common practice.
        """
        values = self.height_m if values is None else values
        row, column = np.broadcast_arrays(
            (np.asarray(north_m, float) - self.south_m) / self.cell_m,
            (np.asarray(east_m, float) - self.west_m) / self.cell_m,
        )
        rows, columns = values.shape
        i = np.fmin(np.fmax(row, 0.0), rows - 2).astype(np.int64)
        j = np.fmin(np.fmax(column, 0.0), columns - 2).astype(np.int64)
        up, right = row - i, column - j
        flat, at = values.ravel(), i * columns + j
        south = flat[at] + (flat[at + 1] - flat[at]) * right
        north = flat[at + columns] + (flat[at + columns + 1] - flat[at + columns]) * right
        known = (up >= 0) & (up <= 1) & (right >= 0) & (right <= 1)
        return np.where(known, south + (north - south) * up, np.nan)

    def cell_of(self, east_m: float, north_m: float) -> tuple[int, int]:
        """Row and column of the cell that holds a place; the nearest one outside."""
        rows, columns = self.height_m.shape
        row = round((north_m - self.south_m) / self.cell_m)
        column = round((east_m - self.west_m) / self.cell_m)
        return min(max(row, 0), rows - 1), min(max(column, 0), columns - 1)


def relief_of(grid: HeightGrid, plane: Plane, cell_m: float = CELL_M) -> Relief:
    """A grid in longitude and latitude as square cells of the plane.

    Args: heights in meters; the ground's plane; the side of a cell [m].
    Returns: heights by cubic splines between the cells of the grid; NaN beside no data.
    Raises: BadElevation for more than 600 cells along a side.
    """
    west, south = plane.to_local(grid.west_deg, grid.south_deg)
    east, north = plane.to_local(grid.east_deg, grid.north_deg)
    columns, rows = (int((b - a) / cell_m + 1e-6) + 1 for a, b in ((west, east), (south, north)))
    if max(columns, rows) > MOST_SIDE:
        raise BadElevation(
            f"the grid is {columns * cell_m:,.0f} by {rows * cell_m:,.0f} m",
            "the elevation file",
            f"Cut out the ground and a kilometer round it: at most {MOST_SIDE * cell_m:,.0f} m.",
        )
    lon, lat = plane.to_lonlat(west + np.arange(columns) * cell_m, south + np.arange(rows) * cell_m)
    row = np.clip((grid.north_deg - lat) / grid.cell_lat_deg, 0, grid.height.shape[0] - 1)
    column = np.clip((lon - grid.west_deg) / grid.cell_lon_deg, 0, grid.height.shape[1] - 1)
    places = np.meshgrid(row, column, indexing="ij")
    missing = np.isnan(grid.height)
    known = np.where(missing, np.nanmean(grid.height), grid.height)
    height = ndimage.map_coordinates(known, places, order=3, mode="nearest")
    if missing.any():
        hole = ndimage.map_coordinates(missing.astype(float), places, order=1, mode="nearest")
        height[hole > 0] = np.nan
    return Relief(height, float(west), float(south), cell_m)


def smoothed(relief: Relief, over_m: float) -> Relief:
    """Heights with humps well under 5 times `over_m` gone; holes stay holes.

    Args: the relief; standard deviation of the bell [m], 0 for none.
    Source: Gaussian, of which waves of 5.3 deviations keep half; deviations are ours.
    """
    if over_m <= 0:
        return relief
    known = np.isfinite(relief.height_m)
    width = over_m / relief.cell_m
    if known.all():
        height = _reflected(relief.height_m, width)
    else:
        weight = ndimage.gaussian_filter(known.astype(float), width, mode="nearest")
        total = ndimage.gaussian_filter(
            np.where(known, relief.height_m, 0.0), width, mode="nearest"
        )
        height = np.where(known, total / np.maximum(weight, 1e-12), np.nan)
    return replace(relief, height_m=height)


def _reflected(height: Floats, width: float) -> Floats:
    """Smoothed; beyond the edge heights go on as their odd reflection, so planes stay planes."""
    pad = min(int(4 * width + 1), min(height.shape) - 1)
    wide = np.pad(height, pad, mode="reflect", reflect_type="odd")
    return ndimage.gaussian_filter(wide, width, truncate=4.0)[pad:-pad, pad:-pad]


def gradient(relief: Relief) -> tuple[Floats, Floats]:
    """Rise to the east and to the north, by eight neighbours; m per m, shape of the cells.

    Source: [horn1981]: weights 1-2-1; at the edge beside cells that go on straight.
    """
    z = np.pad(relief.height_m, 1, mode="reflect", reflect_type="odd")
    across = z[:, 2:] - z[:, :-2]
    along = z[2:, :] - z[:-2, :]
    per = 8.0 * relief.cell_m
    east = (across[:-2] + 2.0 * across[1:-1] + across[2:]) / per
    north = (along[:, :-2] + 2.0 * along[:, 1:-1] + along[:, 2:]) / per
    return east, north


def drained(relief: Relief) -> Relief:
    """Heights whose small pits are filled; basins deeper than night air flows stay basins.

    Returns: heights never below the given ones. A pit up to 3 m deep is raised until it drains;
    a deeper one keeps its lowest place, to which all within it drains.
    Source: [barnes2014] for the filling; slope air is 1 to 3 m deep on such hills, 0.05 of its
    drop [horst1986], so it runs over what is lower and lies behind what is higher; the bound
    is ours.
    """
    bottoms = np.zeros(relief.height_m.shape, bool)
    for _ in range(BASIN_ROUNDS):
        full = filled(relief, bottoms)
        deep = _bottoms_of_deep_pits(relief, full)
        if not deep.any():
            break
        bottoms |= deep
    return full


def _bottoms_of_deep_pits(relief: Relief, full: Relief) -> npt.NDArray[np.bool_]:
    depth = np.nan_to_num(full.height_m - relief.height_m)
    pits, count = ndimage.label(depth > 0, np.ones((3, 3), int))
    found = np.zeros(depth.shape, bool)
    if count:
        numbers = np.arange(1, count + 1)
        deep = ndimage.maximum(depth, pits, numbers) > DEEPEST_PIT_M
        lowest = (
            ndimage.minimum_position(relief.height_m, pits, numbers[deep]) if deep.any() else []
        )
        for place in lowest:
            found[place] = True
    return found


def filled(relief: Relief, bottoms: npt.NDArray[np.bool_] | None = None) -> Relief:
    """Heights whose pits are raised until they drain over the edge, or into given cells.

    Args: the relief; cells that hold what drains to them, None for none.
    Returns: heights never below the given ones; holes drain like edges.
    Source: [barnes2014]: priority flood.
    """
    missing = ~np.isfinite(relief.height_m)
    rim = _rim(missing) & ~missing
    if bottoms is not None:
        rim = rim | bottoms
    # a frame of cells that are done, so that none has to be asked whether it has neighbors
    wide = relief.height_m.shape[1] + 2
    height = np.pad(relief.height_m, 1).ravel().tolist()
    done = bytearray(np.pad(missing | rim, 1, constant_values=True).ravel().tobytes())
    start = np.flatnonzero(np.pad(rim, 1))
    queue = [(height[k], k) for k in start.tolist()]
    heapq.heapify(queue)
    steps = tuple(i * wide + j for i, j in NEIGHBORS)
    while queue:
        level, k = heapq.heappop(queue)
        for step in steps:
            other = k + step
            if not done[other]:
                done[other] = True
                if height[other] < level:
                    height[other] = level
                heapq.heappush(queue, (height[other], other))
    full = np.array(height).reshape(-1, wide)[1:-1, 1:-1]
    return replace(relief, height_m=full.copy())


def _rim(missing: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """Cells at the edge of the grid or beside a hole."""
    inner = np.zeros(missing.shape, bool)
    inner[1:-1, 1:-1] = True
    beside = ndimage.binary_dilation(missing, np.ones((3, 3), bool))
    return ~inner | beside
