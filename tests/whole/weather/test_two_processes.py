"""Two programs on one folder, as the dashboard and the command line are: each fetches and
keeps, and at no moment is the kept forecast torn.
"""

import gzip
import json
import os
import subprocess
import sys
import time
import zlib
from pathlib import Path

import pytest

from core.weather.services.kept import SUBFOLDER, newest
from tests.weather_server import GRID, LAT, LON, NOW_S, Answer, WeatherServer, grid_body

ROOT = Path(__file__).resolve().parents[3]
TIMES, HOURS, LIMIT_S = 8, 30, 120
# waits for the other, then fetches and keeps again and again, under the same file name
PROGRAM = """
import json, sys, time
from pathlib import Path
from core.weather.services.live import fetch_camp_days
from core.weather.services.sources import Services

folder, url, own, times, now_s, lon, lat = json.loads(sys.argv[1])
folder = Path(folder)
(folder / own).touch()
while len(list(folder.glob("ready-*"))) < 2:
    time.sleep(0.001)
said, at = [], Services(nws_url=url, meteo_url=url, pause_s=0.01)
for _ in range(times):
    got = fetch_camp_days((lon, lat), folder, now_s=now_s, at=at)
    said.append([len(got.hours), len(set(got.hours.wind_from_deg.tolist())), got.trouble])
print(json.dumps(said))
"""


@pytest.fixture
def server():
    running = WeatherServer()
    # every answer is of one wind, another one each time: a mixture would show
    winds = [10 * (i % 36) for i in range(2 * TIMES + 10)]
    running.answers[GRID] = [Answer(grid_body(wind=wind, hours=HOURS)) for wind in winds]
    yield running
    running.stop()


def winds_of(path: Path) -> list[float] | None:
    """The winds in a kept file, hour by hour; None for a torn one."""
    try:
        body = json.loads(gzip.decompress(path.read_bytes()))["body"]
    except (OSError, EOFError, zlib.error, ValueError):
        return None
    return [value["value"] for value in body["properties"]["windDirection"]["values"]]


def start(folder: Path, url: str, own: str) -> subprocess.Popen:
    told = json.dumps([str(folder), url, f"ready-{own}", TIMES, NOW_S, LON, LAT])
    environment = {**os.environ, "NO_PROXY": "127.0.0.1", "PYTHONPATH": str(ROOT)}
    return subprocess.Popen(
        [sys.executable, "-c", PROGRAM, told],
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_two_that_fetch_and_keep_at_once_never_tear_the_kept_forecast(server, tmp_path):
    both = [start(tmp_path, server.url, own) for own in ("a", "b")]
    looks, torn, last = 0, 0, time.monotonic() + LIMIT_S
    seen: set[float] = set()
    try:
        while any(p.poll() is None for p in both) and time.monotonic() < last:
            for path in (tmp_path / SUBFOLDER).glob("*/*.json.gz"):
                winds = winds_of(path)
                looks += 1
                torn += winds is None or len(winds) != HOURS or len(set(winds)) != 1
                seen |= set(winds or ())
            time.sleep(0.0002)
        told = [p.communicate(timeout=LIMIT_S) for p in both]
    finally:
        for process in both:
            process.kill()
    assert [p.returncode for p in both] == [0, 0], told
    # each fetch of each gave a whole forecast of one wind, kept without trouble
    assert [json.loads(out) for out, _ in told] == [[[HOURS, 1, None]] * TIMES] * 2
    assert torn == 0
    assert looks > TIMES and len(seen) > 3  # it was looked at while it changed
    left = [p.name for p in (tmp_path / SUBFOLDER).glob("*/*")]
    assert len([name for name in left if name.endswith(".json.gz")]) == 1
    assert not [name for name in left if name.endswith(".saving")]
    assert newest(tmp_path, (round(LON, 2), round(LAT, 2)), NOW_S) is not None
