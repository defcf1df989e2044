"""Iowa ASOS archive CSV: knots and degrees by minute, M for missing.

Direction 0 with speed 0 is calm; M with a speed is light and variable; north is
360. Lines that begin with # are remarks. The zone of its times is told by a remark or in
brackets, else asked.
"""

import io
import re

import numpy as np

from core.errors import BadWeather
from core.units import MM_PER_INCH, MPS_PER_KNOT, c_from_f
from core.weather.answers import Answers, zone_of
from core.weather.clocks.zones import OPEN, is_letters, told_zone
from core.weather.reading.local_time import ask_zone, to_instants
from core.weather.reading.observations import (
    EARLIEST_S,
    LATEST_S,
    Observations,
    left_out,
    make_observations,
    one_station,
)
from core.weather.reading.packed import HEAD_BYTES, without_cut_line
from core.weather.reading.reader import HISTORY, Reader
from core.weather.reading.weather_file import WeatherFile

FORMAT = "iem-asos"
NEEDED = ("valid", "drct", "sknt")
WANTED = ("station", *NEEDED, "gust", "tmpf", "p01i", "skyc1", "skyc2", "skyc3", "skyc4", "wxcodes")
NO_DATA = ["M", "m", "null", "", "NaN"]
# shares of the sky, middle of the eighths that each word stands for
SKY_WORDS = {
    "CLR": 0.0,
    "SKC": 0.0,
    "NSC": 0.0,
    "NCD": 0.0,
    "FEW": 1.5 / 8,
    "SCT": 3.5 / 8,
    "BKN": 0.75,
    "OVC": 1.0,
    "VV": 1.0,
}
AGAIN = "Download the file again."
_ZONE = re.compile(r"^#.*time ?zone\W+([\w/+-]+)", re.IGNORECASE | re.MULTILINE)


def looks_like(file: WeatherFile) -> bool:
    """Whether the header names valid, drct and sknt. Args: the file."""
    return bool(_header(file.head))


def read(file: WeatherFile, answers: Answers) -> Observations:
    """The reports of a file of one station.

    Args: the file; answers, of which it may need the zone.
    Missing: M and blank are unknown. Broken lines are left out and counted.
    Raises: NeedsAnswer where neither header nor a remark tells the zone; BadWeather for
    several stations, an unknown zone, or too many broken lines.
    """
    where = file.name
    names = _header(file.head)
    data, cut = without_cut_line(file.data, len(names) - 1)
    table = _table(data, names, where)
    stations = map(str, table["station"].dropna().unique()) if "station" in table else ()
    station = one_station(stations, where)
    clock_s, dated = _instants(table["valid"])
    told = _told_zone(data, where)
    if not told and answers.zone is None:
        row = int(np.argmax(dated))
        cell = str(table["valid"].iloc[row])
        raise ask_zone(cell, int(clock_s[row]), answers.likely_zone, where)
    zone = zone_of(told or str(answers.zone), where)
    at_s, untold = to_instants(np.where(dated, clock_s, clock_s.max()), zone, where)
    columns, readable = {}, dated
    for name in ("drct", "sknt", "gust", "tmpf", "p01i"):
        columns[name], good = _numbers(table, name)
        readable = readable & good
    line = table.index.to_numpy() + _first_line(data)
    left_out(len(table), line[~readable], where)
    reports = make_observations(
        at_s=at_s,
        line=line,
        speed_mps=columns["sknt"] * MPS_PER_KNOT,
        wind_from_deg=columns["drct"],
        gust_mps=columns["gust"] * MPS_PER_KNOT,
        temperature_c=c_from_f(columns["tmpf"]),
        rain_mm=columns["p01i"] * MM_PER_INCH,
        cloud_frac=_cloud(table),
        thunder_frac=_said(table, "TS"),
        fog=_said(table, "FG"),
        station=station,
        format=FORMAT,
        where=where,
    )
    broken = [*line[~readable], *([int(line[-1]) + 1] if cut else [])]
    reports = reports.counted("lines", broken).counted("clock", line[untold & readable])
    return reports.take(readable & ~untold)


