"""Rows read straight from the pages of a SQLite file whose trees are broken.

A leaf page of a table holds its rows whole and names none of its neighbours, so each that is
left gives what it holds, wherever the pages above it are gone. Source: [sqlite-format].
"""

import contextlib
from collections.abc import Iterator, Mapping

PAGE_BYTES = 4096  # as this program writes it, where the head of the file is lost
LEAF, HEAD_BYTES, HEADER = 13, 100, b"SQLite format 3\x00"
WAL_HEAD, FRAME_HEAD, WAL_MARKS = 32, 24, (b"\x37\x7f\x06\x82", b"\x37\x7f\x06\x83")
INTEGERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}  # bytes by serial type
MOST_PAGES = 100_000  # of one row that runs over: beyond it the chain goes in a ring

Pages = Mapping[int, bytes]


def pages_of(main: bytes, wal: bytes) -> Iterator[Pages]:
    """The pages of a file by number, from 1: those of the file, then as its second file has them.

    Args: the bytes of both.
    """
    size = page_size(main)
    base = {i // size + 1: main[i : i + size] for i in range(0, len(main), size)}
    yield base
    later = _wal_pages(wal, size)
    if later:
        yield {**base, **later}


def page_size(main: bytes) -> int:
    """Bytes of a page. Args: the file."""
    told = int.from_bytes(main[16:18], "big") if main.startswith(HEADER) else PAGE_BYTES
    told = 65536 if told == 1 else told
    return told if 512 <= told <= 65536 and told & (told - 1) == 0 else PAGE_BYTES


def rows_of_leaves(pages: Pages) -> Iterator[tuple]:
    """Every row of every leaf page; one that is not whole is left out. Args: pages by number."""
    for number, page in pages.items():
        at = HEAD_BYTES if number == 1 else 0
        if len(page) < at + 8 or page[at] != LEAF:
            continue
        cells = int.from_bytes(page[at + 3 : at + 5], "big")
        for i in range(min(cells, len(page) // 2)):
            place = int.from_bytes(page[at + 8 + 2 * i : at + 10 + 2 * i], "big")
            with contextlib.suppress(ValueError, IndexError, KeyError, OverflowError):
                yield _record(_payload(page, place, pages))


def _payload(page: bytes, place: int, pages: Pages) -> bytes:
    """What a cell holds, with what of it runs over onto other pages. Raises: as indexing does."""
    size, place = _varint(page, place)
    _, place = _varint(page, place)  # the row's number
    usable = len(page)
    local = size
    if size > usable - 35:
        least = (usable - 12) * 32 // 255 - 23
        local = least + (size - least) % (usable - 4)
        local = local if local <= usable - 35 else least
    found = bytearray(page[place : place + local])
    following = int.from_bytes(page[place + local : place + local + 4], "big")
    for _ in range(MOST_PAGES):
        if len(found) >= size:
            break
        more = pages[following]
        following = int.from_bytes(more[:4], "big")
        found += more[4 : 4 + size - len(found)]
    if len(found) != size:
        raise ValueError("cut")
    return bytes(found)


def _record(payload: bytes) -> tuple:
    """The columns of a row. Raises: ValueError where it is none."""
    length, at = _varint(payload, 0)
    types = []
    while at < length:
        kind, at = _varint(payload, at)
        types.append(kind)
    if at != length:
        raise ValueError("no record")
    values: list = []
    for kind in types:
        value, at = _value(payload, at, kind)
        values.append(value)
    if at != len(payload):
        raise ValueError("no record")
    return tuple(values)


def _value(payload: bytes, at: int, kind: int):
    if kind in (8, 9):
        return kind - 8, at
    if kind == 0:
        return None, at
    if kind in INTEGERS:
        end = at + INTEGERS[kind]
        return int.from_bytes(payload[at:end], "big", signed=True), end
    if kind < 12:
        raise ValueError("no kind that this program writes")
    end = at + (kind - 12) // 2
    part = payload[at:end]
    if len(part) != end - at:
        raise ValueError("cut")
    return (part.decode() if kind % 2 else part), end


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """A number of one to nine bytes, and where it ends. Raises: IndexError."""
    value = 0
    for i in range(8):
        byte = data[at + i]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + i + 1
    return value << 8 | data[at + 8], at + 9


def _wal_pages(wal: bytes, size: int) -> dict[int, bytes]:
    """The pages of the second file as the last whole transaction left them."""
    if wal[:4] not in WAL_MARKS:
        return {}
    found: dict[int, bytes] = {}
    begun: dict[int, bytes] = {}
    for at in range(WAL_HEAD, len(wal) - FRAME_HEAD - size + 1, FRAME_HEAD + size):
        head = wal[at : at + FRAME_HEAD]
        if head[8:16] != wal[16:24]:  # of an earlier round of the file
            break
        begun[int.from_bytes(head[:4], "big")] = wal[at + FRAME_HEAD : at + FRAME_HEAD + size]
        if int.from_bytes(head[4:8], "big"):
            found |= begun
            begun = {}
    return found
