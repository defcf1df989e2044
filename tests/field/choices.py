"""Formulas tried on the field data, the first ones among them, and a fair choice.

None has a number fitted here. A choice among them is judged by runs left out in turn:
the one that does best on the other runs says the run that was left out.
"""

from collections.abc import Callable

import numpy as np

from core.air.spread import (
    OPEN_ROUGHNESS_M,
    SIGMA_B_RAD,
    STRUCTURE_SHARE,
    column_per_m,
    narrowing,
    sigma_z_m,
)
from tests.field.runs import SITE_ROUGHNESS_M, Air, Floats, Runs

# Briggs (1973), open country, A ... F: the first formulas of the program
BRIGGS_Y = np.array([0.22, 0.16, 0.11, 0.08, 0.06, 0.04])
BRIGGS_Z = np.array([0.20, 0.12, 0.08, 0.06, 0.03, 0.016])
BRIGGS_Z_C = np.array([0.0, 0.0, 0.0002, 0.0015, 0.0003, 0.0003])
BRIGGS_Z_E = np.array([0.0, 0.0, -0.5, -0.5, -1.0, -1.0])
JUDGED_TO_M = 400.0  # farther the gas is lost to the grass


def briggs_y(c, x):
    return BRIGGS_Y[c] * x / np.sqrt(1.0 + 0.0001 * x)


def briggs_z(c, x):
    return BRIGGS_Z[c] * x * (1.0 + BRIGGS_Z_C[c] * x) ** BRIGGS_Z_E[c]


def _first_width(runs: Runs, air: Air) -> Floats:
    at_100 = briggs_y(air.stability, 100.0) / 100.0
    return np.maximum(at_100, 0.5 / air.effective_mps) * runs.arc_m


def _curve_width(side_gusts_mps: float):
    def width(runs: Runs, air: Air) -> Floats:
        at_100 = np.maximum(SIGMA_B_RAD[air.stability], side_gusts_mps / air.effective_mps)
        return at_100 * narrowing(runs.arc_m) * runs.arc_m

    return width


def _curve_depth(roughness_m: float):
    return lambda runs, air: sigma_z_m(air.stability, runs.arc_m, roughness_m)


def _briggs_depth(runs: Runs, air: Air) -> Floats:
    return briggs_z(air.stability, runs.arc_m)


def _briggs_width(runs: Runs, air: Air) -> Floats:
    return briggs_y(air.stability, runs.arc_m)


Formula = Callable[[Runs, Air], Floats]
# name: width, depth, whether read at the samplers' height
CHOICES: dict[str, tuple[Formula, Formula, bool]] = {
    "first": (_first_width, _briggs_depth, False),
    "first, at the samplers": (_first_width, _briggs_depth, True),
    "Briggs without meander": (_briggs_width, _briggs_depth, True),
    "curves, meander 0.5, open ground": (_curve_width(0.5), _curve_depth(OPEN_ROUGHNESS_M), True),
    "curves, meander 0.2, open ground": (_curve_width(0.2), _curve_depth(OPEN_ROUGHNESS_M), True),
    "curves, meander 0.5, the site": (_curve_width(0.5), _curve_depth(SITE_ROUGHNESS_M), True),
    "curves, meander 0.3, the site": (_curve_width(0.3), _curve_depth(SITE_ROUGHNESS_M), True),
    "curves, meander 0.2, the site": (_curve_width(0.2), _curve_depth(SITE_ROUGHNESS_M), True),
    "curves, no meander, the site": (_curve_width(0.0), _curve_depth(SITE_ROUGHNESS_M), True),
}


def said_by(name: str, runs: Runs, air: Air) -> Floats:
    """Arc maxima by one of the formulas. [s/m3]"""
    width, depth, at_samplers = CHOICES[name]
    deep = np.hypot(depth(runs, air), runs.release_m / STRUCTURE_SHARE * at_samplers)
    thin = column_per_m(deep, 0.0, runs.sampler_m * at_samplers)
    wide = width(runs, air)
    return thin / (air.carried_mps * wide * np.sqrt(2.0 * np.pi))


def chosen_by_the_others(runs: Runs, air: Air) -> tuple[Floats, dict[str, int]]:
    """Arc maxima of each run by the formula that does best on all the other runs.

    Best: the most within a factor of two at 50 to 400 m; of equals, the least mean
    squared logarithm of measured over said.

    Returns: the arc maxima [s/m3]; how many runs each formula was chosen for.
    """
    every = {name: said_by(name, runs, air) for name in CHOICES}
    with np.errstate(divide="ignore", invalid="ignore"):
        off = {name: np.abs(np.log(runs.observed / said)) for name, said in every.items()}
    judged = (runs.arc_m <= JUDGED_TO_M) & (runs.observed > 0) & np.isfinite(off["first"])
    names = np.array(runs.run)
    found, times = np.full(len(runs), np.nan), dict.fromkeys(CHOICES, 0)
    for run in dict.fromkeys(runs.run):
        others = judged & (names != run)
        if others.any():
            best = max(CHOICES, key=lambda name: _merit(off[name][others]))
            found[names == run] = every[best][names == run]
            times[best] += 1
    return found, times


def _merit(off: Floats) -> tuple[float, float]:
    within = float(np.mean(off <= np.log(2.0)))
    return round(within, 12), -float(np.mean(off**2))
