"""The hunter's air at one stand, row by row: wind in the cover, slope wind, spread and doubt."""

import dataclasses
import functools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from core.air import felt, slopes
from core.air.shelter import LOWEST_M, wind_at_hunter_mps
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.air.wander import hour_half_width_deg
from core.ground.layout import Stand
from core.sit.rows import JudgedRows, Rows
from core.units import M_PER_FT

if TYPE_CHECKING:
    from core.sit.land.stand_land import StandLand

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class StandAir:
    """The hunter's air in some rows. Shapes (row,).

    `row` is the hour that each is, or is part of.
    """

    row: Ints
    wind_from_deg: Floats
    half_width_deg: Floats  # of the report
    stability: Ints
    air_to_deg: Floats
    carried_mps: Floats  # before the floor
    slope_mps: Floats  # its part that is slope wind, uphill positive; 0 where it swings
    effective_mps: Floats
    strays: Any  # whether the wander of an hour is part of `doubt_deg`
    height_m: float
    cover: str
    # the wind before hills change it, east + i north [m/s], and which of
    # `core.land.linear_wind.ALPHAS` its air has; None where no way is led over heights
    open_wind: Any = None
    stiffness_at: Any = None

    def take(self, at, **instead: Any) -> "StandAir":
        """The air of some of the rows. Args: their places; values of theirs that are others."""
        names = [name for name in self.of_rows() if name not in instead]
        return self._with({name: getattr(self, name)[at] for name in names} | instead)

    def of_rows(self) -> tuple[str, ...]:
        """The names of what has a value for each row."""
        return OF_ROWS if self.open_wind is None else (*OF_ROWS, *OF_HEIGHTS)

    def _with(self, values: dict[str, Any]) -> "StandAir":
        return StandAir(height_m=self.height_m, cover=self.cover, **values)

    # kept tables have both in them: they are worked out where they are asked for

    @functools.cached_property
    def doubt_deg(self) -> Floats:
        """How far the air may be off: the report's half-width and the wander of the hour."""
        half = self.half_width_deg
        if not np.any(self.strays):
            return half
        wider = hour_half_width_deg(half, self.stability, self.effective_mps)
        return np.where(self.strays, wider, half)

    @functools.cached_property
    def sigma_rad(self) -> Floats:
        """The spread of the air's direction, at 100 m."""
        return spread_rad(self.stability, self.effective_mps, COVER_SPREAD_DEG[self.cover])


OF_HEIGHTS = ("open_wind", "stiffness_at")
OF_ROWS = tuple(
    f.name for f in dataclasses.fields(StandAir) if f.name not in ("height_m", "cover", *OF_HEIGHTS)
)


def end_to_end_air(airs: Sequence[StandAir]) -> StandAir:
    """Several airs of one stand as one. Args: at least one."""
    each = [(n, [getattr(a, n) for a in airs]) for n in airs[0].of_rows()]
    return airs[0]._with({name: np.concatenate(values) for name, values in each})


def stand_air(
    judged: JudgedRows,
    stand: Stand,
    slope_mps,
    own_land: "StandLand | None" = None,
    *,
    is_led: bool = True,
) -> StandAir:
    """The air at a stand in each row.

    Args: the rows; the stand; its slope wind, uphill positive [m/s], or 0, shape (row,); the
    land about it, None without heights; whether its ways are led over that land.
    """
    rows = judged.hours
    height_m = stand.height_ft * M_PER_FT
    wind = wind_at_hunter_mps(rows.speed_mps, height_m, rows.stability, stand.cover)
    toward = felt.toward(stand.turns, rows.toward, rows.weather.wind_from_deg)
    open_wind = stiffness_at = None
    if own_land is not None:
        if is_led:
            open_wind = wind * (toward[0] + 1j * toward[1])
            stiffness_at = own_land.stiffness_at(rows.stability, rows.speed_mps)
        wind, toward = own_land.over_hills(wind, toward, rows.stability, rows.speed_mps)
    air_to, carried = slopes.carried(
        wind_mps=wind,
        toward=toward,
        slope_mps=slope_mps,
        downhill_deg=stand.downhill_deg or 0.0,
    )
    effective = slopes.effective_speed_mps(rows.speed_mps, carried, wind)
    return StandAir(
        row=judged.at,
        wind_from_deg=rows.weather.wind_from_deg,
        half_width_deg=rows.weather.half_width_deg,
        stability=rows.stability,
        air_to_deg=air_to,
        carried_mps=carried,
        slope_mps=np.broadcast_to(np.asarray(slope_mps, float), carried.shape),
        effective_mps=effective,
        strays=np.ones(len(judged.at), bool),
        height_m=height_m,
        cover=stand.cover,
        open_wind=open_wind,
        stiffness_at=stiffness_at,
    )


def air_on_foot(hours: Rows, hour, cover: str) -> tuple[dict[str, Any], bytes]:
    """The air of somebody who walks, and what tells it from other airs.

    Args: the hours; which of them each minute lies in, (sit, minute); the cover of the way.
    Returns: as `core.sit.strength.zone_strengths` takes it.
    """
    speed, stability = hours.speed_mps[hour], hours.stability[hour]
    half_width_deg = hours.weather.half_width_deg[hour]
    carried = wind_at_hunter_mps(speed, LOWEST_M, stability, cover)
    steady = np.maximum(speed, slopes.LEAST_EFFECTIVE_MPS)
    air = {
        "air_to_deg": np.mod(hours.weather.wind_from_deg[hour] + 180.0, 360.0),
        "half_width_deg": hour_half_width_deg(half_width_deg, stability, steady),
        "stability": stability,
        "carried_mps": np.maximum(carried, slopes.LEAST_CARRY_MPS),
        "sigma_rad": spread_rad(stability, steady, COVER_SPREAD_DEG[cover]),
    }
    return air, b"".join(values.tobytes() for values in air.values())
