"""A walk as a dose: what a way in or out gives to the places it passes."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.drift import equivalent_distance_m
from core.air.shelter import LOWEST_M, wind_at_hunter_mps
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.sit.exposure import zone_strengths
from core.sit.held import counts_by_area, held_by_area
from core.sit.rows import Rows
from core.sit.scene import Scene, Way
from core.sit.verdicts import CANT_CALL, JUST_OFF, grade, milder
from core.units import M_PER_YD, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
LEAST_SHOWN_YD, MOST_SHOWN_YD = 10.0, 3520.0


@dataclass(frozen=True, eq=False)
class WayAir:
    """What a walk gives, in each case (direction). Shapes (case,).

    `equivalent_yd` is NaN where the way can't be called.
    """

    way: Way
    start_s: float
    verdict: npt.NDArray[np.int8]
    equivalent_yd: Floats
    wrong_minutes: npt.NDArray[np.int64]  # air at wrong strength reaching bedding
    crossed_before_shot: tuple[str, ...]
    worst_area: npt.NDArray[np.int64]  # index of the area that gets most; -1 none
    rows: npt.NDArray[np.int64]


def judge_way(
    scene: Scene,
    rows: Rows,
    way: Way,
    start_s: float,
    wind_from_deg=None,
    crossed: tuple[str, ...] = (),
) -> WayAir:
    """Judges a walk that starts at an instant.

    Args:
        scene, rows: of the sit.
        way: the walk, in the order it is walked.
        start_s: when it starts. [epoch s]
        wind_from_deg: one direction for each case, put in every directed hour;
            None for the forecast's own, one case. Shape (case,).
        crossed: corridors whose part before the shot it crosses.
    """
    rules = scene.ground.air
    time_s = start_s + SECONDS_PER_MINUTE * (np.arange(way.minutes) + 0.5)
    row = rows.index_of(time_s)
    speed, stability = rows.speed_mps[row], rows.stability[row]
    sure = rows.directed[row] & (
        np.maximum(speed, LEAST_EFFECTIVE_MPS) >= rules.cant_call_below_mps
    )
    if wind_from_deg is None:
        wind = rows.weather.wind_from_deg[row][None, :]
    else:
        swept = np.asarray(wind_from_deg, float)[:, None]
        wind = np.where(rows.directed[row], swept, np.nan)
    half = np.broadcast_to(rows.weather.half_width_deg[row], wind.shape)
    c = _minute_strengths(way, wind, half, speed, stability, sure)  # (case, minute, area)
    held = held_by_area(scene.areas, time_s, rows.day)
    counts = counts_by_area(scene.areas, rows.month, wind, half)
    verdict, distance, worst = _worse_dose(c, held, counts, sure, rules)
    unsure = 2 * int((~sure).sum()) > way.minutes
    if crossed:
        verdict = np.maximum(verdict, JUST_OFF)
    beds = np.array([a.kind == "bedding" for a in scene.areas], bool)
    like_yd = equivalent_distance_m(np.where(counts & held & beds, c, 0.0)) / M_PER_YD
    reached = (like_yd < rules.wrong_within_yd).any(axis=2) & sure
    return WayAir(
        way=way,
        start_s=start_s,
        verdict=np.where(unsure, CANT_CALL, verdict).astype(np.int8),
        equivalent_yd=np.where(unsure, np.nan, distance),
        wrong_minutes=reached.sum(axis=1),
        crossed_before_shot=crossed,
        worst_area=worst,
        rows=np.unique(row),
    )


def _minute_strengths(way: Way, wind, half, speed, stability, sure) -> Floats:
    """Strength at each area in each minute; 0 in minutes left out. (case, minute, area)"""
    cover = way.lane.cover
    carried = wind_at_hunter_mps(speed, LOWEST_M, stability, cover)
    sigma = spread_rad(stability, np.maximum(speed, LEAST_EFFECTIVE_MPS), COVER_SPREAD_DEG[cover])

    def spread_out(values):
        return np.broadcast_to(values, wind.shape)

    c = zone_strengths(
        way.receptors,
        air_to_deg=np.mod(wind + 180.0, 360.0),
        half_width_deg=half,
        stability=spread_out(stability),
        carried_mps=spread_out(np.maximum(carried, LEAST_CARRY_MPS)),
        sigma_rad=spread_out(sigma),
        height_m=0.0,
    )
    return np.where(sure[:, None], c, 0.0)


def _worse_dose(c, held, counts, sure, rules):
    """The dose to places held, and one step milder to the others; the worse counts.

    Returns: verdict, equivalent distance [yd], area that gets most; shapes (case,).
    """
    n_area = counts.shape[2]
    c = c[:, :, :n_area]
    minutes, n_sure = len(sure), max(1, int(sure.sum()))
    verdicts, distances, areas = [], [], []
    for mask, mild in ((held, False), (~held, True)):
        given = np.where(counts & mask, c, 0.0)
        dose = given.max(axis=2, initial=0.0).sum(axis=1) / n_sure * minutes / 60.0
        distance = equivalent_distance_m(dose) / M_PER_YD
        verdict = grade(distance, rules.wrong_within_yd, rules.clean_beyond_yd)
        verdicts.append(milder(verdict) if mild else verdict)
        distances.append(distance)
        total = given.sum(axis=1)
        most = total.argmax(axis=1) if n_area else np.zeros(len(c), int)
        areas.append(np.where(dose > 0, most, -1))
    same = verdicts[0] == verdicts[1]
    second = (verdicts[1] > verdicts[0]) | (same & (distances[1] < distances[0]))
    return (
        np.where(second, verdicts[1], verdicts[0]),
        np.where(second, distances[1], distances[0]),
        np.where(second, areas[1], areas[0]),
    )


def choose_way(judged: list[WayAir]) -> WayAir | None:
    """The best of several ways, in the forecast's own wind; None without any.

    Better verdict, then larger equivalent distance to 10 yards, fewer crossings,
    shorter, id. A way without a distance sorts last.
    """

    def order(air: WayAir):
        shown = shown_yd(float(air.equivalent_yd[0]))
        tens = -1 if shown is None else int(shown / 10.0 + 0.5)
        way = air.way
        return int(air.verdict[0]), -tens, len(way.crosses), way.length_m, way.lane.id

    return min(judged, key=order, default=None)


def shown_yd(distance_yd: float) -> int | None:
    """A distance as files carry it: whole yards, 10 to 3520; None where unknown."""
    if distance_yd != distance_yd:
        return None
    return int(min(max(distance_yd, LEAST_SHOWN_YD), MOST_SHOWN_YD) + 0.5)
