"""How strongly a hunter's air reaches each place, and what that makes of an hour."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.drift import equivalent_distance_m, offset_rad, wrapped_normal_per_rad
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, narrowing, spread_rad, thinning_per_m
from core.air.stability import E as CLASS_E
from core.angles import in_ranges, opposite_deg
from core.ground.layout import Stand
from core.ground.plan import Receptors
from core.sit.held import counts_by_area, held_by_area
from core.sit.rows import Rows, SlopeRows, StandAir
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG, grade, milder
from core.units import M_PER_YD, MPS_PER_MPH
from core.weather.hours import CALM, MISSING, VARIABLE

Floats = npt.NDArray[np.float64]
CHUNK = 400_000
BOTTOM_UNDER_MPS = 3.6  # common practice, no source
STILL_LEAST_MPS = 0.05

SURE, IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT, IS_SWIRL, IS_BOTTOM, IS_TURNING = range(8)
CAUSE_WORDS = ("", "calm", "variable", "missing", "light", "swirls", "bottom", "turning")


def zone_strengths(
    points: Receptors,
    *,
    air_to_deg,
    half_width_deg,
    stability,
    carried_mps,
    sigma_rad,
    height_m: float,
) -> Floats:
    """The strongest point of each zone, for each source, in each case.

    Args:
        points: from `core.ground.plan.receptors`.
        air_to_deg, half_width_deg, stability, carried_mps, sigma_rad: the air of
            each case at each source, floors applied. Shapes (case, source).
        height_m: of the source. [m]

    Returns: strengths of shape (case, source, zone); 0 where a zone has no points.
    Missing: NaN air gives NaN strengths.
    """
    n_case = len(air_to_deg)
    n_group = points.n_sources * points.n_zones
    best = np.zeros((n_case, n_group))
    if not len(points.group) or not n_case:
        return best.reshape(n_case, points.n_sources, points.n_zones)
    source = points.source()
    met = np.flatnonzero(np.bincount(np.ravel(stability)))
    row = np.searchsorted(met, stability)
    by_class = thinning_per_m(met[:, None], points.distance_m, height_m)
    by_class = by_class / points.distance_m  # (class, point)
    narrower = narrowing(points.distance_m)
    starts = np.flatnonzero(np.r_[True, np.diff(points.group) != 0])
    groups = points.group[starts]
    at = np.arange(len(source))
    step = max(1, CHUNK // len(source))
    for i in range(0, n_case, step):
        case = slice(i, i + step)
        offset = offset_rad(
            air_to_deg[case][:, source], points.bearing_deg, half_width_deg[case][:, source]
        )
        near = wrapped_normal_per_rad(offset, sigma_rad[case][:, source] * narrower)
        c = by_class[row[case][:, source], at] * near / carried_mps[case][:, source]
        best[case, groups] = np.maximum.reduceat(c, starts, axis=1)
    return best.reshape(n_case, points.n_sources, points.n_zones)


@dataclass(frozen=True, eq=False)
class StandHours:
    """What each case (row x direction) is worth at one stand.

    `equivalent_yd`, `zone_verdict`, `counts`: shapes (case, zone), zones being all
    areas and then the corridors in range. `still` is the slope-only verdict, -1
    where there is none. The rest: shapes (case,).
    """

    air: StandAir
    corridors: list[str]
    equivalent_yd: Floats
    zone_verdict: npt.NDArray[np.int8]
    counts: npt.NDArray[np.bool_]
    verdict: npt.NDArray[np.int8]
    cause: npt.NDArray[np.int8]
    still: npt.NDArray[np.int8]


def stand_hours(
    scene: Scene,
    rows: Rows,
    stand: Stand,
    slope: SlopeRows | None,
    air: StandAir,
    range_yd: float,
    ends: tuple[str, ...],
) -> StandHours:
    """Verdicts of a stand's hours, in each case of its air.

    Args: scene and rows of the sit; the stand with its slope wind and air; the
    range in yards; the ends deer come from (`core.sit.before`).
    """
    rules = scene.ground.air
    corridors, points = scene.stand_receptors(stand, range_yd, ends)
    n_areas = len(scene.areas)
    equivalent_yd = _stand_equivalent_yd(points, air, n_areas + len(corridors))
    counts = counts_by_area(scene.areas, rows.month, air.wind_from_deg, air.half_width_deg)
    held = held_by_area(scene.areas, rows.middle_s, rows.day)[air.row]
    verdict_of = grade(equivalent_yd, rules.wrong_within_yd, rules.clean_beyond_yd)
    areas = np.where(held, verdict_of[:, :n_areas], milder(verdict_of[:, :n_areas]))
    zone_verdict = np.concatenate([areas, verdict_of[:, n_areas:]], axis=1)
    cause = cant_call_cause(rows, stand, slope, air)
    unsure = cause > 0
    zone_verdict = np.where(unsure[:, None], CANT_CALL, zone_verdict).astype(np.int8)
    every = np.concatenate([counts, np.ones((len(air.row), len(corridors)), bool)], axis=1)
    return StandHours(
        air=air,
        corridors=corridors,
        equivalent_yd=equivalent_yd,
        zone_verdict=zone_verdict,
        counts=every,
        verdict=np.where(unsure, CANT_CALL, _hour_verdict(zone_verdict, counts)).astype(np.int8),
        cause=cause,
        still=_still(rows, stand, slope, air, points, counts, held, rules),
    )


def _hour_verdict(zone_verdict, counts):
    """The worst of the areas that count; a corridor in wrong air caps at just-off."""
    n_areas = counts.shape[1]
    areas = np.where(counts, zone_verdict[:, :n_areas], CLEAN).max(axis=1, initial=CLEAN)
    trail = (zone_verdict[:, n_areas:] == WRONG).any(axis=1)
    return np.maximum(areas, np.where(trail, JUST_OFF, CLEAN))


def _stand_equivalent_yd(points: Receptors, air: StandAir, n_zones: int) -> Floats:
    c = zone_strengths(
        points,
        air_to_deg=air.air_to_deg[:, None],
        half_width_deg=air.half_width_deg[:, None],
        stability=air.stability[:, None],
        carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS)[:, None],
        sigma_rad=air.sigma_rad[:, None],
        height_m=air.height_m,
    )
    return equivalent_distance_m(c[:, 0, :n_zones]) / M_PER_YD


def cant_call_cause(rows: Rows, stand: Stand, slope: SlopeRows | None, air: StandAir):
    """Why an hour can't be called; 0 where it can. Shape (case,).

    Args: rows of the sit; the stand, its slope wind and its air in each case.
    Source: [hanna1983] for light air; bottoms are common practice, no source.
    """
    state = rows.weather.state[air.row]
    speed = rows.speed_mps[air.row]
    cause = np.full(len(air.row), SURE, np.int8)

    def because(code: int, holds) -> None:  # a later one overrules
        np.copyto(cause, np.int8(code), where=holds)

    if slope is not None:
        because(
            IS_TURNING, slope.turning[air.row] & (slope.full_mps[air.row] > 0.5 * air.carried_mps)
        )
    if stand.lies == "bottom":
        because(IS_BOTTOM, (speed < BOTTOM_UNDER_MPS) | (air.stability >= CLASS_E))
    because(IS_SWIRL, _swirls(stand, speed, air))
    # a wind of the limit itself is called, whatever its two parts lose in rounding
    because(IS_LIGHT, air.effective_mps < rows.ground.air.cant_call_below_mps - 1e-9)
    because(IS_VARIABLE, state == VARIABLE)
    because(IS_CALM, state == CALM)
    because(IS_MISSING, state == MISSING)
    return cause


def _swirls(stand: Stand, speed_mps, air: StandAir):
    """The owner's own knowledge of a seat: both conditions, where both are given."""
    known = stand.swirls
    if known is None or (known.from_deg is None and known.under_mph is None):
        return False
    holds = np.ones(len(air.row), bool)
    if known.from_deg is not None:
        holds &= in_ranges(air.wind_from_deg, known.from_deg, air.half_width_deg)
    if known.under_mph is not None:
        holds &= speed_mps < known.under_mph * MPS_PER_MPH
    return holds


