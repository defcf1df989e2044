"""How a place is suggested to lie, on shapes that are known."""

from types import SimpleNamespace

import numpy as np
import pytest

from core.land.derived import land_on
from core.land.kept import KeptLand
from core.land.lies import suggested_lies
from tests.core.land.test_cut_and_kept import plane_grid

GROUND = SimpleNamespace(center=(-79.7, 35.9))


def land_of(height_of, name):
    grid = plane_grid(GROUND, reach_m=800.0)
    n = grid.height.shape[0] // 2
    at = (np.arange(2 * n + 1) - n) * 10.0
    grid.height[:] = height_of(at[None, :], -at[:, None])
    return land_on(KeptLand(grid, "", "", "ground", "", name.ljust(64, "0"), True), GROUND)


def at(land, east, north):
    lon, lat = land.plane.to_lonlat(east, north)
    return float(lon), float(lat)


def test_bowls_ridges_saddles_sides_and_flats():
    bowl = land_of(lambda x, y: 0.0002 * np.minimum(np.hypot(x, y), 500.0) ** 2, "ab01")
    assert suggested_lies(bowl, at(bowl, 0.0, 0.0)) == "bottom"
    assert suggested_lies(bowl, at(bowl, 300.0, 0.0)) == "side"
    ridge = land_of(lambda x, y: -0.1 * np.abs(x) + 0.0 * y, "ab02")
    assert suggested_lies(ridge, at(ridge, 0.0, 0.0)) == "ridge"
    assert suggested_lies(ridge, at(ridge, 200.0, 0.0)) == "side"
    saddle = land_of(lambda x, y: (x**2 - y**2) / 5000.0, "ab03")
    for east, north, lies in ((0.0, 0.0, "gap"), (25.0, 25.0, "gap"), (200.0, 0.0, "side")):
        assert suggested_lies(saddle, at(saddle, east, north)) == lies
    flat = land_of(lambda x, y: 0.02 * x + 0.0 * y, "ab04")
    assert suggested_lies(flat, at(flat, 0.0, 0.0)) == "flat"
    assert suggested_lies(flat, at(flat, 5000.0, 0.0)) is None


def test_coarse_cells_are_smoothed_over_60_m_at_least():
    """A wave of 320 m keeps exp(-(2 pi s/320)^2/2) of its slope: .84 at 30 m, .50 at 60."""
    kept = {}
    for cell, name in ((10.0, "ab20"), (30.0, "ab21")):
        grid = plane_grid(GROUND, reach_m=900.0, cell_m=cell)
        n = grid.height.shape[1] // 2
        east = (np.arange(2 * n + 1) - n) * cell
        grid.height[:] = 5.0 * np.sin(2.0 * np.pi * east / 320.0)
        land = land_on(KeptLand(grid, "", "", "ground", "", name.ljust(64, "0"), True), GROUND)
        whole = 5.0 * 2.0 * np.pi / 320.0
        kept[cell] = [s.at(0.0, 0.0)[0] / whole for s in land.slopes]
    shares = [np.exp(-((2.0 * np.pi * s / 320.0) ** 2) / 2.0) for s in (15.0, 30.0, 60.0, 120.0)]
    assert kept[10.0] == pytest.approx(shares[:3], abs=0.03)
    assert kept[30.0] == pytest.approx([shares[2], shares[2], shares[3]], abs=0.03)


@pytest.mark.parametrize("hump", [0.0, 0.5])
def test_level_ground_with_small_humps_is_no_pass(hump):
    """Half of such ground is curved like a saddle somewhere; a pass is more."""
    rng = np.random.default_rng(2)
    noise = hump * rng.normal(size=(161, 161))
    land = land_of(lambda x, y: 0.02 * x + 0.0 * y + noise, f"ab1{int(hump * 10)}")
    told = {
        suggested_lies(land, at(land, e, n)) for e in (-200.0, 0.0, 250.0) for n in (-99.0, 99.0)
    }
    assert told == {"flat"}
