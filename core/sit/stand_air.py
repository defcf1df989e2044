"""The hunter's air at one stand, row by row: wind in the cover, slope wind, spread and doubt."""

import dataclasses
import functools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.air import felt, slopes
from core.air.shelter import wind_at_hunter_mps
from core.air.spread import COVER_SPREAD_DEG, spread_rad
from core.air.wander import hour_half_width_deg
from core.ground.layout import Stand
from core.sit.rows import JudgedRows
from core.units import M_PER_FT

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

    def take(self, at) -> "StandAir":
        """The air of some of the rows. Args: their places."""
        picked: dict[str, Any] = {name: getattr(self, name)[at] for name in OF_ROWS}
        return StandAir(height_m=self.height_m, cover=self.cover, **picked)

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


OF_ROWS = tuple(f.name for f in dataclasses.fields(StandAir) if f.name not in ("height_m", "cover"))


def end_to_end_air(airs: Sequence[StandAir]) -> StandAir:
    """Several airs of one stand as one. Args: at least one."""
    joined: dict[str, Any] = {n: np.concatenate([getattr(a, n) for a in airs]) for n in OF_ROWS}
    return StandAir(height_m=airs[0].height_m, cover=airs[0].cover, **joined)


def stand_air(judged: JudgedRows, stand: Stand, slope_mps, over_hills=None) -> StandAir:
    """The air at a stand in each row.

    Args: the rows; the stand; its slope wind, uphill positive [m/s], or 0, shape (row,); how
    hills change its wind, see `core.sit.land.stand_land`, None for not at all.
    """
    rows = judged.hours
    height_m = stand.height_ft * M_PER_FT
    wind = wind_at_hunter_mps(rows.speed_mps, height_m, rows.stability, stand.cover)
    toward = felt.toward(stand.turns, rows.toward, rows.weather.wind_from_deg)
    if over_hills is not None:
        wind, toward = over_hills(wind, toward, rows.stability, rows.speed_mps)
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
    )
