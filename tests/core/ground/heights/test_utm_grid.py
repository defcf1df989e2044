"""Grids of heights in meters of a UTM zone, and in the large kind of TIFF."""

import io

import numpy as np
import pytest
from PIL import Image, TiffImagePlugin

from core.ground.heights.elevation_file import read_elevation
from core.ground.heights.grid import BadElevation, ZoneOpen
from core.ground.heights.slope_at import slope_at
from core.ground.heights.utm import from_utm, to_utm
from core.ground.plan import Plane
from tests.tiff_files import geotiff

ZONE = 17
AT = (-79.9, 36.1)


def plane_in_zone(grade=0.1, cells=41, cell=10.0):
    """Heights that fall due west by the true north of AT, on cells of the zone."""
    east, north = to_utm(*AT, ZONE)
    x = east + (np.arange(cells) - cells // 2) * cell
    y = north + (cells // 2 - np.arange(cells)) * cell
    lon, lat = from_utm(*np.meshgrid(x, y), ZONE)
    height = 200.0 + grade * Plane(AT).to_local(lon, lat)[0]
    corner = {33922: (12, [0.0, 0.0, 0.0, x[0] - cell / 2, y[0] + cell / 2, 0.0])}
    return height.astype("f4"), {**corner, 33550: (12, [cell, cell, 0.0])}


@pytest.mark.parametrize("code", [32617, 26917, 6346])
def test_true_north_is_kept(code):
    """The grid's own north lies 0.65 degrees off there; the slope does not."""
    height, more = plane_in_zone()
    keys = {1024: 1, 2048: None, 2054: None, 3072: code, 3076: 9001}
    grid = read_elevation(geotiff(height, more=more, keys=keys), "hill.tif", "meters")
    slope = slope_at(grid, AT)
    assert slope.downhill_deg == pytest.approx(270.0, abs=0.05)
    assert slope.grade_pct == pytest.approx(10.0, abs=0.01)


def test_feet_of_a_state_plane_are_no_zone():
    height, more = plane_in_zone()
    keys = {1024: 1, 2048: None, 2054: None, 3072: 26917, 3076: 9003}
    with pytest.raises(BadElevation, match="neither in longitude"):
        read_elevation(geotiff(height, more=more, keys=keys), "hill.tif", "meters")


def test_a_big_tiff():
    height = np.add.outer(np.arange(30.0), np.arange(20.0)).astype("f4")
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    for number, kind, values in (
        (33550, 12, (0.0001, 0.0001, 0.0)),
        (33922, 12, (0.0, 0.0, 0.0, -80.0, 36.2, 0.0)),
        (34735, 3, (1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326)),
    ):
        tags[number] = values
        tags.tagtype[number] = kind
    told = io.BytesIO()
    Image.fromarray(height).save(told, format="TIFF", tiffinfo=tags, big_tiff=True)
    assert told.getvalue()[:4] == b"II+\0"
    assert (read_elevation(told.getvalue(), "hill.tif", "meters").height == height).all()


# --- text grids in meters: the zone is asked ---


def text_grid(cells=41, cell=10.0, **head):
    """The plane of `plane_in_zone` as an ESRI ASCII grid."""
    height, tags = plane_in_zone(cells=cells, cell=cell)
    x, y = tags[33922][1][3], tags[33922][1][4] - cells * cell
    told = {"ncols": cells, "nrows": cells, "xllcorner": x, "yllcorner": y, "cellsize": cell}
    lines = [f"{k} {v}" for k, v in (told | head).items()]
    return "\n".join([*lines, *(" ".join(f"{v:.3f}" for v in row) for row in height)]).encode()


def test_a_text_grid_in_meters_asks_its_zone():
    with pytest.raises(ZoneOpen, match=r"cells of 10\), and does not say in which UTM zone"):
        read_elevation(text_grid(), "hill.asc", "meters")
    grid = read_elevation(text_grid(), "hill.asc", "meters", zone="17N")
    slope = slope_at(grid, AT)
    assert slope.downhill_deg == pytest.approx(270.0, abs=0.05)
    assert slope.grade_pct == pytest.approx(10.0, abs=0.01)
    assert grid.read_as == "read as UTM zone 17N"


def test_another_zone_puts_the_grid_elsewhere():
    east = read_elevation(text_grid(), "hill.asc", "meters", zone="18n")
    assert east.west_deg == pytest.approx(AT[0] + 6.0, abs=0.01)
    south = read_elevation(text_grid(), "hill.asc", "meters", zone="17S")
    assert south.north_deg < 0.0


@pytest.mark.parametrize("zone", ["0N", "61N", "17", "T17N", "17X", "", "-05:00"])
def test_what_is_no_zone(zone):
    with pytest.raises(BadElevation, match="is no UTM zone"):
        read_elevation(text_grid(), "hill.asc", "meters", zone=zone)


def test_text_in_degrees_needs_no_zone():
    told = {"xllcorner": -79.92, "yllcorner": 36.08, "cellsize": 0.001}
    grid = read_elevation(text_grid(**told), "hill.asc", "meters", zone="17N")
    assert (grid.west_deg, grid.read_as) == (pytest.approx(-79.9195), "")


def test_feet_of_a_plane_are_neither():
    told = {"xllcorner": 1_780_000.0, "yllcorner": 840_000.0}
    with pytest.raises(BadElevation, match="neither degrees nor meters of a UTM zone"):
        read_elevation(text_grid(**told), "hill.asc", "meters", zone="17N")