def _header(head: list[str]) -> list[str]:
    """Column names of the first line that is no remark; empty for another format."""
    line = next((x for x in head if not x.startswith("#")), "")
    if not all(name in line for name in NEEDED):  # a forecast may be one line of a megabyte
        return []
    names = [re.sub(r"\s*\(.*\)", "", n.strip().strip('"')) for n in re.split(r"[,\t]", line)]
    return names if set(NEEDED) <= set(names) else []


def _first_line(data: bytes) -> int:
    """Number of the first line of values."""
    for number, line in enumerate(data[:HEAD_BYTES].splitlines(), 1):
        if line.strip() and not line.startswith(b"#"):
            return number + 1
    return 1


def _told_zone(data: bytes, where: str) -> str:
    """The zone of the times, from the header or a remark; empty where none is told, or
    only letters that several places share."""
    head = data[:HEAD_BYTES].decode("utf-8", "replace")
    in_header = re.search(r"\bvalid\s*\(([^)]*)\)", head)
    found = in_header or _ZONE.search(head)
    word = found[1].strip() if found else ""
    told = told_zone(f"({word})") if word else ""
    if word and told in ("", OPEN):
        raise BadWeather(
            f"its times are in the unknown zone {word}", where, "Ask the archive for times in UTC."
        )
    return "" if is_letters(told) else told


def _table(data: bytes, names: list[str], where: str):
    import pandas as pd

    wanted = [n for n in WANTED if n in names]
    head = data[:HEAD_BYTES].decode("utf-8", "replace")
    try:
        table = pd.read_csv(
            io.BytesIO(data),
            sep="\t" if head.count("\t") > head.count(",") else ",",
            skiprows=_first_line(data) - 1,
            names=names,
            header=None,
            usecols=wanted,
            index_col=False,
            keep_default_na=False,
            na_values=NO_DATA,
            skipinitialspace=True,
            dtype=dict.fromkeys(("station", "valid", "wxcodes"), str),
            low_memory=False,
            encoding="utf-8",
            encoding_errors="replace",
        )
    except ValueError as fault:
        raise BadWeather(f"the table can't be read ({fault})", where, AGAIN) from fault
    table = table[~table[wanted[0]].astype(str).str.startswith("#")]
    if not len(table):
        raise BadWeather("the file has no lines below its header", where, AGAIN)
    return table


def _instants(column) -> tuple[np.ndarray, np.ndarray]:
    import pandas as pd

    at = pd.to_datetime(column, format="ISO8601", errors="coerce", utc=True)
    seconds = at.dt.tz_localize(None).to_numpy("datetime64[s]").astype(np.int64)
    good = at.notna().to_numpy() & (seconds >= EARLIEST_S) & (seconds < LATEST_S)
    return np.where(good, seconds, 0), good


def _numbers(table, name: str) -> tuple[np.ndarray, np.ndarray]:
    """A column of numbers and whether each cell is one or says that it is missing."""
    import pandas as pd

    if name not in table:
        return np.full(len(table), np.nan), np.ones(len(table), bool)
    column = table[name]
    if column.dtype.kind not in "fi":
        column = column.where(column != "T", 0.0)  # a trace of rain
    values = pd.to_numeric(column, errors="coerce")
    good = (values.notna() | table[name].isna()).to_numpy(dtype=bool)
    return values.to_numpy(dtype=float, na_value=np.nan), good


def _cloud(table) -> np.ndarray:
    """The fullest layer told."""
    layers = [
        table[name].astype(str).str.strip().map(SKY_WORDS).to_numpy(dtype=float)
        for name in ("skyc1", "skyc2", "skyc3", "skyc4")
        if name in table
    ]
    cloud = np.full(len(table), np.nan)
    for layer in layers:
        cloud = np.fmax(cloud, layer)
    return cloud


def _said(table, code: str) -> np.ndarray:
    """1 where the weather codes hold a code, 0 where they hold others, else NaN."""
    if "wxcodes" not in table:
        return np.full(len(table), np.nan)
    words = table["wxcodes"]
    said = words.str.contains(code, na=False, regex=False).to_numpy(dtype=float)
    return np.where(words.isna().to_numpy(), np.nan, said)


ASOS = Reader("Iowa ASOS", (HISTORY,), looks_like, read)
