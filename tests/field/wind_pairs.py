"""The law of missed forecasts against pairs of forecast and report.

    python tests/field/wind_pairs.py FILE [FILE ...] [--json]

A file has the columns station, run, lead_h, fc_from, fc_mps, obs_from, obs_mps (lines that
begin with # are passed over; .gz is unpacked). Series by the hour give windows of four
hours at leads of 3 to 12 hours; series by three hours give windows of two reports at leads
of 12 to 48. The event is what a stand asks: the wind of every hour of the window lies within
an arc, and is not too light to call. Forecasts that are too light themselves are left out:
they are told as "can't call". The arcs are 90 to 180 degrees wide and turned from the
forecast to both sides by fixed steps, so that it lies in their middle, at their edge, or
outside.

Printed: how often it came, the Brier score of the law and of the forecast taken as sure, the
reliability term of Murphy's decomposition (Murphy 1973), for the law and for hours drawn
without memory, and for each tenth what was said and what came. Of a file with the members of
an ensemble (`tests/field/wind_runs.py`), windows of two reports at leads of 3 to 12 hours: the
law alone, winds drawn around the members, and the bare share of the members, which is no chance.
"""

import argparse
import gzip
import io
import json
import signal
import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from core.angles import separation_deg  # noqa: E402
from core.chance.law import DRAWS, drawn_winds, tails  # noqa: E402
from tests.field.wind_runs import (  # noqa: E402
    FIRST_H,
    LAST_H,
    around_runs,
    as_they_are,
    has_runs,
    read_runs_file,
)

COLUMNS = ("station", "run", "lead_h", "fc_from", "fc_mps", "obs_from", "obs_mps")
LEAST_MPS = 1.3
HALF_WIDTHS_DEG = (45.0, 60.0, 75.0, 90.0)
TURNS_DEG = (0.0, -30.0, 30.0, -60.0, 60.0, -90.0, 90.0)
BY_HOUR, BY_THREE, BY_RUNS = "hourly", "three_hourly", "around_runs"
WINDOWS = {  # n, step, leads
    BY_HOUR: (4, 1.0, 3.0, 12.0),
    BY_THREE: (2, 3.0, 12.0, 48.0),
    BY_RUNS: (2, 3.0, FIRST_H, LAST_H),
}


def read_pairs(path: Path) -> dict[str, np.ndarray]:
    """The columns of a file of pairs. Args: its path. Missing values become NaN."""
    data = path.read_bytes()
    text = (gzip.decompress(data) if data[:2] == b"\x1f\x8b" else data).decode("utf-8")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    names = lines[0].split(",")
    lost = [name for name in COLUMNS if name not in names]
    if lost:
        raise SystemExit(f"{path.name}: no column {', '.join(lost)}")
    at = [names.index(name) for name in COLUMNS]
    table = np.genfromtxt(io.StringIO("\n".join(lines[1:])), delimiter=",", usecols=at)
    return dict(zip(COLUMNS, np.atleast_2d(table).T, strict=True))


def windows(pairs: dict[str, np.ndarray], kind: str) -> np.ndarray:
    """Rows of each window that is without a gap and can be called; shape (window, row)."""
    n, step_h, first_h, last_h = WINDOWS[kind]
    order = np.lexsort((pairs["lead_h"], pairs["run"], pairs["station"]))
    known = np.all([np.isfinite(pairs[name]) for name in COLUMNS], axis=0)
    order = order[known[order]]
    rows = order[np.arange(len(order) - n + 1)[:, None] + np.arange(n)]
    same = np.ones(len(rows), bool)
    for name in ("station", "run"):
        same &= (pairs[name][rows] == pairs[name][rows[:, :1]]).all(axis=1)
    lead = pairs["lead_h"][rows]
    same &= (np.diff(lead, axis=1) == step_h).all(axis=1)
    same &= (lead[:, 0] >= first_h) & (lead[:, -1] <= last_h)
    same &= (pairs["fc_mps"][rows] >= LEAST_MPS).all(axis=1)
    return rows[same]


def inside(speed_mps, from_deg, middle_deg, half_deg):
    """Whether the wind of every hour lies in an arc and can be called; over the last axis."""
    near = separation_deg(from_deg, middle_deg) <= half_deg
    return (near & (speed_mps >= LEAST_MPS)).all(axis=-1)


