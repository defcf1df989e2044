"""Rows whose air may go any way: calm, variable, light, swirling or pooled.

The air of such a row is judged in every direction, ten degrees apart, with the class of its
hour and the least speed and spread that air has. What reaches a stand's places then knows
neither the wind nor the date: it is kept per stand and class.
"""

import numpy as np
import numpy.typing as npt

from core.air.arc import (
    ALL_ROUND_DEG,
    ALL_ROUND_EFFECTIVE_MPS,
    ALL_ROUND_MPS,
    LEAST_HALF_WIDTH_DEG,
)
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.ground.layout import Stand
from core.judge.doubt import all_round
from core.judge.row_verdicts import Limits, Verdicts, of_graded
from core.judge.stand_rows import StandRows
from core.sit.prepare import FORMULA
from core.sit.scene import Scene
from core.sit.strength import LogStrengths, stand_strengths
from core.units import M_PER_FT

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


def every_way(own: StandRows, stand: Stand, rows: Ints, limits: Limits) -> Verdicts:
    """Verdicts of rows judged all round. Shapes as `Verdicts`, (row asked for, ...).

    Args: the rows of the stand; the stand; which rows; the limits of its places.
    """
    # many rows are alike: each kind is judged once
    first, kind = own.alike
    kinds = np.bincount(kind[rows], minlength=len(first)) > 0
    each, at = first[kinds], (np.cumsum(kinds) - 1)[kind[rows]]
    stability = own.judged.hours.stability[each]
    graded = np.zeros((len(each), len(ALL_ROUND_DEG), len(limits.wrong_within_yd)), np.int8)
    for air_class in np.unique(stability):
        graded[stability == air_class] = _graded(own, stand, int(air_class), limits)
    walked = limits.trails.walked(own.ends[each])[:, None, :]
    found = of_graded(
        graded,
        own.held[each][:, None, :],
        own.counts[each][:, None, :],
        np.broadcast_to(walked, (*graded.shape[:2], walked.shape[-1])),
        limits,
        told=own.sits.strengths == FORMULA,
    )
    return Verdicts(
        all_round(found.areas)[at], all_round(found.hour)[at], all_round(found.place)[at]
    )


def _graded(own: StandRows, stand: Stand, air_class: int, limits: Limits):
    """Grades of the places of a stand in each direction, in air of a class. (way, place)"""
    scene, source = own.sits.scene, own.sits.source
    key = ("every way", stand.id, stand.range_yd, air_class)

    def graded():
        strengths = source.joined(scene.kept(key, lambda: _strengths(scene, stand, air_class)))
        with np.errstate(divide="ignore"):
            reached = LogStrengths(np.log(strengths))
        return reached.graded(limits.wrong_within_yd, limits.clean_beyond_yd)

    # the limits are the ground's own, but for how far the hunter shoots
    whose = own.sits.range_yd(stand), source.places.together
    return scene.kept(("graded", *key, *whose), graded)


def _strengths(scene: Scene, stand: Stand, air_class: int) -> Floats:
    """What reaches each place of a stand in each direction. (way, place)"""
    n = len(ALL_ROUND_DEG)
    cover_deg = COVER_SPREAD_DEG[stand.cover]
    return stand_strengths(
        scene,
        stand,
        air_to_deg=ALL_ROUND_DEG,
        half_width_deg=np.full(n, LEAST_HALF_WIDTH_DEG),
        stability=np.full(n, air_class),
        carried_mps=np.full(n, ALL_ROUND_MPS),
        sigma_rad=np.full(n, spread_rad(air_class, ALL_ROUND_EFFECTIVE_MPS, cover_deg)),
        height_m=stand.height_ft * M_PER_FT,
    )
