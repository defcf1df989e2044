"""Stands that are alike share their air in a sit; those that differ in anything have their own."""

import dataclasses
import datetime

import numpy as np
import pytest

from core.ground.layout import FeltTurn, Swirls
from core.judge.stand import stand_sits
from core.judge.stand_rows import alike
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests.random_grounds import random_ground

OTHERS = (
    {"height_ft": 30.0},
    {"cover": "open"},
    {"downhill_deg": 200.0},
    {"grade_pct": 25.0},
    {"turns": (FeltTurn(((0.0, 360.0),), 30.0),)},
    {"lies": "bottom"},
    {"swirls": Swirls(under_mph=20.0)},
)


@pytest.mark.parametrize(("wind", "half"), [("W 5", "morning"), ("SE 7", "evening")])
def test_what_is_shared_is_what_a_stand_has_alone(wind, half):
    prop = random_ground(1)
    one = dataclasses.replace(
        prop.stands[0], height_ft=15.0, cover="timber", downhill_deg=90.0, grade_pct=12.0
    )
    each = ({}, *OTHERS, {})
    stands = tuple(
        dataclasses.replace(one, id=f"s{i}", name=f"S{i}", **more) for i, more in enumerate(each)
    )
    ground = dataclasses.replace(prop, stands=stands, lanes=())
    scene, date = Scene(ground), datetime.date(2026, 10, 20)

    def sits():
        return prepare_sit(scene, parse_wind(wind, 0.0), date, half).sits

    together = sits()
    # lie and swirls only say when air is doubtful
    assert len({alike(together, stand) for stand in stands}) == len(each) - 3
    found = [stand_sits(together, stand).hours for stand in stands]
    for stand, shared in zip(stands, found, strict=True):
        alone = stand_sits(sits(), stand).hours
        for name in ("verdict", "cause", "equivalent_yd", "swing_to_deg", "still"):
            assert np.array_equal(getattr(shared, name), getattr(alone, name), equal_nan=True)
        assert np.array_equal(shared.air.air_to_deg, alone.air.air_to_deg, equal_nan=True)
