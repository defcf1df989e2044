"""Home and Log with a long log, against none: python tests/bench/long_log.py

A log of 5,000 entries and 20,000 sightings, two sits a day of the last sixty with the weather
kept with them, on the demo. Medians of processor time, by turns with and without the log:
everything new; the log written to since; nothing new but the visitor.
"""

import datetime
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import streamlit as st

from core.answer.one_sit import answer_sit
from core.ground.store import demo_path, open_property
from core.keep.entries import AIR, NOTE, SEEN, SIT, Entry, entry_of
from core.keep.journal import Journal
from core.keep.log import open_journal
from core.say.as_json import stand_dict
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.plain import hours_to_plain
from pages.ui import data
from tests import grounds
from tests.pages.conftest import opened
from tests.weather_server import NOW_S, iso, serving_the_demo

SITS, AIRS, NOTES, SEEN_EACH, RECENT = 4500, 300, 200, 20_000 // 4500 + 1, 120
YEARS_DAYS, HOUR_S = 12 * 365, 3600
GROUND = open_property(demo_path()).property
TODAY = datetime.datetime.fromtimestamp(NOW_S, datetime.UTC).date()
ROUNDS, DAY = 7, datetime.timedelta(days=1)


def long_log(journal: Journal) -> int:
    """Fills a journal. Returns: how many entries it has."""
    rng, told = np.random.default_rng(7), _told()
    entries: list[Entry] = []
    for i in range(SITS):
        back = i // 2 + 1 if i < RECENT else int(rng.integers(RECENT, YEARS_DAYS))
        day = TODAY - datetime.timedelta(days=back)
        sit = _sit(journal, day, i, rng, told)
        entries.append(sit)
        for _ in range(SEEN_EACH if i < 20_000 - SITS * (SEEN_EACH - 1) else SEEN_EACH - 1):
            seen = {"count": int(rng.integers(1, 5)), "deer": "doe", "stand": sit.get("stand")}
            seen |= {"trail": GROUND.corridors[0].id, "winded": bool(rng.random() < 0.1)}
            entries.append(entry_of(SEEN, sit.date, seen, of=sit.id))
        if i < AIRS:
            entries.append(entry_of(AIR, sit.date, {"felt": "as-told"}, of=sit.id))
        if i < NOTES:
            entries.append(entry_of(NOTE, sit.date, {"text": "frost, and a fox at seven"}))
    journal.add(entries)
    return len(entries)


def _sit(journal: Journal, day: datetime.date, i: int, rng, told: dict) -> Entry:
    values = {
        "stand": GROUND.stands[int(rng.integers(len(GROUND.stands)))].id,
        "sit": ("morning", "evening")[i % 2],
        "told": told,
        "nothing_seen": False,
    }
    if i < RECENT:
        start_s = int(datetime.datetime(*day.timetuple()[:3], tzinfo=datetime.UTC).timestamp())
        winds = list(rng.uniform(0, 360, 48))
        table = grounds.hourly(start_s, winds, mph=7.0, kind="forecast")
        values["weather"] = journal.keep_weather(hours_to_plain(table))
    return entry_of(SIT, day.isoformat(), values)


def _told() -> dict:
    """What is kept of an answer with a plan: a forecast's, as long as it is."""
    start_s = NOW_S - NOW_S % HOUR_S
    weather = grounds.hourly(start_s, [315.0] * 48, kind="forecast")
    answer = answer_sit(prepare_sit(Scene(GROUND), weather, TODAY + DAY, "morning"))
    told = stand_dict(answer.sit, answer.stands[0], answer.chances)
    chance = {"of_ten": [7, 2, 1], "lead_h": 12.0}
    return {k: v for k, v in told.items() if k != "zones"} | {"chance": chance, "source": "x"}


def new_everything() -> None:
    """As on a server that has just begun."""
    st.cache_data.clear()
    st.cache_resource.clear()


def new_log() -> None:
    """As after a line was written into the log."""
    for name in ("_log", "_log_at", "_from_log", "_ledger"):
        getattr(data, name).clear()


STATES = {"all new": new_everything, "log written": new_log, "nothing new": lambda: None}


def took_s(folder: Path, before, page: str = "", **query: str) -> float:
    """Processor time of a screen in a session of its own. [s]"""
    os.environ["STAND_WIND_HOME"] = str(folder)
    before()
    begun = time.process_time()
    app = opened(page, **query)
    took = time.process_time() - begun
    assert not app.exception, app.exception
    return took


def compare(label: str, without: Path, with_: Path, rounds: int, **query: str) -> None:
    """Prints how much longer the home screen takes with the log."""
    for name, before in STATES.items():
        took: dict[Path, list[float]] = {without: [], with_: []}
        for i in range(rounds + 1):
            for folder in (without, with_):
                seconds = took_s(folder, before, **query)
                took[folder] += [seconds] if i else []
        low, high = (statistics.median(took[folder]) for folder in (without, with_))
        print(
            f"home, {label}, {name}: {low:.3f} s, with {high:.3f} s, {high / low:.2f} times",
            flush=True,
        )


def main(rounds: int) -> None:
    with tempfile.TemporaryDirectory() as place, pytest.MonkeyPatch.context() as patch:
        without, with_ = Path(place, "without"), Path(place, "with")
        with_.mkdir()
        server = serving_the_demo(patch, without)
        without.mkdir()
        with open_journal(GROUND.uid, with_) as journal:
            n = long_log(journal)
            size = journal.path.stat().st_size
        print(f"{n} entries, {size / 1e6:.0f} MB, {iso(NOW_S)}")
        for folder in (without, with_):
            patch.setenv("STAND_WIND_HOME", str(folder))
            home = opened()
            home.segmented_control(key="by").set_value("forecast").run()
            home.button(key="get_forecast").click().run()
            assert not home.exception
        compare("a typed wind", without, with_, rounds, by="type it", wind="NW 8")
        compare("a forecast", without, with_, rounds)
        for name, before in STATES.items():
            each = [took_s(with_, before, "log") for _ in range(3)]
            print(f"log, {name}: {min(each):.2f} to {max(each):.2f} s", flush=True)
        server.stop()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)
