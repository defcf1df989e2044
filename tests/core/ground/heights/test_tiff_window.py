"""Pieces of large GeoTIFFs: exactly what the whole holds there, and no more is read."""

import io
import tracemalloc

import numpy as np
import pytest
from PIL import Image, TiffImagePlugin

from core.ground.heights.elevation_file import read_elevation, read_elevation_file
from core.ground.heights.grid import BadElevation
from core.ground.heights.tiff_window import of_bytes, read_window
from core.ground.heights.utm import from_utm, to_utm
from tests.tiff_files import DEFLATE, LZW, geotiff

RNG = np.random.default_rng(5)
CELL = 1 / 10800  # ten meters and less
HILLS = (250 + np.cumsum(RNG.normal(0, 1, (200, 230)), axis=1)).astype("f4")
WEST, NORTH = -80.0, 36.2
BOX = (WEST + 60.2 * CELL, NORTH - 120.7 * CELL, WEST + 110.9 * CELL, NORTH - 70.1 * CELL)


def whole_part(grid, heights):
    """The cells of the array that a grid covers."""
    j = round((grid.west_deg - WEST) / CELL - 0.5)
    i = round((NORTH - grid.north_deg) / CELL - 0.5)
    rows, columns = grid.height.shape
    return heights[i : i + rows, j : j + columns]


class Counting:
    """Reads a file's bytes and counts them."""

    def __init__(self, data: bytes) -> None:
        self.data, self.read = data, 0

    def __call__(self, at: int, count: int) -> bytes:
        self.read += count
        return self.data[at : at + count]


@pytest.mark.parametrize(
    "told",
    [
        {},
        {"order": ">"},
        {"tile": 16},
        {"tile": 16, "order": ">"},
        {"tile": 16, "big": True},
        {"big": True, "order": ">"},
        {"tile": 32, "pack": LZW, "predictor": 3},
        {"tile": 16, "pack": LZW, "predictor": 3, "big": True},
        {"pack": DEFLATE, "predictor": 3},
        {"tile": 16, "pack": DEFLATE},
        {"pack": LZW},
    ],
)
def test_a_piece_is_what_the_whole_holds_there(told):
    data = geotiff(HILLS, west_deg=WEST, north_deg=NORTH, cell_deg=CELL, **told)
    read = Counting(data)
    grid = read_window(read, BOX, "big.tif")
    assert (grid.height == whole_part(grid, HILLS)).all()
    assert grid.west_deg <= BOX[0] and grid.east_deg >= BOX[2]
    assert grid.south_deg <= BOX[1] and grid.north_deg >= BOX[3]
    assert grid.height.size < 60 * 60
    assert read.read < len(data) * 0.62
    if told != {"big": True, "order": ">"}:  # such a one Pillow cannot read
        whole = read_elevation(data, "big.tif", "meters")
        assert (whole.height == HILLS).all()
        assert grid.west_deg == pytest.approx(
            whole.west_deg + round((grid.west_deg - whole.west_deg) / CELL) * CELL, abs=1e-12
        )


@pytest.mark.parametrize(("kind", "predictor"), [("i2", 2), ("u2", 1), ("i4", 2)])
def test_whole_numbers(kind, predictor):
    heights = HILLS.astype(kind)
    if kind != "u2":
        heights[90, 80] = -11
    told = {"tile": 16}
    if kind != "i2":  # Pillow packs no signed 16-bit
        told |= {"pack": LZW, "predictor": predictor}
    data = geotiff(heights, west_deg=WEST, north_deg=NORTH, cell_deg=CELL, **told)
    grid = read_window(of_bytes(data), BOX, "big.tif")
    assert (grid.height == whole_part(grid, heights)).all()


def test_holes_are_marked_or_have_no_piece():
    heights = HILLS.copy()
    heights[100, 90] = -999999.0
    data = geotiff(
        heights, west_deg=WEST, north_deg=NORTH, cell_deg=CELL, tile=16, no_data=-999999.0
    )
    grid = read_window(of_bytes(data), BOX, "big.tif")
    assert np.isnan(grid.height).sum() == 1
    # a tile without bytes: 14 tiles across, the 5th of the 6th row
    sizes = [1024] * (13 * 15)
    sizes[6 * 15 + 5] = 0
    sparse = geotiff(HILLS, west_deg=WEST, north_deg=NORTH, cell_deg=CELL, tile=16)
    where = sparse.index(np.full(13 * 15, 1024, "<u4").tobytes())
    holed = bytearray(sparse)
    holed[where : where + 4 * len(sizes)] = np.array(sizes, "<u4").tobytes()
    grid = read_window(of_bytes(bytes(holed)), BOX, "big.tif")
    assert np.isnan(grid.height).sum() == 256


