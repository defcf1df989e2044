"""Wind over low hills: the least change of the wind that lets no air pile up.

On low hills this is flow without curl over the shape of the ground, which has a closed form
for every wave of it. One transform gives the change for all directions of wind.
"""

from dataclasses import dataclass

import numpy as np
from scipy import fft

from core.land.relief import Floats, Relief

ROUGHNESS_M = 0.1  # common practice, no source
TEN_M = 10.0
RIM_M = 300.0
PADDING = 150  # cells of level ground about the grid
LEAST_RELIEF_M = 20.0
LEAST_ALPHA = 0.25
ALPHAS = np.array([1.0, 0.75, 0.5, LEAST_ALPHA])  # those that are worked out
LONGEST_HALF_M = 500.0
# how strongly layers of air hold each other, by class: A to C none [1/s]; from memory
BUOYANCY_PER_S = np.array([0.0, 0.0, 0.0, 0.0, 0.026, 0.034])


@dataclass(frozen=True, eq=False)
class WindChange:
    """How a steady wind changes over the land: u' = M U; the cells' shape each."""

    xx: Floats
    xy: Floats
    yy: Floats

    def along(self, wind_from_deg: float) -> Floats:
        """Share by which the wind along itself is faster; of the cells' shape.

        Where it is slower, 1 / (1 + slowing) - 1 keeps it above nothing; ours.
        """
        to = np.radians(wind_from_deg + 180.0)
        x, y = np.sin(to), np.cos(to)
        share = x * x * self.xx + 2.0 * x * y * self.xy + y * y * self.yy
        return along_itself(share) - 1.0


def stiffness(speed_10m_mps, hill_m: float, buoyancy_per_s) -> Floats:
    """How much less air goes over a hill, rather than round it: alpha, 0.25 to 1. Elementwise.

    Args: wind at 10 m [m/s]; height of the hills [m]; the air's buoyancy frequency [1/s].
    Returns: square root of exp(-1.5 Str^1.5), Str = N H / U.
    Source: [chan1997].
    """
    speed = np.maximum(speed_10m_mps, 1e-6)
    strouhal = np.minimum(np.asarray(buoyancy_per_s) * hill_m / speed, 100.0)
    return np.maximum(LEAST_ALPHA, np.sqrt(np.exp(-1.5 * strouhal**1.5)))


def changed_wind(change: Floats, wind_mps, toward):
    """A wind as a place's land changes it. Elementwise.

    Args: M at the place, shape (..., 2, 2); the wind [m/s]; east and north of where it goes.
    Returns: the wind [m/s]; east and north of where it goes then. Where the land slows it,
    1 / (1 + slowing) keeps it above nothing; ours. Missing: NaN stays NaN.
    Source: u' = M U, see `wind_change`.
    """
    x, y = toward
    east = change[..., 0, 0] * x + change[..., 0, 1] * y
    north = change[..., 1, 0] * x + change[..., 1, 1] * y
    along, across = east * x + north * y, north * x - east * y
    faster = along_itself(along)
    times = np.hypot(faster, across)
    new = (faster * x - across * y) / times, (faster * y + across * x) / times
    return wind_mps * times, new


def along_itself(gained):
    """How many times as fast wind is along itself, by the share it gains; above nothing. Ours."""
    times = 1.0 + np.abs(gained)
    return np.where(gained < 0, 1.0 / times, times)


def wind_change(
    relief: Relief,
    *,
    height_m: float = TEN_M,
    alpha: float = 1.0,
    roughness_m: float | None = ROUGHNESS_M,
    rim_m: float = RIM_M,
) -> WindChange:
    """How the land changes wind at a height above it.

    Args:
        relief: heights; no holes.
        height_m: above the ground. [m]
        alpha: see `stiffness`.
        roughness_m: of the ground [m]; None leaves the middle layer out (no wind profile).
        rim_m: over which the heights fade to level ground at the edge. [m]

    Source: least-change wind [sherman1978] on low hills, which is potential flow
    [ross1988]; middle layer [hunt1988], which doubles it at a top [taylor1984].
    """
    ground = np.pad(_faded(relief, rim_m), PADDING)
    wave = fft.rfft2(ground)
    ky = 2.0 * np.pi * fft.fftfreq(ground.shape[0], relief.cell_m)[:, None]
    kx = 2.0 * np.pi * fft.rfftfreq(ground.shape[1], relief.cell_m)[None, :]
    k = np.hypot(kx, ky)
    with np.errstate(divide="ignore", invalid="ignore"):
        strength = np.where(k > 0, np.exp(-k * height_m / alpha) / (alpha * k), 0.0)
    if roughness_m is not None:
        strength = strength * _middle_layer(k, height_m, roughness_m)
    wave = wave * strength
    cut = (slice(PADDING, -PADDING),) * 2
    xx, xy, yy = (
        fft.irfft2(wave * part, ground.shape)[cut] for part in (kx * kx, kx * ky, ky * ky)
    )
    return WindChange(xx, xy, yy)


def _middle_layer(k: Floats, height_m: float, roughness_m: float) -> Floats:
    """How much more slow air near the ground is sped up than the air that drives it."""
    with np.errstate(divide="ignore"):
        half = np.clip(np.pi / (2.0 * k), 10.0 * roughness_m, LONGEST_HALF_M)
    layer = np.maximum(height_m, half / np.sqrt(np.log(half / roughness_m)))
    return (np.log(layer / roughness_m) / np.log(height_m / roughness_m)) ** 2


def _faded(relief: Relief, rim_m: float) -> Floats:
    """Heights over the plane of the rim, falling to nothing at the edge."""
    z = relief.height_m
    rows, columns = z.shape
    away = np.minimum(_to_edge(rows)[:, None], _to_edge(columns)[None, :]) * relief.cell_m
    rim = away < max(rim_m, relief.cell_m)
    i, j = np.nonzero(rim)
    plane, *_ = np.linalg.lstsq(np.stack([np.ones(len(i)), i, j], 1), z[i, j], rcond=None)
    across = plane[0] + plane[1] * np.arange(rows)[:, None] + plane[2] * np.arange(columns)
    taper = 0.5 - 0.5 * np.cos(np.pi * np.clip(away / max(rim_m, 1e-9), 0.0, 1.0))
    return (z - across) * taper


def _to_edge(n: int) -> Floats:
    at = np.arange(n, dtype=float)
    return np.minimum(at, n - 1 - at)


def hill_height_m(relief: Relief, east_m: float, north_m: float, within_m: float = 1000.0) -> float:
    """How high the hills about a place are: the 90th less the 10th percentile. [m]

    Args: the relief; `east_m` and `north_m` of the place; how far about, `within_m`.
    Missing: 0 where no height is known. Source: the percentiles are ours, an assumption.
    """
    rows, columns = relief.height_m.shape
    y = relief.south_m + np.arange(rows)[:, None] * relief.cell_m - north_m
    x = relief.west_m + np.arange(columns) * relief.cell_m - east_m
    near = relief.height_m[(np.hypot(x, y) <= within_m) & np.isfinite(relief.height_m)]
    if not near.size:
        return 0.0
    low, high = np.percentile(near, [10.0, 90.0])
    return float(high - low)
