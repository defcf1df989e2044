"""Coverage of a wind rose, and shares by arcs: to check published tables in tests.

A report is a span of directions, not a point, so an hour counts into an arc by the
part of its span that lies there.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from core.weather.hours import Floats

Arc = tuple[float, float]  # clockwise from the first to the second; (0, 360) is all round
ANGLES_A_SECTOR = 400  # steps of the area rule; the share moves under 1e-5 beyond them


@dataclass(frozen=True, eq=False)
class JointCounts:
    """Hours by direction and speed. `counts` has shape (sector, speed group).

    Sectors are as wide as one another, the first centred on north; speed groups
    lie between neighbouring edges, the lower edge in them. [m/s]
    """

    counts: Floats
    speed_edges_mps: Floats
    calm: float = 0.0
    variable: float = 0.0
    missing: int = 0

    @property
    def sector_deg(self) -> Floats:
        """Middle of each sector."""
        return self.width_deg * np.arange(len(self.counts), dtype=np.float64)

    @property
    def width_deg(self) -> float:
        return 360.0 / len(self.counts)

    @property
    def known(self) -> float:
        """Hours that are not missing."""
        return float(self.counts.sum()) + self.calm + self.variable


def overlap_frac(wind_from_deg, half_width_deg, arcs: Sequence[Arc]) -> Floats:
    """Part of each report's span that lies in any of the arcs. Elementwise.

    Args:
        wind_from_deg: middle of the span. [deg]
        half_width_deg: half of the span, 0 to 180; 0 is a point, which counts
            whole where it lies from an arc's first end up to its second. [deg]
        arcs: pairs clockwise from the first to the second; they may overlap.

    Missing: NaN directions give 0.
    """
    middle, half = np.broadcast_arrays(
        np.asarray(wind_from_deg, float), np.asarray(half_width_deg, float)
    )
    inside = np.zeros(middle.shape)
    low, high = middle - half, middle + half
    for first, last in _apart(arcs):
        for turn in (-360.0, 0.0, 360.0):
            reach = np.minimum(high, last + turn) - np.maximum(low, first + turn)
            part = np.where(half > 0, np.maximum(reach, 0) / np.where(half > 0, 2 * half, 1), 0)
            point = (half == 0) & (middle >= first + turn) & (middle < last + turn)
            inside = inside + np.where(point, 1.0, part)
    return np.minimum(np.nan_to_num(inside), 1.0)


def coverage_frac(
    joint: JointCounts, slowest_mps: Callable, fastest_mps: Callable, calm_counts: bool = False
) -> float:
    """Share of the known hours whose wind may be had, by the area rule.

    Args:
        joint: hours by direction and speed.
        slowest_mps, fastest_mps: functions from directions [deg] to the least and
            the greatest speed allowed there; equal where none is. [m/s]
        calm_counts: whether calm hours count as had. Variable ones never do.

    Each cell of the table is a piece of a ring, and counts by the part of its area
    that is allowed. A group without an upper end counts only where all of it is.
    Missing: NaN where no hour is known.
    Source: [faa-coverage], wind rose with the fraction of partial cells.
    """
    step = joint.width_deg / ANGLES_A_SECTOR
    within = (np.arange(ANGLES_A_SECTOR) + 0.5) * step - joint.width_deg / 2
    angle = np.mod(joint.sector_deg[:, None] + within, 360.0)  # (sector, angle)
    slowest, fastest = slowest_mps(angle)[..., None], fastest_mps(angle)[..., None]
    low, high = joint.speed_edges_mps[:-1], joint.speed_edges_mps[1:]
    with np.errstate(invalid="ignore"):
        top, bottom = np.minimum(high, fastest), np.maximum(low, slowest)
        part = np.maximum(top**2 - bottom**2, 0) / (high**2 - low**2)
    whole = (slowest <= low) & (fastest >= high)
    part = np.where(np.isinf(high), 0.0, part)  # nothing is known of where it ends
    share = np.where(whole, 1.0, part).mean(axis=1)  # (sector, group)
    had = float((joint.counts * share).sum()) + (joint.calm if calm_counts else 0.0)
    return had / joint.known if joint.known else float("nan")


def _apart(arcs: Sequence[Arc]) -> list[Arc]:
    """The same directions as arcs that do not overlap, within [0, 360]."""
    pieces: list[Arc] = []
    for first, last in arcs:
        span = last - first if 0 <= last - first <= 360 else (last - first) % 360.0
        start = first % 360.0
        pieces.append((start, min(start + span, 360.0)))
        if start + span > 360.0:
            pieces.append((0.0, start + span - 360.0))
    joined: list[Arc] = []
    for first, last in sorted(pieces):
        if joined and first <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], last))
        else:
            joined.append((first, last))
    return joined
