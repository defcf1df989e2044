"""Rows whose air may go any way: calm, variable, light, swirling or pooled.

The air of such a row is judged in every direction, ten degrees apart, with the class of its
hour and the least speed and spread that air has. What reaches a stand's places then knows
neither the wind nor the date: it is kept per stand and class.

No such row is clean or just-off where one place that deer hold is wrong straight downwind:
that is asked of one direction for each place, the one that goes to it (`hopeless`).
"""

from typing import NamedTuple

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
from core.judge.row_verdicts import Limits, Verdicts, limits_of, of_graded
from core.judge.stand_rows import StandRows
from core.sit.prepare import FORMULA
from core.sit.scene import Scene
from core.sit.strength import LogStrengths, stand_strengths
from core.sit.trails import trails_in_range
from core.sit.verdicts import WRONG
from core.units import M_PER_FT

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


class Ways(NamedTuple):
    """Directions that air may take, each as wide as its report may be off."""

    name: str
    air_to_deg: Floats
    half_width_deg: float


ALL_ROUND = Ways("every way", ALL_ROUND_DEG, LEAST_HALF_WIDTH_DEG)
STRAIGHT = Ways("straight", np.zeros(1), 180.0)  # at every place


def every_way(own: StandRows, stand: Stand, rows: Ints, limits: Limits) -> Verdicts:
    """Verdicts of rows judged all round. Shapes as `Verdicts`, (row asked for, ...).

    Args: the rows of the stand; the stand; which rows; the limits of its places.
    """
    # many rows are alike: each kind is judged once
    first, kind = own.alike
    kinds = np.bincount(kind[rows], minlength=len(first)) > 0
    each, at = first[kinds], (np.cumsum(kinds) - 1)[kind[rows]]
    graded = _of_classes(own, stand, each, limits)
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


def hopeless(own: StandRows, stand: Stand) -> Bools:
    """Sits that air which may go any way keeps from being go, whatever else is so. (sit,)

    A row that decides alone has no wind direction, and straight at one place that counts and
    that deer hold its air is wrong: the row is wrong, or can't be called. Args: the rows of
    the stand; the stand.
    """
    sits, found = own.sits, np.zeros(len(own.kind), bool)
    rows = np.flatnonzero(own.decides_alone & ~own.judged.hours.directed)
    if len(rows):
        trails = trails_in_range(sits.scene, stand, sits.range_yd(stand))
        limits = limits_of(sits.ground.air, len(sits.source.places), trails)
        wrong = _of_classes(own, stand, rows, limits, STRAIGHT)[:, 0, : limits.n_areas] == WRONG
        found[rows] = (wrong & own.held[rows] & own.counts[rows]).any(axis=1)
    return own.judged.by_sit(found).any(axis=1)


def _of_classes(own: StandRows, stand: Stand, rows: Ints, limits: Limits, ways: Ways = ALL_ROUND):
    """Grades of the places of a stand in some rows, whichever way air goes. (row, way, place)"""
    stability = own.judged.hours.stability[rows]
    graded = np.zeros((len(rows), len(ways.air_to_deg), len(limits.wrong_within_yd)), np.int8)
    met = np.flatnonzero(np.bincount(stability)).tolist()
    for air_class, of_class in zip(met, _graded(own, stand, met, limits, ways), strict=True):
        graded[stability == air_class] = of_class
    return graded


def _graded(own: StandRows, stand: Stand, classes: list[int], limits: Limits, ways: Ways):
    """Grades of the places of a stand in each direction, in air of each class. (way, place)"""
    scene, source = own.sits.scene, own.sits.source
    key = (ways.name, stand.id, stand.range_yd)
    # the limits are the ground's own, but for how far the hunter shoots
    whose = own.sits.range_yd(stand), source.places.together
    known = scene.kept(("graded", *key, *whose), dict)
    if new := [air_class for air_class in classes if air_class not in known]:
        strengths = scene.kept(key, dict)
        if unmade := [air_class for air_class in new if air_class not in strengths]:
            made = _strengths(scene, stand, unmade, ways)
            strengths.update(zip(unmade, made, strict=True))
        with np.errstate(divide="ignore"):
            reached = LogStrengths(np.log(source.joined(np.stack([strengths[c] for c in new]))))
        known.update(
            zip(new, reached.graded(limits.wrong_within_yd, limits.clean_beyond_yd), strict=True)
        )
    return [known[air_class] for air_class in classes]


def _strengths(scene: Scene, stand: Stand, classes: list[int], ways: Ways) -> Floats:
    """What reaches each place of a stand in each direction. (class, way, place)"""
    n, stability = len(ways.air_to_deg), np.repeat(classes, len(ways.air_to_deg))
    found = stand_strengths(
        scene,
        stand,
        air_to_deg=np.tile(ways.air_to_deg, len(classes)),
        half_width_deg=np.full(len(stability), ways.half_width_deg),
        stability=stability,
        carried_mps=np.full(len(stability), ALL_ROUND_MPS),
        sigma_rad=spread_rad(stability, ALL_ROUND_EFFECTIVE_MPS, COVER_SPREAD_DEG[stand.cover]),
        height_m=stand.height_ft * M_PER_FT,
    )
    return found.reshape(len(classes), n, -1)
