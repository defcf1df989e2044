"""The law learns from what came here, and the program counts what it said."""

import dataclasses

import numpy as np
import pytest

from core.answer.chances import Misses
from core.chance.count import own_count
from core.chance.own_pairs import from_felt, from_reports, misses_here
from core.keep.entries import AIR, SEEN, SIT, entry_of
from core.say.chance.words import count_text
from core.weather.hours import CALM, VARIABLE, make_hours
from core.weather.services.kept import Kept
from tests.grounds import ground

HOUR_S, START_S = 3600, 1_794_200_400
NOW = "2026-11-10T12:00-05:00"


def kept(made_s, n=48, from_deg=270.0, speed=4.0, format_="open-meteo"):
    hours = make_hours(
        start_s=START_S + HOUR_S * np.arange(n),
        wind_from_deg=from_deg,
        half_width_deg=5.0,
        speed_mps=speed,
        format=format_,
    )
    return Kept(hours, made_s, None, "open-meteo", ("", ""), (0.0, 0.0))


def reports(from_deg, speed, at=(0,), state=None):
    return make_hours(
        start_s=START_S + HOUR_S * np.array(at),
        wind_from_deg=from_deg,
        half_width_deg=5.0,
        speed_mps=speed,
        state=state,
    )


def test_how_far_a_report_lies_across():
    pairs = from_reports([kept(START_S - 6 * HOUR_S)], reports(300.0, 3.0), "open-meteo")
    # 30 degrees off at 3 m/s: half of it across
    assert (pairs.cross_mps, pairs.speed_mps, pairs.lead_h) == (
        pytest.approx([1.5]),
        pytest.approx([4.0]),
        pytest.approx([6.0]),
    )


def test_a_calm_lies_across_by_nothing_and_a_variable_report_tells_nothing():
    made = [kept(START_S)]
    calm = from_reports(made, reports(np.nan, 0.0, state=CALM), "open-meteo")
    assert calm.cross_mps.tolist() == [0.0]
    assert not len(from_reports(made, reports(np.nan, 2.0, state=VARIABLE), "open-meteo"))
    assert not len(from_reports(made, reports(300.0, 3.0), "nws-gridpoint"))


def test_a_report_counts_once_a_day_of_lead_by_the_newest():
    made = [kept(START_S + h * HOUR_S) for h in (-50, -30, -26, -10, -5)]
    pairs = from_reports(made, reports(300.0, 3.0), "open-meteo")
    assert sorted(pairs.lead_h.tolist()) == [5.0, 26.0]  # over 48 hours nothing counts


def planned(i, go=7, group="go", lead_h=14, speed=10.0):
    told = {
        "group": group,
        "chance": {"of_ten": [go, 10 - go, 0], "lead_h": lead_h},
        "hours": [
            {"start": "2026-11-10T06:00:00-05:00", "wind_from_deg": 270.0, "wind_speed_mph": speed}
        ],
    }
    return entry_of(
        SIT, "2026-11-10", {"stand": "oak", "sit": "morning", "told": told}, id_=f"sit{i}", now=NOW
    )


def air(sit, felt="as-told", **values):
    return entry_of(AIR, "2026-11-10", {"felt": felt, **values}, of=sit.id, now=NOW)


def test_a_felt_wind_is_taken_at_the_forecast_s_speed():
    sit = planned(1)
    pairs = from_felt([sit, air(sit, "otherwise", from_deg=300.0), air(sit), air(sit, "round")])
    # 10 mph are 4.4704 m/s; 30 degrees off: half across; round tells no way
    assert pairs.cross_mps == pytest.approx([2.2352, 0.0], abs=1e-3)
    assert pairs.lead_h.tolist() == [14.0, 14.0]
    behind = from_felt([sit, air(sit, "otherwise", from_deg=90.0)])
    assert behind.cross_mps == pytest.approx([4.4704], abs=1e-3)


def test_a_sit_that_was_planned_on_a_given_wind_tells_nothing():
    sit = planned(1)
    typed = dataclasses.replace(sit, values={**sit.values, "told": {"group": "go"}})
    assert not len(from_felt([typed, air(typed)]))


def test_the_ground_s_own_misses_need_fifty_pairs(tmp_path):
    weather = kept(START_S).hours
    sits = [planned(i) for i in range(60)]
    far = [air(s, "otherwise", from_deg=330.0) for s in sits]
    few = misses_here(weather, ground(), tmp_path, [*sits[:49], *far[:49]], now_s=START_S)
    many = misses_here(weather, ground(), tmp_path, [*sits, *far], now_s=START_S)
    assert few == Misses(1.2)
    assert many.pairs == 60 and many.q > 1.5


def test_its_own_count_from_twenty_cases():
    sits = [planned(i) for i in range(22)]
    felt = [air(s, "as-told" if i < 16 else "otherwise", from_deg=0.0) for i, s in enumerate(sits)]
    winded = entry_of(SEEN, "2026-11-10", {"winded": True}, of=sits[0].id, now=NOW)
    unsaid, stay = planned(99), planned(98, group="stay-out")
    entries = [*sits, *felt, winded, unsaid, stay, air(stay)]
    assert own_count(entries) == {7: (15, 22)}
    assert count_text(entries) == "Said 7 of 10: held in 15 of 22."
    assert count_text([*sits[:19], *felt[:19]]) == ""
