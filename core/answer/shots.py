"""What a seat in one sit has to shoot at, and whether one's air lies on it."""

import numpy as np

from core.answer.one_sit import StandSit
from core.sit.prepare import Sit
from core.sit.verdicts import JUST_OFF, WRONG


def trails_in_wrong_air(sit: Sit, seat: StandSit) -> list[str]:
    """Trails that one's air lies on before the shot, in what is sat through.

    Args: the sit; the stand in it. Returns: their ids. Where nothing can be sat through,
    all is looked at.
    """
    return _trails(sit, seat, WRONG)


def trails_beside_air(sit: Sit, seat: StandSit) -> list[str]:
    """The same of trails that one's air lies beside, nowhere on. Args, returns: as above."""
    on = trails_in_wrong_air(sit, seat)
    return [trail for trail in _trails(sit, seat, JUST_OFF) if trail not in on]


def _trails(sit: Sit, seat: StandSit, verdict: int) -> list[str]:
    hours, n_areas = seat.hours, len(sit.scene.areas)
    on_trails = ((hours.place_verdict == verdict) & hours.counts)[:, n_areas:]
    sat = np.asarray(seat.judged.stretch[0], bool)
    hit = (on_trails[sat] if sat.any() else on_trails).any(axis=0)
    names = (a.trail for a, is_hit in zip(hours.approaches, hit, strict=True) if is_hit)
    return list(dict.fromkeys(names))


def nothing_in_range(sit: Sit, seat: StandSit) -> bool:
    """Whether no day trail and no food lies within range of a seat."""
    return not seat.corridors and not sit.scene.food_in_range(seat.stand, seat.range_yd)
