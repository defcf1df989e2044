"""How the air of every cell is shared among its lower neighbours, and what passes where."""

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.linalg import spsolve_triangular

from core.land.relief import Relief

Floats = npt.NDArray[np.float64]
# the eight triangles round a cell as (straight neighbour, slanting neighbour), row and column
FACETS = (
    ((0, 1), (1, 1)),
    ((1, 0), (1, 1)),
    ((1, 0), (1, -1)),
    ((0, -1), (1, -1)),
    ((0, -1), (-1, -1)),
    ((-1, 0), (-1, -1)),
    ((-1, 0), (-1, 1)),
    ((0, 1), (-1, 1)),
)


def steepest_fall(relief: Relief) -> tuple[npt.NDArray[np.int64], Floats, Floats]:
    """The facet of the steepest fall of each cell, the angle in it, and the fall.

    Returns: number of the facet (-1 where nothing lies lower), angle from its straight
    neighbour [rad], fall [m per m]; each of the cells' shape. Cells at the edge count as
    if the ground went on level outside. Holes: -1.
    Source: [tarboton1997], equations 1 to 5.
    """
    z = np.pad(relief.height_m, 1, mode="edge")
    middle = z[1:-1, 1:-1]
    facet = np.full(middle.shape, -1)
    angle = np.zeros(middle.shape)
    fall = np.zeros(middle.shape)
    for number, (straight, slanting) in enumerate(FACETS):
        first, second = _moved(z, straight), _moved(z, slanting)
        s1 = (middle - first) / relief.cell_m
        s2 = (first - second) / relief.cell_m
        turn = np.arctan2(s2, s1)
        steep = np.hypot(s1, s2)
        below, above = turn < 0, turn > np.pi / 4
        turn = np.where(below, 0.0, np.where(above, np.pi / 4, turn))
        across = (middle - second) / (relief.cell_m * np.sqrt(2.0))
        steep = np.where(below, s1, np.where(above, across, steep))
        better = steep > np.maximum(fall, 1e-12)
        facet, angle = np.where(better, number, facet), np.where(better, turn, angle)
        fall = np.where(better, steep, fall)
    return facet, angle, fall


def _moved(padded: Floats, step: tuple[int, int]) -> Floats:
    rows, columns = padded.shape
    i, j = step
    return padded[1 + i : rows - 1 + i, 1 + j : columns - 1 + j]


def shares(relief: Relief) -> sparse.csr_array:
    """Which share of each cell's air goes to which neighbour.

    Args: heights, filled.
    Returns: a sparse matrix, (to, from) in cells counted row by row; a column adds up to 1,
    or less where air leaves the grid, or to 0 in a pit.
    Source: [tarboton1997]: by the angle to the two neighbours of the facet.
    """
    facet, angle, _ = steepest_fall(relief)
    rows, columns = facet.shape
    i, j = np.nonzero(facet >= 0)
    number = facet[i, j]
    slant = angle[i, j] / (np.pi / 4)
    table = np.array(FACETS)
    to, source, part = [], [], []
    for which, amount in ((0, 1.0 - slant), (1, slant)):
        a, b = i + table[number, which, 0], j + table[number, which, 1]
        inside = (a >= 0) & (a < rows) & (b >= 0) & (b < columns) & (amount > 0)
        to.append((a * columns + b)[inside])
        source.append((i * columns + j)[inside])
        part.append(amount[inside])
    places = (np.concatenate(to), np.concatenate(source))
    n = rows * columns
    return sparse.csr_array((np.concatenate(part), places), shape=(n, n))


def passing(relief: Relief, given: Floats) -> Floats:
    """What passes through every cell when each gives something of its own.

    Args: heights, filled; what each cell gives, of its shape: ones for the area above (in
    cells), a one at a stand for its air.
    Returns: of the cells' shape.
    Source: [tarboton1997]; the sum is one triangular system, cells ordered by height.
    """
    order = np.argsort(-np.nan_to_num(relief.height_m, nan=-np.inf).ravel(), kind="stable")
    flow = shares(relief)[order][:, order]
    system = sparse.csr_array(sparse.eye_array(flow.shape[0]) - flow)
    told = spsolve_triangular(system, given.ravel()[order], lower=True, unit_diagonal=True)
    through = np.empty_like(told)
    through[order] = told
    return through.reshape(given.shape)
