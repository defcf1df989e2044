"""ISD-Lite: twelve columns of whole numbers, hourly, UTC, -9999 for missing.

Direction 0 with speed 0 is calm; -9999 with a speed is variable; north is 360.
"""

import io
import re

import numpy as np

from core.weather.answers import Answers
from core.weather.reading.observations import Observations, left_out, make_observations
from core.weather.reading.reader import HISTORY, Reader
from core.weather.reading.weather_file import WeatherFile

FORMAT = "isd-lite"
MISSING = -9999
N_COLUMNS = 12
_ROW = re.compile(r"\s*\d{4}\s+\d{1,2}\s+\d{1,2}\s+\d{1,2}(\s+-?\d+){8}\s*")
_STATION = re.compile(r"(?<!\w)([0-9A-Z]\d{5})-(\d{5})(?!\d)")
# sky codes beyond eighths, from memory of the format's own note: 9 hidden,
# 11 to 13 scattered, 14 to 16 broken, 17 to 19 overcast
SKY_CODES = {
    9: 1.0,
    **dict.fromkeys((11, 12, 13), 3.5 / 8),
    **dict.fromkeys((14, 15, 16), 0.75),
    **dict.fromkeys((17, 18, 19), 1.0),
}


def looks_like(file: WeatherFile) -> bool:
    """Whether the first line has the twelve columns. Args: the file."""
    lines = file.head
    return bool(lines) and bool(_ROW.fullmatch(lines[0]))


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The reports of a file, plain or packed.

    Args: the file, whose name carries the station; answers, of which it needs none.
    Missing: -9999 is unknown. Broken lines are left out and counted.
    Raises: BadWeather where a twentieth of the lines can't be read.
    """
    where = file.name
    table, lines, broken = _numbers(file.data)
    at_s, dated = _instants(*table[:, :4].T)
    broken = np.concatenate([broken, lines[~dated]])
    left_out(len(lines) + len(broken) - int((~dated).sum()), broken, where)
    table, lines, at_s = table[dated], lines[dated], at_s[dated]
    values = np.where(table == MISSING, np.nan, table.astype(float))
    reports = make_observations(
        at_s=at_s,
        line=lines,
        temperature_c=values[:, 4] / 10,
        wind_from_deg=values[:, 7],
        speed_mps=values[:, 8] / 10,
        cloud_frac=_cloud(values[:, 9]),
        rain_mm=np.maximum(values[:, 10], 0) / 10,  # -1 is a trace
        station=station_of(where),
        format=FORMAT,
        where=where,
    )
    return reports.counted("lines", broken)


def station_of(name: str) -> str:
    """The eleven digits of the station in a file's name; empty without them."""
    found = _STATION.search(name.upper())
    return "".join(found.groups()) if found else ""


def _numbers(data: bytes) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Whole numbers (line, 12), their lines, and the lines that are broken."""
    import pandas as pd

    try:
        frame = pd.read_csv(
            io.BytesIO(data),
            sep=r"\s+",
            header=None,
            engine="c",
            encoding="latin-1",
            na_filter=False,
            low_memory=False,
        )
        if frame.shape[1] == N_COLUMNS and all(t == np.int64 for t in frame.dtypes):
            return frame.to_numpy(), np.arange(1, len(frame) + 1), np.zeros(0, np.int64)
    except (ValueError, OverflowError, TypeError):  # a broken line: the slow way below
        pass
    return _line_by_line(data.decode("latin-1"))


def _line_by_line(text: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    rows, lines, broken = [], [], []
    for number, line in enumerate(text.splitlines(), 1):
        if _ROW.fullmatch(line) and all(len(x) <= 6 for x in line.split()):
            rows.append([int(x) for x in line.split()])
            lines.append(number)
        elif line.strip():
            broken.append(number)
    table = np.array(rows, np.int64).reshape(-1, N_COLUMNS)
    return table, np.array(lines, np.int64), np.array(broken, np.int64)


def _instants(year, month, day, hour) -> tuple[np.ndarray, np.ndarray]:
    """Seconds since 1970 and whether the date exists. Shape (line,)."""
    good = (year > 1800) & (year < 2200) & (month >= 1) & (month <= 12)
    good &= (day >= 1) & (day <= 31) & (hour >= 0) & (hour <= 23)
    months = np.where(good, (year - 1970) * 12 + month - 1, 0).astype("datetime64[M]")
    days = months.astype("datetime64[D]") + np.where(good, day - 1, 0)
    good &= days.astype("datetime64[M]") == months  # no 30 February
    return days.astype(np.int64) * 86400 + np.where(good, hour, 0) * 3600, good


def _cloud(code) -> np.ndarray:
    cloud = np.where(code <= 8, code / 8, np.nan)
    for number, share in SKY_CODES.items():
        cloud[code == number] = share
    return cloud


ISD_LITE = Reader("ISD-Lite", (HISTORY,), looks_like, read)
