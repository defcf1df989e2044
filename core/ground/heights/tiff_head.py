"""The first directory of a TIFF of any size, read without the rest of the file.

Both kinds are read, the classic one and the large one (BigTIFF). Only the tags that a grid
of heights needs are taken, each up to a bound, so that a hostile file asks for no more.
Source: [tiff6]; the large kind from memory of its public description.
"""

import struct
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from core.ground.heights.geo_tags import KEYS, MATRIX, NO_DATA, PIXEL_SCALE, TIE_POINT
from core.ground.heights.grid import BadElevation

Read = Callable[[int, int], bytes]  # at, how many; fewer where the file ends
Value = Any

WIDTH, HEIGHT, BITS, PACKING, SAMPLES, FORMAT = 256, 257, 258, 259, 277, 339
STRIP_AT, ROWS_PER_STRIP, STRIP_BYTES, PREDICTOR = 273, 278, 279, 317
TILE_WIDTH, TILE_HEIGHT, TILE_AT, TILE_BYTES = 322, 323, 324, 325
FEW, MANY = 200, 2_000_000
MOST_VALUES = {
    **dict.fromkeys((WIDTH, HEIGHT, BITS, PACKING, SAMPLES, FORMAT, PREDICTOR), FEW),
    **dict.fromkeys((ROWS_PER_STRIP, TILE_WIDTH, TILE_HEIGHT), FEW),
    **dict.fromkeys((STRIP_AT, STRIP_BYTES, TILE_AT, TILE_BYTES), MANY),
    **dict.fromkeys((PIXEL_SCALE, TIE_POINT, MATRIX, NO_DATA), FEW),
    KEYS: 4000,
}
ASCII = 2
# letter of each type of value
TYPES = {1: "B", ASCII: "s", 3: "H", 4: "I", 11: "f", 12: "d", 16: "Q"}
MOST_ENTRIES = 4096
FARTHEST = 2**62


@dataclass(frozen=True, slots=True)
class TiffHead:
    """Byte order, `<` or `>`, and the tags of the first directory by number."""

    order: str
    tags: dict[int, Value]

    def one(self, number: int, usual: int) -> int:
        """A tag that is one number. Args: its number; what it is where it is not told."""
        value = self.tags.get(number, usual)
        return int(value[0] if isinstance(value, tuple) else value)

    def many(self, number: int) -> tuple[int, ...]:
        """A tag of any length; empty where it is not told. Args: its number."""
        value = self.tags.get(number, ())
        return value if isinstance(value, tuple) else (value,)


def read_head(read: Read, where: str) -> TiffHead:
    """The first directory of a TIFF.

    Args: what reads the file; its name. Raises: BadElevation for one that is none, is cut
    off, or promises more than a grid has.
    """
    start = _whole(read, 0, 16, where)
    order = {b"II": "<", b"MM": ">"}.get(start[:2], "")
    version = struct.unpack(f"{order}H", start[2:4])[0] if order else 0
    if version == 42:
        at = struct.unpack(f"{order}I", start[4:8])[0]
        return _directory(read, where, order, at, ("H", "I", 12))
    if version == 43:
        at = struct.unpack(f"{order}Q", start[8:16])[0]
        return _directory(read, where, order, at, ("Q", "Q", 20))
    raise BadElevation(f"the file starts with {start[:8]!r}: it is no TIFF", where, "Take another.")


def _directory(
    read: Read, where: str, order: str, at: int, shape: tuple[str, str, int]
) -> TiffHead:
    counted, offset, entry = shape
    size = struct.calcsize(f"{order}{counted}")
    (count,) = struct.unpack(f"{order}{counted}", _whole(read, at, size, where))
    if not 0 < count <= MOST_ENTRIES:
        raise BadElevation(f"its directory has {count:,} entries", where, "Save the grid again.")
    body = _whole(read, at + size, count * entry, where)
    tags = {}
    for k in range(count):
        one = body[k * entry : (k + 1) * entry]
        told = struct.unpack_from(f"{order}HH{offset}", one)
        if _is_wanted(*told[:2]):
            tags[told[0]] = _value(read, where, order, told, one, offset)
    return TiffHead(order, tags)


def _is_wanted(number: int, kind: int) -> bool:
    return number in MOST_VALUES and kind in TYPES and (kind == ASCII) == (number == NO_DATA)


def _value(
    read: Read, where: str, order: str, told: tuple[int, int, int], one: bytes, offset: str
) -> Value:
    number, kind, count = told
    if not 0 < count <= MOST_VALUES[number]:
        raise BadElevation(f"its tag {number} has {count:,} values", where, "Save the grid again.")
    room = struct.calcsize(f"{order}{offset}")
    letter = f"{count}{TYPES[kind]}"
    size = struct.calcsize(f"{order}{letter}")
    data = one[-room:][:size]
    if size > room:
        (at,) = struct.unpack(f"{order}{offset}", one[-room:])
        data = _whole(read, at, size, where)
    values = struct.unpack(f"{order}{letter}", data)
    if kind == ASCII:
        return values[0].decode("latin-1")
    return values if count > 1 else values[0]


def _whole(read: Read, at: int, count: int, where: str) -> bytes:
    data = read(at, count) if at < FARTHEST else b""
    if len(data) < count:
        raise BadElevation(
            f"the file ends before byte {at + count:,}, where its head leads",
            where,
            "The file is cut off: take it again.",
        )
    return data
