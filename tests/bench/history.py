"""How long forty years of history take to read: 350,640 hours in under 3 s.

    python tests/bench/history.py

Writes forty yearly files of one made-up station in three formats, reads each set as
the program does, in a process of its own, and prints the times. Ends with 1 where
one takes longer.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

FIRST_YEAR, YEARS = 1985, 40
LONGEST_S = 3.0
STATION = "999999-00042"
SEED = 4


def winds(n: int, random: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """Directions and speeds as an airport reports them: tens of degrees, m/s x 10."""
    knots = random.integers(2, 25, n) * (random.random(n) > 0.15)
    tenths = np.round(knots * 5.14444).astype(int)
    return np.where(tenths == 0, 0, random.integers(1, 37, n) * 10), tenths


def year_hours(year: int) -> np.ndarray:
    return np.arange(f"{year}-01-01T00", f"{year + 1}-01-01T00", dtype="datetime64[h]")


def isd_lite(year: int, random: np.random.Generator) -> tuple[str, str]:
    stamps = [str(s).replace("-", " ").replace("T", " ") for s in year_hours(year)]
    wind, tenths = winds(len(stamps), random)
    rows = [
        f"{s}   156    89 10205{w:6d}{t:6d}     2     0 -9999"
        for s, w, t in zip(stamps, wind, tenths, strict=True)
    ]
    return f"{STATION}-{year}", "\n".join(rows) + "\n"


def global_hourly(year: int, random: np.random.Generator) -> tuple[str, str]:
    hours = year_hours(year)
    wind, tenths = winds(len(hours), random)
    rows = ['"STATION","DATE","REPORT_TYPE","NAME","WND","CIG","VIS","TMP","DEW","REM"']
    rows += [
        f'"99999900042","{h}:51:00","FM-15","MADE UP FIELD, US","{w or 999:03d},1,'
        f'{"N" if t else "C"},{t:04d},1","22000,1,9,N","016093,1,9,9","+0156,1","+0089,1",'
        '"MET10301/01 METAR as it was sent by the station, with its own remarks"'
        for h, w, t in zip(hours, wind, tenths, strict=True)
    ]
    return f"99999900042-{year}.csv", "\n".join(rows) + "\n"


def asos(year: int, random: np.random.Generator) -> tuple[str, str]:
    hours = year_hours(year)
    wind, tenths = winds(len(hours), random)
    rows = ["station,valid(UTC),tmpf,drct,sknt,p01i,gust,skyc1,wxcodes"]
    rows += [
        f"QQQ,{str(h).replace('T', ' ')}:53,60.08,{w}.00,{t / 5.14444:.2f},0.00,M,CLR,M"
        for h, w, t in zip(hours, wind, tenths, strict=True)
    ]
    return f"QQQ-{year}.csv", "\n".join(rows) + "\n"


TIMED = """
import json, sys, time
from pathlib import Path
start = time.perf_counter()
from core.weather.files.history import read_history
hours = read_history([(p, p.name) for p in sorted(Path(sys.argv[1]).iterdir())])
print(json.dumps([time.perf_counter() - start, len(hours), list(hours.notes)]))
"""


def measure(writer, folder: Path) -> tuple[float, int, list[str]]:
    """Seconds, hours and notes of one set of files."""
    random = np.random.default_rng(SEED)
    for year in range(FIRST_YEAR, FIRST_YEAR + YEARS):
        name, text = writer(year, random)
        (folder / name).write_text(text, encoding="ascii")
    out = subprocess.run(
        [sys.executable, "-c", TIMED, str(folder)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return tuple(json.loads(out.stdout))


def main() -> int:
    slow = 0
    for writer in (isd_lite, global_hourly, asos):
        with tempfile.TemporaryDirectory() as folder:
            took = time.perf_counter()
            seconds, n, notes = measure(writer, Path(folder))
            took = time.perf_counter() - took - seconds
        slow += seconds > LONGEST_S
        print(f"{writer.__name__:14} {n:,} hours in {seconds:.2f} s {notes} (written {took:.0f} s)")
    return 1 if slow else 0


if __name__ == "__main__":
    sys.exit(main())
