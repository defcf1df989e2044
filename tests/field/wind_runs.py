"""Winds drawn around the runs of a model against reports: a file with the members m0 to m9.

Its columns are station, run, lead_h, obs_from, obs_mps, and m0_from, m0_mps and so on, every
three hours; m0 is the forecast in hand. `tests/field/wind_pairs.py` prints what this finds.
"""

import gzip
import io
from pathlib import Path

import numpy as np

from core.chance.draws import OF_RUNS_Q
from core.chance.law import DRAWS, drawn_winds
from core.weather.model_runs import ModelRuns, blows_to

N_RUNS = 10
FIRST_H, LAST_H = 3.0, 12.0


def has_runs(path: Path) -> bool:
    """Whether a file holds the members of an ensemble. Args: its path."""
    return "m0_from" in _names_and_lines(path)[0]


def _names_and_lines(path: Path) -> tuple[list[str], list[str]]:
    data = path.read_bytes()
    text = (gzip.decompress(data) if data[:2] == b"\x1f\x8b" else data).decode("utf-8")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    return lines[0].split(","), lines[1:]


def read_runs_file(path: Path) -> tuple[dict[str, np.ndarray], np.ndarray]:
    """Columns as `wind_pairs` names them, m0 the forecast; and all members as they blow,
    shape (member, row). Args: the file's path."""
    names, lines = _names_and_lines(path)
    table = np.genfromtxt(io.StringIO("\n".join(lines)), delimiter=",")
    column = dict(zip(names, np.atleast_2d(table).T, strict=True))
    pairs = {n: column[n] for n in ("station", "run", "lead_h", "obs_from", "obs_mps")}
    pairs |= {"fc_from": column["m0_from"], "fc_mps": column["m0_mps"]}
    each = [blows_to(column[f"m{k}_mps"], column[f"m{k}_from"]) for k in range(N_RUNS)]
    return pairs, np.array(each)


def around_runs(pairs, blows, at) -> tuple[np.ndarray, np.ndarray]:
    """Winds drawn around the members for one window. Args: as read; its rows. (draw, hour)"""
    start_s = pairs["lead_h"][at] * 3600.0
    runs = ModelRuns(start_s, blows[:, at], 0.0)
    moved = runs.moved_onto(start_s, pairs["fc_mps"][at], pairs["fc_from"][at])
    speed, came_from = (np.repeat(x, DRAWS // N_RUNS, axis=0) for x in moved)
    drawn = drawn_winds(start_s, speed, came_from, pairs["lead_h"][at], OF_RUNS_Q, len(speed))
    return drawn.speed_mps, drawn.wind_from_deg


def as_they_are(blows, at) -> tuple[np.ndarray, np.ndarray]:
    """The members themselves, counted as if each were a draw. Args: as `around_runs`."""
    here = blows[:, at]
    return np.abs(here), np.degrees(np.angle(1j * np.conj(here))) % 360.0 + 180.0
