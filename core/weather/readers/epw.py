"""EPW: an hourly year for building sums, local standard time, labels end the hour.

Mostly a typical year; one actual year is mixed from stations and models. Direction
0 is calm; 999 is missing. pvlib reads the table; the instants are worked out here.
"""

import numpy as np

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.reading.hour_ending import starts_of, table_by_pvlib, zone_offset_s
from core.weather.reading.observations import Observations, left_out, make_observations
from core.weather.reading.packed import without_cut_line
from core.weather.reading.reader import HISTORY, Reader
from core.weather.reading.spliced import laid_into_a_year, runs_on, years_word, zone_word
from core.weather.reading.spots import spot_of
from core.weather.reading.weather_file import WeatherFile

FORMAT = "epw"
MISSING = {
    "wind_direction": 999,
    "wind_speed": 999,
    "temp_air": 99.9,
    "total_sky_cover": 99,
    "liquid_precipitation_depth": 999,
}
# words of the header's data type that name typical years
TYPICAL_WORDS = (
    "TMY",
    "IWEC",
    "CWEC",
    "TRY",
    "RMY",
    "CTZ",
    "CSWD",
    "CTYW",
    "SWEC",
    "IGDG",
    "WYEC",
    "NIWA",
    "INETI",
    "ISHRAE",
    "XMY",
    "TYPICAL",
)
ACTUAL_REMARK = "one actual year as its file states: stations and models may be mixed in it"
FIX = "Use an EPW file as it was downloaded."


def looks_like(file: WeatherFile) -> bool:
    """Whether the first line is an EPW location. Args: the file."""
    lines = file.head
    return bool(lines) and lines[0].upper().startswith("LOCATION,")


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The hours of an EPW year.

    Args: the file; answers, of which it needs none.
    Missing: the format's own marks (999 and its like) are unknown.
    Raises: BadWeather where the table can't be read or is finer than hours.
    """
    from pvlib.iotools import read_epw

    where = file.name
    data, cut = without_cut_line(file.data)
    data, first_line = _usual_head(data, where)
    table, about = table_by_pvlib(read_epw, data, "EPW", where, FIX)
    offset_s = zone_offset_s(about["TZ"], where, FIX)
    starts, dated = _starts(table)
    line = np.arange(first_line, len(table) + first_line)
    left_out(len(table), line[~dated], where)
    actual = _is_actual(starts[dated], str(about["data_type"]))
    columns = {name: _column(table, name) for name in MISSING}
    reports = make_observations(
        at_s=np.where(dated, starts - offset_s, 0),
        line=line,
        wind_from_deg=columns["wind_direction"],
        speed_mps=columns["wind_speed"],
        temperature_c=columns["temp_air"],
        cloud_frac=columns["total_sky_cover"] / 10,
        rain_mm=columns["liquid_precipitation_depth"],
        station=str(about["WMO_code"]).strip(),
        place=str(about["city"]).strip(),
        kind="modelled" if actual else "typical",
        north_is_360=not actual,
        format=FORMAT,
        zone=zone_word(offset_s),
        spot=spot_of(about.get("longitude"), about.get("latitude")),
        where=where,
        remarks=(ACTUAL_REMARK if actual else f"made of the years {years_word(starts[dated])}",),
    )
    broken = [*line[~dated], *([int(line[-1]) + 1] if cut else [])]
    reports = reports.counted("lines", broken).take(dated)
    return reports if actual else laid_into_a_year(reports, offset_s)


def _is_actual(starts, data_type: str) -> bool:
    """Whether the file holds one year as it was, not a typical one."""
    said_typical = any(word in data_type.upper() for word in TYPICAL_WORDS)
    return not said_typical and runs_on(starts)


def _usual_head(data: bytes, where: str) -> tuple[bytes, int]:
    """The file with a head of eight lines, and the line its hours begin on.

    pvlib skips eight lines whatever they are, and would lose an hour of a file
    with a line less.
    """
    lines = data.split(b"\n", 20)[:20]
    heads = [i for i, x in enumerate(lines) if x.upper().startswith(b"DATA PERIODS")]
    if not heads:
        raise BadWeather("it has no line DATA PERIODS", where, FIX)
    parts = [p.strip() for p in lines[heads[0]].split(b",")]
    if len(parts) > 2 and parts[2] not in (b"", b"1"):
        records = parts[2].decode("utf-8", "replace")
        raise BadWeather(f"it has {records} records an hour", where, "Use an hourly EPW file.")
    rest = data.split(b"\n", heads[0] + 1)[heads[0] + 1 :]
    return b"\n".join([lines[0], *[b"-"] * 7, *rest]), heads[0] + 2


def _starts(table) -> tuple[np.ndarray, np.ndarray]:
    import pandas as pd

    days = pd.to_datetime(table[["year", "month", "day"]], errors="coerce")
    return starts_of(days, pd.to_numeric(table["hour"], errors="coerce"), 1)


def _column(table, name: str) -> np.ndarray:
    import pandas as pd

    values = pd.to_numeric(table[name], errors="coerce").to_numpy(dtype=float)
    return np.where(values >= MISSING[name], np.nan, values)


EPW = Reader("EPW", (HISTORY,), looks_like, read)
