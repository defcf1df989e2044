"""A piece of a GeoTIFF of any size: only the tiles or strips in a box are read.

Each tile's bytes are wrapped as a small TIFF of one strip, which Pillow unpacks. Cells finer
than 10 m are averaged as they come, so that memory is that of the answer and of one tile.
"""

import io
import math
import struct
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from core.ground.heights import tiff_head as head_of
from core.ground.heights.geo_tags import Placed, as_grid, placed_by, with_holes
from core.ground.heights.geotiff import MODES, not_heights, opened, packed_big_endian, unpacked
from core.ground.heights.grid import (
    BadElevation,
    HeightGrid,
    check_cells,
    elsewhere,
)
from core.ground.heights.tiff_head import Read, TiffHead, read_head
from core.ground.heights.utm import to_utm
from core.ground.plan import Plane

Box = tuple[float, float, float, float]  # west, south, east, north [deg]

PLAIN = 1
PACKED = {5: "LZW", 8: "deflate", 32946: "deflate"}
CELL_M = 10.0
MOST_PIECE_CELLS = 16_000_000
MOST_PIECE_BYTES = 128_000_000
MOST_SIDE = 4_000_000
SHORT, LONG = 3, 4


def of_bytes(data: bytes) -> Read:
    """What reads bytes at a place. Args: all bytes."""
    return lambda at, count: data[at : at + count]


