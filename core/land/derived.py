"""What is worked out once from the heights of a ground, and kept while they are the same."""

import functools
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt
import shapely

from core.ground.heights.slope_at import COARSE_M
from core.ground.layout import LonLat, Property
from core.ground.plan import Plane
from core.land.air_ways import Drive
from core.land.contours import Contour, contours
from core.land.kept import GROUND, KeptLand, cell_m
from core.land.kept_derived import kept_arrays
from core.land.linear_wind import WindChange, wind_change
from core.land.pools import cells_shape, outlines_m, pools, rank, saddles
from core.land.relief import SMOOTHED_M, Floats, Relief, drained, relief_of, smoothed
from core.land.still_way import Slopes, StillWay, slopes_of, still_way

MIDDLE = SMOOTHED_M.index(30.0)
LEE_OVER_M = 15.0  # heights are smoothed so far for the shape of a fall
COARSE_SMOOTHED_M = (60.0, 60.0, 120.0)  # of cells over 20 m; ours


@dataclass(frozen=True, eq=False)
class Land:
    """A ground's heights on its own plane, and what follows from them alone.

    `slopes`: of heights without small pits, at three smoothings; `pool`: number of the pool of
    each cell, 0 for none; `ranks`: which share of the cells about each lies lower.
    """

    plane: Plane
    relief: Relief
    slopes: tuple[Slopes, ...]
    pool: npt.NDArray[np.int64]
    ranks: Floats
    _wind_changes: dict[float, WindChange] = field(default_factory=dict)
    _drives: dict[tuple[float, ...], Drive] = field(default_factory=dict)

    @functools.cached_property
    def for_falls(self) -> Relief:
        """Heights smoothed as far as the shape of a steep fall allows."""
        return smoothed(self.relief, LEE_OVER_M)

    @functools.cached_property
    def passes(self) -> npt.NDArray[np.bool_]:
        """Which cells are saddles."""
        return saddles(self.slopes[MIDDLE].relief)

    @functools.cached_property
    def is_whole(self) -> bool:
        """Whether no height is missing: else nothing is said of the wind."""
        return bool(np.isfinite(self.relief.height_m).all())

    def wind_change(self, alpha: float) -> WindChange:
        """How the land changes wind, made when first asked. Args: one of `ALPHAS`."""
        if alpha not in self._wind_changes:
            self._wind_changes[alpha] = wind_change(self.relief, alpha=alpha)
        return self._wind_changes[alpha]

    def drive(self, alphas: tuple[float, ...] = ()) -> tuple[Drive, npt.NDArray[np.int64]]:
        """What drives air, for ways of many hours; and which of its changes each alpha has.

        Args: some of `ALPHAS`; none without hills. One is kept, of all that were asked for.
        """
        known = max(self._drives, key=len, default=())
        wanted = tuple(sorted({*known, *alphas})) if alphas else ()
        if wanted not in self._drives:
            if known and alphas:
                del self._drives[known]
            changes = [self.wind_change(alpha) for alpha in wanted]
            self._drives[wanted] = Drive.of(self.slopes[MIDDLE], changes)
        return self._drives[wanted], np.searchsorted(wanted, alphas)

    def ways_down(self, at: LonLat) -> tuple[StillWay, ...]:
        """The way that still night air takes from a place, at each of three smoothings."""
        start = self.plane.points([at])[0]
        return tuple(still_way(s, start, pool=self.pool > 0) for s in self.slopes)

    @functools.cached_property
    def pool_shapes(self) -> tuple[shapely.Geometry, ...]:
        """The cells of each pool as one shape, by its number less one. [m]"""
        return tuple(
            cells_shape(self.relief, self.pool == n) for n in range(1, self.pool.max() + 1)
        )

    def pool_outlines_m(self) -> list[Floats]:
        """Outlines of the pools, shapes (point, 2). [m]"""
        return outlines_m(self.relief, self.pool)

    def ways_up(self, at: LonLat) -> tuple[StillWay, ...]:
        """The way that air takes up a sunlit slope, at each of three smoothings."""
        start = self.plane.points([at])[0]
        return tuple(still_way(s, start, up=True) for s in self.slopes)


def follows_the_ground(kept: KeptLand, ground: Property) -> bool:
    """Whether air may be led over these heights: a grid of treetops only where all is open."""
    is_open = all(stand.cover == "open" for stand in ground.stands)
    return kept.use and (kept.surface == GROUND or is_open)


def is_coarse(kept: KeptLand) -> bool:
    """Whether heights are too coarse for humps that finer ones would show. Args: they."""
    return cell_m(kept.grid) > COARSE_M


def land_on(kept: KeptLand, ground: Property) -> Land:
    """What follows from a ground's heights; made once for the same heights and centre.

    Args: kept heights; the property. Raises: BadElevation for a grid too wide.
    """
    return _derived(_Same(kept, ground.center), kept.sha256, ground.center)


def contours_on(kept: KeptLand, center: LonLat) -> tuple[Contour, ...]:
    """The contours of kept heights on the plane of a centre. Args: both."""
    return _contours(_Same(kept, center), kept.sha256, center)


@functools.lru_cache(maxsize=4)
def _contours(same: "_Same", _sha256: str, center: LonLat) -> tuple[Contour, ...]:
    return contours(relief_of(same.kept.grid, Plane(center)))


class _Same:
    """Carries the heights past the cache's key: the hash stands for them."""

    def __init__(self, kept: KeptLand, center: LonLat) -> None:
        self.kept, self.key = kept, (kept.sha256, center)

    def __hash__(self) -> int:
        return hash(self.key)

    def __eq__(self, other) -> bool:
        return isinstance(other, _Same) and self.key == other.key


@functools.lru_cache(maxsize=4)
def _derived(same: _Same, _sha256: str, center: LonLat) -> Land:
    plane = Plane(center)
    relief = relief_of(same.kept.grid, plane)
    over = COARSE_SMOOTHED_M if is_coarse(same.kept) else SMOOTHED_M

    def made() -> dict[str, npt.NDArray]:
        ground = smoothed(relief, over[MIDDLE])
        ranks = rank(ground)
        return {
            "drained": drained(relief).height_m,
            "ranks": ranks,
            "pool": pools(ground, ranks)[0],
        }

    kept = kept_arrays(same.kept, center, made)
    full = replace(relief, height_m=kept["drained"])
    slopes = tuple(slopes_of(smoothed(full, over_m)) for over_m in over)
    return Land(plane, relief, slopes, kept["pool"], kept["ranks"])
