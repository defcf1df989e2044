"""The hours of one stand in many sits, judged from tables."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air.drift import offset_rad, strength
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.ground.layout import Stand
from core.season.half_days import Half
from core.season.slope_wind import season_slope
from core.season.strength_table import N_CLASSES, Grid, Points, merged
from core.sit.before import BEDDING_END, FOOD_END
from core.sit.exposure import cant_call_cause, still_air
from core.sit.rows import StandAir, stand_air
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG, milder

Ints8 = npt.NDArray[np.int8]


@dataclass(frozen=True, eq=False)
class SeasonHours:
    """Verdicts of a stand's hours, flat; shapes (sit x row,).

    `areas` is the verdict without the trails; `still` the slope-only verdict, -1
    where there is none or it changes nothing.
    """

    verdict: Ints8
    areas: Ints8
    cause: Ints8
    still: Ints8


def season_hours(half: Half, stand: Stand) -> SeasonHours:
    """Judges every hour of every sit at one stand. Args: the sits; the stand."""
    own = half.rows.own
    slope = season_slope(half.rows.alike, own, stand)
    every = np.arange(len(own.start_s))
    air = stand_air(own, stand, slope, every, own.weather.wind_from_deg, half.rows.toward)
    cause = cant_call_cause(own, stand, slope, air)
    points, trails = _places(half, stand)
    some = np.flatnonzero((cause == 0) & half.used)
    found = _verdicts(half, air, some, points, trails)
    areas = np.zeros(len(cause), np.int8)
    verdict = areas.copy()
    areas[some], verdict[some] = found
    verdict[cause > 0] = CANT_CALL
    still = _still(half, stand, slope, air, cause, points, trails)
    return SeasonHours(verdict, areas, cause, still)


def _places(half: Half, stand: Stand) -> tuple[list[Points], list[tuple[Points, Any]]]:
    """Nearest points of each kind of area, and of the trails with the hours they count in."""
    n_kinds, n_areas = len(half.kinds), len(half.scene.areas)
    ends = [(FOOD_END, half.morning), (BEDDING_END, not half.morning)]
    points: list[Points] = []
    trails = []
    for end, always in ends:
        rows = np.ones(len(half.used), bool) if always else half.all_day
        if not rows.any():
            continue
        names, found = half.scene.stand_receptors(stand, stand.range_yd, (end,))
        kind_of = np.full(max(found.n_zones, 1), -1)
        kind_of[:n_areas] = half.kinds.of_area
        kind_of[n_areas : n_areas + len(names)] = n_kinds
        kinds = merged(found, kind_of, n_kinds + 1)[0]
        points = kinds[:n_kinds]
        if len(kinds[n_kinds][0]):
            trails.append((kinds[n_kinds], rows))
    return points, trails


def _verdicts(half: Half, air: StandAir, some, points, trails):
    """Verdict of the areas and of the hour, in some hours that can be called."""
    areas = np.zeros(len(some), np.int8)
    if not len(some):
        return areas, areas
    grid = Grid(
        air.stability[some],
        air.sigma_rad[some],
        air.air_to_deg[some],
        air.half_width_deg[some],
        half.coarse,
    )
    log_speed = np.log(np.maximum(air.carried_mps[some], LEAST_CARRY_MPS))
    everything = np.arange(len(some))

    def graded(place: Points):
        log_c = grid.log_strength(grid.table(place, air.height_m), everything) - log_speed
        return _graded(half, log_c)

    for kind, place in enumerate(points):
        if len(place[0]):
            areas = np.maximum(areas, _counted(half, kind, graded(place), some))
    trail = np.zeros(len(some), bool)
    for place, rows in trails:
        trail |= rows[some] & (graded(place) == WRONG)
    return areas, np.maximum(areas, np.where(trail, JUST_OFF, CLEAN)).astype(np.int8)


def _graded(half: Half, log_c):
    """Verdict of a strength's logarithm, as `verdicts.grade` of its distance."""
    off = np.where(log_c < half.log_clean, np.int8(CLEAN), np.int8(JUST_OFF))
    return np.where(log_c > half.log_wrong, np.int8(WRONG), off)


def _counted(half: Half, kind: int, verdict, some):
    """What a kind of area makes of some hours: milder unless held, nothing if not counted."""
    held, counts = half.own_held[kind][some], half.own_counts[kind][some]
    return np.where(counts, np.where(held, verdict, milder(verdict)), np.int8(CLEAN))


def _still(half: Half, stand: Stand, slope, air: StandAir, cause, points, trails) -> Ints8:
    """Slope-only verdict of the hours whose value it can change; -1 elsewhere."""
    found = np.full(len(cause), -1, np.int8)
    if slope is None or stand.downhill_deg is None:
        return found
    own = half.rows.own
    air_to, speed = still_air(own, stand, slope)
    some = np.flatnonzero((cause > 0) & half.used & ~np.isnan(air_to))
    if not len(some):
        return found
    ways_deg = np.array([stand.downhill_deg % 360.0, (stand.downhill_deg + 180.0) % 360.0])
    where = np.abs(air_to[some] - ways_deg[0]) > 1.0
    log_speed = np.log(np.maximum(speed[some], LEAST_CARRY_MPS))

    def graded(place: Points):
        table = np.log(np.maximum(_still_strengths(stand, place, ways_deg, air.height_m), 1e-300))
        return _graded(half, table[own.still_class[some], where.astype(int)] - log_speed)

    verdict = np.zeros(len(some), np.int8)
    for kind, place in enumerate(points):
        if len(place[0]):
            verdict = np.maximum(verdict, _counted(half, kind, graded(place), some))
    for place, rows in trails:
        trail = rows[some] & (graded(place) == WRONG)
        verdict = np.maximum(verdict, np.where(trail, JUST_OFF, CLEAN))
    found[some] = verdict
    return found


def _still_strengths(stand: Stand, place: Points, ways_deg, height_m: float):
    """Strength x speed of still air by class and way it goes. Shape (class, way)."""
    stability = np.arange(N_CLASSES)[:, None, None]
    sigma = spread_rad(stability, LEAST_EFFECTIVE_MPS, COVER_SPREAD_DEG[stand.cover])
    return strength(
        distance_m=place[1],
        offset_rad=offset_rad(ways_deg[:, None], place[0]),
        stability=stability,
        carried_mps=1.0,
        sigma_rad=sigma,
        height_m=height_m,
    ).max(axis=-1)
