"""Open-Meteo answers, JSON and its own CSV: one offset for the whole series.

UTC is the time less `utc_offset_seconds`, for every row; the zone's name is only
for show, because the provider moves no clock inside a series.
"""

import csv
import datetime
import math
import re
from typing import Any

import numpy as np

from core.errors import BadWeather
from core.units import MM_PER_INCH, c_from_f
from core.weather.answers import SPEED_UNITS_MPS, Answers, unit_word
from core.weather.hours import Floats, Ints
from core.weather.reading.intervals import number_of
from core.weather.reading.observations import (
    EARLIEST_S,
    LATEST_S,
    Observations,
    make_observations,
)
from core.weather.reading.reader import FORECAST, HISTORY, Reader
from core.weather.reading.spots import spot_of
from core.weather.reading.weather_file import WeatherFile
from core.weather.tables.cells import read_number

SPEED = ("wind_speed_10m", "windspeed_10m")
DIRECTION = ("wind_direction_10m", "winddirection_10m")
GUST = ("wind_gusts_10m", "windgusts_10m")
CLOUD = ("cloud_cover", "cloudcover")
AGAIN = "Fetch the forecast again."
STORM_CODES = (95, 96, 99)  # WMO weather codes: thunderstorm
FOG_CODES = (45, 48)
HEAD = "utc_offset_seconds"
_HEADER = re.compile(r"(?P<name>[\w.-]+)(?:\s*\((?P<unit>.*)\))?")


def is_open_meteo(body: object) -> bool:
    """Whether a JSON body is an Open-Meteo answer. Args: the parsed body."""
    return isinstance(body, dict) and ("hourly" in body or body.get("error") is True)


def looks_like(file: WeatherFile) -> bool:
    """Whether a file is an answer of the provider, as CSV or JSON. Args: the file."""
    return _is_csv(file) or is_open_meteo(file.body)


def _is_csv(file: WeatherFile) -> bool:
    lines = file.head
    return len(lines) > 2 and lines[0].startswith("latitude,") and HEAD in lines[0]


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The hours of an answer of the provider.

    Args: the file; answers, of which it needs none.
    Raises: BadWeather for one that can't be read.
    """
    body = _csv_body(file.text, file.name) if _is_csv(file) else file.body
    return read_open_meteo(body, file.name)  # type: ignore[arg-type]


def _csv_body(text: str, where: str) -> dict:
    """The provider's CSV as the body of its JSON."""
    lines = [line for line in text.split("\n") if line.strip()]
    rows = list(csv.reader(lines))
    about: dict[str, Any] = dict(zip(rows[0], rows[1], strict=False))
    names, units = [], {}
    for cell in rows[2]:
        found = _HEADER.fullmatch(cell.strip())
        if not found or found["name"] in names:
            raise BadWeather(f"the column '{cell}' can't be read", where, AGAIN)
        names.append(found["name"])
        units[found["name"]] = found["unit"] or ""
    hourly: dict[str, list] = {name: [] for name in names}
    for number, row in enumerate(rows[3:], 4):
        if len(row) != len(names):
            if number == len(rows) and len(rows) > 4:
                break  # a download that broke off in its last line
            raise BadWeather(f"line {number} has {len(row)} cells", where, AGAIN)
        for name, cell in zip(names, row, strict=True):
            hourly[name].append(cell if name == "time" else _cell(cell, name, where))
    offset = read_number(str(about.get(HEAD, "")))
    about[HEAD] = None if offset is None or math.isnan(offset) else offset
    return about | {"hourly": hourly, "hourly_units": units}


def _cell(text: str, name: str, where: str) -> float:
    value = read_number(text)
    if value is None:
        raise BadWeather(f"{name} holds '{text[:40]}', no number", where, AGAIN)
    return value


def read_open_meteo(body: dict, where: str) -> Observations:
    """The hours of an Open-Meteo answer.

    Args: the parsed body; the file's name for messages.
    Missing: null is missing.
    Raises: BadWeather for an error answer, no 10 m wind, unknown units, arrays
    that do not fit together, or local times without their offset.
    Source: the provider's documentation; UTC is time less utc_offset_seconds.
    """
    hourly, units = _checked(body, where)
    at_s = _times(body, hourly, units, where)
    n = len(at_s)
    warm = _column(hourly, ("temperature_2m",), n, where)
    warm = c_from_f(warm) if "F" in str(units.get("temperature_2m", "")) else warm
    code = _column(hourly, ("weather_code", "weathercode"), n, where)
    return make_observations(
        at_s=at_s,
        line=np.arange(1, n + 1),
        line_word="hour",
        speed_mps=_speed(hourly, units, SPEED, n, where),
        wind_from_deg=_column(hourly, DIRECTION, n, where),
        gust_mps=_speed(hourly, units, GUST, n, where),
        cloud_frac=_column(hourly, CLOUD, n, where) / 100.0,
        temperature_c=warm,
        rain_mm=_rain(hourly, units, n, where),
        rain_chance_frac=_column(hourly, ("precipitation_probability",), n, where) / 100.0,
        thunder_frac=_said(code, STORM_CODES),
        fog=_said(code, FOG_CODES),
        north_is_360=False,
        kind="forecast",
        format="open-meteo",
        zone=str(body.get("timezone") or "UTC"),
        where=where,
        remarks=_old_names(hourly, units),
        source="Open-Meteo.com forecast",
        spot=spot_of(body.get("longitude"), body.get("latitude")),
    )


