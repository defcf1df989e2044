"""The directions that air may take where one direction will not do.

While the slope wind turns, the hunter's air swings over an arc; in still, light, swirling
or pooled air it may go any way. Both are told as directions, each judged for itself.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.slopes import LEAST_EFFECTIVE_MPS, effective_speed_mps, toward
from core.angles import signed_difference_deg

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

STEP_DEG = 10.0  # neighbours of an arc lie no further apart; common practice, no source
LEAST_HALF_WIDTH_DEG = 5.0  # so neighbours meet
ALL_ROUND_DEG = np.arange(0.0, 360.0, STEP_DEG)
ALL_ROUND_MPS, ALL_ROUND_EFFECTIVE_MPS = 0.5, LEAST_EFFECTIVE_MPS  # the floors of light air


@dataclass(frozen=True, eq=False)
class Arc:
    """The directions swept, those of all cases one after the other. Shapes (direction,).

    `case`: which case each belongs to, in order; `carried_mps` is before the floor;
    `swing_deg`: how far the air of each case turns, shape (case,); `ends_deg`: where it goes
    at either end, shape (case, 2).
    """

    case: Ints
    air_to_deg: Floats
    carried_mps: Floats
    effective_mps: Floats
    half_width_deg: Floats
    swing_deg: Floats
    ends_deg: Floats


def swept_arc(
    *,
    wind_mps,
    wind_from_deg,
    speed_10m_mps,
    slope_from_mps,
    slope_to_mps,
    downhill_deg: float,
    half_width_deg,
) -> Arc:
    """The directions air takes while the slope wind goes from one strength to another.

    Args (shapes (case,)):
        wind_mps, wind_from_deg: wind at the hunter [m/s] and where it is from [deg].
        speed_10m_mps: the forecast's. [m/s]
        slope_from_mps, slope_to_mps: slope wind as faded, uphill positive. [m/s]
        downhill_deg: where downhill is. [deg]
        half_width_deg: of the report. [deg]

    Returns: the ends and what lies between, at most 10 degrees apart. Where the air's
    uphill part changes sign and the wind across the slope is less than the report's doubt,
    the air may as well swing the other way round: the mirror image too.
    Missing: a case whose wind has no direction has no directions.
    Source: vectors added; the step is common practice.
    """
    up = np.radians(downhill_deg + 180.0)
    east, north = toward(wind_from_deg)
    along = wind_mps * (east * np.sin(up) + north * np.cos(up))  # uphill part of the wind
    across = wind_mps * (east * np.cos(up) - north * np.sin(up))  # clockwise of uphill
    ends = along + np.stack([slope_from_mps, slope_to_mps])
    from_up_deg = np.degrees(np.arctan2(across, ends))  # as bearings from uphill, (2, case)
    turn_deg = signed_difference_deg(from_up_deg[1], from_up_deg[0])
    known = np.isfinite(turn_deg)
    swing_deg = np.where(known, np.abs(turn_deg), np.nan)
    steps = np.where(known, np.maximum(1.0, np.ceil(swing_deg / STEP_DEG - 1e-9)), -1)
    case, share = _shares(steps.astype(np.int64))
    bearing, across_all = from_up_deg[0][case] + share * turn_deg[case], across[case]
    uphill = _uphill_part(bearing, across_all, (ends[0][case], ends[1][case]), share)
    speed = np.hypot(uphill, across_all)
    unsure = wind_mps * np.sin(np.radians(np.minimum(half_width_deg, 90.0)))
    both = known & (ends[0] * ends[1] < 0) & (np.abs(across) < unsure)
    mirrored = np.flatnonzero(both[case])
    order = np.argsort(np.concatenate([case, case[mirrored]]), kind="stable")

    def with_mirror(values, mirror):
        return np.concatenate([values, mirror[mirrored]])[order] if len(mirrored) else values

    case_all = with_mirror(case, case)
    carried = with_mirror(speed, speed)
    return Arc(
        case=case_all,
        air_to_deg=_wrapped(with_mirror(bearing, -bearing) + downhill_deg + 180.0),
        carried_mps=carried,
        effective_mps=effective_speed_mps(
            np.asarray(speed_10m_mps, float)[case_all], carried, np.asarray(wind_mps)[case_all]
        ),
        half_width_deg=np.maximum(half_width_deg, LEAST_HALF_WIDTH_DEG)[case_all],
        swing_deg=swing_deg,
        ends_deg=_wrapped(from_up_deg.T + downhill_deg + 180.0),
    )


def _wrapped(angle_deg):
    """As `core.angles.wrap_deg`, and quicker, of angles from -360 to 1080. [deg]"""
    angle = np.where(angle_deg < 0.0, angle_deg + 360.0, angle_deg)
    for _ in range(2):
        angle = np.where(angle >= 360.0, angle - 360.0, angle)
    return angle


def _shares(steps: Ints) -> tuple[Ints, Floats]:
    """Cases and shares of their turn, 0 to 1; -1 steps: none of that case."""
    count = steps + 1
    case = np.repeat(np.arange(len(steps)), count)
    at = np.arange(len(case)) - np.repeat(np.cumsum(count) - count, count)
    return case, at / steps[case]


def _uphill_part(bearing_deg, across, ends, share):
    """The uphill part of the air that goes a bearing from uphill, on the way between two ends.

    The part across the slope stays, so it is across / tan(bearing); at an end that end's
    own, and nothing where nothing blows across.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        between = np.where(across != 0, across / np.tan(np.radians(bearing_deg)), 0.0)
    return np.where(share == 0, ends[0], np.where(share == 1, ends[1], between))