def read_window(read: Read, box: Box, where: str) -> HeightGrid:
    """The heights in a box, in the file's own unit.

    Args: what reads the file; west, south, east, north [deg]; the file's name.
    Returns: cells of about 10 m or coarser over the box, as far as the file goes.
    Raises: BadElevation for what is no grid of heights, and for one that lies elsewhere.
    """
    head = read_head(read, where)
    layout = _layout(head, where)
    placed = placed_by(head.tags, where)
    first, last, times = _inside(placed, layout, box, where)
    check_cells((last[1] - first[1]) // times[1], (last[0] - first[0]) // times[0], where)
    mean = _Mean(first, last, times)
    for row, column, cells in _pieces(read, head, layout, (first, last), where):
        mean.add(row, column, with_holes(cells, placed.no_data))
    return as_grid(mean.height(), _moved(placed, first, times), where)


@dataclass(frozen=True, slots=True)
class _Layout:
    """How a picture is cut: its size, that of a piece, and where each lies.

    Plain strips of `strip_rows` are taken a row a piece, of `row_bytes`, so that no more than
    the box is read.
    """

    rows: int
    columns: int
    high: int
    wide: int
    at: tuple[int, ...]
    size: tuple[int, ...]
    strip_rows: int = 0
    row_bytes: int = 0

    @property
    def across(self) -> int:
        return -(-self.columns // self.wide)

    def piece(self, k: int) -> tuple[int, int]:
        """Where a piece lies in the file, and how many bytes it has. Args: its number."""
        if not self.row_bytes:
            return self.at[k], self.size[k]
        strip, down = divmod(k, self.strip_rows)
        return self.at[strip] + down * self.row_bytes, self.row_bytes


def _layout(head: TiffHead, where: str) -> _Layout:
    columns, rows = head.one(head_of.WIDTH, 0), head.one(head_of.HEIGHT, 0)
    if not (0 < columns <= MOST_SIDE and 0 < rows <= MOST_SIDE):
        raise BadElevation(f"its size is {columns:,} by {rows:,}", where, "Save the grid again.")
    _check_kind(head, where)
    if head.many(head_of.TILE_AT):
        high, wide = head.one(head_of.TILE_HEIGHT, 0), head.one(head_of.TILE_WIDTH, 0)
        names = head_of.TILE_AT, head_of.TILE_BYTES
    else:
        high, wide = min(head.one(head_of.ROWS_PER_STRIP, rows), rows), columns
        names = head_of.STRIP_AT, head_of.STRIP_BYTES
    at, size = (head.many(name) for name in names)
    if not (0 < high <= MOST_SIDE and 0 < wide <= MOST_SIDE):
        raise BadElevation(f"its tiles are {wide:,} by {high:,}", where, "Save the grid again.")
    told = _Layout(rows, columns, high, wide, at, size)
    wanted = told.across * -(-rows // high)
    if not len(at) == len(size) == wanted:
        raise BadElevation(
            f"it names {len(at):,} pieces where {wanted:,} make it up", where, "Save it again."
        )
    if head.one(head_of.PACKING, PLAIN) == PLAIN and wide == columns:
        row_bytes = columns * (head.one(head_of.BITS, 1) // 8)
        return replace(told, high=1, strip_rows=high, row_bytes=row_bytes)
    if high * wide > MOST_PIECE_CELLS:
        raise BadElevation(
            f"it is packed in pieces of {wide:,} by {high:,} cells, too large to unpack one",
            where,
            "Save it in tiles.",
        )
    return told


def _check_kind(head: TiffHead, where: str) -> None:
    samples, bits = head.one(head_of.SAMPLES, 1), head.many(head_of.BITS) or (1,)
    if samples != 1 or len(bits) != 1 or bits[0] not in (16, 32):
        raise not_heights(f"{samples} bands of {bits[0]} bits", where)
    packing = head.one(head_of.PACKING, PLAIN)
    if packing != PLAIN and packing not in PACKED:
        raise BadElevation(
            f"the heights are packed in a way that is not known here (number {packing})",
            where,
            "Save it packed with deflate or LZW.",
        )
    if packing != PLAIN and head.order == ">":
        raise packed_big_endian(where)


def _inside(placed: Placed, layout: _Layout, box: Box, where: str):
    """First and last row and column (past the end), and how many cells make one, each way."""
    west, south, east, north = _in_file(placed, box)
    south_edge = placed.north - (layout.rows - 1) * placed.high
    east_edge = placed.west + (layout.columns - 1) * placed.wide
    if not (west <= east_edge and east >= placed.west and south <= placed.north) or (
        north < south_edge
    ):
        raise elsewhere((placed.west, south_edge, east_edge, placed.north), where)
    times = _cells_in_one(placed, box)
    first_row = math.floor((placed.north - north) / placed.high) - 2 * times[0]
    last_row = math.ceil((placed.north - south) / placed.high) + 2 * times[0] + 1
    first = math.floor((west - placed.west) / placed.wide) - 2 * times[1]
    last = math.ceil((east - placed.west) / placed.wide) + 2 * times[1] + 1
    return (
        (max(first_row, 0), max(first, 0)),
        (min(last_row, layout.rows), min(last, layout.columns)),
        times,
    )


def _in_file(placed: Placed, box: Box) -> Box:
    """The box in what the file measures; of a zone the upright box about it. [deg] or [m]"""
    if placed.zone is None:
        return box
    west, south, east, north = box
    t = np.linspace(0.0, 1.0, 20)
    lon = np.concatenate([west + t * (east - west)] * 2 + [np.full(20, west), np.full(20, east)])
    lat = np.concatenate(
        [np.full(20, south), np.full(20, north)] + [south + t * (north - south)] * 2
    )
    x, y = to_utm(lon, lat, *placed.zone)
    return float(x.min()), float(y.min()), float(x.max()), float(y.max())


def _cells_in_one(placed: Placed, box: Box) -> tuple[int, int]:
    wide, high = placed.wide, placed.high
    if placed.zone is None:
        plane = Plane(((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0))
        wide, high = wide * plane.m_per_lon_deg, high * plane.m_per_lat_deg
    return max(1, round(CELL_M / high)), max(1, round(CELL_M / wide))


def _moved(placed: Placed, first: tuple[int, int], times: tuple[int, int]) -> Placed:
    down, across = times
    return replace(
        placed,
        west=placed.west + (first[1] + (across - 1) / 2.0) * placed.wide,
        north=placed.north - (first[0] + (down - 1) / 2.0) * placed.high,
        wide=placed.wide * across,
        high=placed.high * down,
    )


class _Mean:
    """Means over blocks of cells, from pieces in any order; a block with a hole is a hole."""

    def __init__(self, first, last, times) -> None:
        self.first, self.times = first, times
        self.shape = tuple((b - a) // t for a, b, t in zip(first, last, times, strict=True))
        self.total = np.zeros(self.shape)
        self.seen = np.zeros(self.shape, np.int64)

    def add(self, row: int, column: int, cells: np.ndarray) -> None:
        """Takes in a piece whose first cell is that row and column of the file."""
        i, j = (
            (start - a + np.arange(n)) // t
            for start, a, t, n in zip(
                (row, column), self.first, self.times, cells.shape, strict=True
            )
        )
        rows, columns = (k < n for k, n in zip((i, j), self.shape, strict=True))
        if not (rows.any() and columns.any()):
            return
        i, j, cells = i[rows], j[columns], cells[np.ix_(rows, columns)]
        by_row = np.add.reduceat(cells, np.flatnonzero(np.diff(i, prepend=-1)), axis=0)
        total = np.add.reduceat(by_row, np.flatnonzero(np.diff(j, prepend=-1)), axis=1)
        there = np.ix_(np.unique(i), np.unique(j))
        self.total[there] += total
        self.seen[there] += np.outer(np.bincount(i - i[0]), np.bincount(j - j[0]))

    def height(self) -> np.ndarray:
        whole = self.times[0] * self.times[1]
        return np.where(self.seen == whole, self.total / whole, np.nan)


def _pieces(
    read: Read, head: TiffHead, layout: _Layout, box, where: str
) -> Iterator[tuple[int, int, np.ndarray]]:
    """Row, column and cells of what of each piece lies in the box; holes have no piece."""
    (top, left), (bottom, right) = box
    for i in range(top // layout.high, -(-bottom // layout.high)):
        for j in range(left // layout.wide, -(-right // layout.wide)):
            k = i * layout.across + j
            if layout.piece(k)[1] == 0:
                continue
            row, column = i * layout.high, j * layout.wide
            cells = _unpacked(read, head, layout, k, where)
            a, b = max(top - row, 0), max(left - column, 0)
            yield row + a, column + b, cells[a : bottom - row, b : right - column]


def _unpacked(read: Read, head: TiffHead, layout: _Layout, k: int, where: str) -> np.ndarray:
    at, size = layout.piece(k)
    if size > MOST_PIECE_BYTES:
        raise BadElevation(f"a piece of it has {size:,} bytes", where, "Save it in tiles.")
    data = read(at, size) if at < head_of.FARTHEST else b""
    if len(data) < size:
        raise BadElevation(
            f"the file ends before byte {at + size:,}, where heights of this ground lie",
            where,
            "The file is cut off: take it again.",
        )
    tiled = bool(head.many(head_of.TILE_AT))
    rows = layout.high if tiled else min(layout.high, layout.rows - k * layout.high)
    picture = opened(_one_strip(head, rows, layout.wide, data), where)
    if picture.mode not in MODES:
        raise not_heights(f"the kind {picture.mode}", where)
    return unpacked(picture, where)


def _one_strip(head: TiffHead, rows: int, columns: int, data: bytes) -> bytes:
    """A small TIFF whose one strip is a piece's bytes."""
    tags = {
        head_of.WIDTH: (LONG, columns),
        head_of.HEIGHT: (LONG, rows),
        head_of.BITS: (SHORT, head.one(head_of.BITS, 1)),
        head_of.PACKING: (SHORT, head.one(head_of.PACKING, PLAIN)),
        262: (SHORT, 1),
        head_of.STRIP_AT: (LONG, 8),
        head_of.SAMPLES: (SHORT, 1),
        head_of.ROWS_PER_STRIP: (LONG, rows),
        head_of.STRIP_BYTES: (LONG, len(data)),
        head_of.PREDICTOR: (SHORT, head.one(head_of.PREDICTOR, 1)),
        head_of.FORMAT: (SHORT, head.one(head_of.FORMAT, 1)),
    }
    told = io.BytesIO()
    padded = data + b"\0" * (len(data) % 2)
    order = head.order
    told.write((b"II*\0" if order == "<" else b"MM\0*") + struct.pack(f"{order}I", 8 + len(padded)))
    told.write(padded)
    told.write(struct.pack(f"{order}H", len(tags)))
    for number, (kind, value) in sorted(tags.items()):
        packed = struct.pack(f"{order}{'H' if kind == SHORT else 'I'}", value).ljust(4, b"\0")
        told.write(struct.pack(f"{order}HHI", number, kind, 1) + packed)
    told.write(b"\0" * 4)
    return told.getvalue()
