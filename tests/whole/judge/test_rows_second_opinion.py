"""The rows of a stand against a second opinion: the same rules by plain loops."""

import datetime

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from core.answer.one_sit import stand_sit
from core.sit.minutes import PIECE_WORDS
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import VERDICT_WORDS
from tests import oracle
from tests.grounds import wind
from tests.hill_ground import hill_ground
from tests.random_grounds import random_ground

# a place is sampled every degree or two there, every metre here: off to the side, where a
# degree tells, the two differ by so much
NEAR_A_LIMIT = 0.15
GROUNDS = {"hill": hill_ground, "one": lambda: random_ground(1), "two": lambda: random_ground(5)}
KEPT: dict = {}


def made(name):
    if name not in KEPT:
        prop = GROUNDS[name]()
        KEPT[name] = Scene(prop), oracle.Ground(prop)
    return KEPT[name]


def near_a_limit(piece, rules, aways) -> bool:
    """Whether any distance of a piece, in any of its directions, is nearly at a limit."""
    for key, like in (pair for likes in piece.likes for pair in likes.items()):
        limits = [rules.wrong_within_yd, rules.clean_beyond_yd]
        if isinstance(key, tuple):
            near = max(rules.trail_within_yd, rules.trail_shot_times * aways[key[0]])
            limits = [rules.wrong_within_yd, near]
        if any(abs(like / limit - 1.0) < NEAR_A_LIMIT for limit in limits):
            return True
    return False


def compare(name, stand_index, date, half, blows, hunter_yd=None):
    """Pieces and verdicts of a sit at a stand, here and there."""
    scene, ground = made(name)
    stand = scene.ground.stands[stand_index % len(scene.ground.stands)]
    state = "variable" if blows.variable else None
    weather = wind(
        None if state or blows.from_deg is None else blows.from_deg,
        blows.mph,
        blows.cloud,
        half_width_deg=blows.half_deg,
    )
    who = "Guest" if hunter_yd else None
    sit = prepare_sit(scene, weather, date, half, hunter=who)
    own = stand_sit(sit, stand)
    hour = oracle.Hour(ground, stand, date, min(stand.range_yd, hunter_yd or stand.range_yd))
    ends = {"morning": ("food",), "evening": ("bedding",)}[half]
    if sit.clock.all_day_part:
        ends = ("food", "bedding")
    theirs = []
    for start_s in sit.clock.row_start_s.tolist():
        theirs += hour.pieces(start_s, blows, ends)
    window = range(sit.clock.start_s, sit.clock.end_s, 60)
    theirs = [p for p in theirs if any(p.start_s <= t < p.end_s for t in window)]
    told = [
        (int(a), int(b), PIECE_WORDS[k])
        for a, b, k in zip(own.rows.start_s, own.rows.end_s, own.hours.kind, strict=True)
    ]
    first, last = sit.clock.start_s, sit.clock.end_s
    assert told == [(max(p.start_s, first), min(p.end_s, last), p.word) for p in theirs]
    aways = {t.id: ground.trail_yd(stand, t) for t in scene.ground.corridors}
    compared = 0
    for i, piece in enumerate(theirs):
        if near_a_limit(piece, scene.ground.air, aways):
            continue
        compared += 1
        ids = [a.id for a in scene.areas] + [tuple(a) for a in own.hours.approaches]
        ours = {
            key: VERDICT_WORDS[own.hours.place_verdict[i, k]]
            for k, key in enumerate(ids)
            if key in piece.zones
        }
        where = (stand.id, date, half, blows, piece)
        if len(piece.likes) == 1:
            for k, key in enumerate(ids):
                if piece.likes[0].get(key, 9999) < 3000:
                    like = own.hours.equivalent_yd[i, k]
                    assert like == pytest.approx(piece.likes[0][key], rel=NEAR_A_LIMIT), where
        assert ours == piece.zones, where
        assert VERDICT_WORDS[own.hours.verdict[i]] == piece.verdict, where
    return compared


# an example takes a second or more: those that fail are told as they are
MANY = settings(deadline=None, phases=(Phase.explicit, Phase.generate))
DATES = st.sampled_from([datetime.date(2026, 10, 6), datetime.date(2026, 11, 30)])
HALVES = st.sampled_from(["morning", "evening"])


@settings(MANY, max_examples=14)
@given(
    st.sampled_from(sorted(GROUNDS)), st.integers(0, 6), DATES, HALVES,
    st.floats(0, 359), st.floats(1, 16), st.sampled_from([5.0, 11.25]),
    st.sampled_from([0.0, 0.3, 0.7, 1.0]), st.sampled_from([None, 20.0]),
)  # fmt: skip
def test_any_wind(name, stand_index, date, half, from_deg, mph, half_deg, cloud, hunter_yd):
    compare(name, stand_index, date, half, oracle.Wind(from_deg, mph, half_deg, cloud), hunter_yd)


@settings(MANY, max_examples=3)
@given(st.sampled_from(sorted(GROUNDS)), st.integers(0, 6), DATES, HALVES, st.floats(0, 1))
def test_calm_air(name, stand_index, date, half, cloud):
    compare(name, stand_index, date, half, oracle.Wind(None, 0.0, 0.0, cloud))