def arcs(pairs, rows) -> tuple[np.ndarray, np.ndarray]:
    """Middle and half-width of the arc of each window, about its forecast. [deg]"""
    angle = np.radians(pairs["fc_from"][rows])
    mean = np.degrees(np.arctan2(np.sin(angle).mean(axis=1), np.cos(angle).mean(axis=1)))
    at = np.arange(len(rows))
    turn = np.array(TURNS_DEG)[at % len(TURNS_DEG)]
    half = np.array(HALF_WIDTHS_DEG)[at // len(TURNS_DEG) % len(HALF_WIDTHS_DEG)]
    return (mean + turn) % 360.0, half


def said_shares(pairs, rows, middle, half, memory: bool = True) -> np.ndarray:
    """The law's share for each window; without memory each hour has an error of its own."""
    shares = np.empty(len(rows))
    for i, at in enumerate(rows):
        lead = pairs["lead_h"][at]
        told = (pairs["fc_mps"][at], pairs["fc_from"][at], lead)
        if memory:
            drawn = drawn_winds(lead * 3600.0, *told)
            speed, came_from = drawn.speed_mps, drawn.wind_from_deg
        else:
            speed, came_from = _without_memory(*told)
        shares[i] = inside(speed, np.nan_to_num(came_from), middle[i], half[i]).mean()
    return shares


def _without_memory(speed_mps, from_deg, lead_h):
    """Each hour drawn as if days apart, with a tail of its own."""
    far_s = np.arange(len(speed_mps)) * 30 * 86_400.0
    drawn = drawn_winds(far_s, speed_mps, from_deg, lead_h)
    return drawn.speed_mps, drawn.wind_from_deg


def scores(said, came) -> dict:
    """Brier score, reliability term and the tenths. Args: shares; truths; shapes (n,)."""
    tenth = np.minimum((np.asarray(said) * 10).astype(int), 9)
    rows = []
    reliability = 0.0
    for k in range(10):
        here = tenth == k
        if not here.any():
            continue
        mean, share = float(np.mean(said[here])), float(np.mean(came[here]))
        reliability += here.mean() * (mean - share) ** 2
        rows.append({"said": round(mean, 3), "came": round(share, 3), "n": int(here.sum())})
    brier = float(np.mean((said - came) ** 2)) if len(said) else None
    return {"brier": brier, "reliability": float(reliability), "tenths": rows}


def judged(pairs, kind: str) -> dict:
    """All that is printed of one kind of series."""
    rows = windows(pairs, kind)
    if not len(rows):
        return {"n": 0}
    middle, half = arcs(pairs, rows)
    told = (pairs["obs_mps"][rows], pairs["obs_from"][rows])
    came = inside(*told, middle[:, None], half[:, None]).astype(float)
    sure = inside(pairs["fc_mps"][rows], pairs["fc_from"][rows], middle[:, None], half[:, None])
    law = scores(said_shares(pairs, rows, middle, half), came)
    alone = scores(said_shares(pairs, rows, middle, half, memory=False), came)
    return {
        "n": len(rows),
        "base": round(float(came.mean()), 4),
        "brier": round(law["brier"], 4),
        "brier_as_sure": round(float(np.mean((sure - came) ** 2)), 4),
        "reliability": round(law["reliability"], 5),
        "reliability_independent": round(alone["reliability"], 5),
        "tenths": law["tenths"],
    }


def report(paths: list[Path]) -> dict:
    """Both kinds of series, from all files together."""
    read = [read_pairs(path) for path in paths if not has_runs(path)]
    found = {}
    for kind in (BY_HOUR, BY_THREE):
        step = WINDOWS[kind][1]
        fitting = [p for p in read if _step_h(p) == step]
        found[kind] = {"n": 0}
        if fitting:
            joined = {c: np.concatenate([p[c] for p in fitting]) for c in COLUMNS}
            found[kind] = judged(joined, kind)
    for path in filter(has_runs, paths):
        found[BY_RUNS] = judged_around_runs(path)
    return found


def judged_around_runs(path: Path) -> dict:
    """What is printed of a file with the members of an ensemble. Args: its path."""
    pairs, blows = read_runs_file(path)
    rows = windows(pairs, BY_RUNS)
    rows = rows[np.isfinite(blows[:, rows]).all(axis=(0, 2))]
    middle, half = arcs(pairs, rows)
    told = (pairs["obs_mps"][rows], pairs["obs_from"][rows])
    came = inside(*told, middle[:, None], half[:, None]).astype(float)
    law = scores(said_shares(pairs, rows, middle, half), came)
    drawn, bare = [], []
    for i, at in enumerate(rows):
        for found, winds in (
            (drawn, around_runs(pairs, blows, at)),
            (bare, as_they_are(blows, at)),
        ):
            speed, came_from = winds
            found.append(inside(speed, np.nan_to_num(came_from), middle[i], half[i]).mean())
    around, share = scores(np.array(drawn), came), scores(np.array(bare), came)
    return {
        "n": len(rows),
        "base": round(float(came.mean()), 4),
        "brier": round(around["brier"], 4),
        "brier_law_alone": round(law["brier"], 4),
        "brier_share_of_runs": round(share["brier"], 4),
        "reliability": round(around["reliability"], 5),
        "reliability_law_alone": round(law["reliability"], 5),
        "reliability_share_of_runs": round(share["reliability"], 5),
        "tenths": around["tenths"],
    }


def _step_h(pairs) -> float:
    """The usual step of a file's series. [h]"""
    steps = np.diff(np.unique(pairs["lead_h"][np.isfinite(pairs["lead_h"])]))
    return float(np.median(steps)) if len(steps) else 0.0


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description="The law of missed forecasts against pairs.")
    parser.add_argument("files", nargs="+", type=Path, help="files of pairs")
    parser.add_argument("--json", action="store_true", help="as JSON")
    options = parser.parse_args(arguments)
    found = report(options.files)
    if options.json:
        print(json.dumps(found))
        return 0
    for kind, told in found.items():
        print(f"{kind}: " + ", ".join(f"{k} {v}" for k, v in told.items() if k != "tenths"))
        for row in told.get("tenths", ()):
            print(f"  said {row['said']:.2f} came {row['came']:.2f} n {row['n']}")
    print(f"draws {DRAWS}, worst day's factor {tails().max():.1f}")
    return 0


if __name__ == "__main__":
    if hasattr(signal, "SIGPIPE"):  # into `head` it ends as quietly as other tools
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    sys.exit(main(sys.argv[1:]))
