"""Small GeoTIFFs written by hand for tests, in every plain way of packing."""

import io
import struct
import zlib

import numpy as np
from PIL import Image, TiffImagePlugin

SHORT, LONG, ASCII, DOUBLE, LONG8 = 3, 4, 2, 12, 16
SIZE = {SHORT: "H", LONG: "I", DOUBLE: "d", LONG8: "Q"}
LZW, DEFLATE = "tiff_lzw", "tiff_adobe_deflate"
GEOGRAPHIC = {1024: 2, 1025: 1, 2048: 4326, 2054: 9102}


def geotiff(
    heights,
    *,
    west_deg=-80.0,
    north_deg=36.2,
    cell_deg=0.0001,
    order="<",
    deflate=False,
    tile=None,
    no_data=None,
    keys=None,
    more=None,
    pack=None,
    predictor=1,
    big=False,
) -> bytes:
    """A GeoTIFF whose outer corner is (west, north).

    Args: heights as an array of the wanted type; `tile` an edge in cells, else strips of
    7 rows; `keys` geo keys besides the usual; `more` tags {number: (type, values)}, None
    takes a tag out; `pack` one of Pillow's ways, with its predictor; `big` the large kind.
    """
    heights = np.asarray(heights)
    kind = 3 if heights.dtype.kind == "f" else (2 if heights.dtype.kind == "i" else 1)
    blocks = _blocks(heights, tile)
    packed = [
        _by_pillow(b, pack, predictor) if pack else _packed(b, order, deflate) for b in blocks
    ]
    rows, columns = heights.shape
    geo = {**GEOGRAPHIC, **(keys or {})}
    listed = [v for k in sorted(geo) if geo[k] is not None for v in (k, 0, 1, geo[k])]
    tags = {
        256: (SHORT, [columns]),
        257: (SHORT, [rows]),
        258: (SHORT, [heights.dtype.itemsize * 8]),
        259: (SHORT, [8 if deflate else 1]),
        262: (SHORT, [1]),
        277: (SHORT, [1]),
        339: (SHORT, [kind]),
        33550: (DOUBLE, [cell_deg, cell_deg, 0.0]),
        33922: (DOUBLE, [0.0, 0.0, 0.0, west_deg, north_deg, 0.0]),
        34735: (SHORT, [1, 1, 0, len(listed) // 4, *listed]),
    }
    if pack:
        tags |= {259: (SHORT, [5 if pack == LZW else 8]), 317: (SHORT, [predictor])}
    if no_data is not None:
        tags[42113] = (ASCII, str(no_data).encode() + b"\0")
    if tile:
        tags |= {322: (SHORT, [tile]), 323: (SHORT, [tile])}
    else:
        tags |= {278: (SHORT, [7])}
    tags |= more or {}
    tags = {number: tag for number, tag in tags.items() if tag is not None}
    return _file(tags, packed, order, (324, 325) if tile else (273, 279), big)


def _blocks(heights, tile):
    if not tile:
        return [heights[r : r + 7] for r in range(0, len(heights), 7)]
    rows, columns = heights.shape
    padded = np.zeros((-(-rows // tile) * tile, -(-columns // tile) * tile), heights.dtype)
    padded[:rows, :columns] = heights
    return [
        padded[r : r + tile, c : c + tile]
        for r in range(0, len(padded), tile)
        for c in range(0, padded.shape[1], tile)
    ]


def _packed(block, order, deflate) -> bytes:
    data = np.ascontiguousarray(block).astype(block.dtype.newbyteorder(order)).tobytes()
    return zlib.compress(data) if deflate else data


def _by_pillow(block, pack, predictor) -> bytes:
    """The bytes of a block as Pillow packs a strip of it."""
    told = io.BytesIO()
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    tags[317], tags[278] = predictor, len(block)
    Image.fromarray(block).save(told, format="TIFF", compression=pack, tiffinfo=tags)
    with Image.open(io.BytesIO(told.getvalue())) as picture:
        (at,), (size,) = picture.tag_v2[273], picture.tag_v2[279]
    return told.getvalue()[at : at + size]


def _file(tags, packed, order, names, big) -> bytes:
    """Head, then the blocks, then the long values, then the directory."""
    start, room, letter = (16, 8, "Q") if big else (8, 4, "I")
    at, offsets = start, []
    for block in packed:
        offsets.append(at)
        at += len(block)
    long = LONG8 if big else LONG
    tags = {**tags, names[0]: (long, offsets), names[1]: (long, [len(b) for b in packed])}
    body, entries = b"".join(packed), []
    for number in sorted(tags):
        kind, values = tags[number]
        if kind == ASCII:
            data, count = values, len(values)
        else:
            data, count = struct.pack(f"{order}{len(values)}{SIZE[kind]}", *values), len(values)
        if len(data) > room:
            body += b"\0" * (len(body) % 2)
            place = struct.pack(f"{order}{letter}", start + len(body))
            body += data
        else:
            place = data.ljust(room, b"\0")
        entries.append(struct.pack(f"{order}HH{letter}", number, kind, count) + place)
    body += b"\0" * (len(body) % 2)
    head = b"II" if order == "<" else b"MM"
    head += struct.pack(f"{order}HHH", 43, 8, 0) if big else struct.pack(f"{order}H", 42)
    counted = struct.pack(f"{order}{'Q' if big else 'H'}", len(entries))
    end = b"\0" * room
    return (
        head
        + struct.pack(f"{order}{letter}", start + len(body))
        + body
        + counted
        + (b"".join(entries) + end)
    )
