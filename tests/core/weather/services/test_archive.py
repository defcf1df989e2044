"""Kept forecasts against the wind that came, and the rule for dropping them."""

import json

import numpy as np
import pytest

from core.units import MPS_PER_KMH, MPS_PER_MPH
from core.weather.hours import CALM, VARIABLE, make_hours
from core.weather.services.archive import (
    FEWEST,
    all_kept,
    honesty,
    honesty_dict,
    honesty_words,
    reported,
)
from core.weather.services.fetching import Fetched
from core.weather.services.kept import keep, kept_files, newest, prune, record_of
from tests.weather_server import NOW_S, grid_body, list_body, meteo_body, station_body

HOUR_S, DAY_S = 3600, 86_400
PLACE = (-82.44, 40.01)


def put(folder, fetched_s, source="nws", station=None, **grid):
    body = grid_body(**grid) if source == "nws" else meteo_body(**grid)
    fetched = Fetched(
        source,
        json.dumps(body).encode(),
        json.dumps(station).encode() if station else None,
        json.dumps(list_body()).encode(),
    )
    return keep(folder, record_of(fetched, PLACE, fetched_s))


def measured(wind_from_deg, first_s=NOW_S, speed_mps=3.0, **columns):
    n = len(wind_from_deg)
    return make_hours(
        start_s=first_s + HOUR_S * np.arange(n),
        wind_from_deg=wind_from_deg,
        half_width_deg=5.0,
        speed_mps=np.broadcast_to(speed_mps, n).copy(),
        kind="measured",
        source="a station",
        **columns,
    )


def test_directions_are_compared_by_lead_and_round_north(tmp_path):
    put(tmp_path, NOW_S, first_s=NOW_S, hours=60, wind=350, kmh=18)
    came = measured([10] * 20 + [80] * 4 + [350] * 24)
    same_day, day_ahead = honesty(all_kept(tmp_path, PLACE), came)
    assert (same_day.source, same_day.lead, same_day.hours) == ("nws", 0, 24)
    assert same_day.median_deg == 20  # from 350 to 10
    assert same_day.close_frac == pytest.approx(20 / 24)
    assert same_day.speed_over_mps == pytest.approx(18 * MPS_PER_KMH - 3.0)
    assert (day_ahead.lead, day_ahead.hours, day_ahead.close_frac) == (1, 24, 1.0)
    assert honesty_words(same_day) == (
        "The same day, National Weather Service: in 20 of 24 hours the wind came from within "
        "45° of the forecast, in half of them within 20°. On the whole it blew 4 mph less than "
        "told."
    )


def test_calm_and_variable_hours_are_counted_apart_and_missing_ones_not(tmp_path):
    put(tmp_path, NOW_S, first_s=NOW_S, hours=24, wind=90)
    speed = np.array([3.0] * 20 + [0.0, 1.0, np.nan])
    wind = np.array([90.0] * 20 + [np.nan] * 3)
    came = measured(wind, speed_mps=speed)
    assert list(came.state[20:22]) == [CALM, VARIABLE]
    [found] = honesty(all_kept(tmp_path, PLACE), came)
    assert (found.hours, found.unsteady) == (20, 2)
    assert "2 more hours had no one wind." in honesty_words(found)


def test_an_hour_counts_once_by_the_newest_forecast_of_its_lead(tmp_path):
    put(tmp_path, NOW_S - 3 * HOUR_S, first_s=NOW_S, hours=20, wind=0)
    put(tmp_path, NOW_S - 2 * HOUR_S, first_s=NOW_S, hours=20, wind=90)
    [found] = honesty(all_kept(tmp_path, PLACE), measured([90] * 20))
    assert (found.hours, found.median_deg) == (20, 0)


def test_sources_are_told_apart(tmp_path):
    put(tmp_path, NOW_S, first_s=NOW_S, hours=24, wind=90)
    put(tmp_path, NOW_S + 60, source="open-meteo", first_s=NOW_S, hours=24)
    found = honesty(all_kept(tmp_path, PLACE), measured([250] * 24))
    assert [(f.source, f.median_deg) for f in found] == [("nws", 160), ("open-meteo", 0)]


def test_few_hours_say_nothing(tmp_path):
    put(tmp_path, NOW_S, first_s=NOW_S, hours=48)
    [found] = honesty(all_kept(tmp_path, PLACE), measured([320] * (FEWEST - 1)))
    assert honesty_words(found).endswith(f"{FEWEST - 1} hours to compare so far, too few to say.")
    report = honesty_dict([found], measured([320]))
    assert report["leads"][0]["lead_h"] == [0, 24] and report["measured"] == "a station"
    assert honesty([], measured([320])) == ()


def test_station_reports_that_came_along_are_measured_wind(tmp_path):
    for h in range(3):
        report = station_body(at_s=NOW_S + h * HOUR_S - 420, wind=300, kmh=9.26)
        put(tmp_path, NOW_S + h * HOUR_S, station=report, first_s=NOW_S, hours=48)
    put(tmp_path, NOW_S + 3 * HOUR_S)
    kept = all_kept(tmp_path, PLACE)
    came = reported(kept)
    # a report of seven minutes to the hour belongs to that hour
    assert list(came.start_s) == [NOW_S, NOW_S + HOUR_S, NOW_S + 2 * HOUR_S]
    assert came.speed_mps[0] == pytest.approx(9.26 * MPS_PER_KMH)
    [found] = honesty(kept, came)
    assert (found.hours, found.median_deg) == (3, 20)
    assert found.speed_over_mps / MPS_PER_MPH == pytest.approx(6.90 - 5.75, abs=0.01)


def test_of_old_forecasts_one_a_day_stays_and_very_old_ones_go(tmp_path):
    day = NOW_S // DAY_S * DAY_S
    old = [day - 12 * DAY_S + h * HOUR_S for h in (5, 11, 17)]
    for at in (day - 900 * DAY_S, *old, day - HOUR_S, day, day + HOUR_S):
        put(tmp_path, at, first_s=at, hours=4)
    put(tmp_path, old[1] + 60, source="open-meteo", first_s=old[1], hours=4)
    assert prune(tmp_path, NOW_S) == 3
    left = [kept.fetched_s for kept in all_kept(tmp_path, PLACE)]
    assert left == [old[0], old[1] + 60, day - HOUR_S, day, day + HOUR_S]
    assert prune(tmp_path, NOW_S) == 0


def test_the_last_good_one_is_never_dropped(tmp_path):
    put(tmp_path, NOW_S, first_s=NOW_S, hours=4)
    assert prune(tmp_path, NOW_S + 2000 * DAY_S) == 0
    assert newest(tmp_path, PLACE, NOW_S).fetched_s == NOW_S


def test_a_years_forecasts_stay_small(tmp_path):
    path = put(tmp_path, NOW_S, hours=180, station=station_body())
    # 365 of them, one a day, are under 2 MB
    assert path.stat().st_size * 365 < 2_000_000
    assert kept_files(tmp_path, PLACE) == [path]


def test_of_two_kept_forecasts_the_later_is_used(tmp_path):
    earlier, later = put(tmp_path, NOW_S, wind=10), put(tmp_path, NOW_S + HOUR_S, wind=80)
    assert kept_files(tmp_path, PLACE) == [later, earlier]
    used = newest(tmp_path, PLACE, NOW_S + 2 * HOUR_S)
    assert used.fetched_s == NOW_S + HOUR_S
    assert used.hours.wind_from_deg[0] == 80
