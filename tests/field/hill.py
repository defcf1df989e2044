"""Wind over a measured hill against the linear wind.

    python tests/field/hill.py MASTS.csv GRID.asc --from DEG --z0 M [--json]

MASTS.csv has the columns mast, x_m, y_m, height_m, speed_up: where a mast stands, how high it
measures above the ground, and how much quicker the wind is there than upstream at the same
height (0.8: four fifths quicker). GRID.asc is an ESRI ASCII grid in metres, in the same
coordinates; cells that are no squares, holes and masts beside the grid are refused. Cells
finer than 10 m are averaged to about that.

Printed: number of masts, the mean error, its root mean square, and the correlation.
"""

import argparse
import csv
import json
import math
import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from core.errors import StandWindError  # noqa: E402
from core.ground.heights.esri_ascii import esri_cells  # noqa: E402
from core.land.linear_wind import wind_change  # noqa: E402
from core.land.relief import CELL_M, Relief  # noqa: E402

COLUMNS = ("x_m", "y_m", "height_m", "speed_up")
NEAR_M = 0.25  # masts whose heights differ by less share one reckoning


def read_masts(path: Path) -> np.ndarray:
    """Place, height and speed-up of each mast, shape (mast, 4). Args: a CSV file's path."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    lost = [name for name in COLUMNS if not rows or name not in rows[0]]
    if lost:
        raise SystemExit(f"{path.name}: no column {', '.join(lost)}")
    try:
        masts = np.array([[float(row[name]) for name in COLUMNS] for row in rows])
    except (TypeError, ValueError):
        raise SystemExit(f"{path.name}: a mast has something that is no number") from None
    if not np.isfinite(masts).all() or (masts[:, 2] <= 0).any():
        raise SystemExit(f"{path.name}: every mast needs a place, a height above 0 and a speed-up")
    return masts


def read_relief(path: Path) -> Relief:
    """Heights on square cells of metres. Args: an ESRI ASCII file's path."""
    grid = esri_cells(path.read_bytes(), path.name)
    if not math.isclose(grid.cell_lon_deg, grid.cell_lat_deg, rel_tol=1e-6):
        raise SystemExit(f"{path.name}: its cells are no squares")
    if np.isnan(grid.height).any():
        raise SystemExit(f"{path.name}: it has holes")
    land = Relief(
        grid.height[::-1].copy(), grid.west_deg, grid.north_deg - _high(grid), grid.cell_lon_deg
    )
    return _coarser(land, max(1, round(CELL_M / land.cell_m)))


def _high(grid) -> float:
    return (grid.height.shape[0] - 1) * grid.cell_lat_deg


def _coarser(land: Relief, times: int) -> Relief:
    """Means over squares of cells; what is left at the north and east edge is dropped."""
    if times == 1:
        return land
    rows, columns = (n // times * times for n in land.height_m.shape)
    blocks = land.height_m[:rows, :columns].reshape(rows // times, times, columns // times, times)
    shift = (times - 1) / 2.0 * land.cell_m
    return Relief(
        blocks.mean(axis=(1, 3)), land.west_m + shift, land.south_m + shift, land.cell_m * times
    )


def reckoned(masts: np.ndarray, land: Relief, wind_from_deg: float, z0_m: float) -> np.ndarray:
    """The linear wind's speed-up at each mast; shape (mast,)."""
    told = np.full(len(masts), np.nan)
    for height in np.unique(np.round(masts[:, 2] / NEAR_M) * NEAR_M):
        here = np.abs(masts[:, 2] - height) <= NEAR_M / 2 + 1e-9
        change = wind_change(land, height_m=max(float(height), 2.0 * z0_m), roughness_m=z0_m)
        told[here] = land.at(masts[here, 0], masts[here, 1], change.along(wind_from_deg))
    return told


def scores(told, measured) -> dict:
    """Number, bias, root mean square error and correlation. Args: shapes (mast,)."""
    error = told - measured
    spread = float(np.std(told) * np.std(measured))
    return {
        "n": len(error),
        "bias": round(float(error.mean()), 4),
        "rmse": round(float(np.sqrt((error**2).mean())), 4),
        "r": round(float(np.corrcoef(told, measured)[0, 1]), 4) if spread > 0 else None,
    }


def compared(masts_csv: Path, grid_asc: Path, wind_from_deg: float, z0_m: float) -> dict:
    """The scores of a hill. Args: two paths; wind from [deg]; roughness [m]."""
    masts = read_masts(masts_csv)
    told = reckoned(masts, read_relief(grid_asc), wind_from_deg, z0_m)
    if np.isnan(told).any():
        raise SystemExit(f"{masts_csv.name}: {int(np.isnan(told).sum())} masts beside the grid")
    return scores(told, masts[:, 3])


def main(arguments: list[str] | None = None) -> int:
    """Prints the scores. Args: the command line's words."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("masts", type=Path)
    parser.add_argument("grid", type=Path)
    parser.add_argument("--from", dest="wind_from_deg", type=float, required=True)
    parser.add_argument("--z0", dest="z0_m", type=float, required=True)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(arguments)
    try:
        found = compared(asked.masts, asked.grid, asked.wind_from_deg, asked.z0_m)
    except (StandWindError, OSError) as error:
        raise SystemExit(str(error)) from None
    if asked.json:
        print(json.dumps(found))
    else:
        print(
            f"{found['n']} masts: bias {found['bias']:+.2f}, rmse {found['rmse']:.2f}, "
            f"r {found['r']}"
        )
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
