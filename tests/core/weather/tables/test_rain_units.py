"""Rain in a table: inches are 25.4 mm each, by definition; what is no depth is not told."""

import math

import numpy as np
import pytest

from core.weather.answers import Answers
from core.weather.files.recognise import read_weather

CELLS = ("0", "0.05", "1", "T", "", "-9", "0.10")


def rain_of(head, cells=CELLS):
    rows = [f"2026-06-21T{6 + i:02d}:00Z,270,6,{cell}" for i, cell in enumerate(cells)]
    text = f"time,wind from (deg),speed (mph),{head}\n" + "\n".join(rows) + "\n"
    return read_weather(text.encode(), "rain.csv", Answers()).rain_mm.tolist()


@pytest.mark.parametrize("head", ["Precip (in)", "rain_inches", "Precipitation in"])
def test_inches(head):
    told = rain_of(head)
    assert told[:4] == pytest.approx([0.0, 1.27, 25.4, 0.0])  # a trace is no depth
    assert math.isnan(told[4]) and math.isnan(told[5]) and told[6] == pytest.approx(2.54)


def test_millimetres_stay():
    assert rain_of("rain (mm)", ("0", "0.1", "1.27")) == [0.0, 0.1, 1.27]


@pytest.mark.parametrize("head", ["rain", "rain since midnight (in)", "precip_24h_in"])
def test_no_depth_of_the_hour_is_not_told(head):
    assert np.isnan(rain_of(head)).all()