def still_air(rows: Rows, stand: Stand, slope: SlopeRows | None):
    """Where still air would slide or climb: (air_to_deg, speed [m/s]); (row,).

    NaN where no slope is known or the slope wind is too weak to name.
    """
    if slope is None or stand.downhill_deg is None:
        nothing = np.full(len(rows.start_s), np.nan)
        return nothing, nothing
    speed = np.abs(slope.still_mps)
    up = opposite_deg(stand.downhill_deg)
    to = np.where(slope.still_mps > 0, up, stand.downhill_deg % 360.0)
    return np.where(speed < STILL_LEAST_MPS, np.nan, to), speed


def _still(rows, stand, slope, air, points, counts, held, rules):
    """Slope-only verdict of each case; -1 without one."""
    air_to, speed = still_air(rows, stand, slope)
    known = ~np.isnan(air_to)
    if not known.any():
        return np.full(len(air.row), -1, np.int8)
    n = len(rows.start_s)
    sigma = spread_rad(rows.still_class, LEAST_EFFECTIVE_MPS, COVER_SPREAD_DEG[stand.cover])
    c = zone_strengths(
        points,
        air_to_deg=np.nan_to_num(air_to)[:, None],
        half_width_deg=np.zeros((n, 1)),
        stability=rows.still_class[:, None],
        carried_mps=np.maximum(speed, LEAST_CARRY_MPS)[:, None],
        sigma_rad=sigma[:, None],
        height_m=air.height_m,
    )[:, 0, :]
    verdict = grade(
        equivalent_distance_m(c) / M_PER_YD, rules.wrong_within_yd, rules.clean_beyond_yd
    )[air.row]
    n_areas = counts.shape[1]
    areas = np.where(held, verdict[:, :n_areas], milder(verdict[:, :n_areas]))
    trails = verdict[:, n_areas : points.n_zones if points.n_zones > n_areas else n_areas]
    hour = _hour_verdict(np.concatenate([areas, trails], axis=1), counts)
    return np.where(known[air.row], hour, -1).astype(np.int8)
