"""A history fetched by command, autumn for autumn, and the season that is judged by it."""

import json

from core.__main__ import main
from core.ground.store import data_folder, open_property, save_property
from core.weather.services.autumns import autumn_file, history_folder, kept_years
from core.weather.services.sources import rounded
from tests.core.weather.services.test_history_press import ARCHIVE, archive, isd_year, refused
from tests.core.weather.services.test_history_press import server as server  # a fixture
from tests.few_stands import few_stands_file


def test_the_command_fetches_tells_each_autumn_and_the_season_uses_it(
    server, tmp_path, monkeypatch, capsys
):
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_ARCHIVE_URL", server.url)
    monkeypatch.setattr("core.weather.services.history_press.time.sleep", lambda _: None)
    demo = open_property(few_stands_file(("dry-fork", "plum-edge")))
    path = tmp_path / "small.json"
    kinds = ("stand", "lane", "corridor", "bedding")
    features = [f for f in demo.document["features"] if f["properties"]["kind"] in kinds]
    save_property(demo, {**demo.document, "features": features}, path, now_s=0)
    words = ["history", "--property", str(path), "--now", "2026-11-27T12:00Z"]
    assert main(["season", "--property", str(path), "--history", "kept", "--no-candidates"]) == 2
    assert "no history of this ground is kept" in capsys.readouterr().err
    assert main([*words, "--years", "7"]) == 2
    asked = []

    def two_and_no_more(address):
        asked.append(address)
        return archive(address) if len(asked) < 3 else refused("Daily API request limit exceeded.")

    server.answers[ARCHIVE] = two_and_no_more
    capsys.readouterr()
    assert main([*words, "--years", "10"]) == 2
    told = capsys.readouterr()
    assert "Sent: latitude" in told.out and "autumn 2025, 2 of 10" in told.out
    assert "2 of 10 autumns are kept" in told.err
    assert kept_years(data_folder(), rounded(demo.property.center)) == [2025, 2026]
    server.answers[ARCHIVE] = archive
    assert main([*words, "--years", "10"]) == 0
    assert "autumn 2017, 10 of 10" in capsys.readouterr().out
    assert main([*words, "--years", "10"]) == 0
    assert "All of it is kept: nobody was asked." in capsys.readouterr().out
    for year in range(2017, 2025):
        autumn_file(data_folder(), rounded(demo.property.center), year).unlink()
    assert main([*words, "--offline", "--json"]) == 0
    kept = json.loads(capsys.readouterr().out)
    assert kept["autumns"] == [2025, 2026] and kept["measured"] is None
    isd = [(isd_year(year).data(), f"720001-00001-{year}.gz") for year in (2025,)]
    home = history_folder(data_folder(), rounded(demo.property.center))
    for data, name in isd:
        (home / name).write_bytes(data)
    assert main(["season", "--property", str(path), "--history", "kept", "--no-candidates"]) == 0
    told = capsys.readouterr().out
    assert "some stand is go on at most" in told
    assert "modelled wind over open ground in a 17-mile cell, not measured" in told
    assert "modelled, at most  measured" in told
    assert "Weather data by Open-Meteo.com" in told
