"""How a forecast of the wind misses: winds that may come instead, drawn from one law.

The wind that comes is drawn along and across the wind that was forecast. Errors grow with
speed and lead, hang together from hour to hour, and have heavier tails than a normal's:
each draw of a sit is a good day or a bad day as a whole. The normals come from one fixed
table, the same for every stand and every run: an answer never flickers, and what differs
between two stands is not noise.

Limits: fitted on three winter days of one model in northern Europe. It proves the method,
not the numbers for another autumn.
"""

import functools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.units import SECONDS_PER_HOUR

Floats = npt.NDArray[np.float64]

DRAWS = 400
MOST_DRAWS = 408  # around the runs of a model: so many for each of 51
SEED = 20190217
MOST_HOURS = 64  # of one sit with its walks, in the fixed table
FARTHEST_LEAD_H = 48.0  # beyond it nothing is known of the errors

# fitted on forecasts and reports of half of northern Europe's squares: [harp2019]
CROSS_MPS, CROSS_SHARE, CROSS_GROWTH = 0.676, 0.175, 0.175
ALONG_MPS, ALONG_SHARE, ALONG_GROWTH = 0.862, 0.217, 0.160
# the mean of what two models are off by, each counted once: one blew as told, the other too hard
BIAS_MPS, BIAS_SHARE = -0.15, -0.047
QUICK_PART, QUICK_H, SLOW_H = 0.32, 1.27, 11.5
TAIL_FREEDOM = 4  # of Student's t


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations of the error of one hour, along and across the forecast. [m/s]"""

    along_mps: Floats
    cross_mps: Floats


def spread_of(speed_mps, lead_h, q: float = 1.0) -> Spread:
    """How far the wind may be from its forecast, elementwise.

    Args: the forecast's speed at 10 m [m/s]; hours from the forecast to the hour, held to
    0 to 48; how good the forecasts are here against those that were fitted, 1 for the same.
    Missing: NaN in gives NaN out. Source: [harp2019], fitted; common practice for q.
    """
    days = np.clip(np.asarray(lead_h, float), 0.0, FARTHEST_LEAD_H) / 24.0
    speed = np.asarray(speed_mps, float)
    cross = q * np.hypot(CROSS_MPS, CROSS_SHARE * speed) * np.sqrt(1.0 + CROSS_GROWTH * days)
    along = q * np.hypot(ALONG_MPS, ALONG_SHARE * speed) * np.sqrt(1.0 + ALONG_GROWTH * days)
    return Spread(along, cross)


@functools.cache
def _normals() -> tuple[Floats, Floats]:
    """The fixed table: (draw, hour, along or cross, quick or slow), and tails (draw, 4)."""
    steps, squares = [], []
    for lot, n in (
        (np.random.default_rng(SEED), DRAWS),
        (np.random.default_rng((SEED, 1)), MOST_DRAWS - DRAWS),
    ):
        steps.append(lot.standard_normal((n, MOST_HOURS, 2, 2)))
        squares.append(lot.standard_normal((n, TAIL_FREEDOM)))
    return np.concatenate(steps), np.concatenate(squares)


def tails(n: int = DRAWS) -> Floats:
    """How bad a day each draw is: the factor that makes normals Student's t; shape (draw,)."""
    _, squares = _normals()
    return np.sqrt(TAIL_FREEDOM / (squares[:n] ** 2).sum(axis=1))


def wander(start_s, n: int = DRAWS) -> Floats:
    """Errors that hang together in time, of unit variance.

    Args: starts of the hours of a sit, in order, shape (hour,) [epoch s]; how many draws.
    Returns: shape (draw, hour, 2), along and cross. Two parts that forget, one within an
    hour or so and one within half a day: [harp2019].
    """
    start_s = np.asarray(start_s, float)
    steps = _normals()[0][:n]
    gap_h = np.diff(start_s, prepend=start_s[:1]) / SECONDS_PER_HOUR
    parts = np.empty((n, len(start_s), 2, 2))
    for i in range(len(start_s)):
        fresh = steps[:, i % MOST_HOURS]
        if i == 0:
            parts[:, i] = fresh
            continue
        keeps = np.exp(-gap_h[i] / np.array([QUICK_H, SLOW_H]))
        parts[:, i] = keeps * parts[:, i - 1] + np.sqrt(1.0 - keeps**2) * fresh
    return np.sqrt(QUICK_PART) * parts[..., 0] + np.sqrt(1.0 - QUICK_PART) * parts[..., 1]


@dataclass(frozen=True, slots=True)
class DrawnWinds:
    """Winds that may come; shapes (draw, hour). Where the wind from is NaN it is calm."""

    speed_mps: Floats
    wind_from_deg: Floats


def drawn_winds(
    start_s, speed_mps, wind_from_deg, lead_h, q: float = 1.0, n: int = DRAWS
) -> DrawnWinds:
    """The wind of each hour of one sit, drawn many times.

    Args: starts of the hours [epoch s]; the forecast's speeds at 10 m [m/s] and directions
    from [deg], one for all draws or one for each, shape (hour,) or (draw, hour); lead hours,
    (hour,); how good forecasts are here; how many draws.
    Missing: an hour without a speed gives NaN; a calm hour (speed 0, no direction) is drawn
    about none, from any direction. Source: [harp2019].
    """
    speed = np.asarray(speed_mps, float)
    calm = speed <= 0.0
    toward = np.radians(np.where(calm, 0.0, np.asarray(wind_from_deg, float)))
    spread = spread_of(np.where(calm, 0.0, speed), lead_h, q)
    errors = wander(start_s, n) * tails(n)[:, None, None]
    mean = np.where(calm, 0.0, speed + BIAS_MPS + BIAS_SHARE * speed)
    along = mean + spread.along_mps * errors[..., 0]
    cross = spread.cross_mps * errors[..., 1]
    came = np.hypot(along, cross)
    came_from = np.degrees(toward + np.arctan2(cross, along)) % 360.0
    return DrawnWinds(came, np.where(came > 0.0, came_from, np.nan))
