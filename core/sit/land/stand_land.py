"""What the heights of a ground do to the air of one stand: its sun, its lee, its ways.

Only a ground with heights comes here; what they need is loaded then.
"""

import functools
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import shapely

from core.air.slopes import FULL_GRADE_PCT
from core.ground.layout import LonLat, Stand
from core.land.agreed import agrees, shown_slope
from core.land.air_ways import air_ways
from core.land.derived import MIDDLE, Land, follows_the_ground, land_on
from core.land.lee import LEE_DEG, WINDS, LeeSlope, lee_slope, rolls_back
from core.land.linear_wind import (
    ALPHAS,
    BUOYANCY_PER_S,
    LEAST_RELIEF_M,
    changed_wind,
    hill_height_m,
    stiffness,
)
from core.land.shade import Shade, shade_at
from core.land.still_way import POOL, StillWay
from core.sit.scene import Scene
from core.sit.stand_air import StandAir

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]
KEPT_STANDS = 500


@dataclass(frozen=True, eq=False)
class StandLand:
    """A stand on its land: its place; its slope, the way down [deg] and grade [%], where its
    slope air is led over the heights, else None; and how steep a fall wind parts from [deg].
    """

    land: Land
    at: LonLat
    slope: tuple[float, float] | None
    lee_deg: float = LEE_DEG
    _changes: dict[float, Floats] = field(default_factory=dict)
    _ahead: dict[tuple, Floats] = field(default_factory=dict)  # see `walk_ahead`

    @property
    def bends(self) -> bool:
        """Whether its slope air is led over the heights."""
        return self.slope is not None

    @functools.cached_property
    def at_m(self) -> Floats:
        """Its place on the ground's plane. [m]"""
        return self.land.plane.points([self.at])[0]

    @functools.cached_property
    def shade(self) -> Shade | None:
        """The slopes and the land about the stand; None where its slope is another."""
        return shade_at(self.land, self.at) if self.bends else None

    @functools.cached_property
    def _falls(self) -> LeeSlope:
        """What stands upwind, by direction of wind."""
        return lee_slope(self.land.for_falls, *self.at_m)

    @functools.cached_property
    def _hill_m(self) -> float:
        return hill_height_m(self.land.relief, *self.at_m)

    @functools.cached_property
    def is_on_hills(self) -> bool:
        """Whether hills about it change its wind."""
        inside = np.isfinite(self.land.relief.at(*self.at_m))
        return bool(inside and self._hill_m >= LEAST_RELIEF_M and self.land.is_whole)

    def _change(self, alpha: float) -> Floats:
        """How the land changes the wind here, (2, 2). Args: one of `ALPHAS`."""
        if alpha not in self._changes:  # looked up once: every answer asks again
            (east, north), c = self.at_m, self.land.wind_change(alpha)
            each = [self.land.relief.at(east, north, cells) for cells in (c.xx, c.xy, c.xy, c.yy)]
            self._changes[alpha] = np.array(each).reshape(2, 2)
        return self._changes[alpha]

    def over_hills(self, wind_mps, toward, stability, speed_10m_mps):
        """Wind at the stand as low hills change it. Elementwise; as it was where they do not.

        Args: the wind [m/s]; east and north of where it goes, as `core.air.slopes.toward`;
        class; wind at 10 m [m/s]. Returns: the wind; where it goes.
        """
        if not self.is_on_hills:
            return wind_mps, toward
        at = self.stiffness_at(stability, speed_10m_mps)
        change = np.zeros((len(at), 2, 2))
        for k in np.unique(at):
            change[at == k] = self._change(float(ALPHAS[k]))
        return changed_wind(change, wind_mps, toward)

    def stiffness_at(self, stability, speed_10m_mps) -> Ints:
        """Which of `ALPHAS` the air of some hours has. Args: class; wind at 10 m [m/s]."""
        if not self.is_on_hills:
            return np.zeros(len(stability), np.int64)
        alpha = stiffness(speed_10m_mps, self._hill_m, BUOYANCY_PER_S[stability])
        return np.abs(alpha[:, None] - ALPHAS).argmin(axis=1)

    @property
    def rolls_back(self) -> Bools:
        """Whether wind from each whole degree may roll back here. Shape (360,)."""
        nearest = np.round(np.arange(360) / (WINDS[1] - WINDS[0])).astype(int)
        return self._falls.parted(self.lee_deg)[nearest % len(WINDS)]

    def in_lee(
        self, wind_from_deg, half_width_deg, stability, speed_mps, lee_deg: float | None = None
    ) -> Bools:
        """Whether wind may roll back at the stand. Elementwise.

        Args: where it is from and how far the report may be off [deg]; class; speed [m/s];
        how steep a fall wind parts from [deg], None for the ground's own.
        """
        parted = self._falls.parted(self.lee_deg if lee_deg is None else lee_deg)
        if not parted.any():
            return np.zeros(np.shape(wind_from_deg), bool)
        off = np.abs(np.mod(np.asarray(wind_from_deg)[..., None] - WINDS + 180.0, 360.0) - 180.0)
        reach = np.asarray(half_width_deg)[..., None] + (WINDS[1] - WINDS[0]) / 2.0
        behind = ((off <= reach) & parted).any(axis=-1)
        return rolls_back(behind, stability, speed_mps)

    def mixed_rows(self, air: StandAir) -> Ints:
        """Rows in which slope air and wind go together over the land. Args: the stand's air."""
        return np.flatnonzero(air.slope_mps != 0.0) if self.bends else np.zeros(0, np.int64)

    def mixed_ways(self, air: StandAir) -> Floats:
        """The ways of such rows: points [m], shape (row, point, 2). Args: their air."""
        known = []
        for row in _of_rows(air):
            if (way := self._ahead.get(row)) is None:
                return _walked([(self, air)], self.is_on_hills)[0]
            known.append(way)
        return np.stack(known)

    def keep_ways(self, air: StandAir, ways: Floats) -> None:
        """Keeps ways for when they are asked for, instead of those before. Args: as above."""
        self._ahead.clear()
        self._ahead.update(zip(_of_rows(air), ways, strict=True))

    @functools.cached_property
    def still_ways(self) -> tuple[tuple[StillWay, ...], tuple[StillWay, ...]]:
        """Ways of still air down and up, at each smoothing."""
        return self.land.ways_down(self.at), self.land.ways_up(self.at)

    @property
    def way_down(self) -> StillWay:
        """The way of still air down that is told."""
        return self.still_ways[0][MIDDLE]

    def pooled(self, way: StillWay, polygons: Sequence[shapely.Polygon]) -> Bools:
        """Which areas touch the low ground in which a way ends. Args: the way; the areas."""
        if way.ends != POOL:
            return np.zeros(len(polygons), bool)
        which = self.land.pool[self.land.relief.cell_of(*way.points_m[-1])]
        shape = self.land.pool_shapes[which - 1]
        return shapely.intersects(np.asarray(polygons, object), shape)


