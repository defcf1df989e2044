"""Files of heights that ask for too much, or hold numbers that are no heights."""

import tracemalloc

import numpy as np
import pytest

from core.ground.heights.elevation_file import read_elevation
from core.ground.heights.grid import BadElevation
from tests.tiff_files import DEFLATE, DOUBLE, LONG, SHORT, geotiff

CELL = 1 / 10800
WEST, NORTH = -80.0, 36.2
HILLS = np.full((40, 40), 250.0, "f4")
BOX = (WEST + 5 * CELL, NORTH - 35 * CELL, WEST + 35 * CELL, NORTH - 5 * CELL)
NAN, INF = float("nan"), float("inf")
MOST_BYTES = 14_000_000


def tiff(heights=HILLS, **told) -> bytes:
    return geotiff(heights, **{"west_deg": WEST, "north_deg": NORTH, "cell_deg": CELL, **told})


def tied(*at) -> bytes:
    return tiff(more={33922: (DOUBLE, [0.0, 0.0, 0.0, *at, 0.0])})


def text(columns="5", cells="250 " * 25) -> bytes:
    head = f"ncols {columns}\nnrows 5\nxllcorner -80\nyllcorner 36\ncellsize 0.0001\n"
    return (head + cells).encode()


def pointing_at(at: int) -> bytes:
    """A file whose first directory is said to lie at a byte."""
    data = tiff()
    return data[:4] + at.to_bytes(4, "little") + data[8:]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        # seven rows in one strip, of which four million are promised
        (
            tiff(HILLS[:7], more={257: (LONG, [4_000_000]), 278: (LONG, [4_000_000])}),
            "file ends before",
        ),
        (tiff(more={256: (LONG, [2**31])}), "its size is 2,147,483,648"),
        (tiff(more={258: (SHORT, [64])}), "64 bits"),
        (tiff(more={258: (SHORT, [7])}), "7 bits"),
        (tiff(pack=DEFLATE, more={317: (SHORT, [9])}), "cannot be unpacked"),
        (tied(NAN, NORTH), "elsewhere"),
        (tied(WEST, INF), "elsewhere"),
        (tiff(more={33550: (DOUBLE, [1e-300, 1e-300, 0.0])}), "elsewhere"),
        (tiff(more={33922: None}), "tied down"),
        (tiff(no_data="none"), "mark for no data"),
        (pointing_at(0), "entries"),
        (pointing_at(2**32 - 1), "file ends before"),
        (text("nan"), "not a number"),
        (text("1e308"), r"1e\+308 by 5 cells"),
        (text(cells="1 " * 2_000_000), "over 25 heights"),
        (text("ncols " * 1_000_000), "ncols is"),
        (text(cells="250 " * 12 + "x" + " 250" * 12), '"x" where a height'),
        (text(cells="inf " * 25), "no height"),
        (text(cells="9e30 " * 25), "no height"),
    ],
)
def test_one_clear_message_and_little_memory(data, said):
    tracemalloc.start()
    with pytest.raises(BadElevation, match=said) as fault:
        read_elevation(data, "odd", "meters", box=BOX)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert "odd" in fault.value.text() and len(fault.value.text()) < 300
    assert peak < MOST_BYTES


def test_tiles_of_any_size_in_heights_that_came_with_a_ground():
    """Kept heights are read whole: their file may be another's."""
    with pytest.raises(BadElevation, match="cannot be"):
        read_elevation(tiff(tile=16, more={322: (LONG, [2**31])}), "kept.tif", "meters")


@pytest.mark.parametrize("mark", [-9999.0, -32768.0, -3.4028235e38, 9.9e9])
def test_a_mark_of_no_data_that_the_file_does_not_name_is_no_height(mark):
    heights = HILLS.copy()
    heights[20, 20] = mark
    grid = read_elevation(tiff(heights), "odd", "meters")
    assert np.isnan(grid.height[20, 20]) and np.isnan(grid.height).sum() == 1
    cells = ["250"] * 25
    cells[7] = str(mark)
    grid = read_elevation(text(cells=" ".join(cells)), "odd", "feet")
    assert np.isnan(grid.height).sum() == 1


def test_the_lowest_and_the_highest_land_are_heights():
    """The Dead Sea's shore and Everest, from memory: -430 and 8,849 m."""
    heights = HILLS.copy()
    heights[0, :2] = -430.0, 8849.0
    assert np.isfinite(read_elevation(tiff(heights), "odd", "meters").height).all()
