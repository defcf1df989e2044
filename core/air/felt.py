"""The wind as its owner has felt it at a seat: turned from the one that was told."""

from collections.abc import Sequence

import numpy as np

from core.air import slopes
from core.angles import in_ranges, wrap_deg
from core.ground.layout import FeltTurn


def felt_from_deg(turns: Sequence[FeltTurn], wind_from_deg):
    """Where a wind comes from at a seat. Elementwise.

    Args: turns that its owner took up, the first that holds a wind counts; directions told
    [deg]. Missing: NaN stays NaN. Source: the owner's own notes, drawn together in
    `core.keep.felt_air`; no published value.
    """
    told = np.asarray(wind_from_deg, float)
    found = told.copy()
    open_ = np.ones(told.shape, bool)
    for turn in turns:
        within = open_ & in_ranges(told, turn.from_deg)
        found = np.where(within, wrap_deg(told + turn.turn_deg), found)
        open_ &= ~within
    return found


def toward(turns: Sequence[FeltTurn], told_toward, wind_from_deg):
    """East and north of where winds go at a seat, as `core.air.slopes.toward`.

    Args: turns that its owner took up; where the winds told go; where they come from [deg].
    Source: as `felt_from_deg`.
    """
    return slopes.toward(felt_from_deg(turns, wind_from_deg)) if turns else told_toward