def walk_ahead(seats: Sequence[tuple[StandLand, StandAir]]) -> None:
    """Walks ways of several stands together, which takes little longer than those of one.

    Args: stands on one land, each with its air in some rows, as `StandLand.mixed_rows` has them.
    """
    for is_on_hills in (False, True):
        some = [x for x in seats if x[0].is_on_hills == is_on_hills and len(x[1].row)]
        for (own_land, air), ways in zip(some, _walked(some, is_on_hills), strict=True):
            own_land.keep_ways(air, ways)


def _of_rows(air: StandAir):
    """What the way of each row hangs on, beside its stand."""
    each = air.open_wind, air.slope_mps, air.stiffness_at
    return zip(*(values.tolist() for values in each), strict=True)


def _walked(seats: Sequence[tuple[StandLand, StandAir]], is_on_hills: bool) -> list[Floats]:
    """The ways of the rows of each stand. Args: stands of one land; whether hills change their
    wind."""
    if not seats:
        return []
    land, airs = seats[0][0].land, [air for _, air in seats]
    change_at, alphas = None, ()
    if is_on_hills:
        used, at = np.unique(
            np.concatenate([air.stiffness_at for air in airs]), return_inverse=True
        )
        alphas = tuple(ALPHAS[used].tolist())
    drive, which = land.drive(alphas)
    if is_on_hills:
        change_at = which[at]
    shares = [min(1.0, (own.slope or (0.0, 0.0))[1] / FULL_GRADE_PCT) for own, _ in seats]
    sizes = [len(air.row) for air in airs]
    ways = air_ways(
        drive,
        np.repeat([own.at_m for own, _ in seats], sizes, axis=0),
        wind_mps=np.concatenate([air.open_wind for air in airs]),
        full_slope_mps=np.concatenate(
            [air.slope_mps / share for air, share in zip(airs, shares, strict=True)]
        ),
        change_at=change_at,
    )
    return np.split(ways, np.cumsum(sizes)[:-1])


def land_of_stand(scene: Scene, stand: Stand) -> StandLand | None:
    """A stand on the land of its ground; None without heights that air may be led over.

    Args: the scene; the stand.
    """
    if scene.heights is None or not follows_the_ground(scene.heights, scene.ground):
        return None
    return scene.kept(("land of", stand.id), lambda: _land_of_stand(scene, stand))


def _land_of_stand(scene: Scene, stand: Stand) -> StandLand:
    heights = scene.heights
    assert heights is not None  # the caller has looked
    bends = agrees(shown_slope(heights, stand), stand)
    slope = (stand.downhill_deg or 0.0, stand.grade_pct or 0.0) if bends else None
    land, lee_deg = land_on(heights, scene.ground), scene.ground.air.lee_deg
    return _on_land(land, stand.at, slope, lee_deg)


@functools.lru_cache(maxsize=KEPT_STANDS)
def _on_land(
    land: Land, at: LonLat, slope: tuple[float, float] | None, lee_deg: float
) -> StandLand:
    """Made once for a place on a land: a season's winter jobs try the same stands again."""
    return StandLand(land, at, slope, lee_deg)
