"""The slope-only answer: where still air slides or climbs, and what that would be."""

import numpy as np
import numpy.typing as npt

from core.air.drift import equivalent_distance_m
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.air.stability import CLASSES
from core.angles import opposite_deg
from core.ground.layout import Stand
from core.judge.row_verdicts import Limits, row_verdicts
from core.judge.stand_rows import StandRows
from core.sit.scene import Scene
from core.sit.strength import LogStrengths, stand_strengths
from core.units import M_PER_FT, M_PER_YD

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]

LEAST_MPS = 0.05  # weaker than that still air is not named
NOT_KNOWN = -1  # no slope-only verdict


def still_air(own: StandRows, stand: Stand) -> tuple[Floats, Floats]:
    """Where still air would slide or climb: (air_to_deg, speed [m/s]); (row,).

    NaN where no slope is known or the slope wind is too weak to name.
    Args: the rows of the stand; the stand.
    """
    if own.slope is None or stand.downhill_deg is None:
        nothing = np.full(len(own.kind), np.nan)
        return nothing, nothing
    down, up = _down_up_deg(stand.downhill_deg)
    speed = np.abs(own.still_mps)
    to = np.where(own.still_mps > 0, up, down)
    return np.where(speed < LEAST_MPS, np.nan, to), speed


def _down_up_deg(downhill_deg: float) -> tuple[float, float]:
    return downhill_deg % 360.0, float(opposite_deg(downhill_deg))


def still_verdicts(own: StandRows, stand: Stand, asked, to_deg, speed_mps, limits: Limits) -> Ints8:
    """Slope-only verdict of the rows asked for; `NOT_KNOWN` elsewhere. (row,)

    Args: the rows of the stand; the stand; which rows; of `still_air`; the limits.
    """
    found = np.full(len(to_deg), NOT_KNOWN, np.int8)
    some = np.flatnonzero(asked & own.inside & ~np.isnan(to_deg))
    if not len(some):
        return found
    with np.errstate(divide="ignore"):
        log_c = np.log(_in_rows(own, stand, some, to_deg[some], speed_mps[some]))
    held, counts, ends = own.held[some], own.counts[some], own.ends[some]
    found[some] = row_verdicts(LogStrengths(log_c), held, counts, ends, limits).hour
    return found


def still_like_yd(own: StandRows, stand: Stand, row: int) -> Floats:
    """How strongly still air of a row reaches each place, as a distance. [yd], (place,)

    Args: the rows of the stand; the stand; a row in which still air goes somewhere.
    """
    to_deg, speed = still_air(own, stand)
    some = np.array([row])
    return (
        equivalent_distance_m(_in_rows(own, stand, some, to_deg[some], speed[some]))[0] / M_PER_YD
    )


def _in_rows(own: StandRows, stand: Stand, rows: Ints, to_deg, speed_mps) -> Floats:
    """Strength of still air at each place in some rows. (row, place)"""
    climbs = (to_deg != _down_up_deg(stand.downhill_deg or 0.0)[0]).astype(int)
    scene, source = own.sits.scene, own.sits.source
    table = scene.kept(("still", stand.id, stand.range_yd), lambda: _strengths(scene, stand))
    c = source.joined(table)[own.judged.hours.still_class[rows], climbs]
    return c / np.maximum(speed_mps, LEAST_CARRY_MPS)[:, None]


def _strengths(scene: Scene, stand: Stand) -> Floats:
    """Strength x speed of still air, by class and whether it climbs. (class, 2, place)"""
    n_classes = len(CLASSES)
    stability = np.arange(n_classes)
    down_up_deg = _down_up_deg(stand.downhill_deg or 0.0)
    sigma_rad = spread_rad(stability, LEAST_EFFECTIVE_MPS, COVER_SPREAD_DEG[stand.cover])
    height_m = stand.height_ft * M_PER_FT
    c = stand_strengths(
        scene,
        stand,
        air_to_deg=np.tile(down_up_deg, n_classes),
        half_width_deg=np.zeros(2 * n_classes),
        stability=np.repeat(stability, 2),
        carried_mps=np.ones(2 * n_classes),
        sigma_rad=np.repeat(sigma_rad, 2),
        height_m=height_m,
    )
    straight = c.reshape(n_classes, 2, -1)
    if scene.heights is None:
        return straight
    from core.sit.land.bent import still_strengths  # what only heights need is loaded here

    return still_strengths(
        scene,
        stand,
        down_up_deg,
        straight,
        stability=stability,
        sigma_rad=sigma_rad,
        carried_mps=1.0,
        height_m=height_m,
    )
