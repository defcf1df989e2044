"""NOAA Global Hourly CSV: one column WND holds "direction,quality,type,speed,quality".

Type C is calm, V variable; 999 and 9999 are missing; times are UTC; north is 360.
Daily and monthly summaries (SOD, SOM) are no observations.
"""

import io

import numpy as np

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.reading.observations import (
    Observations,
    left_out,
    make_observations,
    one_station,
)
from core.weather.reading.reader import HISTORY, Reader
from core.weather.reading.spots import spot_of
from core.weather.reading.weather_file import WeatherFile

FORMAT = "noaa-global-hourly"
WANTED = (
    "STATION",
    "DATE",
    "NAME",
    "LATITUDE",
    "LONGITUDE",
    "REPORT_TYPE",
    "WND",
    "TMP",
    "OC1",
    "GF1",
    "GA1",
    "GA2",
    "GA3",
    "AA1",
)
SUMMARIES = ("SOD", "SOM")
SPECIALS = ("FM-16", "SAOSP")
ERRONEOUS = (ord("3"), ord("7"))  # quality codes, from memory of the format's document
WIND_WIDTH = 14
AGAIN = "Download the file again as CSV."


def looks_like(file: WeatherFile) -> bool:
    """Whether the header names the columns DATE and WND. Args: the file."""
    lines = file.head
    names = lines[0].replace('"', "").split(",") if lines else []
    return "WND" in names and "DATE" in names


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The reports of a file of one station.

    Args: the file; answers, of which it needs none.
    Missing: 999 and 9999 are unknown; a wind marked erroneous is left out.
    Raises: BadWeather for several stations in it, or too many broken lines.
    """
    where = file.name
    table, cut = _table(file.data, where)
    at_s, dated = _instants(table["DATE"])
    line = np.arange(2, len(table) + 2)
    kind = _words(table, "REPORT_TYPE")
    summary = np.isin(kind, SUMMARIES)
    speed, wind, wrong, readable = _wind(table["WND"])
    broken = ~dated | ~(readable | summary)
    left_out(len(table), line[broken], where)
    reports = make_observations(
        at_s=at_s,
        line=line,
        speed_mps=np.where(wrong, np.nan, speed),
        wind_from_deg=np.where(wrong, np.nan, wind),
        temperature_c=_number(table, "TMP", 0, 9999) / 10,
        gust_mps=_number(table, "OC1", 0, 9999) / 10,
        rain_mm=_hourly_rain(table),
        cloud_frac=_cloud(table),
        special=np.isin(kind, SPECIALS),
        station=one_station(table["STATION"].unique(), where) if "STATION" in table else "",
        place=str(table["NAME"].iloc[0]).strip() if "NAME" in table else "",
        spot=_spot(table),
        format=FORMAT,
        where=where,
    )
    reports = reports.counted("wrong", line[wrong & ~summary & ~broken])
    reports = reports.counted("summaries", line[summary]).counted("lines", line[broken])
    if cut:
        reports = reports.counted("lines", np.array([len(table) + 2]))
    return reports.take(~broken & ~summary)


def _spot(table):
    """Where the station of a file stands; None where it does not say."""
    if not {"LATITUDE", "LONGITUDE"} <= set(table):
        return None
    return spot_of(table["LONGITUDE"].iloc[0], table["LATITUDE"].iloc[0])


def _table(data: bytes, where: str):
    """The columns wanted, as text, and whether the last line was cut off."""
    import pandas as pd

    def parsed(body: bytes):
        return pd.read_csv(
            io.BytesIO(body),
            usecols=lambda name: name in WANTED,
            dtype=str,
            index_col=False,
            keep_default_na=False,
            encoding="utf-8",
            encoding_errors="replace",
        )

    try:
        table, cut = parsed(data), False
    except ValueError:
        # a download that broke off ends inside a quoted field
        data = data[: data.rstrip().rfind(b"\n") + 1]
        try:
            table, cut = parsed(data), True
        except ValueError as fault:
            raise BadWeather(f"the table can't be read ({fault})", where, AGAIN) from fault
    if not {"DATE", "WND"} <= set(table.columns):
        raise BadWeather("its header has no columns DATE and WND", where, AGAIN)
    if not len(table):
        raise BadWeather("the file has no lines below its header", where, AGAIN)
    return table, cut


def _instants(column) -> tuple[np.ndarray, np.ndarray]:
    import pandas as pd

    at = pd.to_datetime(column, format="ISO8601", errors="coerce", utc=True)
    good = at.notna().to_numpy()
    seconds = at.dt.tz_localize(None).to_numpy("datetime64[s]").astype(np.int64)
    return np.where(good, seconds, 0), good


def _words(table, name: str) -> np.ndarray:
    if name not in table:
        return np.full(len(table), "")
    return table[name].str.strip().to_numpy(dtype=str)


def _characters(column, width: int) -> tuple[np.ndarray, np.ndarray]:
    """A column as bytes, shape (line, width), and whether each has that width."""
    texts = column.to_list()
    try:
        cells = np.array(texts, dtype=f"S{width + 1}")
    except UnicodeEncodeError:
        cells = np.array([t.encode("ascii", "replace") for t in texts], dtype=f"S{width + 1}")
    matrix = cells.view(np.uint8).reshape(len(texts), width + 1)
    return matrix[:, :width], (matrix[:, width] == 0) & (matrix[:, width - 1] != 0)


def _digits(matrix) -> tuple[np.ndarray, np.ndarray]:
    """The whole number in columns of digits, and whether they are digits."""
    figures = matrix.astype(np.int64) - ord("0")
    good = ((figures >= 0) & (figures <= 9)).all(axis=1)
    scale = 10 ** np.arange(matrix.shape[1] - 1, -1, -1)
    return figures @ scale, good


def _wind(column):
    """Speed, direction, whether marked erroneous, whether it could be read."""
    cells, whole = _characters(column, WIND_WIDTH)
    degrees, good_degrees = _digits(cells[:, 0:3])
    tenths, good_tenths = _digits(cells[:, 8:12])
    readable = whole & good_degrees & good_tenths & (cells[:, 7] == ord(","))
    blank = cells[:, 0] == 0  # a report without a wind
    kind = cells[:, 6]
    calm = kind == ord("C")  # a type of 9 with speed 0 is calm too, by its speed
    speed = np.where(calm, 0.0, np.where(tenths == 9999, np.nan, tenths / 10))
    speed = np.where(blank, np.nan, speed)
    lost = blank | (degrees == 999) | (kind == ord("V"))
    wind = np.where(lost, np.nan, degrees.astype(float))
    wrong = np.isin(cells[:, 4], ERRONEOUS) | np.isin(cells[:, 13], ERRONEOUS)
    return speed, wind, wrong & readable, readable | blank


def _number(table, name: str, part: int, missing: int) -> np.ndarray:
    """One whole number of a column of comma-separated parts; NaN where unknown."""
    import pandas as pd

    if name not in table:
        return np.full(len(table), np.nan)
    text = table[name].str.split(",", n=part + 1).str[part]
    values = pd.to_numeric(text, errors="coerce").to_numpy(dtype=float, na_value=np.nan)
    return np.where(np.abs(values) == missing, np.nan, values)


def _hourly_rain(table) -> np.ndarray:
    """Millimetres of the last hour; reports of longer spans are left out."""
    hours = _number(table, "AA1", 0, 99)
    return np.where(hours == 1, _number(table, "AA1", 1, 9999) / 10, np.nan)


def _cloud(table) -> np.ndarray:
    """Cloud share: the whole sky where it is told, else the fullest layer."""
    eighths = [_number(table, name, 0, 99) for name in ("GF1", "GA1", "GA2", "GA3")]
    eighths = [np.where(e <= 8, e, np.where(e == 9, 8.0, np.nan)) for e in eighths]
    layers = np.fmax(np.fmax(eighths[1], eighths[2]), eighths[3])
    return np.where(np.isnan(eighths[0]), layers, eighths[0]) / 8


GLOBAL_HOURLY = Reader("NOAA Global Hourly", (HISTORY,), looks_like, read)
