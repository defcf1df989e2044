"""TMY3 CSV: a typical year, local standard time, labels that end the hour.

Direction 0 is calm; 0 with a speed, at the seams of months, is no direction;
north is 360. pvlib reads the table; the instants are worked out here, because a
year put together from several is not in order.
"""

import numpy as np

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.reading.hour_ending import starts_of, table_by_pvlib, zone_offset_s
from core.weather.reading.observations import Observations, left_out, make_observations
from core.weather.reading.packed import without_cut_line
from core.weather.reading.reader import HISTORY, Reader
from core.weather.reading.spliced import laid_into_a_year, years_word, zone_word
from core.weather.reading.spots import spot_of
from core.weather.reading.weather_file import WeatherFile

FORMAT = "tmy3"
HEADER = "Date (MM/DD/YYYY)"
DATE, TIME = HEADER, "Time (HH:MM)"
MISSING_BELOW = -90.0  # -9900 marks no value; temperatures stay above this
FIX = "Use a TMY3 file as it was downloaded."
FIRST_LINE = 3


def looks_like(file: WeatherFile) -> bool:
    """Whether the second line names the columns of TMY3. Args: the file."""
    lines = file.head
    return len(lines) > 1 and lines[1].startswith(HEADER)


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The hours of a typical year.

    Args: the file; answers, of which it needs none.
    Missing: values far below any that can be are unknown.
    Raises: BadWeather where the table can't be read.
    """
    from pvlib.iotools import read_tmy3

    where = file.name
    data, cut = without_cut_line(file.data)
    table, about = table_by_pvlib(read_tmy3, data, "TMY3", where, FIX, map_variables=True)
    offset_s = zone_offset_s(about["TZ"], where, FIX)
    starts, dated = _starts(table)
    line = np.arange(FIRST_LINE, len(table) + FIRST_LINE)
    left_out(len(table), line[~dated], where)
    reports = make_observations(
        at_s=np.where(dated, starts - offset_s, 0),
        line=line,
        wind_from_deg=_column(table, "wind_direction", where),
        speed_mps=_column(table, "wind_speed", where),
        temperature_c=_column(table, "temp_air", where),
        cloud_frac=_share(_column(table, "TotCld (tenths)", where)),
        rain_mm=_column(table, "Lprecip depth (mm)", where),
        station=str(about["USAF"]),
        place=str(about["Name"]).strip('" '),
        kind="typical",
        format=FORMAT,
        zone=zone_word(offset_s),
        spot=spot_of(about.get("longitude"), about.get("latitude")),
        where=where,
        remarks=(f"made of the years {years_word(starts[dated])}",),
    )
    broken = [*line[~dated], *([int(line[-1]) + 1] if cut else [])]
    reports = reports.counted("lines", broken).take(dated)
    return laid_into_a_year(reports, offset_s)


def _starts(table) -> tuple[np.ndarray, np.ndarray]:
    import pandas as pd

    days = pd.to_datetime(table[DATE], format="%m/%d/%Y", errors="coerce")
    return starts_of(days, pd.to_numeric(table[TIME].str[:2], errors="coerce"), 0)


def _column(table, name: str, where: str) -> np.ndarray:
    import pandas as pd

    if name not in table:
        if name.startswith("wind"):
            raise BadWeather(f"the TMY3 table has no column {name}", where, FIX)
        return np.full(len(table), np.nan)
    values = pd.to_numeric(table[name], errors="coerce").to_numpy(dtype=float)
    return np.where(values <= MISSING_BELOW, np.nan, values)


def _share(tenths) -> np.ndarray:
    return np.where((tenths >= 0) & (tenths <= 10), tenths / 10, np.nan)


TMY3 = Reader("TMY3", (HISTORY,), looks_like, read)
