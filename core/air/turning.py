"""When the slope wind turns, by the minute: between sliding down and climbing.

The share of downward wind is known to the instant and the light on the slope at start,
middle and end of each hour, so each whole minute has its own slope wind. A turn is told as
a span of minutes on either side of it: nobody knows it closer.
"""

import numpy as np
import numpy.typing as npt

from core.air.slopes import slope_speed_mps
from core.sky.daylight import cloud_factor
from core.units import SECONDS_PER_MINUTE

Ints = npt.NDArray[np.int64]
NOTHING_MPS = 1e-9  # a slope wind under this has no sign


def light_within(share, light_wm2):
    """Light at a share of an hour, linear between its start, middle and end. [W/m2]

    Args (elementwise): share of the hour that is over, 0 to 1; light at start, middle and
    end, shape (3, ...), the rest as the share. Missing: NaN in gives NaN out.
    Source: plain interpolation; common practice.
    """
    twice = 2.0 * np.asarray(share, float)
    start, middle, end = light_wm2
    return np.where(
        twice < 1.0, start + (middle - start) * twice, middle + (end - middle) * (twice - 1.0)
    )


def minute_slope_mps(*, downward, share, light_wm2, cloud_frac, grade_pct: float, full_mps: float):
    """The slope wind at instants, before the general wind fades it; uphill positive. [m/s]

    Args (elementwise):
        downward: d at the instants, see `core.air.slopes.downward_share`.
        share: how much of its hour is over at each, 0 to 1.
        light_wm2: on the slope under a clear sky, at start, middle and end of the hour of
            each instant. Shape (3, ...). [W/m2]
        cloud_frac: cloud cover of that hour; NaN counts as half.
        grade_pct, full_mps: the slope [%] and the strength of a full slope wind [m/s].

    Source: `slope_speed_mps`; settings of the owner.
    """
    return slope_speed_mps(
        downward=downward,
        irradiance_wm2=light_within(share, light_wm2) * cloud_factor(cloud_frac),
        cloud_frac=cloud_frac,
        grade_pct=grade_pct,
        full_mps=full_mps,
    )


def turns(sign):
    """Which minutes turn: the sign is another than the last before that was not 0.

    Args: sign of the slope wind by the minute, -1, 0 or 1, shape (..., minute).
    Returns: truth of the same shape.
    """
    sign = np.asarray(sign)
    at = np.where(sign != 0, np.arange(sign.shape[-1], dtype=np.int32), np.int32(-1))
    last = np.full(at.shape, -1, np.int32)
    last[..., 1:] = np.maximum.accumulate(at, axis=-1)[..., :-1]
    before = np.take_along_axis(sign, np.maximum(last, 0), axis=-1)
    return (last >= 0) & (sign != 0) & (before != sign)


def sign_of(slope_mps):
    """Whether slope wind climbs, 1, slides, -1, or neither, 0. Elementwise; NaN is 0."""
    slope_mps = np.asarray(slope_mps, float)
    return (slope_mps > NOTHING_MPS).astype(np.int8) - (slope_mps < -NOTHING_MPS)


def turning_spans(day, turn_s, turn_min: float) -> tuple[Ints, Ints, Ints]:
    """The spans of turning air of many days: from before a turn until after it.

    Args: the day of each turn; when it is [epoch s]; in order; minutes on either side.
    Returns: of each span the first of its turns, its start and its end [epoch s]. Spans of
    one day that meet are one.
    Source: the minutes are a setting, common practice.
    """
    day, turn_s = np.asarray(day), np.asarray(turn_s, np.int64)
    beside_s = round(turn_min * SECONDS_PER_MINUTE)
    apart = (day[1:] != day[:-1]) | (np.diff(turn_s) > 2 * beside_s)
    at_end = np.ones(min(1, len(day)), bool)
    first = np.flatnonzero(np.concatenate([at_end, apart]))
    last = np.flatnonzero(np.concatenate([apart, at_end]))
    return first, turn_s[first] - beside_s, turn_s[last] + beside_s
