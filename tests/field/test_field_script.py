"""The field script on small files of our own: any cell may be empty, scores by hand."""

import json
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from core.errors import StandWindError
from tests.field.prairie_grass import evaluate, report
from tests.field.runs import read_runs, sky_class
from tests.field.scores import by_arc, score

SCRIPT = Path(__file__).resolve().parent / "prairie_grass.py"
COLUMNS = (
    "run,date,time_cst,Q_g_s,release_height_m,sampler_height_m,U2_m_s,L_m,U10_est_m_s,"
    "class_golder,class_pasquill_clear,arc_m,Cmax_obs_mg_m3,sigma_y_recalc_m,flags"
)
# invented: a neutral noon, a still night, one without wind, one without anything
ROWS = """\
1,1956-07-20,1200-1210,50,0.46,1.5,5.0,-200,6.4,D,C,100,60,9,
1,1956-07-20,1200-1210,50,0.46,1.5,5.0,-200,6.4,D,C,800,1.0,60,plume_cut_at_arc_end
2,1956-07-21,0000-0010,50,,,2.2,9,,F,E,100,400,6,
3,,,50,0.46,1.5,,,5.0,,,100,80,,
4,,,50,0.46,1.5,3.0,30,,,,100,,,
5,,,50,0.46,1.5,,,,D,D,200,20,15,
"""


@pytest.fixture
def small(tmp_path) -> Path:
    path = tmp_path / "arcs.csv"
    path.write_text(f"{COLUMNS}\n{ROWS}", encoding="utf-8")
    return path


def test_scores_by_hand():
    # measured 1, 2, 4 and said 1, 5, 3: within a factor of two 1 and 4 of the three
    got = score([1.0, 2.0, 4.0, math.nan], [1.0, 5.0, 3.0, 7.0])
    assert got["n"] == 3
    assert got["fac2"] == pytest.approx(2 / 3)
    # means 7/3 and 3; FB = 2 (7/3 - 3) / (16/3) = -0.25; squares 0 + 9 + 1 over 3 by 7
    assert got["fb"] == pytest.approx(-0.25)
    assert got["nmse"] == pytest.approx((10 / 3) / 7)
    assert got["mg"] == pytest.approx((1 * 0.4 * 4 / 3) ** (1 / 3))


def test_scores_of_nothing_are_none_and_zero_counts_as_a_miss():
    assert score([], [])["fac2"] is None and score([math.nan], [1.0])["n"] == 0
    assert score([0.0, 1.0], [1.0, 1.0])["fac2"] == 0.5


def test_each_arc_has_its_scores():
    found = by_arc([50, 50, 120], np.array([1.0, 1.0, 3.0]), np.array([1.0, 9.0, 3.0]))
    assert found["50"]["fac2"] == 0.5 and found["120"]["fac2"] == 1.0
    assert found["800"]["n"] == 0


def test_empty_cells_leave_rows_out_and_nothing_else(small):
    found = evaluate(read_runs(small))
    # run 3 has no class by Obukhov length, run 4 no maximum, run 5 no wind
    assert found["arc_max"]["all"]["n"] == 3
    assert found["about"]["rows_left_out"] == 2
    # the forecast's class: runs 1 and 2 by sun and clock; 3 and 4 have no time, 5 no wind
    assert found["arc_max_sky"]["all"]["n"] == 3
    # the arc cut at its end has no width
    assert found["sigma_y"]["all"]["n"] == 2
    assert found["sigma_y_cut_arcs_too"]["all"]["n"] == 3
    assert "6 rows of 5 runs" in report(found)


def test_the_clock_makes_noon_sunny_and_midnight_still(small):
    # 20 July 12:05 at 42 N: over 675 W/m2, and 6.4 m/s is over 6: D or C; midnight with
    # 2.2 / 0.2^0.15 = 2.8 m/s and no cloud: F
    found = sky_class(read_runs(small))
    assert found[0] in (2, 3) and found[2] == 5
    assert list(found[3:]) == [-1, -1, 3]


def test_strictly_valid_json_even_without_a_row(tmp_path):
    path = tmp_path / "none.csv"
    path.write_text(f"{COLUMNS}\n", encoding="utf-8")
    asked = [sys.executable, str(SCRIPT), str(path), "--json"]
    printed = subprocess.run(asked, capture_output=True, check=True, text=True).stdout
    assert "NaN" not in printed
    assert json.loads(printed)["arc_max"]["all"] == {
        "n": 0,
        "fac2": None,
        "fb": None,
        "nmse": None,
        "mg": None,
    }


def test_a_file_of_something_else_is_refused_by_its_missing_columns(tmp_path):
    path = tmp_path / "wind.csv"
    path.write_text("time,wind\n1,2\n", encoding="utf-8")
    with pytest.raises(StandWindError, match="no column arc_m, Q_g_s, Cmax_obs_mg_m3"):
        read_runs(path)
    with pytest.raises(StandWindError, match="nowhere"):
        read_runs(tmp_path / "nowhere.csv")
    told = subprocess.run(
        [sys.executable, str(SCRIPT), str(path)], capture_output=True, text=True, check=False
    )
    assert told.returncode == 2 and "Cmax_obs_mg_m3" in told.stderr