def test_finer_cells_are_averaged_as_they_come():
    fine = CELL / 4
    heights = (250 + RNG.normal(0, 3, (300, 301))).astype("f4")
    heights[150, 150] = np.nan
    box = (WEST + 80 * fine, NORTH - 190 * fine, WEST + 200 * fine, NORTH - 90 * fine)
    data = geotiff(heights, west_deg=WEST, north_deg=NORTH, cell_deg=fine, tile=32)
    grid = read_window(of_bytes(data), box, "fine.tif")
    # a cell is 2.08 by 2.57 m: five across and four down make about ten
    assert grid.cell_lon_deg == pytest.approx(4 * fine) or grid.cell_lon_deg == pytest.approx(
        5 * fine
    )
    across, down = round(grid.cell_lon_deg / fine), round(grid.cell_lat_deg / fine)
    j = round((grid.west_deg - WEST) / fine - across / 2)
    i = round((NORTH - grid.north_deg) / fine - down / 2)
    rows, columns = grid.height.shape
    block = heights[i : i + rows * down, j : j + columns * across].astype(float)
    mean = block.reshape(rows, down, columns, across).mean(axis=(1, 3))
    np.testing.assert_allclose(grid.height, mean, rtol=0, atol=1e-9)
    assert np.isnan(grid.height).sum() == 1


def test_a_piece_of_a_zone():
    """The same heights, cut from a grid in meters of zone 17 and read whole."""
    east, north = to_utm(-79.9, 36.1, 17)
    x0, y0 = float(east) - 1500.0, float(north) + 1500.0
    at = np.arange(300) * 10.0 + 5.0
    height = (300 + 0.05 * at[None, :] + 0.02 * at[:, None]).astype("f4")
    place = {33922: (12, [0.0, 0.0, 0.0, x0, y0, 0.0]), 33550: (12, [10.0, 10.0, 0.0])}
    keys = {1024: 1, 2048: None, 2054: None, 3072: 26917, 3076: 9001}
    data = geotiff(height, more=place, keys=keys, tile=32, pack=DEFLATE)
    lon, lat = from_utm(east, north, 17)
    box = (float(lon) - 0.004, float(lat) - 0.004, float(lon) + 0.004, float(lat) + 0.004)
    grid = read_window(of_bytes(data), box, "zone.tif")
    assert grid.west_deg <= box[0] and grid.east_deg >= box[2]
    assert grid.south_deg <= box[1] and grid.north_deg >= box[3]
    e, n = to_utm(
        *np.meshgrid(grid.west_deg + np.arange(3) * grid.cell_lon_deg, grid.north_deg), 17
    )
    told = 300 + 0.05 * (e - x0) + 0.02 * (y0 - n)
    np.testing.assert_allclose(grid.height[0, :3], told[0], atol=1e-3)


def test_a_large_file_takes_the_memory_of_its_piece(tmp_path):
    """25 MB of plain cells on disk; the piece takes a few."""
    path, side = tmp_path / "big.tif", 2500
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    for number, kind, values in (
        (33550, 12, (CELL, CELL, 0.0)),
        (33922, 12, (0.0, 0.0, 0.0, WEST, NORTH, 0.0)),
        (34735, 3, (1, 1, 0, 4, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326, 4099, 0, 1, 9001)),
    ):
        tags[number] = values
        tags.tagtype[number] = kind
    rows = np.arange(side, dtype="f4")
    Image.fromarray(np.broadcast_to(rows[:, None], (side, side)).copy()).save(
        path, format="TIFF", tiffinfo=tags
    )
    assert path.stat().st_size > 24_900_000
    box = (WEST + 1500 * CELL, NORTH - 1800 * CELL, WEST + 1800 * CELL, NORTH - 1500 * CELL)
    tracemalloc.start()
    grid = read_elevation_file(path, box)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 8_000_000
    assert grid.height.shape[0] < 310 and grid.unit == "meters"
    first = round((NORTH - grid.north_deg) / CELL - 0.5)
    assert (grid.height[:, 0] == first + np.arange(len(grid.height))).all()


