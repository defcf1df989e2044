"""A weather file's bytes as text: unpacked, with its byte order mark taken off."""

import codecs
import gzip
import io
import zlib

from core.errors import BadWeather

# what every reader can read in 2 GB of memory: the hungriest takes 25 bytes for one
LARGEST_MB = 50
LARGEST_BYTES = LARGEST_MB * 1_000_000
SPLIT = "Split it by years: several files are read together."
GZIP = b"\x1f\x8b"
HEAD_BYTES = 65_536
BOM = b"\xef\xbb\xbf"


def gunzipped(data: bytes, where: str) -> bytes:
    """The bytes of a file, out of its gzip if it is in one.

    Args: the file's bytes; its name for messages.
    Raises: BadWeather for a broken or far too large file.
    """
    if not data.startswith(GZIP):
        return data
    try:
        with gzip.GzipFile(fileobj=io.BytesIO(data)) as stream:
            out = stream.read(LARGEST_BYTES + 1)
    except (OSError, EOFError, zlib.error) as fault:
        raise BadWeather(
            f"the packed file is broken ({fault})", where, "Download it again."
        ) from fault
    if len(out) > LARGEST_BYTES:
        raise BadWeather(f"the packed file holds over {LARGEST_MB} MB", where, SPLIT)
    return out


def head_lines(data: bytes) -> list[str]:
    """The first lines of a file that are not blank. Args: its bytes, unpacked."""
    text = plain_bytes(data[:HEAD_BYTES]).decode("utf-8", "replace")
    return [line for line in text.splitlines() if line.strip()]


def without_cut_line(data: bytes, separators: int | None = None) -> tuple[bytes, bool]:
    """The file without a last line that a broken download cut short, and if it was.

    Args: the file's bytes; how many commas or tabs a whole line has, the number
    of the line before where not told. A last line that ends is never cut.
    """
    if data.endswith((b"\n", b"\r")):
        return data, False
    start = 1 + max(data.rfind(b"\n"), data.rfind(b"\r"))
    before = data[:start].rstrip(b"\r\n")
    previous = before[1 + max(before.rfind(b"\n"), before.rfind(b"\r")) :]
    wanted = _separators(previous) if separators is None else separators
    cut = _separators(data[start:]) < wanted
    return (data[:start], True) if cut else (data, False)


def plain_bytes(data: bytes) -> bytes:
    """The bytes without a mark, in UTF-8 where a mark says that they are UTF-16. Args: bytes."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return data.decode("utf-16", "replace").encode()
    return data.removeprefix(BOM)


def _separators(line: bytes) -> int:
    return line.count(b",") + line.count(b"\t")
