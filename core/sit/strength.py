"""How strongly air reaches places: by the formula, every place on its own.

This and `core.sit.tables.by_table` are the two sources of strength; all else of a sit is the same
for both. A source has `places`, the areas as it takes them, and gives

- `at_stand`: what reaches them and the approaches from a seat, row by row;
- `on_walk`: what reaches them from a walk, minute by minute;
- `joined`: values of all areas and approaches as it takes them;
- `some_rows`: the rows that it must be asked for.
"""

import functools
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt

from core.air.drift import (
    equivalent_distance_m,
    offset_rad,
    reference_strength,
    wrapped_normal_per_rad,
)
from core.air.slopes import LEAST_CARRY_MPS
from core.air.spread import narrowing, thinning_per_m
from core.ground.layout import Stand
from core.ground.place import Receptors
from core.sit.held import Places
from core.sit.lately import Lately
from core.sit.rows import Rows
from core.sit.scene import Scene, Way
from core.sit.stand_air import StandAir, air_on_foot
from core.sit.verdicts import CLEAN, JUST_OFF, WRONG, grade
from core.units import M_PER_YD

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]
CHUNK = 30_000  # of cases x points: more leave the processor's cache
KEPT_WALKS = 60  # the air of so many walks: in the same minutes it is the same


class Reached(Protocol):
    """How strongly air reaches some places. Shape (row, place): areas, then approaches."""

    def graded(self, wrong_within_yd, clean_beyond_yd) -> Ints8:
        """Verdict of each. Args: the two limits [yd], numbers or one for each place."""

    def take(self, rows) -> "Reached":
        """That of some rows. Args: their places."""


@dataclass(frozen=True, eq=False)
class Likes:
    """Strengths as the distances that are like them. [yd]"""

    like_yd: Floats

    def graded(self, wrong_within_yd, clean_beyond_yd) -> Ints8:
        """As `verdicts.grade`. Args: the two limits [yd]."""
        return grade(self.like_yd, wrong_within_yd, clean_beyond_yd)

    def take(self, rows) -> "Likes":
        """Those of some rows. Args: their places."""
        return Likes(self.like_yd[rows])


@dataclass(frozen=True, eq=False)
class LogStrengths:
    """Strengths as their logarithms: of many, quicker than their distances."""

    log_strength: Any

    def graded(self, wrong_within_yd, clean_beyond_yd) -> Ints8:
        """As `verdicts.grade` of their distances. Args: the two limits [yd]."""
        wrong, clean = (
            _log_limits(tuple(np.ravel(limit).tolist()))
            for limit in (wrong_within_yd, clean_beyond_yd)
        )
        off = np.where(self.log_strength < clean, np.int8(CLEAN), np.int8(JUST_OFF))
        return np.where(self.log_strength > wrong, np.int8(WRONG), off)

    def take(self, rows) -> "LogStrengths":
        """Those of some rows. Args: their places."""
        return LogStrengths(self.log_strength[rows])


@functools.lru_cache(maxsize=512)
def _log_limits(limits_yd: tuple[float, ...]) -> Floats:
    """The strengths that are like some distances, as logarithms. Args: [yd]. Shape (limit,)."""
    return np.log(reference_strength(np.array(limits_yd) * M_PER_YD))


class Source(Protocol):
    """Where strengths come from, see the head of this module."""

    places: Places

    def some_rows(self, asked, inside) -> Ints:
        """Places of the rows that it must be asked for.

        Args: those of a kind of air, and those inside a window; truths of shape (row,).
        """

    def at_stand(self, stand: Stand, air: StandAir, ends: Ints) -> Reached:
        """What reaches areas, and the approaches that deer come by, from a seat.

        Args: the stand; its air in some rows; which of `before.ENDS` deer come from in
        each. Shape (row,).
        """

    def on_walk(self, way: Way, hour: Ints, sure) -> Any:
        """Strength at each place from a walk, 0 in minutes left out. (sit, minute, place)

        Args: the walk; the hour of each of its minutes, and whether its air can be called.
        Shapes (sit, minute).
        """

    def joined(self, values) -> Any:
        """Values of all areas, then all approaches, as this source takes them. (..., place)"""


class ByFormula:
    """Every area and approach on its own, with the distance that its strength is like.

    Args: the scene; the hours of the sits, see `core.sit.rows.Blocks`.
    """

    def __init__(self, scene: Scene, hours: Rows) -> None:
        self.scene, self.hours = scene, hours
        self.places = Places(scene.areas)
        self._walks = Lately(KEPT_WALKS)

    def some_rows(self, asked, inside) -> Ints:  # noqa: ARG002 (as its fellow)
        """All that are asked for: words tell of rows outside too."""
        return np.flatnonzero(asked)

    def at_stand(self, stand: Stand, air: StandAir, ends: Ints) -> Likes:  # noqa: ARG002
        """See `Source.at_stand`; approaches that nobody comes by are told of too."""
        if self.scene.heights is None:
            c = self._straight(stand, air)
        else:
            from core.sit.land.bent import bent_strengths  # what only heights need is loaded here

            rows, bent = bent_strengths(self.scene, stand, air)
            others = np.ones(len(air.row), bool)
            others[rows] = False
            c = np.empty((len(air.row), bent.shape[1]))
            c[rows], c[others] = bent, self._straight(stand, air.take(others))
        return Likes(equivalent_distance_m(c) / M_PER_YD)

    def _straight(self, stand: Stand, air: StandAir) -> Floats:
        return stand_strengths(
            self.scene,
            stand,
            air_to_deg=air.air_to_deg,
            half_width_deg=air.doubt_deg,
            stability=air.stability,
            carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS),
            sigma_rad=air.sigma_rad,
            height_m=air.height_m,
        )

    def on_walk(self, way: Way, hour: Ints, sure) -> Floats:
        """See `Source.on_walk`. A way out is reckoned as the way in, from its end: the points
        are the same."""
        if way.there is not None:
            return self.on_walk(way.there, hour[:, ::-1], sure[:, ::-1])[:, ::-1]
        cover = way.lane.cover
        minutes = cover, hour.shape, hour.tobytes()
        air, key = self._walks.get(minutes, lambda: air_on_foot(self.hours, hour, cover))
        # in a steady wind it is the same on the way back, and in the other half of the day
        c = way.lately.get(key, lambda: zone_strengths(way.receptors, height_m=0.0, **air))
        return np.where(sure[..., None], c[..., : len(self.places)], 0.0)

    def joined(self, values):
        """As they are."""
        return values


