"""ESRI ASCII grids of heights.

Source: [esri-ascii].
"""

import math
import re
from dataclasses import replace

import numpy as np

from core.ground.fields import shown
from core.ground.heights.grid import BadElevation, HeightGrid, ZoneOpen, check_cells, checked
from core.ground.heights.unproject import could_be_in_a_zone, unprojected

NAMES = (
    "ncols",
    "nrows",
    "xllcorner",
    "xllcenter",
    "yllcorner",
    "yllcenter",
    "cellsize",
    "dx",
    "dy",
    "nodata_value",
)
USUAL_NO_DATA = -9999.0
HEAD_BYTES = 4000  # more than its ten names and numbers take
PIECE_BYTES = 1_000_000
GAP = re.compile(rb"\s")


def read_esri_ascii(data: bytes, where: str, zone: tuple[int, bool] | None = None) -> HeightGrid:
    """A grid from the bytes of an .asc file; its unit is never told.

    Args:
        data: the whole file.
        where: its name, for messages.
        zone: the UTM zone of a grid in meters, and whether it is one of the south; None
            where nobody said. A grid in degrees needs none.

    Raises: ZoneOpen for meters of a zone that nobody said; BadElevation.
    """
    grid = esri_cells(data, where)
    if _is_degrees(grid):
        return checked(grid, where)
    _check_meters(grid, where)
    if zone is None:
        raise ZoneOpen(
            f"it is in meters (cells of {grid.cell_lon_deg:g}), and does not say in which UTM zone",
            where,
            "Give the zone as your map program shows it (--zone 17N), or save the grid in "
            "longitude and latitude.",
        )
    number, south = zone
    told = f"read as UTM zone {number}{'S' if south else 'N'}"
    return checked(replace(unprojected(grid, number, south, where), read_as=told), where)


def _is_degrees(grid: HeightGrid) -> bool:
    on_earth = -181 <= grid.west_deg <= 181 and -91 <= grid.south_deg <= 91
    return on_earth and grid.cell_lon_deg < 1 and grid.cell_lat_deg < 1


def _check_meters(grid: HeightGrid, where: str) -> None:
    """That a grid could lie in a UTM zone. Raises: BadElevation."""
    if could_be_in_a_zone(grid):
        return
    raise BadElevation(
        f"cells of {grid.cell_lon_deg:g} by {grid.cell_lat_deg:g} from {grid.west_deg:g}, "
        f"{grid.south_deg:g} are neither degrees nor meters of a UTM zone",
        where,
        "Save the grid in longitude and latitude, WGS 84 or NAD 83.",
    )


def esri_cells(data: bytes, where: str) -> HeightGrid:
    """A grid whose edges are in whatever the file measures, degrees or meters.

    Args:
        data: the whole file.
        where: its name, for messages.

    Raises: BadElevation.
    """
    words = data[:HEAD_BYTES].decode("latin-1").split()
    header, at = _header(words, where)
    columns, rows = (_count(header, name, where) for name in ("ncols", "nrows"))
    check_cells(columns, rows, where)
    wide, high = _cell(header, where)
    below = data.split(maxsplit=at)[at:]
    height = _heights(below[0] if below else b"", columns * rows, where).reshape(rows, columns)
    height[height == header.get("nodata_value", USUAL_NO_DATA)] = math.nan
    south = _edge(header, "yll", high, where)
    return HeightGrid(
        height=height,
        west_deg=_edge(header, "xll", wide, where),
        north_deg=south + (rows - 1) * high,
        cell_lon_deg=wide,
        cell_lat_deg=high,
    )


def _header(words: list[str], where: str) -> tuple[dict[str, float], int]:
    """Names and numbers before the heights, and where those begin."""
    found: dict[str, float] = {}
    at = 0
    while at + 1 < len(words) and words[at].lower() in NAMES:
        name = words[at].lower()
        value = _number(words[at + 1])
        if value is None:
            raise BadElevation(
                f"{name} is {shown(words[at + 1])}, not a number", where, "Save the grid again."
            )
        found[name] = value
        at += 2
    return found, at


def _number(word: str) -> float | None:
    try:
        value = float(word)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _count(header: dict[str, float], name: str, where: str) -> int:
    value = _needed(header, name, where)
    if value != int(value) or value < 1:
        raise BadElevation(f"{name} is {value:g}", where, "It must be a whole number of cells.")
    return int(value)


def _needed(header: dict[str, float], name: str, where: str) -> float:
    if name not in header:
        raise BadElevation(
            f"the head of the grid has no {name}", where, "Save it as an ESRI ASCII grid."
        )
    return header[name]


def _cell(header: dict[str, float], where: str) -> tuple[float, float]:
    """Size of a cell east and north, in the file's own measure."""
    if "dx" in header and "dy" in header:
        size = header["dx"], header["dy"]
    else:
        size = (_needed(header, "cellsize", where),) * 2
    if not (size[0] > 0 and size[1] > 0):
        raise BadElevation(
            f"a cell is {size[0]:g} by {size[1]:g}, which is no size", where, "Save the grid again."
        )
    return size


def _edge(header: dict[str, float], side: str, cell_deg: float, where: str) -> float:
    """The middle of the first cell, from its corner or its middle. [deg]"""
    if f"{side}center" in header:
        return header[f"{side}center"]
    return _needed(header, f"{side}corner", where) + cell_deg / 2


def _heights(text: bytes, wanted: int, where: str) -> np.ndarray:
    """The numbers of a text, a piece at a time: as words they take ten times the room."""
    pieces: list[np.ndarray] = []
    at = found = 0
    while at < len(text) and found <= wanted:
        gap = GAP.search(text, at + PIECE_BYTES)
        end = gap.start() if gap else len(text)
        pieces.append(_numbers(text[at:end].decode("latin-1").split(), where))
        at, found = end, found + len(pieces[-1])
    if found != wanted:
        raise BadElevation(
            f"the grid has {'over ' if found > wanted else ''}{min(found, wanted):,} heights "
            f"where its head promises {wanted:,}",
            where,
            "The file may be cut off: take it again.",
        )
    return np.concatenate(pieces)


def _numbers(words: list[str], where: str) -> np.ndarray:
    try:
        return np.fromiter(map(float, words), float, len(words))
    except ValueError:
        bad = next(word for word in words if _number(word) is None)
        raise BadElevation(
            f"the grid has {shown(bad)} where a height belongs", where, "Save the grid again."
        ) from None
