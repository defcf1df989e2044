"""Heights from files, and the slope of planes that are known."""

import io
import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as some
from PIL import Image, TiffImagePlugin

from core.errors import BadProperty
from core.ground.heights.elevation_file import read_elevation
from core.ground.heights.grid import BadElevation, HeightGrid, UnitOpen
from core.ground.heights.slope_at import (
    Slope,
    rounded_slope,
    slope_about,
    slope_at,
    slope_text,
    with_slopes,
)
from tests import ground_files
from tests.tiff_files import geotiff

CENTER = (-79.6874, 35.9312)
CELL_DEG = 1 / 10800  # a third of an arc second, as the national elevation data has it


def geodesic_m(center):
    """Metres per degree east and north of a place, by the geodesic."""
    lon, lat = center
    east = Geodesic.WGS84.Inverse(lat, lon - 0.005, lat, lon + 0.005)["s12"] / 0.01
    north = Geodesic.WGS84.Inverse(lat - 0.005, lon, lat + 0.005, lon)["s12"] / 0.01
    return east, north


def grid_of(height_m, center=CENTER, n=21, cell_deg=CELL_DEG, unit="meters"):
    """A grid whose middle cell is a place. Args: height of (east, north) in metres."""
    per_lon, per_lat = geodesic_m(center)
    steps = (np.arange(n) - n // 2) * cell_deg
    east, north = np.meshgrid(steps * per_lon, -steps * per_lat)
    west, north_deg = center[0] + steps[0], center[1] - steps[0]
    return HeightGrid(height_m(east, north), west, north_deg, cell_deg, cell_deg, unit)


def plane(downhill_deg, grade_pct):
    """A tilted plane: down toward a bearing."""
    theta = math.radians(downhill_deg)

    def height(east, north):
        return 240.0 - grade_pct / 100 * (east * math.sin(theta) + north * math.cos(theta))

    return height


def test_ten_percent_facing_west():
    slope = slope_at(grid_of(lambda east, _: 240 + 0.1 * east), CENTER)
    assert slope.downhill_deg == pytest.approx(270, abs=0.01)
    assert slope.grade_pct == pytest.approx(10, abs=0.01)
    assert slope.slope_deg == pytest.approx(5.711, abs=0.005)


@given(
    downhill=some.floats(0, 359.9),
    grade=some.floats(0.5, 90),
    lat=some.floats(-60, 65),
    cell=some.sampled_from([CELL_DEG, CELL_DEG * 3, CELL_DEG / 5]),
)
def test_any_plane(downhill, grade, lat, cell):
    center = (-79.7, lat)
    slope = slope_at(grid_of(plane(downhill, grade), center, cell_deg=cell), center)
    assert slope.grade_pct == pytest.approx(grade, rel=0.002)
    turn = abs((slope.downhill_deg - downhill + 180) % 360 - 180)
    assert turn < 0.1


def fitted_plane(grid, center, cells=1):
    """Another way: the plane of least squares through the nine heights."""
    per_lon, per_lat = geodesic_m(center)
    n = grid.height.shape[0] // 2
    z = grid.height[n - cells : n + cells + 1, n - cells : n + cells + 1]
    steps = np.arange(-cells, cells + 1)
    east, north = np.meshgrid(
        steps * grid.cell_lon_deg * per_lon, -steps * grid.cell_lat_deg * per_lat
    )
    design = np.column_stack([east.ravel(), north.ravel(), np.ones(z.size)])
    a, b, _ = np.linalg.lstsq(design, z.ravel(), rcond=None)[0]
    return math.hypot(a, b) * 100, math.degrees(math.atan2(-a, -b)) % 360


def test_a_round_hill_agrees_with_a_fitted_plane_and_with_the_formula():
    per_lon, per_lat = geodesic_m(CENTER)

    def hill(east, north):  # the top lies 400 m east and 300 m south of the place
        return 300 - ((east - 400) ** 2 + (north + 300) ** 2) / 5000

    grid = grid_of(hill)
    slope = slope_at(grid, CENTER)
    grade, downhill = fitted_plane(grid, CENTER)
    assert slope.grade_pct == pytest.approx(grade, rel=0.002)
    assert slope.downhill_deg == pytest.approx(downhill, abs=0.1)
    # by calculus: gradient 2 x 500 m / 5000, away from the top
    assert slope.grade_pct == pytest.approx(20, rel=0.002)
    assert slope.downhill_deg == pytest.approx(math.degrees(math.atan2(-400, 300)) % 360, abs=0.1)
    assert per_lon < per_lat


def test_weights_are_one_two_one():
    """One bump at a neighbor: a corner weighs half of a side, and the middle nothing."""
    per_lon, _ = geodesic_m(CENTER)
    run_m = 8 * CELL_DEG * per_lon

    def bumped(row, column):
        grid = grid_of(lambda east, _: np.zeros_like(east))
        grid.height[10 + row, 10 + column] = 4.0
        return slope_at(grid, CENTER)

    assert bumped(0, 1).grade_pct == pytest.approx(100 * 8 / run_m, rel=0.001)
    assert bumped(0, 1).downhill_deg == pytest.approx(270)
    assert bumped(-1, 1).downhill_deg == pytest.approx(230, abs=5)  # away from the north-east
    assert bumped(0, 0).downhill_deg is None
    assert bumped(0, 0).grade_pct == 0


def test_fine_grids_look_ten_meters_away():
    fine = CELL_DEG / 10  # about a metre

    def humps(east, north):
        return 240 + 0.1 * east + (np.hypot(east - 2, north) < 3)

    slope = slope_at(grid_of(humps, cell_deg=fine, n=41), CENTER)
    assert slope.downhill_deg == pytest.approx(270, abs=1)
    per_lon, per_lat = geodesic_m(CENTER)
    steps = [round(10 / (fine * per)) * fine * per for per in (per_lon, per_lat)]
    assert slope.reach_m == pytest.approx(max(steps), rel=1e-4)
    assert slope.reach_m == pytest.approx(10, abs=1)


def test_flat_ground_has_no_way_down():
    slope = slope_at(grid_of(lambda _, north: 240 + 0.0005 * north), CENTER)
    assert slope.downhill_deg is None
    assert slope.grade_pct == pytest.approx(0.05, abs=0.001)


def test_the_cell_that_holds_the_place_is_taken():
    grid = grid_of(lambda east, _: 240 + 0.002 * east**2)
    left = slope_at(grid, (CENTER[0] - 3.4 * CELL_DEG, CENTER[1]))
    assert left == slope_at(grid, (CENTER[0] - 3 * CELL_DEG, CENTER[1]))
    assert left.downhill_deg == pytest.approx(90, abs=0.1)


@pytest.mark.parametrize(
    ("cells_east", "cells_north"), [(10, 0), (-10, 0), (0, 10), (0, -10), (11, 0), (0, 5000)]
)
def test_outside_and_at_the_edge(cells_east, cells_north):
    at = (CENTER[0] + cells_east * CELL_DEG, CENTER[1] + cells_north * CELL_DEG)
    with pytest.raises(BadElevation, match=rf"{at[0]:.5f}, {at[1]:.5f} is outside"):
        slope_at(grid_of(plane(200, 5)), at)


def test_the_last_whole_neighborhood_is_inside():
    at = (CENTER[0] + 9 * CELL_DEG, CENTER[1] - 9 * CELL_DEG)
    assert slope_at(grid_of(plane(200, 5)), at).grade_pct == pytest.approx(5, rel=0.01)


def test_no_data_beside_the_place():
    grid = grid_of(plane(200, 5))
    grid.height[9, 11] = np.nan
    with pytest.raises(BadElevation, match=r"no height beside -79.68740, 35.93120"):
        slope_at(grid, CENTER)
    assert slope_at(grid, (CENTER[0] - 3 * CELL_DEG, CENTER[1])).grade_pct > 4.9


def test_a_grid_too_coarse():
    with pytest.raises(BadElevation, match="cells are 308 m wide"):
        slope_at(grid_of(plane(200, 5), cell_deg=1 / 360), CENTER)


# --- ESRI ASCII ---


def ascii_grid(heights, head=None, no_data=-9999):
    heights = np.asarray(heights, float)
    rows, columns = heights.shape
    names = {
        "ncols": columns,
        "nrows": rows,
        "xllcorner": -79.7,
        "yllcorner": 35.9,
        "cellsize": 0.0001,
        "NODATA_value": no_data,
        **(head or {}),
    }
    lines = [f"{k} {v}" for k, v in names.items() if v is not None]
    lines += [" ".join("-9999" if np.isnan(v) else f"{v:.4f}" for v in row) for row in heights]
    return "\n".join(lines).encode()


SOME = np.arange(20.0).reshape(4, 5) + 100


def test_an_ascii_grid():
    grid = read_elevation(ascii_grid(SOME), "hill.asc", "meters")
    assert (grid.height == SOME).all()
    assert grid.west_deg == pytest.approx(-79.69995, abs=1e-9)
    assert grid.south_deg == pytest.approx(35.90005, abs=1e-9)
    assert grid.north_deg == pytest.approx(35.90035, abs=1e-9)
    assert grid.unit == "meters"


def test_corner_and_center_differ_by_half_a_cell():
    centers = {"xllcorner": None, "yllcorner": None, "xllcenter": -79.7, "yllcenter": 35.9}
    grid = read_elevation(ascii_grid(SOME, centers), "hill.asc", "meters")
    assert (grid.west_deg, grid.south_deg) == (-79.7, pytest.approx(35.9, abs=1e-9))


def test_the_first_row_is_the_north():
    rising_north = 240 + np.arange(5.0)[::-1, None] + np.zeros((5, 5))
    grid = read_elevation(ascii_grid(rising_north), "hill.asc", "meters")
    slope = slope_at(grid, (-79.69975, 35.90025))
    assert slope.downhill_deg == pytest.approx(180, abs=0.01)
    assert slope.grade_pct == pytest.approx(100 / geodesic_m((-79.7, 35.9))[1] / 0.0001, rel=0.001)


def test_upper_case_wrapped_lines_and_a_byte_order_mark():
    text = ascii_grid(SOME).decode().upper().split("\n")
    data = b"\xef\xbb\xbf" + "\r\n".join([*text[:6], " ".join(text[6:])]).encode()
    assert (read_elevation(data, "hill.asc", "meters").height == SOME).all()


def test_no_data_becomes_nothing():
    holed = SOME.copy()
    holed[1, 2] = np.nan
    grid = read_elevation(ascii_grid(holed), "hill.asc", "meters")
    assert np.isnan(grid.height[1, 2]) and np.isnan(grid.height).sum() == 1
    unnamed = read_elevation(ascii_grid(holed, no_data=None), "hill.asc", "meters")
    assert np.isnan(unnamed.height).sum() == 1
    other = read_elevation(ascii_grid(SOME, no_data=107), "hill.asc", "meters")
    assert np.isnan(other.height[1, 2]) and np.isnan(other.height).sum() == 1


@pytest.mark.parametrize(
    ("unit", "factor"), [("meters", 1), ("feet", 0.3048), ("US survey feet", 0.3048006096)]
)
def test_units(unit, factor):
    grid = read_elevation(ascii_grid(SOME), "hill.asc", unit)
    assert grid.height[0, 0] == pytest.approx(100 * factor, rel=1e-9)


def test_a_unit_that_nobody_told_is_asked_for():
    with pytest.raises(UnitOpen, match=r"hill.asc: .*meters or feet"):
        read_elevation(ascii_grid(SOME), "hill.asc")
    with pytest.raises(BadElevation, match="'fathoms' is no unit"):
        read_elevation(ascii_grid(SOME), "hill.asc", "fathoms")


@pytest.mark.parametrize(
    ("head", "seen"),
    [
        ({"ncols": None}, "no ncols"),
        ({"ncols": 6}, "20 heights where its head promises 24"),
        ({"ncols": 2.5}, "ncols is 2.5"),
        ({"nrows": 2}, "2 rows"),
        ({"nrows": 9000, "ncols": 9000}, "9000 by 9000"),
        ({"cellsize": None}, "no cellsize"),
        ({"cellsize": 30}, "30 by 30"),
        ({"cellsize": "wide"}, '"wide"'),
        ({"cellsize": "nan"}, '"nan"'),
        ({"xllcorner": None}, "no xllcorner"),
        ({"xllcorner": 402000.0}, "402000"),
        ({"yllcorner": 95}, "95"),
    ],
)
def test_what_is_no_ascii_grid(head, seen):
    with pytest.raises(BadElevation, match=seen) as caught:
        read_elevation(ascii_grid(SOME, head), "hill.asc", "meters")
    assert "hill.asc" in str(caught.value)


def test_words_among_the_heights():
    data = ascii_grid(SOME).replace(b"107.0000", b"107,0")
    with pytest.raises(BadElevation, match='"107,0" where a height belongs'):
        read_elevation(data, "hill.asc", "meters")


def test_a_grid_of_nothing():
    with pytest.raises(BadElevation, match="no height in it"):
        read_elevation(ascii_grid(np.full((3, 3), np.nan)), "hill.asc", "meters")


@pytest.mark.parametrize("data", [b"", b"P5 3 3", b"\x89PNG\r\n", b"{}"])
def test_other_files(data):
    with pytest.raises(BadElevation, match="neither an ESRI ASCII grid nor a GeoTIFF"):
        read_elevation(data, "hill", "meters")


def test_too_many_bytes():
    with pytest.raises(BadElevation, match="40,000,001 bytes"):
        read_elevation(b"n" * 40_000_001, "hill", "meters")


# --- GeoTIFF ---

HILLS = (np.arange(20 * 33).reshape(20, 33) % 97 + 200).astype("f4")


@pytest.mark.parametrize(("order", "deflate"), [("<", False), ("<", True), (">", False)])
@pytest.mark.parametrize("tile", [None, 16])
@pytest.mark.parametrize("kind", ["f4", "i2", "u2", "i4"])
def test_a_geotiff_in_each_packing(order, deflate, tile, kind):
    heights = HILLS.astype(kind)
    if kind in ("i2", "i4"):
        heights[3, 4] = -11  # under the sea
    data = geotiff(heights, order=order, deflate=deflate, tile=tile)
    grid = read_elevation(data, "hill.tif", "meters")
    assert (grid.height == heights).all()
    assert grid.west_deg == pytest.approx(-79.99995, abs=1e-9)
    assert grid.north_deg == pytest.approx(36.19995, abs=1e-9)
    assert grid.south_deg == pytest.approx(36.2 - 0.00195, abs=1e-9)


def test_packed_and_big_endian_is_refused():
    with pytest.raises(BadElevation, match="packed, and big-endian"):
        read_elevation(geotiff(HILLS, order=">", deflate=True), "hill.tif", "meters")


@pytest.mark.parametrize(
    ("packing", "predictor"), [("tiff_lzw", 1), ("tiff_lzw", 3), ("tiff_adobe_deflate", 3)]
)
def test_other_packings(packing, predictor):
    """As programs for maps write them; the picture is packed by another library here."""
    tags = {33550: (0.0001, 0.0001, 0.0), 33922: (0.0, 0.0, 0.0, -80.0, 36.2, 0.0), 317: predictor}
    info = TiffImagePlugin.ImageFileDirectory_v2()
    for number, value in tags.items():
        info[number] = value
    info.tagtype[33550] = info.tagtype[33922] = 12
    info[34735] = (1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326)
    stream = io.BytesIO()
    Image.fromarray(HILLS).save(stream, "TIFF", compression=packing, tiffinfo=info)
    grid = read_elevation(stream.getvalue(), "hill.tif", "meters")
    assert (grid.height == HILLS).all()


def test_a_point_grid_lies_at_its_points():
    grid = read_elevation(geotiff(HILLS, keys={1025: 2}), "hill.tif", "meters")
    assert (grid.west_deg, grid.north_deg) == (-80.0, 36.2)


def test_a_place_by_matrix():
    matrix = [0.0001, 0, 0, -80.0, 0, -0.0001, 0, 36.2, 0, 0, 0, 0, 0, 0, 0, 1]
    data = geotiff(HILLS, more={33550: None, 33922: None, 34264: (12, matrix)})
    assert read_elevation(data, "hill.tif", "meters").west_deg == pytest.approx(-79.99995, abs=1e-9)


def test_a_tie_point_inside_the_grid():
    tie = (12, [10.0, 5.0, 0.0, -79.999, 36.1995, 0.0])
    grid = read_elevation(geotiff(HILLS, more={33922: tie}), "hill.tif", "meters")
    assert grid.west_deg == pytest.approx(-79.99995, abs=1e-9)
    assert grid.north_deg == pytest.approx(36.19995, abs=1e-9)


@pytest.mark.parametrize("mark", ["-9999", "-3.4028234663852886e+38", "nan"])
def test_no_data_of_a_geotiff(mark):
    heights = HILLS.copy()
    heights[2, 2] = float(mark)
    grid = read_elevation(geotiff(heights, no_data=mark), "hill.tif", "meters")
    assert np.isnan(grid.height[2, 2]) and np.isnan(grid.height).sum() == 1


@pytest.mark.parametrize(
    ("keys", "unit", "factor"),
    [
        ({4099: 9001}, None, 1),
        ({4099: 9002}, None, 0.3048),
        ({4099: 9003}, None, 1200 / 3937),
        ({4096: 5703}, None, 1),
        ({4096: 6360}, None, 1200 / 3937),
        ({4099: 9002}, "meters", 0.3048),  # the file's own word goes first
    ],
)
def test_a_geotiff_that_tells_its_unit(keys, unit, factor):
    grid = read_elevation(geotiff(HILLS, keys=keys), "hill.tif", unit)
    assert grid.height[0, 0] == pytest.approx(200 * factor)


def test_a_geotiff_that_leaves_its_unit_open():
    with pytest.raises(UnitOpen):
        read_elevation(geotiff(HILLS), "hill.tif")


@pytest.mark.parametrize(
    ("more", "keys", "seen"),
    [
        ({}, {1024: 1, 2048: None, 3072: 26786}, "model type 1, system 26786"),
        ({}, {1024: 1, 2048: None, 3072: 26917}, "no UTM zone holds"),
        ({}, {2048: 4267}, "EPSG:4267"),
        ({}, {2048: None}, "EPSG:None"),
        ({}, {2054: 9105}, "unit 9105"),
        ({34735: None}, {}, "no geo keys"),
        ({33922: None}, {}, "turned, or tied down at several points"),
        ({33922: (12, [0.0] * 12)}, {}, "several points"),
        ({33550: (12, [30.0, 30.0, 0.0])}, {}, "30 by 30"),
        ({33550: (12, [0.0001, -0.0001, 0.0])}, {}, "-0.0001"),
        ({42113: (2, b"none\0")}, {}, '"none"'),
        ({33922: (12, [0.0, 0.0, 0.0, 500.0, 36.2, 0.0])}, {}, "500"),
    ],
)
def test_geotiffs_that_lie_elsewhere(more, keys, seen):
    with pytest.raises(BadElevation, match=seen) as caught:
        read_elevation(geotiff(HILLS, more=more, keys=keys), "hill.tif", "meters")
    assert "hill.tif" in str(caught.value)


def test_odd_pictures():
    with pytest.raises(BadElevation, match="kind L"):
        read_elevation(geotiff(HILLS.astype("u1")), "hill.tif", "meters")
    with pytest.raises(BadElevation, match="cannot be read"):
        read_elevation(geotiff(HILLS.astype("f8")), "hill.tif", "meters")
    with pytest.raises(BadElevation, match="cannot be read"):
        read_elevation(b"II+\0" + bytes(40), "hill.tif", "meters")


@pytest.mark.parametrize("deflate", [False, True])
def test_a_geotiff_cut_off_is_refused_at_every_length(deflate):
    data = geotiff(HILLS, deflate=deflate)
    for length in range(4, len(data), 37):
        with pytest.raises(BadElevation):
            read_elevation(data[:length], "hill.tif", "meters")


def test_a_picture_that_promises_too_much():
    data = geotiff(HILLS, more={256: (4, [60000]), 257: (4, [60000])})
    with pytest.raises(BadElevation, match=r"60000 by 60000|cannot be read"):
        read_elevation(data, "hill.tif", "meters")


# --- what is kept of it ---


@pytest.mark.parametrize(
    ("downhill", "grade", "said"),
    [
        (None, None, "none"),
        (None, 0.05, "flat"),
        (270.0, 10.0, "down to the W (270°), 10 % (5.7°)"),
        (359.0, 100.0, "down to the N (359°), 100 % (45.0°)"),
    ],
)
def test_a_slope_in_words(downhill, grade, said):
    assert slope_text(downhill, grade) == said


def test_what_is_kept_is_rounded():
    assert rounded_slope(Slope(359.7, 9.96, 10.0)) == (0.0, 10.0)
    assert rounded_slope(Slope(None, 0.04, 10.0)) is None


def test_slopes_in_the_document():
    document = ground_files.opened(ground_files.whole_ground()).document
    (oak,) = [f["id"] for f in document["features"] if f["properties"]["kind"] == "stand"][:1]
    kept = with_slopes(document, {oak: (255.0, 8.0)})
    stand = next(f for f in kept["features"] if f["id"] == oak)["properties"]
    assert (stand["downhill_deg"], stand["grade_pct"]) == (255.0, 8.0)
    bare = with_slopes(kept, {oak: None})
    stand = next(f for f in bare["features"] if f["id"] == oak)["properties"]
    assert "downhill_deg" not in stand and "grade_pct" not in stand
    with pytest.raises(BadProperty, match="no-such"):
        with_slopes(document, {"no-such": (1.0, 1.0)})
    with pytest.raises(BadProperty, match="201"):
        with_slopes(document, {oak: (1.0, 201.0)})


# --- the slope that air feels ---


@given(downhill=some.floats(0, 359.9), grade=some.floats(0.5, 60), lat=some.floats(-60, 65))
def test_about_a_place_a_plane_is_a_plane(downhill, grade, lat):
    center = (-79.7, lat)
    grid = grid_of(plane(downhill, grade), center, n=61)
    grid.height[29:34, 35:44] = np.nan  # a pond on one side changes nothing
    slope = slope_about(grid, center)
    assert slope.grade_pct == pytest.approx(grade, rel=0.002)
    assert abs((slope.downhill_deg - downhill + 180) % 360 - 180) < 0.1


def test_about_a_place_it_is_the_slope_of_smoothed_heights():
    """A wave of 160 m keeps exp(-(2 pi 30/160)^2/2) = half of its slope: the bell's transform."""
    k = 2 * math.pi / 160.0
    grid = grid_of(lambda east, _: 240 + 2.0 * np.sin(k * east), n=81)
    kept = math.exp(-((k * 30.0) ** 2) / 2.0)
    assert slope_about(grid, CENTER).grade_pct == pytest.approx(200.0 * k * kept, rel=0.02)
    assert kept == pytest.approx(0.5, abs=0.001)


def test_coarse_cells_are_smoothed_more():
    k = 2 * math.pi / 400.0
    grid = grid_of(lambda east, _: 240 + 5.0 * np.sin(k * east), n=41, cell_deg=CELL_DEG * 3)
    slope = slope_about(grid, CENTER)
    assert slope.grade_pct == pytest.approx(500 * k * math.exp(-((k * 60.0) ** 2) / 2), rel=0.03)
    assert slope.reach_m == 60.0


def test_about_a_place_beside_the_heights():
    grid = grid_of(plane(200, 5), n=61)
    edge = (grid.west_deg, CENTER[1])
    assert slope_about(grid, edge).grade_pct == pytest.approx(5, rel=0.02)
    with pytest.raises(BadElevation, match="too few heights"):
        slope_about(grid, (grid.west_deg - 4 * CELL_DEG, CENTER[1]))
    grid.height[:, :33] = np.nan
    with pytest.raises(BadElevation, match="too few heights"):
        slope_about(grid, CENTER)
