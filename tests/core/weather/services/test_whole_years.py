"""Temperatures since a cut, from an archive on this machine: what is asked, kept, and summed."""

import datetime
import json
from urllib.parse import parse_qs

import pytest

from core.__main__ import main
from core.chores.degree_days import degree_days
from core.weather.services.autumns import modelled_history
from core.weather.services.sources import rounded
from core.weather.services.whole_years import (
    fetch_years,
    kept_days,
    said_before,
    whole_years,
    years_of,
)
from tests.core.weather.services.test_history_press import ARCHIVE, CENTER, NOW_S, archive
from tests.weather_server import Answer, WeatherServer

D = datetime.date
ZONE = "America/New_York"


def warm(path: str) -> Answer:
    """Every hour at 20 degC, 68 degF: 18 growing degree days a day."""
    told = archive(path)
    body = told.body if isinstance(told.body, dict) else json.loads(told.body)
    body["hourly"]["temperature_2m"] = [20.0] * len(body["hourly"]["time"])
    return Answer(body)


@pytest.fixture(scope="module")
def warm_server():
    running = WeatherServer()
    running.answers[ARCHIVE] = warm
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("NO_PROXY", "127.0.0.1")
        yield running
    running.stop()


@pytest.fixture
def server(warm_server):
    warm_server.seen.clear()
    warm_server.headers.clear()
    return warm_server


@pytest.fixture(scope="module")
def two_years(warm_server, tmp_path_factory):
    """A folder with the years since June 2025, pressed once; and what was asked for them."""
    folder = tmp_path_factory.mktemp("years")
    warm_server.seen.clear()
    press(warm_server, folder, D(2025, 6, 1))
    return folder, [*warm_server.seen], json.dumps(warm_server.headers)


def press(server, folder, since, now_s=NOW_S):
    more = {"now_s": now_s, "at": server.services(), "wait": lambda _: None}
    return list(fetch_years(CENTER, since, folder, **more))


def test_years_are_whole_with_a_day_beside_and_end_where_the_archive_does():
    found = years_of(D(2025, 3, 1), D(2026, 11, 27))
    assert [(s.year, s.first, s.last) for s in found] == [
        (2026, D(2025, 12, 31), D(2026, 11, 21)),
        (2025, D(2024, 12, 31), D(2026, 1, 1)),
    ]
    assert [s.year for s in years_of(D(2025, 12, 1), D(2026, 1, 3))] == [2025]  # none of 2026 yet


def test_what_was_fetched_is_summed_and_the_days_it_has_not_are_named(server, tmp_path):
    """From 15 February to 20 November 2026 279 days of 18; the archive lacks the last six."""
    assert [g.words for g in press(server, tmp_path, D(2026, 2, 14))] == ["year 2026, 1 of 1"]
    tables = kept_days(tmp_path, rounded(CENTER), NOW_S)
    grown = degree_days(tables, ZONE, D(2026, 2, 14), D(2026, 11, 27))
    assert (grown.known, grown.total) == (279, pytest.approx(279 * 18))
    assert grown.gaps == ((D(2026, 11, 21), D(2026, 11, 26)),)
    assert grown.kinds == (("modelled", 279),) and grown.is_told


def test_the_turn_of_the_year_is_missing_in_no_zone(two_years):
    tables = kept_days(two_years[0], rounded(CENTER), NOW_S)
    for zone in (ZONE, "Pacific/Auckland", "Pacific/Honolulu", "Asia/Kolkata"):
        grown = degree_days(tables, zone, D(2024, 12, 31), D(2026, 11, 20))
        assert grown.missing == 0, zone


def test_only_the_rounded_place_is_sent_and_nothing_twice(two_years, server):
    folder, seen, headers = two_years
    asked = [parse_qs(path.partition("?")[2]) for path in seen]
    assert [q["start_date"][0] for q in asked] == ["2025-12-31", "2024-12-31"]
    sent = " ".join(seen) + headers
    assert "82.444" not in sent and "40.005" not in sent
    assert press(server, folder, D(2025, 6, 1)) == []
    # three days later the year under way goes on; the one before is whole
    assert [g.year for g in press(server, folder, D(2025, 6, 1), NOW_S + 3 * 86400)] == [2026]
    told = said_before(CENTER, D(2025, 6, 1), D(2026, 11, 27))
    assert "2026, 2025" in told and "40.01" in told and "CC BY 4.0" in told


def test_whole_years_are_no_autumn_of_the_season(two_years):
    assert whole_years(two_years[0], rounded(CENTER)) == [2025, 2026]
    assert modelled_history(two_years[0], rounded(CENTER)) is None


def test_the_command(server, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_ARCHIVE_URL", server.url)
    words = ["--property", "demo_property.json", "--now", "2026-11-27T12:00Z"]
    assert main(["history", *words, "--days-since", "2026-02-21"]) == 0
    told = capsys.readouterr().out
    assert main(["history", *words, "--days-since", "2027-01-02"]) == 2
    assert "no day after 2027-01-02 yet" in capsys.readouterr().err
    assert "Asks 127.0.0.1" in told and "Kept for growing degree days: 2026." in told
    assert main(["trail", *words, "--at", "east-trail", "--json"]) == 0
    grown = json.loads(capsys.readouterr().out)["degree_days"]
    # cut on 21 February: 22 February to 20 November are 272 days
    assert (grown["cut"], grown["degree_days_f"]) == ("2026-02-21", 272 * 18)
    assert grown["missing"] == [["2026-11-21", "2026-11-26"]] and grown["by"] == {"modelled": 272}
