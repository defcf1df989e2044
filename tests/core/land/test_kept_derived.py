"""What follows from heights is kept on disk, and made anew where that is of no use."""

import dataclasses
import os
from types import SimpleNamespace

import numpy as np
import pytest

from core.land import derived
from core.land.kept import KeptLand
from core.land.kept_derived import FOLDER, MOST_FILES, kept_arrays
from tests.core.land.test_cut_and_kept import plane_grid

CENTER = (-79.7, 35.9)
GRID = plane_grid(SimpleNamespace(center=CENTER), reach_m=300.0)
KEPT = KeptLand(GRID, "", "", "ground", "", "ab" * 32, True)


@pytest.fixture
def made():
    """Makes two arrays; `made.times` counts."""

    def make():
        make.times += 1
        return {"a": np.arange(6.0).reshape(2, 3), "b": np.array([[1, 2]])}

    make.times = 0
    return make


def files(folder):
    return sorted((folder / FOLDER).glob("*"))


def test_made_once_and_read_from_then_on(tmp_path, made):
    first = kept_arrays(KEPT, CENTER, made, tmp_path)
    again = kept_arrays(KEPT, CENTER, made, tmp_path)
    assert made.times == 1
    (place,) = files(tmp_path)
    assert place.name.startswith("land-abababababab-") and place.suffix == ".npz"
    for name in ("a", "b"):
        assert (first[name] == again[name]).all() and first[name].dtype == again[name].dtype


def test_other_heights_and_another_centre_have_files_of_their_own(tmp_path, made):
    kept_arrays(KEPT, CENTER, made, tmp_path)
    kept_arrays(KEPT, (-79.7, 35.91), made, tmp_path)
    higher = dataclasses.replace(GRID, height=GRID.height + 1.0)
    kept_arrays(dataclasses.replace(KEPT, grid=higher), CENTER, made, tmp_path)
    moved = dataclasses.replace(GRID, west_deg=GRID.west_deg + 1e-4)
    kept_arrays(dataclasses.replace(KEPT, grid=moved), CENTER, made, tmp_path)
    assert made.times == len(files(tmp_path)) == 4


@pytest.mark.parametrize(
    "broken",
    [
        lambda _: b"",
        lambda data: data[: len(data) // 2],
        lambda _: b"{}" * 50,
        lambda data: data[:150] + bytes([data[150] ^ 8]) + data[151:],
        lambda data: data[:-60] + b"\0" * 60,
    ],
    ids=["empty", "cut", "other", "one bit", "tail"],
)
def test_a_damaged_file_is_made_anew(tmp_path, made, broken):
    kept_arrays(KEPT, CENTER, made, tmp_path)
    (place,) = files(tmp_path)
    whole = place.read_bytes()
    place.write_bytes(broken(whole))
    again = kept_arrays(KEPT, CENTER, made, tmp_path)
    assert made.times == 2
    assert (again["a"] == made()["a"]).all()
    assert kept_arrays(KEPT, CENTER, made, tmp_path)["b"].tolist() == [[1, 2]]
    assert made.times == 3  # once by the line above itself


def test_where_nothing_can_be_written_it_is_made_each_time(tmp_path, made):
    (tmp_path / FOLDER).write_text("a file where the folder should be")
    for _ in range(2):
        assert kept_arrays(KEPT, CENTER, made, tmp_path)["b"].tolist() == [[1, 2]]
    assert made.times == 2


def test_only_the_newest_files_stay(tmp_path, made):
    for k in range(MOST_FILES + 3):
        kept_arrays(KEPT, (-79.7, 35.0 + k), made, tmp_path)
        newest = max(files(tmp_path), key=lambda p: p.stat().st_mtime_ns)
        os.utime(newest, (1000 + k, 1000 + k))
    assert len(files(tmp_path)) == MOST_FILES


def test_a_land_from_its_file_is_the_land_that_was_made(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    ground = SimpleNamespace(center=CENTER)
    rng = np.random.default_rng(3)
    bumpy = dataclasses.replace(GRID, height=GRID.height + rng.normal(0, 2, GRID.height.shape))
    kept = dataclasses.replace(KEPT, grid=bumpy, sha256="cd" * 32)
    derived._derived.cache_clear()
    first = derived.land_on(kept, ground)
    derived._derived.cache_clear()
    monkeypatch.setattr(derived, "drained", None)  # it would have to be called to be made
    again = derived.land_on(kept, ground)
    for a, b in zip(first.slopes, again.slopes, strict=True):
        assert (a.east == b.east).all() and (a.north == b.north).all()
    assert (first.pool == again.pool).all() and first.pool.dtype == again.pool.dtype
    assert np.array_equal(first.ranks, again.ranks, equal_nan=True)
    derived._derived.cache_clear()
