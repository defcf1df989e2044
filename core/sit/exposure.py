"""What a row at a stand is worth: why it can't be called, and the verdict where it can."""

import functools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.air.stability import CLASSES
from core.air.stability import E as CLASS_E
from core.angles import in_ranges, opposite_deg
from core.ground.layout import Stand
from core.sit.before import ENDS
from core.sit.prepare import Sits
from core.sit.rows import Rows, StandAir, stand_air
from core.sit.slope import SlopeRows, slope_rows
from core.sit.strength import Likes, LogStrengths, Reached, zone_strengths
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG, grade, milder
from core.units import M_PER_FT, MPS_PER_MPH
from core.weather.hours import CALM, MISSING, VARIABLE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]
Bools = npt.NDArray[np.bool_]
BOTTOM_UNDER_MPS = 3.6  # common practice, no source
STILL_LEAST_MPS = 0.05
NOT_KNOWN = -1  # no slope-only verdict

SURE, IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT, IS_SWIRL, IS_BOTTOM, IS_TURNING = range(8)
CAUSE_WORDS = ("", "calm", "variable", "missing", "light", "swirls", "bottom", "turning")


@dataclass(frozen=True, eq=False)
class StandHours:
    """What each row is worth at one stand, flat as `JudgedRows.hours`; shapes (row,).

    `areas` is the verdict without the trails; `still` the slope-only verdict of rows that
    can't be called, `NOT_KNOWN` elsewhere and without a slope; `still_to_deg` where still
    air would go. `reached`: how strongly air reaches each place, of the rows asked for;
    `held`, `area_counts`: whether deer hold each of them, and whether it counts; shapes
    (row, place). `corridors`: ids of the trails, which come after the areas.
    """

    air: StandAir
    corridors: list[str]
    verdict: Ints8
    areas: Ints8
    cause: Ints8
    still: Ints8
    still_to_deg: Floats
    reached: Reached
    held: Bools
    area_counts: Bools
    limits_yd: tuple[float, float]

    @property
    def equivalent_yd(self) -> Floats:
        """What each area and trail gets, as a distance; by formula only. (row, zone)"""
        assert isinstance(self.reached, Likes)
        return self.reached.like_yd

    @functools.cached_property
    def zone_verdict(self) -> Ints8:
        """Verdict of each area and trail, can't call where its row is. (row, zone)"""
        n = self.held.shape[1]
        found = grade(self.equivalent_yd, *self.limits_yd)
        found[:, :n] = np.where(self.held, found[:, :n], milder(found[:, :n]))
        return np.where(self.cause[:, None] > 0, np.int8(CANT_CALL), found)

    @functools.cached_property
    def counts(self) -> Bools:
        """Whether each area and trail counts. (row, zone)"""
        trails = np.ones((len(self.cause), len(self.corridors)), bool)
        return np.concatenate([self.area_counts, trails], axis=1)

    def take(self, rows: Ints) -> "StandHours":
        """Some of the rows. Args: their places; by formula only."""
        return StandHours(
            air=self.air.take(rows),
            corridors=self.corridors,
            verdict=self.verdict[rows],
            areas=self.areas[rows],
            cause=self.cause[rows],
            still=self.still[rows],
            still_to_deg=self.still_to_deg[rows],
            reached=self.reached.take(rows),
            held=self.held[rows],
            area_counts=self.area_counts[rows],
            limits_yd=self.limits_yd,
        )


def stand_hours(sits: Sits, stand: Stand) -> StandHours:
    """Verdicts of the rows of some sits at one stand. Args: the sits; the stand."""
    judged, rules, source = sits.judged, sits.scene.ground.air, sits.source
    slope = slope_rows(sits.alike, judged, stand)
    air = stand_air(judged, stand, 0.0 if slope is None else slope.faded_mps)
    cause = cant_call_cause(judged.hours, stand, slope, air)
    some = source.some_rows(cause == SURE, sits.inside)
    everything = len(some) == len(cause)
    asked_air, asked_ends = (air, sits.ends) if everything else (air.take(some), sits.ends[some])
    reached = source.at_stand(stand, sits.range_yd(stand), asked_air, asked_ends)
    limits_yd = (rules.wrong_within_yd, rules.clean_beyond_yd)
    areas = np.zeros(len(cause), np.int8)
    verdict = areas.copy()
    held, counts = (sits.held, sits.counts) if everything else (sits.held[some], sits.counts[some])
    areas[some], verdict[some] = row_verdicts(reached, held, counts, limits_yd)
    verdict[cause > SURE] = CANT_CALL
    still_to_deg, still_mps = still_air(judged.hours, stand, slope)
    return StandHours(
        air=air,
        corridors=sits.trails(stand),
        verdict=verdict,
        areas=areas,
        cause=cause,
        still=_still(sits, stand, cause, still_to_deg, still_mps, limits_yd),
        still_to_deg=still_to_deg,
        reached=reached,
        held=sits.held,
        area_counts=sits.counts,
        limits_yd=limits_yd,
    )


