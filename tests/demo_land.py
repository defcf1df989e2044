"""Writes the invented heights of the demo: a ground that agrees with its typed slopes.

    python tests/demo_land.py

The smoothest ground (second differences nothing) that falls by each stand's typed slope about
it, down the draws, gently along the branch, with sides that rise from both. It is an invented
ground, so nothing is checked against it; the slopes that come out are printed beside the typed.
"""

import hashlib
import json
import sys
from pathlib import Path

import numpy as np
import shapely
from scipy import sparse
from scipy.sparse.linalg import spsolve

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from core.ground.heights.grid import METERS, HeightGrid  # noqa: E402
from core.ground.heights.slope_at import slope_at  # noqa: E402
from core.ground.plan import Plane  # noqa: E402
from core.ground.store import DEMO, open_property  # noqa: E402
from core.land.cut import cut_to, named_points  # noqa: E402
from core.land.kept import tiff  # noqa: E402

CELL_M, AROUND_M, LOWEST_M = 10.0, 1050.0, 250.0
TYPED, DRAW, BRANCH, SIDE, SMOOTH, LEVEL = 6.0, 3.0, 5.0, 1.5, 1.0, 0.0005


class Wishes:
    """Rows of one least-squares system on the heights of the cells."""

    def __init__(self, shape: tuple[int, int]) -> None:
        self.shape, self.rows, self.wanted = shape, [], []

    def want(self, cells: list[tuple[int, int, float]], height_m: float, weight: float) -> None:
        """That a sum of heights times factors is some height."""
        rows, columns = self.shape
        if all(0 <= i < rows and 0 <= j < columns for i, j, _ in cells):
            self.rows.append([(i * columns + j, f * weight) for i, j, f in cells])
            self.wanted.append(height_m * weight)

    def heights(self) -> np.ndarray:
        """The heights that come nearest to all that was wanted."""
        at = np.repeat(np.arange(len(self.rows)), [len(r) for r in self.rows])
        column = [c for row in self.rows for c, _ in row]
        factor = [f for row in self.rows for _, f in row]
        a = sparse.csr_array((factor, (at, column)), (len(self.rows), np.prod(self.shape)))
        return spsolve((a.T @ a).tocsc(), a.T @ np.array(self.wanted)).reshape(self.shape)


def main() -> None:
    opened = open_property(DEMO)
    ground, plane = opened.property, Plane(opened.property.center)
    points = plane.points([p for _, p in named_points(ground)])
    low, high = points.min(axis=0) - AROUND_M, points.max(axis=0) + AROUND_M
    columns, rows = (int((b - a) / CELL_M) + 1 for a, b in zip(low, high, strict=True))
    wishes = Wishes((rows, columns))

    def cell(place) -> tuple[int, int]:
        j, i = np.round((np.asarray(place) - low) / CELL_M).astype(int)
        return int(i), int(j)

    smooth(wishes)
    for stand in ground.stands:
        if stand.grade_pct:
            slope(wishes, cell(plane.points([stand.at])[0]), stand.downhill_deg, stand.grade_pct)
        elif stand.lies in ("bottom", "gap"):
            slope(wishes, cell(plane.points([stand.at])[0]), 180.0, 1.0)
    for mark in ground.marks:
        if mark.kind in ("draw", "water"):
            falls = (8.5, DRAW) if mark.kind == "draw" else (1.2, BRANCH)
            ravine(wishes, plane.points(mark.points), cell, *falls)
    level_far_away(wishes, points, low)
    height = wishes.heights()
    height += LOWEST_M - height.min()
    lon, lat = plane.to_lonlat(low[0], low[1] + (rows - 1) * CELL_M)
    grid = HeightGrid(
        height[::-1].round(2),
        float(lon),
        float(lat),
        CELL_M / plane.m_per_lon_deg,
        CELL_M / plane.m_per_lat_deg,
        METERS,
    )
    for stand in ground.stands:
        got = slope_at(grid, stand.at)
        print(
            f"{stand.id:16} typed {stand.downhill_deg} {stand.grade_pct}   "
            f"grid {got.downhill_deg or 0:.0f} {got.grade_pct:.1f}"
        )
    keep(cut_to(grid, ground, "the demo's heights"))


