"""How far off "like N yards" was in the field: the table of `core.air.doubt`, derived.

For each arc: N as the air was (from the measured maximum) over N as the program says
from what a forecast gives. Logarithms; the middle by class and distance, the scatter
about the middles by distance only (few runs), and the interval that holds 8 in 10
further values of a normal scatter: middle +- 1.2816 s sqrt(1 + 1/n), n the runs in the cell. 800 m
is left out, where the gas is lost to the grass.
"""

import math

import numpy as np

from core.air.doubt import GROUPS, UP_TO_M
from tests.field.runs import Runs, forecast_air, like_factor

EIGHT_IN_TEN = 1.2816
ARCS_TO_M = 400.0


def likely_table(runs: Runs) -> dict[str, dict]:
    """Low and high factor for each class group and step of distance, and a check.

    "inside" is the share of values that lie within the interval worked out from the
    other runs.
    """
    cells = _cells(runs)
    names = np.array(runs.run)
    full = _intervals(cells, names, np.ones(len(runs), bool))
    inside = {name: [] for name in cells}
    for run in dict.fromkeys(runs.run):
        others = _intervals(cells, names, names != run)
        for name, (mask, values, _) in cells.items():
            mine = values[mask & (names == run)]
            low, high, _n = others[name]
            if not math.isnan(low):
                inside[name] += list((mine >= low) & (mine <= high))
    return {
        name: {
            "low": None if math.isnan(low) else math.exp(low),
            "high": None if math.isnan(high) else math.exp(high),
            "n": n,
            "inside": float(np.mean(inside[name])) if inside[name] else None,
        }
        for name, (low, high, n) in full.items()
    }


def _cells(runs: Runs):
    """For each cell: the rows in it, log factors of all rows, its step of distance."""
    air = forecast_air(runs)
    with np.errstate(divide="ignore", invalid="ignore"):
        values = np.log(like_factor(runs, air))
    usable = np.isfinite(values) & (runs.arc_m <= ARCS_TO_M)
    step = np.searchsorted(UP_TO_M, runs.arc_m)
    found = {}
    for group, classes in GROUPS.items():
        for i in range(len(UP_TO_M) + 1):
            mask = usable & np.isin(air.stability, classes) & (step == i)
            found[f"{group} {i}"] = (mask, values, i)
    return found


def _intervals(cells, names, kept):
    """Low and high (logarithms) and number of runs of each cell, from the rows kept."""
    middles, left = {}, {}
    for name, (mask, values, step) in cells.items():
        own = values[mask & kept]
        middles[name] = own.mean() if len(own) else math.nan
        left.setdefault(step, []).append((own - middles[name], len(own) > 0))
    found = {}
    for name, (mask, _, step) in cells.items():
        rest = np.concatenate([r for r, some in left[step] if some] or [np.empty(0)])
        free = len(rest) - sum(some for _, some in left[step])
        n = len(set(names[mask & kept]))
        if free < 1 or n == 0:
            found[name] = (math.nan, math.nan, n)
            continue
        wide = EIGHT_IN_TEN * math.sqrt((rest**2).sum() / free * (1.0 + 1.0 / n))
        found[name] = (middles[name] - wide, middles[name] + wide, n)
    return found
