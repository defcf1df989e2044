"""Where still air pools, and what kind of ground a place lies on."""

import numpy as np
import numpy.typing as npt
import shapely
from scipy import ndimage

from core.land.relief import Floats, Relief, gradient
from core.units import SQ_M_PER_ACRE

Truths = npt.NDArray[np.bool_]

RANK_WITHIN_M = 300.0
LOW_RANK, HIGH_RANK = 0.2, 0.9  # ours
LEVEL_RISE = 0.04  # ours
SMALLEST_ACRES = 0.25  # ours
SADDLE_WITHIN_M = 40.0
PASS_RING_M = 30.0
EIGHT = np.ones((3, 3), int)


def rank(relief: Relief, within_m: float = RANK_WITHIN_M) -> Floats:
    """Which share of the cells about each lies lower than it; 0 the lowest, 1 the highest.

    Args: the relief; how far about [m]. Beyond the edge nothing counts.
    Returns: of the cells' shape; NaN in holes.
    Source: [lundquist2008], its "percentile" of a window; the distance is ours.
    """
    z = relief.height_m
    reach = int(within_m / relief.cell_m)
    steps = np.arange(-reach, reach + 1)
    chords = np.sqrt(reach**2 - steps**2).astype(int)  # half the width of the circle, by row
    rows, columns = z.shape
    padded = np.pad(z, reach, constant_values=np.nan)
    past = np.pad(np.cumsum(np.isfinite(padded), axis=1), ((0, 0), (1, 0)))
    lower, known, is_lower = (np.zeros(z.shape, t) for t in (np.int32, np.int64, bool))
    for i, half in enumerate(chords):
        first, last = reach - half, reach + half + 1
        for j in range(first, last):
            np.less(padded[i : i + rows, j : j + columns], z, out=is_lower)
            lower += is_lower
        beside = past[i : i + rows]
        known += beside[:, last : last + columns] - beside[:, first : first + columns]
    known -= 1  # itself
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(np.isfinite(z), lower / known, np.nan)


def curvature_per_m(relief: Relief) -> Floats:
    """Sum of the second differences of heights; positive in a hollow. [1/m]"""
    z = np.pad(relief.height_m, 1, mode="reflect", reflect_type="odd")
    beside = z[2:, 1:-1] + z[:-2, 1:-1] + z[1:-1, 2:] + z[1:-1, :-2]
    return (beside - 4.0 * z[1:-1, 1:-1]) / relief.cell_m**2


def pools(relief: Relief, ranks: Floats | None = None) -> tuple[npt.NDArray[np.int64], int]:
    """Where still air lies: low among its surroundings, level, and hollow.

    Args: heights, smoothed; their ranks, if they are known already.
    Returns: number of the pool of each cell, 0 for none, of the cells' shape; how many.
    Pieces under a quarter of an acre are left out.
    Source: the three criteria of [lundquist2008]; their thresholds are ours.
    """
    ranks = rank(relief) if ranks is None else ranks
    rise = np.hypot(*gradient(relief))
    low = (ranks <= LOW_RANK) & (rise < LEVEL_RISE) & (curvature_per_m(relief) > 0)
    pieces, count = ndimage.label(low, EIGHT)
    cells = np.bincount(pieces.ravel(), minlength=count + 1)
    kept = cells * relief.cell_m**2 >= SMALLEST_ACRES * SQ_M_PER_ACRE
    kept[0] = False
    number = np.cumsum(kept) * kept
    return number[pieces], int(kept.sum())


def saddles(relief: Relief) -> Truths:
    """Cells about a pass: the ground falls to two sides and rises to the two between.

    Args: heights, smoothed. Returns: of the cells' shape; beside holes none.
    Source: heights on a ring of 30 m cross the cell's own four times or more; common practice.
    """
    k = round(PASS_RING_M / relief.cell_m)
    z = np.pad(relief.height_m, k, mode="reflect", reflect_type="odd")
    rows, columns = relief.height_m.shape
    steps = ((0, 1), (1, 1), (1, 0), (1, -1), (0, -1), (-1, -1), (-1, 0), (-1, 1))
    higher = [
        z[k + k * i : k + k * i + rows, k + k * j : k + k * j + columns] > relief.height_m
        for i, j in steps
    ]
    crossings = sum(a != b for a, b in zip(higher, [*higher[1:], higher[0]], strict=True))
    level = np.hypot(*gradient(relief)) < LEVEL_RISE
    return (np.asarray(crossings) >= 4) & level


def cells_shape(relief: Relief, cells: Truths) -> shapely.Geometry:
    """Cells as one shape. Args: the relief; which cells. Returns: [m]; empty for none."""
    half = relief.cell_m / 2.0
    edges = np.diff(np.pad(cells, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    row, first = np.nonzero(edges == 1)  # runs of a row, so that few rectangles are joined
    _, past = np.nonzero(edges == -1)
    west, south = relief.west_m - half, relief.south_m - half
    x0, x1 = west + first * relief.cell_m, west + past * relief.cell_m
    y0 = south + row * relief.cell_m
    return shapely.union_all(shapely.box(x0, y0, x1, y0 + relief.cell_m))


def outlines_m(relief: Relief, number: npt.NDArray[np.int64]) -> list[Floats]:
    """Outlines of the pools, shapes (point, 2), east and north of the centre [m].

    Args: the relief; the number of the pool of each cell, 0 for none.
    """
    from contourpy import contour_generator

    rows, columns = number.shape
    padded = np.pad((number > 0).astype(float), 1)  # so that those at the edge are closed
    x = relief.west_m + (np.arange(columns + 2) - 1) * relief.cell_m
    y = relief.south_m + (np.arange(rows + 2) - 1) * relief.cell_m
    lines = contour_generator(x, y, padded).lines(0.5)
    return [np.asarray(line, float) for line in lines]
