"""Small GeoTIFFs written by hand for tests, in every plain way of packing."""

import struct
import zlib

import numpy as np

SHORT, LONG, ASCII, DOUBLE = 3, 4, 2, 12
SIZE = {SHORT: "H", LONG: "I", DOUBLE: "d"}
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
) -> bytes:
    """A GeoTIFF whose outer corner is (west, north).

    Args: heights as an array of the wanted type; `tile` an edge in cells, else strips of
    7 rows; `keys` geo keys besides the usual; `more` tags {number: (type, values)}, None
    takes a tag out.
    """
    heights = np.asarray(heights)
    kind = 3 if heights.dtype.kind == "f" else (2 if heights.dtype.kind == "i" else 1)
    packed = [_packed(block, order, deflate) for block in _blocks(heights, tile)]
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
    if no_data is not None:
        tags[42113] = (ASCII, str(no_data).encode() + b"\0")
    if tile:
        tags |= {322: (SHORT, [tile]), 323: (SHORT, [tile])}
    else:
        tags |= {278: (SHORT, [7])}
    tags |= more or {}
    tags = {number: tag for number, tag in tags.items() if tag is not None}
    return _file(tags, packed, order, (324, 325) if tile else (273, 279))


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


def _file(tags, packed, order, names) -> bytes:
    """Head, then the blocks, then the long values, then the directory."""
    at, offsets = 8, []
    for block in packed:
        offsets.append(at)
        at += len(block)
    tags = {**tags, names[0]: (LONG, offsets), names[1]: (LONG, [len(b) for b in packed])}
    body, entries = b"".join(packed), []
    for number in sorted(tags):
        kind, values = tags[number]
        if kind == ASCII:
            data, count = values, len(values)
        else:
            data, count = struct.pack(f"{order}{len(values)}{SIZE[kind]}", *values), len(values)
        if len(data) > 4:
            body += b"\0" * (len(body) % 2)
            place = struct.pack(f"{order}I", 8 + len(body))
            body += data
        else:
            place = data.ljust(4, b"\0")
        entries.append(struct.pack(f"{order}HHI", number, kind, count) + place)
    body += b"\0" * (len(body) % 2)
    head = b"II*\0" if order == "<" else b"MM\0*"
    directory = struct.pack(f"{order}H", len(entries)) + b"".join(entries) + b"\0" * 4
    return head + struct.pack(f"{order}I", 8 + len(body)) + body + directory
