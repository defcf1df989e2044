"""Lines of equal height, for the map."""

from dataclasses import dataclass

import numpy as np
import shapely

from core.land.relief import Floats, Relief, smoothed
from core.units import M_PER_FT

SMOOTH_M = 10.0  # takes the steps of a grid's whole feet out of the lines; ours
THICK_EVERY = 5
SHORTEST_M = 60.0


@dataclass(frozen=True, eq=False)
class Contour:
    """The lines of one height, shapes (point, 2), east and north of the centre [m]."""

    height_ft: int
    thick: bool
    lines_m: tuple[Floats, ...]


def step_ft(relief: Relief) -> int:
    """How far apart contours lie: 10 ft; 5 under 40 ft of relief, 20 over 250. Args: heights."""
    height_ft = (np.nanmax(relief.height_m) - np.nanmin(relief.height_m)) / M_PER_FT
    return 5 if height_ft < 40 else (20 if height_ft > 250 else 10)


def contours(relief: Relief) -> tuple[Contour, ...]:
    """The contours of heights, every fifth of them thick.

    Args: the relief. Returns: by height, the lowest first; short scraps are left out.
    """
    from contourpy import contour_generator

    land = smoothed(relief, SMOOTH_M)
    rows, columns = land.height_m.shape
    height_ft = np.ma.masked_invalid(land.height_m / M_PER_FT)
    generator = contour_generator(
        land.west_m + np.arange(columns) * land.cell_m,
        land.south_m + np.arange(rows) * land.cell_m,
        height_ft,
    )
    step = step_ft(land)
    first, last = (int(x // step) for x in (height_ft.min(), height_ft.max()))
    told = []
    for k in range(first + 1, last + 1):
        found = (np.asarray(line, float) for line in generator.lines(k * step))
        lines = [line for line in found if _length_m(line) >= SHORTEST_M]
        if lines:
            told.append(Contour(k * step, k % THICK_EVERY == 0, tuple(lines)))
    return tuple(told)


def _length_m(line: Floats) -> float:
    return float(shapely.LineString(line).length)
