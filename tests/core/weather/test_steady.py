"""How steady a sit's wind is, and how old a forecast is by its own words."""

import dataclasses
import math

import numpy as np
import pytest

from core.weather.age import ago_words, hours_ahead, stale_note
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE, make_hours
from core.weather.steady import steadiness, steady_words


def sit(*winds, **columns):
    """Hours at 3 m/s from each direction; C calm, V variable, M missing."""
    states = {"C": CALM, "V": VARIABLE, "M": MISSING}
    state = [states.get(w, DIRECTED) for w in winds]
    return make_hours(
        start_s=3600 * np.arange(len(winds)),
        state=state,
        speed_mps=[math.nan if w == "M" else 3.0 for w in winds],
        wind_from_deg=[math.nan if w in states else float(w) for w in winds],
        half_width_deg=5.0,
        **columns,
    )


def test_one_direction_is_steady():
    told = steadiness(sit(310, 310, 310))
    assert told["word"] == "steady"
    assert told["share"] == pytest.approx(1.0)
    assert told["swing_deg"] == 0
    assert told["mean_from_deg"] == pytest.approx(310)


def test_across_north_is_no_swing_to_the_south():
    told = steadiness(sit(350, 10, 350, 10))
    assert told["word"] == "steady"
    assert told["mean_from_deg"] % 360 == pytest.approx(0, abs=0.05)
    assert told["swing_deg"] == pytest.approx(10)
    # two unit vectors 20 degrees apart: the mean has the length cos 10
    assert told["share"] == pytest.approx(math.cos(math.radians(10)), abs=5e-4)


@pytest.mark.parametrize(
    ("winds", "word"),
    [
        ((300, 344), "steady"),  # 22 degrees on each side of 322
        ((300, 346), "shifting"),  # 23 degrees
        ((0, 134), "shifting"),  # 67
        ((0, 136), "all round"),  # 68
        ((0, 180), "all round"),  # they cancel
        ((270, 270, "C", "V"), "all round"),  # half have none
        ((270, 270, 270, "C"), "shifting"),  # a still hour is not steady
        (("C", "C"), "unknown"),
        ((270, 270, "M"), "unknown"),  # a third is missing
        ((270, 270, 270, "M"), "steady"),
        ((), "unknown"),
    ],
)
def test_the_word(winds, word):
    assert steadiness(sit(*winds))["word"] == word


def test_still_hours_shorten_the_mean():
    assert steadiness(sit(90, 90, "C", "V"))["share"] == pytest.approx(0.5)


@pytest.mark.parametrize("turn", [0, 45, 137, 355])
def test_turning_all_winds_turns_the_mean_alone(turn):
    winds = np.array([280, 300, 330])
    still, turned = steadiness(sit(*winds)), steadiness(sit(*((winds + turn) % 360)))
    assert turned["swing_deg"] == still["swing_deg"]
    assert turned["share"] == still["share"]
    assert (turned["mean_from_deg"] - still["mean_from_deg"] - turn) % 360 == pytest.approx(
        0, abs=0.11
    ) or (turned["mean_from_deg"] - still["mean_from_deg"] - turn) % 360 > 359.8


@pytest.mark.parametrize(
    ("winds", "words"),
    [
        ((310, 310), "Steady from NW: within 0°."),
        ((300, 346, "C", 323), "Shifting about NW: up to 23° off. 1 of 4 hours have none."),
        ((0, 136), "No steady wind: up to 68° off ENE."),
        ((0, 180), "The wind goes all round."),
        (("M",), "Too few hours tell a direction."),
    ],
)
def test_the_sentence(winds, words):
    assert steady_words(sit(*winds)) == words


# --- age ---


def test_ages_in_words():
    assert ago_words(14 * 3600) == "14 h ago"
    assert ago_words(12 * 86400) == "12 days ago"
    assert ago_words(-60) == ago_words(59) == "just now"
    assert ago_words(60) == "1 min ago"
    assert ago_words(89 * 60) == "89 min ago"
    assert ago_words(90 * 60 + 1) == "2 h ago"


def test_a_forecast_with_hours_ahead_is_not_stale():
    ahead = sit(270, 280, "M", format="nws-hourly", updated_s=0)
    assert hours_ahead(ahead, 3600.0) == 1
    assert stale_note(ahead, 3600.0) == ""
    # the missing hour that is left tells nothing
    assert stale_note(ahead, 7200.0) == "forecast issued 2 h ago, no future hours"


def test_only_a_forecast_is_stale():
    old = sit(270, 280, format="open-meteo")
    assert stale_note(old, 86400.0) == "no future hours: the last ended 22 h ago"
    for change in ({"format": "table"}, {"kind": "measured"}, {"held": True}):
        assert stale_note(dataclasses.replace(old, **change), 86400.0) == ""
