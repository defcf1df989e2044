"""Grids of heights in meters of a UTM zone, and in the large kind of TIFF."""

import io

import numpy as np
import pytest
from PIL import Image, TiffImagePlugin

from core.ground.heights.slope_at import BadElevation, read_elevation, slope_at
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
