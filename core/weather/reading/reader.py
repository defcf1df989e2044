"""What a reader of one format is: a frozen value with its name and its two functions."""

from collections.abc import Callable
from dataclasses import dataclass

from core.weather.answers import Answers
from core.weather.reading.observations import Observations
from core.weather.reading.weather_file import WeatherFile

FORECAST, HISTORY = "forecast", "history"


@dataclass(frozen=True, slots=True)
class Reader:
    """A reader of one format.

    `name` as messages and lists say it; `looks_like` whether a file is in the format, told
    by what is in it; `read` its reports, of a file and of answers to what it leaves open,
    raising BadWeather where it can't be used and NeedsAnswer where something stays open;
    `reads` what it holds, forecasts, histories or both; `as_history` what the hours of a
    forecast format are where they are brought as a history, empty for what they are.
    """

    name: str
    reads: tuple[str, ...]
    looks_like: Callable[[WeatherFile], bool]
    read: Callable[[WeatherFile, Answers], Observations]
    as_history: str = ""
