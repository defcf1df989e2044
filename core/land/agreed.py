"""Whether a stand's typed slope is the slope that the heights show."""

from core.angles import separation_deg
from core.errors import StandWindError
from core.ground.heights.slope_at import Slope, slope_about
from core.ground.layout import Stand
from core.land.kept import KeptLand

ODD_DEG, FLAT_PCT = 45.0, 1.0


def shown_slope(kept: KeptLand, stand: Stand) -> Slope | None:
    """The slope that the heights show at a stand; None where they do not reach it.

    Args: the heights; the stand.
    """
    try:
        return slope_about(kept.grid, stand.at)
    except StandWindError:
        return None


def agrees(shown: Slope | None, stand: Stand) -> bool:
    """Whether the air of a stand can be led over the heights: both know the same slope.

    Args: the slope that the heights show, None where they do not reach; the stand. A stand
    without a slope of its own has no slope air to lead.
    Source: 45 degrees and 1 % are ours, common practice.
    """
    if shown is None or stand.grade_pct is None or stand.downhill_deg is None:
        return False
    apart = separation_deg(shown.downhill_deg or 0.0, stand.downhill_deg)
    return bool(shown.grade_pct >= FLAT_PCT and float(apart) <= ODD_DEG)
