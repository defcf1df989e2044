"""National Weather Service forecasts by the hour and by the half day.

Wind is text ("5 to 10 mph", "WNW") or a number with its unit. No direction with a
speed of 0 is calm. Some offices name 8 points and some 16: told by the whole file.
"""

import dataclasses
import math
import re
from typing import Any

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.errors import BadWeather
from core.units import c_from_f
from core.weather.answers import SPEED_UNITS_MPS, Answers, unit_word
from core.weather.hours import ROW_S
from core.weather.readers.nws_grid import properties_of
from core.weather.reading.intervals import AGAIN, check_span, instant_s, whole_hours
from core.weather.reading.observations import Observations, make_observations
from core.weather.reading.reader import FORECAST, Reader
from core.weather.reading.spots import middle_of
from core.weather.reading.weather_file import WeatherFile
from core.weather.tables.cells import half_width_of_labels, read_direction, read_speed

SOURCE = "National Weather Service forecast by the hour"
SOURCE_BLOCKS = "National Weather Service forecast by the half day"
LONGEST_PERIOD_S = 24 * ROW_S
NUMBERS = (
    "speed_mps",
    "speed_low_mps",
    "speed_high_mps",
    "wind_from_deg",
    "gust_mps",
    "temperature_c",
    "rain_chance_frac",
    "thunder_frac",
    "fog",
)


def is_nws_periods(body: object) -> bool:
    """Whether a JSON body is a list of periods. Args: the parsed body."""
    return isinstance(body, dict) and "periods" in properties_of(body)


