"""The script that compares a measured hill, on a hill whose answer is known.

Source: a Gaussian ridge is 0.939 H/L quicker at its top [emeis], here without the doubling of
the wind's profile: the script is given a height at which the middle layer ends.
"""

import json

import numpy as np
import pytest

from tests.field.hill import compared, main


def write_hill(folder, cell=20.0, side=4000.0, extra=""):
    n = int(side / cell)
    x = (np.arange(n) + 0.5) * cell
    z = 10.0 * np.exp(-np.log(2.0) * ((x - side / 2) / 150.0) ** 2)
    rows = "\n".join(" ".join(f"{h:.4f}" for h in z) for _ in range(n))
    grid = folder / "hill.asc"
    grid.write_text(
        f"ncols {n}\nnrows {n}\nxllcorner 0\nyllcorner 0\ncellsize {cell}\n"
        f"NODATA_value -9999\n{rows}\n"
    )
    masts = folder / "masts.csv"
    masts.write_text(
        "mast,x_m,y_m,height_m,speed_up\nfoot,1000,2000,10,0\n"
        f"half,1850,2000,10,0.03\ntop,2000,2000,10,0.12\nfar,3000,2000,10,0\n{extra}"
    )
    return masts, grid


def test_a_ridge_is_quickest_at_its_top(tmp_path, capsys):
    masts, grid = write_hill(tmp_path)
    assert main([str(masts), str(grid), "--from", "270", "--z0", "0.03", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["n"] == 4
    assert told["r"] > 0.95
    assert abs(told["bias"]) < 0.05
    # across the ridge it is quicker, along it nothing happens: all error is the speed-up given
    along = compared(masts, grid, 0.0, 0.03)
    assert along["bias"] == pytest.approx(-0.15 / 4, abs=0.01)


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ("out,9000,0,10,0\n", "1 masts beside"),
        ("bad,1,2,ten,0\n", "no number"),
        ("low,1000,1000,0,0\n", "height above 0"),
    ],
)
def test_faults_of_masts(tmp_path, extra, said):
    masts, grid = write_hill(tmp_path, cell=200.0, extra=extra)
    with pytest.raises(SystemExit, match=said):
        compared(masts, grid, 270.0, 0.03)


def test_finer_cells_are_averaged(tmp_path):
    masts, grid = write_hill(tmp_path, cell=5.0, side=1000.0)
    masts.write_text("mast,x_m,y_m,height_m,speed_up\nfoot,100,500,10,0\ntop,500,500,10,0.1\n")
    assert compared(masts, grid, 270.0, 0.03)["n"] == 2
