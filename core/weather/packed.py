"""A weather file's bytes as text: unpacked, with its byte order mark taken off."""

import gzip
import io
import zlib

from core.errors import BadWeather

LARGEST_UNPACKED_BYTES = 400_000_000
GZIP = b"\x1f\x8b"
HEAD_BYTES = 65_536
BOM = b"\xef\xbb\xbf"


def unpacked(data: bytes, where: str) -> bytes:
    """The bytes of a file, out of its gzip if it is in one.

    Args: the file's bytes; its name for messages.
    Raises: BadWeather for a broken or far too large file.
    """
    if not data.startswith(GZIP):
        return data.removeprefix(BOM)
    try:
        with gzip.GzipFile(fileobj=io.BytesIO(data)) as stream:
            out = stream.read(LARGEST_UNPACKED_BYTES + 1)
    except (OSError, EOFError, zlib.error) as fault:
        raise BadWeather(
            f"the packed file is broken ({fault})", where, "Download it again."
        ) from fault
    if len(out) > LARGEST_UNPACKED_BYTES:
        raise BadWeather("the packed file holds over 400 MB", where, "Split it by years.")
    return out.removeprefix(BOM)


def head_lines(data: bytes) -> list[str]:
    """The first lines of a file, packed or not; empty where it can't be unpacked."""
    if data.startswith(GZIP):
        try:
            data = zlib.decompressobj(wbits=31).decompress(data[:HEAD_BYTES], HEAD_BYTES)
        except zlib.error:
            return []
    text = data[:HEAD_BYTES].removeprefix(BOM).decode("utf-8", "replace")
    return [line for line in text.splitlines() if line.strip()]