def row_verdicts(reached: Reached, held: Bools, counts: Bools, limits_yd) -> tuple[Ints8, Ints8]:
    """Verdict of rows by their areas alone, and with their trails; shapes (row,).

    The worst of the areas that count, one step milder where deer do not hold them; a trail
    in wrong air makes it just-off at best.
    Args: what reaches areas and trails, (row, place); whether areas are held and count,
    (row, area); the two limits [yd].
    """
    verdict = reached.graded(*limits_yd)
    n_areas = held.shape[1]
    of_area = np.where(held, verdict[:, :n_areas], milder(verdict[:, :n_areas]))
    areas = np.where(counts, of_area, np.int8(CLEAN)).max(axis=1, initial=CLEAN)
    on_trail = (verdict[:, n_areas:] == WRONG).any(axis=1)
    return areas, np.maximum(areas, np.where(on_trail, np.int8(JUST_OFF), np.int8(CLEAN)))


def cant_call_cause(rows: Rows, stand: Stand, slope: SlopeRows | None, air: StandAir) -> Ints8:
    """Why a row can't be called; 0 where it can. Shape (row,).

    Args: the rows; the stand, its slope wind and its air in each.
    Source: [hanna1983] for light air; bottoms are common practice, no source.
    """
    state, speed = rows.weather.state, rows.speed_mps
    cause = np.full(len(speed), SURE, np.int8)

    def because(code: int, holds) -> None:  # a later one overrules
        np.copyto(cause, np.int8(code), where=holds)

    if slope is not None:
        because(IS_TURNING, slope.turning & (slope.full_mps > 0.5 * air.carried_mps))
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
    holds = np.ones(len(speed_mps), bool)
    if known.from_deg is not None:
        holds &= in_ranges(air.wind_from_deg, known.from_deg, air.half_width_deg)
    if known.under_mph is not None:
        holds &= speed_mps < known.under_mph * MPS_PER_MPH
    return holds


# --- the slope-only answer ---


def still_air(rows: Rows, stand: Stand, slope: SlopeRows | None) -> tuple[Floats, Floats]:
    """Where still air would slide or climb: (air_to_deg, speed [m/s]); (row,).

    NaN where no slope is known or the slope wind is too weak to name.
    Args: the rows; the stand and its slope wind in them.
    """
    if slope is None or stand.downhill_deg is None:
        nothing = np.full(len(rows.start_s), np.nan)
        return nothing, nothing
    speed = np.abs(slope.still_mps)
    down, up = _down_up_deg(stand.downhill_deg)
    to = np.where(slope.still_mps > 0, up, down)
    return np.where(speed < STILL_LEAST_MPS, np.nan, to), speed


def _down_up_deg(downhill_deg: float) -> tuple[float, float]:
    return downhill_deg % 360.0, float(opposite_deg(downhill_deg))


def _still(sits: Sits, stand: Stand, cause: Ints8, to_deg, speed_mps, limits_yd) -> Ints8:
    """Slope-only verdict of the rows that can't be called; `NOT_KNOWN` elsewhere."""
    found = np.full(len(cause), NOT_KNOWN, np.int8)
    some = np.flatnonzero((cause > SURE) & sits.inside & ~np.isnan(to_deg))
    if not len(some):
        return found
    climbs = (to_deg[some] != _down_up_deg(stand.downhill_deg or 0.0)[0]).astype(int)
    carried = np.log(np.maximum(speed_mps[some], LEAST_CARRY_MPS))
    air_class = sits.judged.hours.still_class[some]
    log_c = np.zeros((len(some), 0))
    for end in np.unique(sits.ends[some]):
        of_end = sits.ends[some] == end
        table = _still_strengths(sits, stand, int(end))
        with np.errstate(divide="ignore"):
            table = np.log(sits.source.joined(table))
        if not log_c.size:
            log_c = np.zeros((len(some), table.shape[-1]))
        log_c[of_end] = table[air_class[of_end], climbs[of_end]] - carried[of_end, None]
    found[some] = row_verdicts(LogStrengths(log_c), sits.held[some], sits.counts[some], limits_yd)[
        1
    ]
    return found


def _still_strengths(sits: Sits, stand: Stand, end: int) -> Floats:
    """Strength x speed of still air, by class and whether it climbs. (class, 2, zone)"""
    names, points = sits.scene.stand_receptors(stand, sits.range_yd(stand), ENDS[end])
    n_classes, n_zones = len(CLASSES), len(sits.scene.areas) + len(names)
    stability = np.repeat(np.arange(n_classes), 2)[:, None]
    sigma = spread_rad(stability, LEAST_EFFECTIVE_MPS, COVER_SPREAD_DEG[stand.cover])
    c = zone_strengths(
        points,
        air_to_deg=np.tile(_down_up_deg(stand.downhill_deg or 0.0), n_classes)[:, None],
        half_width_deg=np.zeros((2 * n_classes, 1)),
        stability=stability,
        carried_mps=np.ones((2 * n_classes, 1)),
        sigma_rad=sigma,
        height_m=stand.height_ft * M_PER_FT,
    )
    return c[:, 0, :n_zones].reshape(n_classes, 2, n_zones)