def likes_yd(points: Receptors, air: StandAir) -> Floats:
    """How strongly the air of one seat reaches places, as a distance. [yd], (row, place)

    Args: the places as points, one source; the air of the seat in some rows.
    Missing: NaN in rows without air.
    """
    c = zone_strengths(
        points,
        air_to_deg=air.air_to_deg[:, None],
        half_width_deg=air.doubt_deg[:, None],
        stability=air.stability[:, None],
        carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS)[:, None],
        sigma_rad=air.sigma_rad[:, None],
        height_m=air.height_m,
    )
    return equivalent_distance_m(c[:, 0, :]) / M_PER_YD


def stand_strengths(scene: Scene, stand: Stand, *, height_m: float, **air) -> Floats:
    """The strongest point of each area and then each approach of a stand. (case, place)

    Args: the scene; the stand; its height [m]; the air as in `zone_strengths`, (case,).
    """
    air = {name: values[:, None] for name, values in air.items()}
    places = (
        (scene.area_receptors(stand), len(scene.areas)),
        (scene.approach_receptors(stand), len(scene.approaches(stand))),
    )
    found = [zone_strengths(p, height_m=height_m, **air)[:, 0, :n] for p, n in places]
    return np.concatenate(found, axis=1)


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
        points: from `core.ground.place.receptors`.
        air_to_deg, half_width_deg, stability, carried_mps, sigma_rad: the air of
            each case at each source, floors applied. Shapes (case, source).
        height_m: of the source. [m]

    Returns: strengths of shape (case, source, zone); 0 where a zone has no points.
    Missing: NaN air gives NaN strengths.
    """
    shape = (points.n_sources, points.n_zones)
    if not len(points.group) or not len(air_to_deg):
        return np.zeros((len(air_to_deg), *shape))
    air = air_to_deg, half_width_deg, stability, carried_mps, sigma_rad
    if len(air_to_deg) == 1:
        return _strongest(points, height_m, *air).reshape(1, *shape)
    first, at = _distinct(np.stack([np.asarray(x, float) for x in air], axis=1))
    found = _strongest(points, height_m, *(x[first] for x in air))
    return found[at].reshape(-1, *shape)


def _distinct(cases: Floats) -> tuple[Ints, Ints]:
    """The first of each kind of equal cases, and which kind each is: of many hours the air is
    the same. Args: shape (case, ...)."""
    kinds: dict[bytes, int] = {}
    first: list[int] = []
    at: list[int] = []
    for i, case in enumerate(cases):
        kind = kinds.setdefault(case.tobytes(), len(first))
        if kind == len(first):
            first.append(i)
        at.append(kind)
    return np.array(first, np.int64), np.array(at, np.int64)


def _strongest(
    points: Receptors, height_m, air_to_deg, half_width_deg, stability, carried_mps, sigma_rad
) -> Floats:
    """The same for one zone of one source after another. (case, source x zone)"""
    n_case = len(air_to_deg)
    best = np.zeros((n_case, points.n_sources * points.n_zones))
    met = np.flatnonzero(np.bincount(np.ravel(stability)))
    row = np.searchsorted(met, stability)
    by_class = np.stack([_thinned(points, air_class, height_m) for air_class in met.tolist()])
    narrower = points.kept("narrowing", lambda: narrowing(points.distance_m))
    starts, groups = points.starts, points.group[points.starts]
    source = points.source() if points.n_sources > 1 else np.zeros(1, np.int64)
    at = np.arange(len(points.group))
    step = max(1, CHUNK // len(at))
    for i in range(0, n_case, step):
        case = slice(i, i + step)
        offset = offset_rad(
            air_to_deg[case][:, source], points.bearing_deg, half_width_deg[case][:, source]
        )
        near = wrapped_normal_per_rad(offset, sigma_rad[case][:, source] * narrower)
        thin = by_class if len(met) == 1 else by_class[row[case][:, source], at]
        c = thin * near / carried_mps[case][:, source]
        best[case, groups] = np.maximum.reduceat(c, starts, axis=1)
    return best


def _thinned(points: Receptors, air_class: int, height_m: float) -> Floats:
    """How thin air of a class is at each point, but for its spread and speed. (point,)"""

    def made() -> Floats:
        return thinning_per_m(air_class, points.distance_m, height_m) / points.distance_m

    return points.kept((air_class, height_m), made)
