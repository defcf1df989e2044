"""Which reader a weather file needs, told by what is in it.

A new format is one line in BYTE_READERS (a module with `looks_like(data, name)` and
`read(data, where, answers)`) or in JSON_READERS (a test of the parsed body, and its
reader); the first that knows the file reads it.
"""

import json

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.hours import Hours
from core.weather.readers import (
    asos,
    delimited,
    epw,
    global_hourly,
    isd_lite,
    nsrdb,
    open_meteo,
    tmy3,
)
from core.weather.readers.nws_grid import is_nws_grid, read_nws_grid
from core.weather.readers.nws_periods import is_nws_periods, read_nws_periods
from core.weather.readers.open_meteo import is_open_meteo, read_open_meteo
from core.weather.reading.decoding import text_of
from core.weather.reading.packed import BOM, GZIP, unpacked

FIX = "Use a forecast or a wind history in a format of the README, or a table of wind."
WEB_FIX = "Fetch it again; a sheet that was saved as a web page, save as CSV."
LARGEST_BYTES = 400_000_000
LARGEST_JSON_BYTES = 10_000_000

BYTE_READERS = (isd_lite, global_hourly, asos, tmy3, epw, nsrdb, open_meteo)
JSON_READERS = (
    (is_nws_grid, read_nws_grid),
    (is_nws_periods, read_nws_periods),
    (is_open_meteo, read_open_meteo),
)
NO_ANSWERS = Answers()


def read_weather(
    data: bytes, where: str = "the weather file", answers: Answers = NO_ANSWERS
) -> Hours:
    """The hourly table of a weather file of any known format.

    Args: the file's bytes; its name for messages; what the user answered.
    Raises: BadWeather where it is empty or no weather; NeedsAnswer where it leaves
    the unit, the zone or the order of day and month open.
    """
    if not data.strip(b"\x00 \t\r\n" + BOM):
        raise BadWeather("the file is empty", where, FIX)
    if len(data) > LARGEST_BYTES:
        raise BadWeather(f"the file has {len(data)} bytes, over 400 MB", where, FIX)
    for reader in BYTE_READERS:
        if reader.looks_like(data, where):
            return reader.read(data, where, answers)
    if data.startswith(GZIP):
        return read_weather(unpacked(data, where), where, answers)
    text = text_of(data, where)
    first = text.lstrip()[:1]
    if not first:
        raise BadWeather("the file is empty", where, FIX)
    if first == "<":
        raise BadWeather("not a forecast (looks like a web page)", where, WEB_FIX)
    if first in "{[":
        return _read_json(text, where)
    return delimited.read(data, where, answers)


def _read_json(text: str, where: str) -> Hours:
    if len(text) > LARGEST_JSON_BYTES:
        raise BadWeather(f"the file has {len(text)} characters, over 10 MB", where, FIX)
    try:
        body = json.loads(text, parse_constant=_no_constant)
    except (ValueError, RecursionError) as fault:
        raise BadWeather(
            f"not a forecast (broken JSON: {str(fault)[:80]})", where, "Fetch it again."
        ) from fault
    _refuse_other_answers(body, where)
    for knows, read in JSON_READERS:
        if knows(body):
            return read(body, where)
    raise BadWeather("not a forecast that is known", where, FIX)


def _refuse_other_answers(body: object, where: str) -> None:
    """Says what a body is that is no forecast, where it says so itself."""
    if not isinstance(body, dict):
        raise BadWeather("not a forecast that is known", where, FIX)
    if {"title", "status"} <= set(body) or {"title", "detail"} <= set(body):
        said = " ".join(str(body.get(k) or "") for k in ("title", "detail"))
        raise BadWeather(f"the service answered: {said}"[:200], where, "Fetch it again later.")
    inside = body.get("properties")
    if isinstance(inside, dict) and "forecastGridData" in inside:
        raise BadWeather(
            "this names where the forecast is, and is not the forecast",
            where,
            "Fetch the address in forecastGridData.",
        )


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is no number of a forecast")
