"""A weather file's bytes as text, whatever its encoding and line ends."""

import codecs

from core.errors import BadWeather
from core.weather.answers import plain_minus

BINARY = {
    b"PK\x03\x04": "a zip or an Excel workbook",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"\xd0\xcf\x11\xe0": "an old Excel workbook",
    b"SQLite": "a database",
    b"GRIB": "a GRIB file",
    b"CDF": "a netCDF file",
    b"\x89HDF": "an HDF file",
    b"{\\rtf": "a word processor's document",
}
MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
SAMPLE_BYTES = 4096
FIX = "Save it as a table of text (CSV) and give that."


def text_of(data: bytes, where: str) -> str:
    """The text, lines ended by a line feed, without a byte order mark.

    Args: the file's bytes; its name for messages.
    UTF-8 is tried first, then the encodings of Windows and of western Europe.
    Raises: BadWeather for a file that is no text.
    """
    for magic, name in BINARY.items():
        if data.startswith(magic):
            raise BadWeather(f"it looks like {name}", where, FIX)
    text = _decoded(data)
    # a mark stands inside too where files were put behind one another
    text = text.replace("\ufeff", "").replace("\r\n", "\n").replace("\r", "\n")
    for blank in ("\u00a0", "\u202f", "\u2009"):  # spaces that do not break
        text = text.replace(blank, " ")
    text = plain_minus(text).rstrip("\x00\x1a")  # a filled-up block; the old end-of-file mark
    odd = sum(c < " " and c not in "\t\n\f" for c in text[:SAMPLE_BYTES])
    if odd > len(text[:SAMPLE_BYTES]) / 50:
        raise BadWeather("it is no text", where, FIX)
    return text.replace("\x00", "")


def _decoded(data: bytes) -> str:
    for mark, encoding in MARKS:
        if data.startswith(mark):
            return data[len(mark) :].decode(encoding, "replace")
    wide = _without_mark(data[:SAMPLE_BYTES])
    if wide:
        return data.decode(wide, "replace")
    for encoding in ("utf-8", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def _without_mark(head: bytes) -> str:
    """UTF-16 told by its zero bytes, where no mark says so; empty for another."""
    if len(head) < 4:
        return ""
    even, odd = head[0::2].count(0) / len(head[0::2]), head[1::2].count(0) / len(head[1::2])
    if odd > 0.6 and even < 0.1:
        return "utf-16-le"
    return "utf-16-be" if even > 0.6 and odd < 0.1 else ""
