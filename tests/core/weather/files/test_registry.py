"""One registry of readers: what it says is what README and the screens list."""

import dataclasses
import re
from pathlib import Path

import pytest

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.files import recognise
from core.weather.files.history import read_history
from core.weather.files.recognise import READERS, listed, read_weather, reader_of
from core.weather.readers.nws_grid import NWS_GRID
from core.weather.reading.observations import make_observations
from core.weather.reading.reader import FORECAST, HISTORY, Reader
from core.weather.reading.weather_file import weather_file

ROOT = Path(__file__).resolve().parents[4]
TRAPS = ROOT / "tests" / "traps"
OWN = {  # a file of each format, by the end of the reader's name
    "ISD-Lite": "history/isd_lite_states.txt",
    "NOAA Global Hourly": "history/global_hourly_codes.csv",
    "Iowa ASOS": "history/asos_states.csv",
    "TMY3": "history/tmy3_seam.csv",
    "EPW": "history/epw_actual_year.epw",
    "NSRDB": "history/nsrdb_middles.csv",
    "the Weather Service's raw gridpoints": "forecast/nws_grid_intervals.json",
    "its hourly and half-day forecasts": "forecast/nws_hourly_text.json",
    "Open-Meteo (JSON, CSV)": "forecast/meteo_own.csv",
    "any table of wind": "forecast/tabs.txt",
}


def test_each_reader_is_a_frozen_value_of_its_own():
    assert len({r.name for r in READERS}) == len(READERS) == len(OWN)
    for reader in READERS:
        assert reader.reads and set(reader.reads) <= {FORECAST, HISTORY}
        with pytest.raises(dataclasses.FrozenInstanceError):
            reader.name = "other"


@pytest.mark.parametrize("reader", READERS, ids=lambda r: r.name)
def test_a_file_of_each_format_is_known_by_its_own_reader(reader):
    path = TRAPS / OWN[reader.name]
    file = weather_file(path.read_bytes(), path.name)
    assert reader_of(file) is reader
    # of those that look at first lines alone, no other would take it, whatever the order
    others = [r for r in READERS[: READERS.index(NWS_GRID)] if r is not reader]
    assert not any(r.looks_like(file) for r in others)


def test_the_table_of_unknown_making_is_last():
    assert READERS[-1].name == "any table of wind"


@pytest.mark.parametrize(("name", "reads"), [("README.md", FORECAST), ("README.md", HISTORY)])
def test_the_readme_lists_what_is_registered(name, reads):
    text = re.sub(r"\s+", " ", (ROOT / name).read_text(encoding="utf-8"))
    assert listed(reads) in text


def test_a_reader_added_to_the_registry_serves_every_way_in(monkeypatch):
    """The recipe of DEVELOPERS.md, tried: one value more, and nothing else to change."""

    def read(file, answers):  # noqa: ARG001
        return make_observations(
            at_s=[1_793_491_200],
            speed_mps=3.0,
            wind_from_deg=270.0,
            format="knots on a string",
            kind="measured",
            where=file.name,
            station="Q1",
        )

    added = Reader("Strings of knots", (HISTORY,), lambda f: f.head[:1] == ["KNOTS"], read)
    with pytest.raises(BadWeather):
        read_weather(b"KNOTS\n", "k.txt")
    monkeypatch.setattr(recognise, "READERS", (added, *READERS))
    hours = read_weather(b"KNOTS\n", "k.txt", Answers())
    assert hours.wind_from_deg.tolist() == [270.0]
    assert read_history([(b"KNOTS\n", "k.txt")]).source == "Q1: measured wind, 2026"
    assert listed(HISTORY).startswith("Strings of knots, ")
    assert "Strings of knots" not in listed(FORECAST)
