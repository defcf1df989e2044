"""A weather file as readers look at it: bytes, first lines, text, and the body of a JSON."""

import functools
import json
import os
from dataclasses import dataclass
from pathlib import Path

from core.errors import BadWeather
from core.weather.reading.decoding import text_of
from core.weather.reading.packed import (
    BOM,
    LARGEST_BYTES,
    LARGEST_MB,
    SPLIT,
    gunzipped,
    head_lines,
    plain_bytes,
)

FIX = "Use a forecast or a wind history in a format of the README, or a table of wind."
WEB_FIX = "Fetch it again; a sheet that was saved as a web page, save as CSV."
LARGEST_JSON_BYTES = 10_000_000


@dataclass(frozen=True)
class WeatherFile:
    """A file out of its packing. `raw` as it is; `name` for messages."""

    raw: bytes
    name: str

    @functools.cached_property
    def data(self) -> bytes:
        """The bytes without a byte order mark, in UTF-8 where a mark says UTF-16."""
        return plain_bytes(self.raw)

    @functools.cached_property
    def head(self) -> list[str]:
        """The first lines that are not blank."""
        return head_lines(self.raw)

    @functools.cached_property
    def text(self) -> str:
        """The whole text. Raises: BadWeather for a file that is no text."""
        return text_of(self.raw, self.name)

    @functools.cached_property
    def body(self) -> object:
        """The body of a JSON; None for another file. Raises: BadWeather for a broken one, a
        web page, or no text."""
        first = self.text.lstrip()[:1]
        if not first:
            raise BadWeather("the file is empty", self.name, FIX)
        if first == "<":
            raise BadWeather("not a forecast (looks like a web page)", self.name, WEB_FIX)
        return _parsed(self.text, self.name) if first in "{[" else None


def weather_file(data: bytes, name: str) -> WeatherFile:
    """A file out of its gzip, if it is in one. Args: its bytes; its name for messages.

    Raises: BadWeather where it is empty, far too large, or its packing is broken.
    """
    if not data.strip(b"\x00 \t\r\n" + BOM):
        raise BadWeather("the file is empty", name, FIX)
    if len(data) > LARGEST_BYTES:
        raise too_large(len(data), name)
    raw = gunzipped(data, name)
    if not raw.strip(b"\x00 \t\r\n" + BOM):
        raise BadWeather("the file is empty", name, FIX)
    return WeatherFile(raw, name)


def too_large(size: int, name: str) -> BadWeather:
    """A file of more than can be read. Args: its size [bytes]; its name for messages."""
    return BadWeather(f"the file has {size:,} bytes, over {LARGEST_MB} MB", name, SPLIT)


def file_bytes(path: Path, name: str) -> bytes:
    """The bytes of a weather file; how many they are is seen before they are read.

    Args: the file; its name for messages. Raises: BadWeather.
    """
    try:
        with path.open("rb") as stream:
            size = os.fstat(stream.fileno()).st_size
            if size > LARGEST_BYTES:
                raise too_large(size, name)
            return stream.read(LARGEST_BYTES + 1)  # a device tells no size
    except OSError as fault:
        raise BadWeather(
            f"can't be opened ({fault.strerror or fault})", name, "Check the name."
        ) from fault


def _parsed(text: str, where: str) -> object:
    if len(text) > LARGEST_JSON_BYTES:
        raise BadWeather(f"the file has {len(text)} characters, over 10 MB", where, FIX)
    try:
        return json.loads(text, parse_constant=_no_constant)
    except (ValueError, RecursionError) as fault:
        raise BadWeather(
            f"not a forecast (broken JSON: {str(fault)[:80]})", where, "Fetch it again."
        ) from fault


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is no number of a forecast")