def _checked(body: dict, where: str) -> tuple[dict, dict]:
    """The hourly block and its units, with a 10 m wind in it."""
    hourly, units = body.get("hourly"), body.get("hourly_units") or {}
    if not isinstance(hourly, dict) or not hourly.get("time"):
        reason = body.get("reason") or "the forecast has no hours"
        raise BadWeather(str(reason)[:160], where, AGAIN)
    if not isinstance(hourly["time"], list) or not isinstance(units, dict):
        raise BadWeather("its hours are no list, or its units no table", where, AGAIN)
    if _name(hourly, SPEED) is None or _name(hourly, DIRECTION) is None:
        raise BadWeather(
            _other_heights(hourly), where, "Ask for wind_speed_10m and wind_direction_10m."
        )
    told = next((str(units[n]) for n in DIRECTION if n in units), "°")
    if told.casefold() not in ("°", "deg", "degree", "degrees"):
        raise BadWeather(f"wind directions are in '{told}'", where, "Use a file in degrees.")
    return hourly, units


def _other_heights(hourly: dict) -> str:
    """What is wrong with a body that lacks the wind at 10 m."""
    names = sorted(k for k in hourly if k.replace("_", "").startswith("wind"))
    heights = sorted({int(x) for k in names for x in re.findall(r"_(\d+)m$", k)} - {10})
    if heights:
        told = " and ".join(f"{h} m" for h in heights)
        return f"the wind is for {told} above ground, not 10 m (it has: {', '.join(names)})"
    return f"there is no wind for 10 m above ground (it has: {', '.join(names) or 'none'})"


def _said(code: Floats, wanted: tuple[int, ...]) -> Floats:
    return np.where(np.isnan(code), np.nan, np.isin(code, wanted).astype(float))


def _rain(hourly: dict, units: dict, n: int, where: str) -> Floats:
    inches = str(units.get("precipitation", "")).startswith("in")
    return _column(hourly, ("precipitation",), n, where) * (MM_PER_INCH if inches else 1.0)


def _speed(hourly: dict, units: dict, names: tuple[str, ...], n: int, where: str) -> Floats:
    """A speed column in m/s; all missing where the source has none."""
    values = _column(hourly, names, n, where)
    name = _name(hourly, names)
    if name is None or np.isnan(values).all():
        return values
    return values * _unit(units, name, where)


def _name(hourly: dict, names: tuple[str, ...]) -> str | None:
    return next((n for n in names if n in hourly), None)


def _unit(units: dict, name: str, where: str) -> float:
    # the unit may stand under the other spelling of the same name
    spellings = next(group for group in (SPEED, GUST) if name in group)
    word = next((units[s] for s in (name, *spellings) if s in units), None)
    unit = unit_word(str(word))
    if unit is None:
        raise BadWeather(
            f"{name} has the unit '{word}', which is not known",
            where,
            "Use a file with km/h, m/s, mph or knots.",
        )
    return SPEED_UNITS_MPS[unit]


def _old_names(hourly: dict, units: dict) -> tuple[str, ...]:
    """A note where a unit stands under another spelling than its column."""
    taken = [name for names in (SPEED, GUST) if (name := _name(hourly, names))]
    lacking = [name for name in taken if name not in units]
    return (f"the unit of {', '.join(lacking)} stands under its old name",) if lacking else ()


def _column(hourly: dict, names: tuple[str, ...], n: int, where: str) -> Floats:
    name = _name(hourly, names)
    if name is None:
        return np.full(n, np.nan)
    values = hourly[name]
    if not isinstance(values, list) or len(values) != n:
        raise BadWeather(f"{name} does not have {n} values", where, AGAIN)
    try:
        return np.array([math.nan if v is None else number_of(v) for v in values])
    except (TypeError, ValueError, OverflowError) as fault:
        raise BadWeather(f"{name} holds something that is no number", where, AGAIN) from fault


def _times(body: dict, hourly: dict, units: dict, where: str) -> Ints:
    offset = body.get(HEAD)
    stamps = hourly["time"]
    try:
        if units.get("time") == "unixtime" or isinstance(stamps[0], int | float):
            at = np.array([int(t) for t in stamps], np.float64)
        else:
            at = _from_local(stamps, offset, where)
    except (ValueError, TypeError, OverflowError) as fault:
        raise BadWeather(f"a time can't be read: {fault}"[:160], where, AGAIN) from fault
    if ((at < EARLIEST_S) | (at >= LATEST_S)).any():
        raise BadWeather("a time is in an impossible year", where, AGAIN)
    return at.astype(np.int64)


def _from_local(stamps: list, offset: object, where: str) -> Floats:
    """Instants of local times; one that carries its own offset keeps it."""
    at = [datetime.datetime.fromisoformat(str(t)) for t in stamps]
    bare = [t.tzinfo is None for t in at]
    if any(bare) and (isinstance(offset, bool) or not isinstance(offset, int | float)):
        raise BadWeather("the times have no utc_offset_seconds", where, "Ask for timezone=GMT.")
    if any(bare) and not -14 * 3600 <= offset <= 14 * 3600:  # type: ignore[operator]
        raise BadWeather(f"utc_offset_seconds is {offset}", where, AGAIN)
    utc = [t.replace(tzinfo=t.tzinfo or datetime.UTC).timestamp() for t in at]
    return np.array([s - offset if b else s for s, b in zip(utc, bare, strict=True)])  # type: ignore[operator]


OPEN_METEO = Reader(
    "Open-Meteo (JSON, CSV)", (FORECAST, HISTORY), looks_like, read, as_history="modelled"
)
