"""What the rules must hold to, tried by lot on a hill and on grounds drawn by lot.

Second opinions of verdicts lie beside this in `test_rows_second_opinion.py`, of the way out,
shots and trails in `test_rules_by_hand.py`; single rules in `tests/core/sit` and
`tests/core/air`, and in `tests/core/judge/test_way_out_and_order.py`.
Examples are few: each judges whole stands.
"""

import dataclasses
import datetime
import itertools

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from core.answer.one_sit import stand_sit
from core.ground.layout import Person, Stand
from core.sit.minutes import TURNING, WHOLE
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, WRONG
from tests.grounds import PIEDMONT, at, bed, corridor, ground, judged, wind
from tests.hill_ground import hill_ground
from tests.random_grounds import random_ground

GROUNDS = {"hill": hill_ground, "one": lambda: random_ground(1), "four": lambda: random_ground(4)}
KEPT: dict = {}
FEW = settings(deadline=None, max_examples=12, phases=(Phase.explicit, Phase.generate))

names = st.sampled_from(sorted(GROUNDS))
dates = st.sampled_from([datetime.date(2026, 10, 6), datetime.date(2026, 11, 8)])
halves = st.sampled_from(["morning", "evening"])
directions, speeds_mph = st.floats(0, 359), st.floats(3, 14)
clouds = st.sampled_from([0.0, 0.4, 1.0])


def scene_of(name: str, hunter_yd: float | None = None) -> Scene:
    if (name, hunter_yd) not in KEPT:
        prop = GROUNDS[name]()
        if hunter_yd is not None:
            prop = dataclasses.replace(prop, people=(Person("Guest", hunter_yd),))
        KEPT[name, hunter_yd] = Scene(prop)
    return KEPT[name, hunter_yd]


def seats(scene, date, half, weather, hunter=None):
    """Every stand of a ground in a sit, in the file's order."""
    sit = prepare_sit(scene, weather, date, half, hunter=hunter)
    return [stand_sit(sit, stand) for stand in scene.ground.stands]


def no_cleaner(worse, better) -> None:
    """Of rows: a wrong one that can't be called now is no cleaner either."""
    unsure = (worse == CANT_CALL) & (better == WRONG)
    assert ((worse >= better) | unsure).all()


@FEW
@given(names, dates, halves, directions, speeds_mph, clouds, st.floats(3, 12), st.floats(1, 20))
def test_a_wider_half_width_is_never_cleaner(name, date, half, from_deg, mph, cloud, w, more):
    scene = scene_of(name)
    sure, vague = (
        seats(scene, date, half, wind(from_deg, mph, cloud, half_width_deg=width))
        for width in (w, w + more)
    )
    for one, other in zip(sure, vague, strict=True):
        no_cleaner(other.hours.verdict, one.hours.verdict)
        no_cleaner(other.hours.place_verdict, one.hours.place_verdict)


@FEW
@given(names, dates, halves, directions, speeds_mph, clouds)
def test_a_shorter_shot_is_never_cleaner(name, date, half, from_deg, mph, cloud):
    weather = wind(from_deg, mph, cloud)
    ranges = [seats(scene_of(name, yd), date, half, weather, "Guest") for yd in (40.0, 24.0, 15.0)]
    for far, near in itertools.pairwise(ranges):
        for one, other in zip(far, near, strict=True):
            no_cleaner(other.hours.verdict, one.hours.verdict)


@FEW
@given(
    st.floats(0, 359), st.floats(60, 500), st.floats(1, 300), st.floats(-60, 60), speeds_mph,
    st.floats(0, 359), st.floats(5, 30), halves,
)  # fmt: skip
def test_a_nearer_bed_is_never_cleaner_where_slope_air_turns(
    bearing, yards, nearer, aside, mph, down, grade, half
):
    """Straight in along its bearing; of each degree the nearest place counts, so that the near
    one may be a sample of two degrees to the side."""
    stand = Stand("oak", "Oak", PIEDMONT, downhill_deg=down, grade_pct=grade)
    near, far = (
        ground(stand=stand, areas=(bed(PIEDMONT, bearing, yd),))
        for yd in (max(45.0, yards - nearer), yards)
    )
    blows = bearing + 180 + aside
    close = judged(near, wind(blows, mph, 0.0, half_width_deg=13.25), half)
    off = judged(far, wind(blows, mph, 0.0), half)
    assert (close.hours.kind == off.hours.kind).all()
    no_cleaner(close.hours.verdict, off.hours.verdict)


