"""Which reader a weather file needs, told by what is in it."""

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.files.labels import label_of
from core.weather.hours import Hours
from core.weather.readers.asos import ASOS
from core.weather.readers.delimited import TABLE
from core.weather.readers.epw import EPW
from core.weather.readers.global_hourly import GLOBAL_HOURLY
from core.weather.readers.isd_lite import ISD_LITE
from core.weather.readers.nsrdb import NSRDB
from core.weather.readers.nws_grid import NWS_GRID
from core.weather.readers.nws_periods import NWS_PERIODS
from core.weather.readers.open_meteo import OPEN_METEO
from core.weather.readers.tmy3 import TMY3
from core.weather.reading.observations import to_hours
from core.weather.reading.reader import Reader
from core.weather.reading.weather_file import FIX, WeatherFile, weather_file

# The first that knows a file reads it. Formats that their first lines tell come first, for
# they look at no more; then those whose JSON has to be read whole, the raw gridpoint before
# the others because a body may hold both; the table of unknown making would take any text,
# so it is last.
READERS = (
    ISD_LITE,
    GLOBAL_HOURLY,
    ASOS,
    TMY3,
    EPW,
    NSRDB,
    NWS_GRID,
    NWS_PERIODS,
    OPEN_METEO,
    TABLE,
)
NO_ANSWERS = Answers()


def read_weather(
    data: bytes, where: str = "the weather file", answers: Answers = NO_ANSWERS
) -> Hours:
    """The hourly table of a weather file of any known format.

    Args: the file's bytes; its name for messages; what the user answered.
    Raises: BadWeather where it is empty or no weather; NeedsAnswer where it leaves
    something open, such as the unit, the zone or the order of day and month.
    """
    file = weather_file(data, where)
    reports = reader_of(file).read(file, answers)
    return to_hours(reports, reports.source or label_of(reports))


def reader_of(file: WeatherFile) -> Reader:
    """The reader that knows a file. Args: the file. Raises: BadWeather where none does, a
    web page or an answer that is no forecast among them."""
    for reader in READERS:
        if reader.looks_like(file):
            return reader
    _refuse_other_answers(file.body, file.name)
    raise BadWeather("not a forecast that is known", file.name, FIX)


def listed(reads: str, end: str = "and") -> str:
    """The formats of forecasts, or of histories, as a list in words.

    Args: FORECAST or HISTORY; the word before the last.
    """
    names = [reader.name for reader in READERS if reads in reader.reads]
    return f"{', '.join(names[:-1])} {end} {names[-1]}"


def _refuse_other_answers(body: object, where: str) -> None:
    """Says what a body is that is no forecast, where it says so itself."""
    if not isinstance(body, dict):
        return
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