def looks_like(file: WeatherFile) -> bool:
    """Whether a file is a list of periods. Args: the file."""
    return is_nws_periods(file.body)


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The hours of a list of periods. Args: the file; answers, of which it needs none.
    Raises: BadWeather."""
    return read_nws_periods(file.body, file.name)  # type: ignore[arg-type]


def read_nws_periods(body: dict, where: str) -> Observations:
    """The hours of an hourly or 12-hour forecast.

    Args: the parsed body; the file's name for messages.
    Missing: a period without a speed is missing; without a direction, variable.
    A period longer than an hour fills its hours, each marked with its length.
    Raises: BadWeather for no periods, or one that can't be read.
    Source: the Service's own description of its forecast periods.
    """
    inside = properties_of(body)
    periods = inside["periods"]
    if not isinstance(periods, list) or not periods:
        raise BadWeather("the forecast has no hours", where, AGAIN)
    rows: dict[int, dict[str, Any]] = {}
    twice = []
    for number, period in enumerate(periods, 1):
        row = _period(period, f"{where}, period {number}") | {"line": number}
        for start in whole_hours(row["begin"], row["end"]):
            if start in rows:
                twice.append(number)
            else:
                rows[start] = row
    check_span(rows, where)
    reports = _table(rows, sorted(set(twice)), instant_s(inside.get("updateTime"), where), where)
    return dataclasses.replace(reports, spot=middle_of(body.get("geometry")))


def _table(
    rows: dict[int, dict], twice: list[int], updated_s: int | None, where: str
) -> Observations:
    """The hours by start, with the half-width of the whole file."""
    starts = sorted(rows)
    columns = {name: [rows[s].get(name, math.nan) for s in starts] for name in NUMBERS}
    labels = [row["label"] for row in rows.values() if row["label"]]
    half = half_width_of_labels(labels) if labels else HALF_WIDTH_DEGREES_DEG
    block_h = np.array([rows[s]["block_h"] for s in starts])
    blocks = bool(len(starts)) and float(np.median(block_h)) > 1
    return make_observations(
        at_s=starts,
        line=[rows[s]["line"] for s in starts],
        line_word="period",
        half_width_deg=[half if rows[s]["label"] else HALF_WIDTH_DEGREES_DEG for s in starts],
        block_h=block_h,
        north_is_360=False,
        kind="forecast",
        format="nws-12-hour" if blocks else "nws-hourly",
        where=where,
        remarks=_remarks(block_h, half, bool(labels)),
        source=SOURCE_BLOCKS if blocks else SOURCE,
        updated_s=updated_s,
        **columns,
    ).counted("duplicates", twice)


def _remarks(block_h, half_deg: float, labelled: bool) -> tuple[str, ...]:
    long = int((block_h > 1).sum())
    said = [f"{long} hours come in blocks of up to {int(block_h.max())} h"] if long else []
    if labelled and half_deg > 2 * HALF_WIDTH_DEGREES_DEG + 2:
        said.append("directions name 8 points only: each may be 22.5° off")
    return tuple(said)


def _period(period: object, where: str) -> dict[str, Any]:
    """One period: its span in epoch seconds, its wind and what else is shown."""
    if not isinstance(period, dict):
        raise BadWeather(f"{period!r} is no period"[:120], where, AGAIN)
    begin = instant_s(period.get("startTime"), where)
    if begin is None:
        raise BadWeather("it has no startTime", where, AGAIN)
    end = instant_s(period.get("endTime"), where) or begin + ROW_S
    if not 0 < end - begin <= LONGEST_PERIOD_S:
        raise BadWeather(f"it lasts {(end - begin) / ROW_S:g} h", where, AGAIN)
    low, high = _speed(period.get("windSpeed"), where)
    direction, label = _direction(period.get("windDirection"), where)
    _, gust = _speed(period.get("windGust"), where)
    words = str(period.get("shortForecast") or "").casefold()
    chance = _number(period.get("probabilityOfPrecipitation"))[0] / 100
    stormy = chance if chance == chance else 1.0
    return {
        "begin": begin,
        "end": end,
        "block_h": float(len(whole_hours(begin, end))),
        "speed_mps": (low + high) / 2,
        "speed_low_mps": low,
        "speed_high_mps": high,
        "wind_from_deg": direction,
        "label": label,
        "gust_mps": gust,
        "temperature_c": _celsius(period),
        "rain_chance_frac": chance,
        "thunder_frac": (stormy if "thunder" in words else 0.0) if words else math.nan,
        "fog": float("fog" in words) if words else math.nan,
    }


def _number(value: object) -> tuple[float, str]:
    """A number and its unit, of a plain number or one with a unitCode."""
    unit = ""
    if isinstance(value, dict):
        unit, value = str(value.get("unitCode") or "").split(":")[-1], value.get("value")
    if isinstance(value, bool) or not isinstance(value, int | float):
        return math.nan, unit
    return float(value), unit


def _speed(value: object, where: str) -> tuple[float, float]:
    """Both ends of a speed, from text or from numbers with a unit. [m/s]"""
    if value is None or value == "":
        return math.nan, math.nan
    if isinstance(value, dict):
        ends = [value.get("minValue"), value.get("maxValue"), value.get("value")]
        found = [float(x) for x in ends if isinstance(x, int | float)]
        unit = unit_word(str(value.get("unitCode") or "").split(":")[-1])
        if not found:
            return math.nan, math.nan
        low, high = min(found), max(found)
    else:
        low, high, unit = _spoken(str(value), where)
    if unit is None:
        raise BadWeather(f"the wind {value!r} has no unit that is known"[:120], where, AGAIN)
    return low * SPEED_UNITS_MPS[unit], high * SPEED_UNITS_MPS[unit]


def _spoken(text: str, where: str) -> tuple[float, float, str | None]:
    speed = read_speed(text)
    if speed is None:
        raise BadWeather(f"the wind '{text[:40]}' is no speed", where, AGAIN)
    return speed.low, speed.high, speed.unit if speed.high > 0 else speed.unit or "mph"


def _direction(value: object, where: str) -> tuple[float, str]:
    """Degrees, NaN for none, and the label where it was one."""
    if isinstance(value, dict) or (isinstance(value, int | float) and value is not None):
        return _number(value)[0], ""
    direction = read_direction(str(value or ""))
    if direction is None:
        raise BadWeather(f"the direction '{str(value)[:40]}' is none", where, AGAIN)
    return direction.wind_from_deg, direction.label


def _celsius(period: dict) -> float:
    warm, unit = _number(period.get("temperature"))
    unit = unit or str(period.get("temperatureUnit") or "")
    if re.search(r"F$", unit):
        return float(c_from_f(warm))
    return warm if unit.endswith("C") else math.nan


NWS_PERIODS = Reader("its hourly and half-day forecasts", (FORECAST,), looks_like, read)
