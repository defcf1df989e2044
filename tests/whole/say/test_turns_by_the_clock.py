"""When a stretch says that the air turns, against the oracle's slopes, sun and minutes."""

import dataclasses

import pytest

from core.answer.one_sit import answer_sit
from core.say.pieces.stretches import turns_s
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests.core.say.test_by_the_clock import OCT_6
from tests.hill_ground import hill_ground
from tests.oracle import Ground, Slope


@pytest.mark.parametrize(("hours", "least"), [(3.5, 2), (1.25, 0)])
def test_the_turn_is_when_the_second_opinion_has_it(hours, least):
    """The hill's evening of 6 October: slopes, sun and minutes by another way. The shorter
    window begins in the middle of turning air, after the turn."""
    prop = hill_ground()
    prop = dataclasses.replace(prop, sit=dataclasses.replace(prop.sit, evening_h=hours))
    sit = prepare_sit(Scene(prop), parse_wind("E 5", 0.0), OCT_6, "evening")
    ground, found, cut = Ground(prop), 0, 0
    for seat in answer_sit(sit).stands:
        slope = Slope(ground, seat.stand, sit.clock.day)
        spans = slope.turnings(
            sit.clock.start_s // 3600 * 3600 - 3600, sit.clock.end_s + 3600, lambda _: 0.0
        )
        cut += any(a < sit.clock.start_s < b for a, b in spans)
        for time_s in turns_s(sit, seat):
            assert min(abs((a + b) / 2 - time_s) for a, b in spans) <= 60
            found += 1
    assert found >= least and (found or cut >= 2)