# --- what is refused, each in one message ---

PLAIN = {"west_deg": WEST, "north_deg": NORTH, "cell_deg": CELL}


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ({"west_deg": -70.0}, "lies elsewhere"),
        ({"more": {256: (4, [4_000_000_000])}}, "size is 4,000,000,000"),
        ({"more": {257: (3, [0])}}, "size is 230 by 0"),
        ({"more": {258: (3, [8])}}, "1 bands of 8 bits"),
        ({"more": {277: (3, [3])}}, "3 bands of 32 bits"),
        ({"more": {259: (3, [50000])}}, "number 50000"),
        ({"tile": 16, "more": {322: (3, [0])}}, "tiles are 0 by 16"),
        ({"tile": 16, "more": {322: (4, [3_000_000])}}, "names 195 pieces where 13"),
        ({"tile": 16, "order": ">", "deflate": True}, "big-endian"),
        ({"more": {34735: None}}, "no geo keys"),
        ({"more": {33922: (12, [0.0] * 201)}}, "tag 33922 has 201 values"),
        ({"more": {33550: (12, [-1.0, 1.0, 0.0])}}, "no size"),
        ({"more": {33550: (12, [float("nan"), CELL, 0.0])}}, "no size"),
    ],
)
def test_hostile_tags(told, said):
    data = geotiff(HILLS, **{**PLAIN, **told})
    with pytest.raises(BadElevation, match=said) as fault:
        read_window(of_bytes(data), BOX, "odd.tif")
    assert "odd.tif" in str(fault.value)


def test_one_piece_too_large_to_unpack():
    data = geotiff(HILLS, **PLAIN, deflate=True, more={278: (4, [200])})
    with pytest.raises(BadElevation, match="names 29 pieces where 1"):
        read_window(of_bytes(data), BOX, "odd.tif")
    wide = {256: (4, [3_999_999]), 278: (3, [7])}
    with pytest.raises(BadElevation, match="too large to unpack"):
        read_window(of_bytes(geotiff(HILLS, **PLAIN, deflate=True, more=wide)), BOX, "odd.tif")


@pytest.mark.parametrize("kept", [3, 20, 0.3, 0.6, 0.97, 0.999])
def test_cut_files(kept):
    data = geotiff(HILLS, **PLAIN, tile=16, deflate=True)
    left = data[: kept if kept >= 1 else int(len(data) * kept)]
    with pytest.raises(BadElevation, match=r"cut off|starts with"):
        read_window(of_bytes(left), BOX, "cut.tif")
    # a head at the front and a body that ends
    directory = int.from_bytes(data[4:8], "little")
    assert directory > 1000
    with pytest.raises(BadElevation, match=r"cut off|neither an ESRI"):
        read_elevation(left, "cut.tif", "meters", box=BOX)


def test_broken_bytes_end_in_a_grid_or_a_message():
    data = geotiff(HILLS[:40, :40], **PLAIN, tile=16, pack=LZW, predictor=3)
    start = int.from_bytes(data[4:8], "little") - 200
    rng = np.random.default_rng(8)
    ends = {"grid": 0, "message": 0}
    for _ in range(400):
        broken = bytearray(data)
        for at in rng.integers(start, len(data), 3):
            broken[at] = rng.integers(0, 256)
        for read in (
            lambda b: read_window(of_bytes(b), (WEST, NORTH - 0.003, WEST + 0.003, NORTH), "x"),
            lambda b: read_elevation(b, "x", "meters"),
        ):
            try:
                read(bytes(broken))
                ends["grid"] += 1
            except BadElevation as fault:
                assert len(fault.text()) < 400
                ends["message"] += 1
    assert min(ends.values()) > 20


def test_a_file_that_is_no_tiff(tmp_path):
    with pytest.raises(BadElevation, match="no TIFF"):
        read_window(of_bytes(b"%PDF-1.7 and more than sixteen"), BOX, "x.tif")
    with pytest.raises(BadElevation, match="cannot be opened"):
        read_elevation_file(tmp_path, BOX)
    (tmp_path / "empty.tif").write_bytes(io.BytesIO().getvalue())
    with pytest.raises(BadElevation, match="neither"):
        read_elevation_file(tmp_path / "empty.tif", BOX)
