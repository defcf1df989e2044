"""Chances where they are read: `sits`, `next` and the pocket page, from a forecast file."""

import json

import pytest

from core.__main__ import main
from core.ground.store import open_property
from core.keep.log import open_journal
from tests.core.chance.test_learning import air, planned
from tests.few_stands import few_stands_file

START_S, HOURS = 1_794_182_400, 96  # 9 Nov 2026, 00 UTC
FEW = few_stands_file(("dry-fork", "plum-edge"))
NOW = "2026-11-09T15:30-05:00"


@pytest.fixture(scope="module")
def forecast_file(tmp_path_factory):
    lon, lat = open_property(FEW).property.center
    times = [START_S + 3600 * i for i in range(HOURS)]
    body = {
        "latitude": lat,
        "longitude": lon,
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "hourly_units": {"time": "unixtime", "wind_speed_10m": "m/s"},
        "hourly": {
            "time": times,
            "wind_speed_10m": [2.6] * HOURS,
            "wind_direction_10m": [300] * HOURS,
            "cloud_cover": [30] * HOURS,
        },
    }
    path = tmp_path_factory.mktemp("forecast") / "forecast.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    return str(path)


def told(capsys, *words) -> str:
    assert main([*words, "--property", str(FEW), "--now", NOW]) == 0
    return capsys.readouterr().out


def test_sits_and_next(capsys, forecast_file):
    sit = ("sits", "--date", "2026-11-10", "--sit", "morning", "--forecast", forecast_file)
    rows = json.loads(told(capsys, *sit, "--json"))["stands"]
    assert all((row["chance"] is None) == bool(row["chance_reason"]) for row in rows)
    coming = json.loads(told(capsys, "next", "--forecast", forecast_file, "--json"))["sits"]
    same = next(s for s in coming if (s["date"], s["sit"]) == ("2026-11-10", "morning"))
    assert same["stand"] == rows[0]["id"] and same["chance"] == rows[0]["chance"]
    assert coming[-1]["chance"] is None and "too far out" in coming[-1]["chance_reason"]


def test_in_text_with_the_limits(capsys, forecast_file):
    sit = ("sits", "--date", "2026-11-10", "--sit", "morning", "--forecast", forecast_file)
    text = told(capsys, *sit)
    assert "Holds in " in text or "a toss-up" in text
    assert "three winter days in northern Europe" in text and "not deer" in text


def test_the_pocket_page_has_the_sentence_and_ten_marks(capsys, forecast_file, tmp_path):
    page = tmp_path / "page.html"
    told(
        capsys,
        *("pocket", "--date", "2026-11-10", "--forecast", forecast_file, "--out", str(page)),
    )
    text = page.read_text(encoding="utf-8")
    assert "Ten mornings like this: " in text and "Ten evenings like this: " in text
    assert text.count('class="ten"') == 2 and "%" not in text.partition('class="chance"')[2][:900]


def test_what_came_here_moves_every_answer(capsys, forecast_file, tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    sits = [planned(i) for i in range(60)]
    with open_journal(open_property(FEW).property.uid) as journal:
        journal.add([*sits, *(air(sit, "otherwise", from_deg=330.0) for sit in sits)])
    page, moved = tmp_path / "page.html", "Moved by 60 hours of your own"
    sit = ("sits", "--date", "2026-11-10", "--sit", "morning", "--forecast", forecast_file)
    assert moved in told(capsys, *sit)
    assert moved in told(capsys, "next", "--forecast", forecast_file)
    told(
        capsys,
        *("pocket", "--date", "2026-11-10", "--forecast", forecast_file, "--out", str(page)),
    )
    assert moved in page.read_text(encoding="utf-8")
