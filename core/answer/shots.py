"""What a seat in one sit has to shoot at, and whether one's air lies on it."""

import numpy as np

from core.answer.one_sit import StandSit
from core.sit.prepare import Sit
from core.sit.verdicts import WRONG


def trails_in_wrong_air(sit: Sit, seat: StandSit) -> list[str]:
    """Trails whose part before the shot lies in wrong air in the hours that are sat through.

    Args: the sit; the stand in it. Returns: their ids. Where no hour can be sat through,
    all are looked at.
    """
    on_trails = seat.hours.zone_verdict[:, len(sit.scene.areas) :] == WRONG
    sat = np.asarray(seat.judged.stretch[0], bool)
    hit = (on_trails[sat] if sat.any() else on_trails).any(axis=0)
    return [name for name, is_hit in zip(seat.hours.corridors, hit, strict=True) if is_hit]


def nothing_in_range(sit: Sit, seat: StandSit) -> bool:
    """Whether no day trail and no food lies within range of a seat."""
    return not seat.corridors and not sit.scene.food_in_range(seat.stand, seat.range_yd)
