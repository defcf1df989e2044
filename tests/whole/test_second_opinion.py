"""The formulas of the air against a second opinion: plain loops, written apart."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.air import drift, slopes, spread, wander
from core.air.arc import swept_arc
from core.air.stability import CLASSES
from core.angles import separation_deg
from core.ground.layout import Stand
from core.units import M_PER_YD
from tests import oracle
from tests.grounds import ground

MANY = settings(max_examples=100, deadline=None)
letters = st.sampled_from(CLASSES)
directions = st.floats(0, 359.9)


@MANY
@given(
    letters,
    st.floats(0.75, 12),
    st.floats(0, 12),
    st.sampled_from(["open", "edge", "timber"]),
    st.floats(0, 9),
    st.floats(10, 3000),
    directions,
    directions,
    st.floats(0, 40),
)
def test_strength_and_its_distance(letter, effective, speed, cover, high, far, to, bearing, half):
    air = oracle.Air(to, speed, effective, half)
    theirs = oracle.strength(letter, air, oracle.COVER_DEG[cover], high, far, bearing)
    stability = CLASSES.index(letter)
    ours = drift.strength(
        distance_m=far,
        offset_rad=drift.offset_rad(to, bearing, half),
        stability=stability,
        carried_mps=max(speed, slopes.LEAST_CARRY_MPS),
        height_m=high,
        sigma_rad=spread.spread_rad(stability, effective, spread.COVER_SPREAD_DEG[cover]),
    )
    assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-18)
    like = float(drift.equivalent_distance_m(ours)) / M_PER_YD
    assert like == pytest.approx(oracle.like_yd(theirs), rel=1e-3)


@MANY
@given(letters, st.floats(0.75, 15))
def test_wander(letter, effective):
    ours = wander.wander_deg(CLASSES.index(letter), effective)
    assert ours == pytest.approx(oracle.wander_deg(letter, effective), rel=1e-9)


@MANY
@given(
    directions,
    st.floats(0.3, 5),
    directions,
    st.floats(-0.6, 0.6),
    st.floats(-0.6, 0.6),
    st.floats(0, 22.5),
)
def test_the_arc_of_turning_air(from_deg, mps, downhill_deg, first, last, half):
    stand = Stand("oak", "Oak", (-79.9, 36.1), downhill_deg=downhill_deg, grade_pct=20.0)
    hour = object.__new__(oracle.Hour)
    hour.stand, hour.rules = stand, ground(stand=stand).air
    blows = oracle.Wind(from_deg, mps / oracle.MPH, half)
    theirs = hour._arc(mps, mps, blows, [first, last])
    ours = swept_arc(
        wind_mps=np.array([mps]),
        wind_from_deg=np.array([from_deg]),
        speed_10m_mps=np.array([mps]),
        slope_from_mps=np.array([first]),
        slope_to_mps=np.array([last]),
        downhill_deg=downhill_deg,
        half_width_deg=np.array([half]),
    )
    across = mps * abs(math.sin(math.radians(from_deg - downhill_deg)))
    if across < 0.05 * mps:
        return  # the loops step over the place where the air stands still
    if abs(across - mps * math.sin(math.radians(half))) < 1e-6:
        return  # one way round or both: a rounding crumb decides
    assert len(ours.air_to_deg) == len(theirs)
    for air in theirs:
        near = int(separation_deg(ours.air_to_deg, air.to_deg).argmin())
        assert separation_deg(ours.air_to_deg[near], air.to_deg) < 0.5
        assert ours.carried_mps[near] == pytest.approx(air.speed, abs=0.02)
        assert ours.effective_mps[near] == pytest.approx(air.effective, abs=0.02)
        assert ours.half_width_deg[near] == air.half_deg
