"""How high the land stands round a place, and when its shade leaves and comes."""

import numpy as np

from core.land.relief import Floats, Relief

AZIMUTHS = 72
FARTHEST_M = 1500.0
STEPS_GROW = 1.015
ABOUT_M = 60.0  # a slope is more than the one tree on it; ours
_SECTORS = np.arange(AZIMUTHS) * 360.0 / AZIMUTHS


def distances_m(cell_m: float, farthest_m: float = FARTHEST_M) -> Floats:
    """Steps outward, each 1.5 % or half a cell longer, from a cell to the farthest. [m]"""
    told = [cell_m]
    while told[-1] < farthest_m:
        told.append(min(max(told[-1] * STEPS_GROW, told[-1] + cell_m / 2.0), farthest_m))
    return np.array(told)


def horizon_deg(relief: Relief, east_m, north_m, eye_m: float = 0.0) -> Floats:
    """How high the land stands in 72 directions, from north through east. [deg]

    Args: the relief; places, shape (place,) [m]; the eye above the ground [m].
    Returns: shape (place, 72); 0 where nothing stands higher, or past the grid.
    Source: plain geometry; the ground is flat over such distances.
    """
    east, north = (np.atleast_1d(np.asarray(a, float)) for a in (east_m, north_m))
    away = distances_m(relief.cell_m)
    sector = np.radians(_SECTORS)
    x = east[:, None, None] + np.sin(sector)[:, None] * away
    y = north[:, None, None] + np.cos(sector)[:, None] * away
    above = relief.at(x, y) - (relief.at(east, north) + eye_m)[:, None, None]
    with np.errstate(invalid="ignore"):
        highest = np.nanmax(
            np.where(np.isfinite(above), above, -np.inf) / away, axis=-1, initial=0.0
        )
    return np.degrees(np.arctan(highest))


def places_about(east_m: float, north_m: float, within_m: float = ABOUT_M) -> tuple[Floats, Floats]:
    """Thirteen places within 60 m: itself, six half way, six at the rim. [m], [m]"""
    turn = np.radians(np.arange(6) * 60.0)
    r = np.concatenate([[0.0], np.full(6, within_m / 2.0), np.full(6, within_m)])
    a = np.concatenate([[0.0], turn, turn + np.radians(30.0)])
    return east_m + r * np.sin(a), north_m + r * np.cos(a)
