"""Where the season has holes, what each stand alone serves, and the fewest that do."""

from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, wrap_deg
from core.season.review import SeasonAnswer
from core.units import MPS_PER_MPH
from core.weather.hours import DIRECTED

SPEED_EDGES_MPH = (0.0, 4.0, 8.0, 13.0, 19.0)  # between the Beaufort forces 1 and 5
KEEP_SHARE = 0.95
LEAST_R = 1e-9


def sit_winds(answer: SeasonAnswer):
    """Direction and speed of each sit, mornings first; shapes (sit,), (sit,).

    Args: the answer.

    Returns: the unit-vector mean direction [deg] and the median speed [m/s] of its
    directed hours; NaN for a sit of which half or more is calm, variable or missing.
    Source: [epa2000] section 6.2.2 for the mean.
    """
    found = [_winds_of(h.sits) for h in answer.reviews]
    return np.concatenate([f[0] for f in found]), np.concatenate([f[1] for f in found])


def _winds_of(sits):
    weather, by_sit = sits.judged.hours.weather, sits.judged.by_sit
    inside = sits.clock.rows.inside
    directed = (by_sit(weather.state) == DIRECTED) & inside
    theta = np.radians(np.nan_to_num(by_sit(weather.wind_from_deg)))
    east, north = (np.sin(theta) * directed).sum(1), (np.cos(theta) * directed).sum(1)
    count = directed.sum(axis=1)
    steady = (2 * count > inside.sum(axis=1)) & (np.hypot(east, north) > LEAST_R * count)
    direction = wrap_deg(np.degrees(np.arctan2(east, north)))
    speed = np.where(directed, by_sit(weather.speed_mps), np.inf)
    speed = np.sort(speed, axis=1)
    sit = np.arange(len(speed))
    low, high = np.maximum((count - 1) // 2, 0), np.minimum(count // 2, speed.shape[1] - 1)
    median = (speed[sit, low] + speed[sit, high]) / 2.0
    return np.where(steady, direction, np.nan), np.where(steady, median, np.nan)


@dataclass(frozen=True, slots=True)
class Hole:
    """Sits of one wind that no stand serves; all None for calm and variable wind.

    From `from_deg` clockwise to `to_deg` [deg]; speeds from `low_mph` to below `high_mph`,
    which is None for the strongest.
    """

    sit: str
    from_deg: float | None
    to_deg: float | None
    low_mph: float | None
    high_mph: float | None
    sits_lost: int


def holes(answer: SeasonAnswer) -> list[Hole]:
    """The winds that leave no stand, by how many sits they cost.

    Args: the answer.

    Returns: rows of a compass point's width, a range of speed and a kind of sit,
    most sits first; calm and variable sits are a row of their own, without either.
    """
    direction, speed = sit_winds(answer)
    lost = np.asarray(~answer.serves.any(axis=1))
    evening = np.concatenate([np.full(len(h.sits), i) for i, h in enumerate(answer.reviews)])
    known = ~np.isnan(direction)
    point = np.full(len(lost), -1)
    point[known] = ((direction[known] + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG).astype(int) % 16
    force = np.searchsorted(SPEED_EDGES_MPH, np.nan_to_num(speed) / MPS_PER_MPH, side="right") - 1
    force = np.where(known, force, 0)
    keys, count = np.unique(
        np.stack([evening, point, force], axis=1)[lost], axis=0, return_counts=True
    )
    sits = [h.sit for h in answer.reviews]
    found = [
        _hole(sits[k[0]], int(k[1]), int(k[2]), int(n)) for k, n in zip(keys, count, strict=True)
    ]
    return sorted(found, key=lambda hole: -hole.sits_lost)


def _hole(sit: str, point: int, force: int, count: int) -> Hole:
    if point < 0:
        return Hole(sit, None, None, None, None, count)
    middle = point * POINT_WIDTH_DEG
    from_deg, to_deg = (float(wrap_deg(middle + s * HALF_WIDTH_16_DEG)) for s in (-1, 1))
    high = SPEED_EDGES_MPH[force + 1] if force + 1 < len(SPEED_EDGES_MPH) else None
    return Hole(sit, from_deg, to_deg, SPEED_EDGES_MPH[force], high, count)


def only_stand_sits(answer: SeasonAnswer):
    """How many sits each stand alone serves. Shape (stand,). Args: the answer."""
    go = answer.serves
    return (go & (go.sum(axis=1) == 1)[:, None]).sum(axis=0)


def smallest_set(answer: SeasonAnswer, keep: float = KEEP_SHARE) -> list[str]:
    """Ids of the fewest stands that keep a share of what all of them serve.

    Args: the answer; the share to keep, 0 to 1.

    Returns: in the file's order; of several sets of that size one that serves the
    most; empty where no stand is ever go.
    """
    picked = fewest(answer.serves, keep)
    return [s.id for s, chosen in zip(answer.stands, picked, strict=True) if chosen]


def fewest(go, keep: float):
    """Which columns: the fewest that together hold a share of the rows any column holds.

    Args: truth of shape (sit, stand); the share, 0 to 1. Returns: shape (stand,).
    """
    patterns, weight = np.unique(go[go.any(axis=1)], axis=0, return_counts=True)
    n = go.shape[1]
    if not len(patterns):
        return np.zeros(n, bool)
    need = np.ceil(keep * weight.sum() - 1e-9)
    size = int(_solve(patterns, weight, np.r_[np.ones(n), np.zeros(len(weight))], need, n).sum())
    # the most sits that so many stands can serve
    return _solve(patterns, weight, np.r_[np.zeros(n), -weight.astype(float)], need, size)


def _solve(patterns, weight, cost, need: float, most: int):
    """One binary programme: stands x, sits served y <= the stands that serve them."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array, eye_array, hstack

    n_sits, n = patterns.shape
    served = hstack([csr_array(patterns.astype(float)), -eye_array(n_sits)])
    rules = [
        LinearConstraint(served, lb=0.0),
        LinearConstraint(np.r_[np.zeros(n), weight.astype(float)], lb=need),
        LinearConstraint(np.r_[np.ones(n), np.zeros(n_sits)], ub=float(most)),
    ]
    whole = np.r_[np.ones(n), np.zeros(n_sits)]
    result = milp(cost, integrality=whole, bounds=Bounds(0, 1), constraints=rules)
    return np.asarray(result.x[:n]) > 0.5
