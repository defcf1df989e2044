"""Which reader a weather file needs, told by what is in it."""

import json

from core.errors import BadWeather
from core.weather.hours import Hours
from core.weather.readers.nws_grid import is_nws_grid, read_nws_grid
from core.weather.readers.open_meteo import is_open_meteo, read_open_meteo

FIX = "Use a National Weather Service gridpoint or an Open-Meteo JSON forecast."
LARGEST_BYTES = 10_000_000


def read_weather(data: bytes, where: str = "the weather file") -> Hours:
    """The hourly table of a forecast file.

    Args: the file's bytes; its name for messages.
    Raises: BadWeather where it is empty, no forecast, or leaves something open.
    """
    if not data.strip():
        raise BadWeather("the file is empty", where, FIX)
    if len(data) > LARGEST_BYTES:
        raise BadWeather(f"the file has {len(data)} bytes, over 10 MB", where, FIX)
    try:
        body = json.loads(data.decode("utf-8-sig"), parse_constant=_no_constant)
    except (ValueError, RecursionError) as fault:
        looks = "a web page" if data.lstrip()[:1] == b"<" else "no JSON"
        raise BadWeather(f"not a forecast (looks like {looks})", where, FIX) from fault
    if is_nws_grid(body):
        return read_nws_grid(body, where)
    if is_open_meteo(body):
        return read_open_meteo(body, where)
    raise BadWeather("not a forecast that is known", where, FIX)


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is no number of a forecast")