@FEW
@given(names, dates, halves, directions, speeds_mph, clouds)
def test_pieces_add_up_and_only_a_slope_under_a_clear_sky_is_cut(
    name, date, half, from_deg, mph, cloud
):
    scene = scene_of(name)
    sit = prepare_sit(scene, wind(from_deg, mph, cloud), date, half)
    whole = sit.clock
    for own in (stand_sit(sit, stand) for stand in scene.ground.stands):
        rows = own.rows
        assert rows.minutes.sum() == (whole.end_s - whole.start_s) // 60 == whole.minutes.sum()
        assert rows.weight.sum() == pytest.approx(whole.weight.sum())
        prime = whole.prime_first_min.sum() + whole.prime_last_min.sum()
        assert rows.prime_min.sum() == pytest.approx(prime)
        assert (rows.start_s[1:] == rows.end_s[:-1]).all()
        if cloud == 1.0 or own.stand.downhill_deg is None:
            assert (own.hours.kind == WHOLE).all()


@FEW
@given(st.integers(0, 9), dates, halves, directions, speeds_mph)
def test_flat_ground_in_a_mirror_with_its_wind_is_the_same(seed, date, half, from_deg, mph):
    prop = flat(random_ground(seed))
    own, other = (
        seats(Scene(p), date, half, wind(a, mph, 0.3))
        for p, a in ((prop, from_deg), (mirrored(prop), 360.0 - from_deg))
    )
    for one, twin in zip(own, other, strict=True):
        # places are sampled by the degree: the one side by other degrees than the other
        near = np.nan_to_num(one.hours.equivalent_yd), np.nan_to_num(twin.hours.equivalent_yd)
        counted = one.hours.counts & (near[0] < 1500)
        assert (one.hours.counts == twin.hours.counts).all()
        assert np.allclose(near[0][counted], near[1][counted], rtol=0.15)
        told = counted & ~_near_a_limit(near[0])
        assert (one.hours.place_verdict == twin.hours.place_verdict)[told].all()


def _near_a_limit(like_yd):
    limits = np.array([75.0, 250.0, 500.0, *np.arange(50, 120, 3.5)])
    return (np.abs(like_yd[..., None] / limits - 1.0) < 0.15).any(axis=-1)


def flat(prop):
    stands = tuple(dataclasses.replace(s, downhill_deg=None, grade_pct=None) for s in prop.stands)
    return dataclasses.replace(prop, stands=stands)


def mirrored(prop):
    """East and west changed about the middle."""

    def other(at_lonlat):
        return (2 * prop.center[0] - at_lonlat[0], at_lonlat[1])

    def all_of(points):
        return tuple(other(p) for p in points)

    return dataclasses.replace(
        prop,
        stands=tuple(dataclasses.replace(s, at=other(s.at)) for s in prop.stands),
        areas=tuple(dataclasses.replace(a, ring=all_of(a.ring)[::-1]) for a in prop.areas),
        corridors=tuple(dataclasses.replace(c, line=all_of(c.line)) for c in prop.corridors),
        lanes=tuple(dataclasses.replace(w, line=all_of(w.line)) for w in prop.lanes),
    )


@FEW
@given(
    st.floats(15, 30), st.floats(0, 359), st.floats(4, 15),
    st.sampled_from(["open", "edge", "timber"]), clouds, st.sampled_from([5.0, 11.25]),
)  # fmt: skip
def test_straight_at_a_trail_is_on_it_and_past_the_shot_is_not(
    yards, bearing, mph, cover, cloud, width
):
    """In the evening deer come from the bed, to the left of the shot, and go to the right."""
    stand = Stand("oak", "Oak", PIEDMONT, cover=cover, range_yd=31.0)
    shot = at(PIEDMONT, bearing, yards)
    trail = corridor(shot, (bearing - 90, 300), (0, 0), (bearing + 90, 300))
    prop = ground(stand=stand, corridors=(trail,))
    on, past = (
        judged(prop, wind(bearing + turn + 180, mph, cloud, half_width_deg=width), "evening")
        for turn in (0.0, 90.0)
    )
    assert (on.hours.verdict == WRONG).all()
    assert (past.hours.verdict != WRONG).all()
    assert (on.hours.kind != TURNING).all()