def smooth(wishes: Wishes) -> None:
    rows, columns = wishes.shape
    for i in range(rows):
        for j in range(columns):
            wishes.want([(i - 1, j, 1.0), (i, j, -2.0), (i + 1, j, 1.0)], 0.0, SMOOTH)
            wishes.want([(i, j - 1, 1.0), (i, j, -2.0), (i, j + 1, 1.0)], 0.0, SMOOTH)


def level_far_away(wishes: Wishes, points: np.ndarray, low: np.ndarray) -> None:
    """Past 500 m from every feature the ground leans back to one level."""
    rows, columns = wishes.shape
    for i in range(rows):
        for j in range(columns):
            away = points - low - np.array([j * CELL_M, i * CELL_M])
            if np.hypot(away[:, 0], away[:, 1]).min() > 500.0:
                wishes.want([(i, j, 1.0)], 0.0, LEVEL)


def slope(wishes: Wishes, at: tuple[int, int], downhill_deg: float, grade_pct: float) -> None:
    turn = np.radians(downhill_deg)
    east, north = (-grade_pct / 100.0 * f for f in (np.sin(turn), np.cos(turn)))
    i, j = at
    for k in range(-3, 4):
        for m in range(-3, 4):
            a, b = i + k, j + m
            wishes.want([(a, b - 1, -1.0), (a, b + 1, 1.0)], east * 2 * CELL_M, TYPED)
            wishes.want([(a - 1, b, -1.0), (a + 1, b, 1.0)], north * 2 * CELL_M, TYPED)


def ravine(wishes: Wishes, line_m, cell, fall_pct: float, weight: float) -> None:
    """Falls along a line, and stands higher 25 and 45 m to either side of it."""
    line = shapely.LineString(line_m)
    steps = np.arange(0.0, line.length, CELL_M)
    at = np.array([shapely.line_interpolate_point(line, d).coords[0] for d in steps])
    for k in range(len(at) - 1):
        first, then = cell(at[k]), cell(at[k + 1])
        if first != then:
            away = np.hypot(first[0] - then[0], first[1] - then[1]) * CELL_M
            fall = fall_pct / 100.0 * away
            wishes.want([(*first, 1.0), (*then, -1.0)], fall, weight)
        along = at[k + 1] - at[k]
        side = np.array([-along[1], along[0]]) / np.hypot(*along)
        for away, rise in ((25.0, 2.2), (45.0, 4.0)):
            for turn in (-1.0, 1.0):
                wishes.want([(*cell(at[k] + turn * away * side), 1.0), (*first, -1.0)], rise, SIDE)


def keep(cut) -> None:
    grid, notes = cut
    data = tiff(grid)
    sha256 = hashlib.sha256(data).hexdigest()
    name = f"{DEMO.stem}.land-{sha256[:12]}.tif"
    for old in (ROOT / "core" / "land").glob("*.tif"):
        old.unlink()
    (ROOT / "core" / "land" / name).write_bytes(data)
    member = {
        "file": name,
        "sha256": sha256,
        "source": "invented for the demo",
        "credit": "",
        "surface": "ground",
        "cell_m": 10.0,
        "taken_utc": "2026-11-01T00:00:00Z",
        "use": True,
    }
    DEMO.write_text(with_line(DEMO.read_text(encoding="utf-8"), member), encoding="utf-8")
    print(name, len(data), "bytes", grid.height.shape, *notes, sep="\n")


def with_line(text: str, member: dict) -> str:
    """The demo's file with one line of its own for the heights; the rest as it was written."""
    lines = [line for line in text.splitlines() if not line.startswith('  "land": ')]
    at = next(k for k, line in enumerate(lines) if line.startswith('  "accepted": '))
    return "\n".join([*lines[:at], f'  "land": {json.dumps(member)},', *lines[at:]]) + "\n"


if __name__ == "__main__":
    main()
