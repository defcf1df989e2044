"""The law of missed forecasts against real pairs, where they lie; the script by small files."""

import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from tests.field.wind_pairs import BY_HOUR, BY_RUNS, BY_THREE, read_pairs, report, scores, windows

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = (ROOT.parent / "shared" / "samples", Path(os.environ.get("STAND_WIND_FIELD", ".")))
NAMES = tuple(f"wind_pairs_{one}_half.csv.gz" for one in ("hourly_12h", "control_48h", "ensemble"))
HEAD = "station,run,lead_h,fc_from,fc_mps,obs_from,obs_mps\n"


def found_files() -> list[Path]:
    for folder in FOLDERS:
        paths = [folder / name for name in NAMES]
        if all(path.exists() for path in paths):
            return paths
    return []


@pytest.fixture(scope="module")
def told():
    paths = found_files()
    if not paths:
        pytest.skip("the pairs of forecasts and reports do not lie beside this checkout")
    return report(paths)


def test_what_is_said_comes(told):
    for kind in (BY_HOUR, BY_THREE):
        assert told[kind]["n"] > 5000
        assert told[kind]["reliability"] <= 0.004
        assert told[kind]["brier"] <= 0.7 * told[kind]["brier_as_sure"]


def test_hours_without_memory_are_clearly_worse(told):
    assert told[BY_HOUR]["reliability_independent"] > 0.012


def test_every_tenth_is_near(told):
    for kind in (BY_HOUR, BY_THREE):
        for row in told[kind]["tenths"]:
            assert row["n"] < 150 or abs(row["said"] - row["came"]) <= 0.10


def test_winds_around_runs_hold_and_the_share_of_runs_is_no_chance(told):
    # MEPS, ten members, 3 to 12 h: the law with 0.8 of its spread around each
    found = told[BY_RUNS]
    assert found["n"] > 2500
    assert found["reliability"] <= 0.004 and found["brier"] <= found["brier_law_alone"]
    assert found["reliability_share_of_runs"] > 0.012
    for row in found["tenths"]:
        assert row["n"] < 150 or abs(row["said"] - row["came"]) <= 0.10


def test_scores_by_hand():
    found = scores(np.array([0.2, 0.2, 0.8, 0.8]), np.array([0.0, 1.0, 1.0, 1.0]))
    assert found["brier"] == pytest.approx((0.04 + 0.64 + 0.04 + 0.04) / 4)
    # tenths .2 (came .5) and .8 (came 1): half each of .3^2 and .2^2
    assert found["reliability"] == pytest.approx((0.09 + 0.04) / 2)


def test_windows_have_no_gap_and_no_light_forecast(tmp_path):
    rows = [f"1,2019021700,{h},300,{5 if h != 9 else 1},300,5" for h in range(3, 13)]
    del rows[1]  # hour 4 is missing
    path = tmp_path / "pairs.csv"
    path.write_text("# a line that is passed over\n" + HEAD + "\n".join(rows), encoding="utf-8")
    pairs = read_pairs(path)
    assert [pairs["lead_h"][w].tolist() for w in windows(pairs, BY_HOUR)] == [[5, 6, 7, 8]]


def test_the_script_prints_json(tmp_path):
    rows = [f"1,2019021700,{h},300,6,300,6" for h in range(13)]
    path = tmp_path / "pairs.csv"
    path.write_text(HEAD + "\n".join(rows), encoding="utf-8")
    script = [sys.executable, str(ROOT / "tests/field/wind_pairs.py"), str(path), "--json"]
    out = subprocess.run(script, capture_output=True, text=True, check=True).stdout
    found = json.loads(out)
    assert found[BY_HOUR]["n"] == 7
    assert found[BY_THREE] == {"n": 0}


def test_a_missing_column_is_said(tmp_path):
    path = tmp_path / "pairs.csv"
    path.write_text("station,run\n1,2\n", encoding="utf-8")
    with pytest.raises(SystemExit, match="no column lead_h"):
        read_pairs(path)
