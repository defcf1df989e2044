"""How a place lies, suggested by its heights; the owner says it, nothing sets it."""

import numpy as np

from core.ground.layout import LonLat
from core.land.derived import MIDDLE, Land
from core.land.pools import HIGH_RANK, LEVEL_RISE, SADDLE_WITHIN_M


def suggested_lies(land: Land, at: LonLat) -> str | None:
    """What a place is most like: bottom, ridge, gap, flat or side.

    Args: what follows from the heights; (lon, lat) [deg].
    Returns: None where heights do not reach. Points and benches are not told apart from sides.
    Source: low ground where air pools, then rank, then a saddle within 40 m, then 4 % of
    grade; thresholds are ours.
    """
    east, north = (float(v) for v in land.plane.points([at])[0])
    relief = land.slopes[MIDDLE].relief
    rank = float(relief.at(east, north, land.ranks))
    if np.isnan(rank):
        return None
    row = round((north - relief.south_m) / relief.cell_m)
    column = round((east - relief.west_m) / relief.cell_m)
    if land.pool[row, column]:
        return "bottom"
    if rank >= HIGH_RANK:
        return "ridge"
    if _near(land.passes, row, column, SADDLE_WITHIN_M / relief.cell_m):
        return "gap"
    slopes = land.slopes[MIDDLE]
    rise = relief.at(east, north, np.hypot(slopes.east, slopes.north))
    return "flat" if float(rise) < LEVEL_RISE else "side"


def _near(cells, row: int, column: int, within: float) -> bool:
    """Whether one of the cells lies within some cells of another."""
    i, j = np.nonzero(cells)
    return bool((np.hypot(i - row, j - column) <= within).any())
