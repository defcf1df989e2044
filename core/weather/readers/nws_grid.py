"""National Weather Service raw gridpoints: layers of intervals, hour by hour.

Here 0 degrees is north and 360 never occurs; at speed 0 a direction is still
given and means nothing. From about the third day a value stands for several hours.
"""

import math

import numpy as np

from core.errors import BadWeather
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH, c_from_f
from core.weather.answers import Answers
from core.weather.hours import ROW_S, Floats
from core.weather.reading.intervals import (
    AGAIN,
    check_span,
    instant_s,
    length_s,
    number_of,
    whole_hours,
)
from core.weather.reading.observations import Observations, make_observations
from core.weather.reading.reader import FORECAST, Reader
from core.weather.reading.spots import middle_of
from core.weather.reading.weather_file import WeatherFile

SPEEDS = {
    "km_h-1": MPS_PER_KMH,
    "m_s-1": 1.0,
    "kn": MPS_PER_KNOT,
    "kt": MPS_PER_KNOT,
    "mi_h-1": MPS_PER_MPH,
}
SOURCE = "National Weather Service gridpoint forecast"


def is_nws_grid(body: object) -> bool:
    """Whether a JSON body is a raw gridpoint. Args: the parsed body."""
    return isinstance(body, dict) and isinstance(properties_of(body).get("windSpeed"), dict)


def looks_like(file: WeatherFile) -> bool:
    """Whether a file is a raw gridpoint. Args: the file."""
    return is_nws_grid(file.body)


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The hours of a raw gridpoint. Args: the file; answers, of which it needs none.
    Raises: BadWeather."""
    return read_nws_grid(file.body, file.name)  # type: ignore[arg-type]


def properties_of(body: dict) -> dict:
    """The inner part of a body, or the body itself. Args: the parsed body."""
    inner = body.get("properties", body)
    return inner if isinstance(inner, dict) else {}


def read_nws_grid(body: dict, where: str) -> Observations:
    """The hours of a raw gridpoint.

    Args: the parsed body; the file's name for messages.
    Missing: null values and hours outside a layer are missing, not filled.
    Raises: BadWeather for unknown units, broken intervals or no hours.
    Source: the Service's own description of raw gridpoint data.
    """
    layers = properties_of(body)
    speed, blocks = _layer(layers, "windSpeed", where)
    if not speed:
        raise BadWeather("the forecast has no hours of wind", where, AGAIN)
    check_span(speed, where)
    starts = np.arange(min(speed), max(speed) + ROW_S, ROW_S)

    def column(name: str, scale: float = 1.0) -> Floats:
        hours, _ = _layer(layers, name, where)
        return np.array([hours.get(int(s), math.nan) for s in starts]) * scale

    block_h = np.array([blocks.get(int(s), 1.0) for s in starts])
    speed_mps = column("windSpeed", _unit(layers, "windSpeed", where))
    _check_angles(layers, where)
    direction = column("windDirection")
    return make_observations(
        at_s=starts,
        line=np.arange(1, len(starts) + 1),
        line_word="hour",
        speed_mps=speed_mps,
        wind_from_deg=direction,
        gust_mps=column("windGust", _gust_unit(layers, where)),
        block_h=block_h,
        cloud_frac=column("skyCover", 0.01),
        temperature_c=_celsius(column("temperature"), layers),
        rain_mm=column("quantitativePrecipitation"),
        rain_chance_frac=column("probabilityOfPrecipitation", 0.01),
        thunder_frac=column("probabilityOfThunder", 0.01),
        fog=_fog(layers, starts, where),
        north_is_360=False,
        kind="forecast",
        format="nws-gridpoint",
        where=where,
        remarks=_remarks(speed_mps, direction, block_h),
        source=SOURCE,
        updated_s=instant_s(layers.get("updateTime"), where),
        spot=middle_of(body.get("geometry")),
    )


def _celsius(values: Floats, layers: dict) -> Floats:
    return c_from_f(values) if "degF" in _uom(layers, "temperature") else values


def _uom(layers: dict, name: str) -> str:
    layer = layers.get(name)
    return str(layer.get("uom", "")) if isinstance(layer, dict) else ""


def _filled(layers: dict, name: str) -> bool:
    layer = layers.get(name)
    return (
        isinstance(layer, dict) and isinstance(layer.get("values"), list) and bool(layer["values"])
    )


def _check_angles(layers: dict, where: str) -> None:
    unit = _uom(layers, "windDirection")
    if _filled(layers, "windDirection") and unit and "degree" not in unit:
        raise BadWeather(f"windDirection is in '{unit}'", where, "Use a file in degrees.")


def _gust_unit(layers: dict, where: str) -> float:
    return _unit(layers, "windGust", where) if _filled(layers, "windGust") else 1.0


def _unit(layers: dict, name: str, where: str) -> float:
    unit = _uom(layers, name).split(":")[-1]
    if unit not in SPEEDS:
        raise BadWeather(
            f"{name} is in the unknown unit '{unit}'", where, "Use a file in km/h, m/s or knots."
        )
    return SPEEDS[unit]


def _intervals(layers: dict, name: str, where: str):
    """Begin, end and raw value of each interval of a layer."""
    if not _filled(layers, name):
        return
    for entry in layers[name]["values"]:
        try:
            start, length = str(entry["validTime"]).split("/")
            begin, seconds, value = instant_s(start, where), length_s(length), entry["value"]
        except (KeyError, TypeError, ValueError) as fault:
            raise BadWeather(
                f"{name} has an interval that can't be read: {entry!r}"[:160], where, AGAIN
            ) from fault
        if begin is None:
            raise BadWeather(f"{name} has an interval without a start", where, AGAIN)
        yield begin, begin + seconds, value


def _layer(layers: dict, name: str, where: str) -> tuple[dict[int, float], dict[int, float]]:
    """Values and block lengths of a layer by hour."""
    values: dict[int, float] = {}
    blocks: dict[int, float] = {}
    for begin, end, raw in _intervals(layers, name, where):
        try:
            value = math.nan if raw is None else number_of(raw)
        except (TypeError, ValueError) as fault:
            raise BadWeather(f"{name} has the value {raw!r}"[:120], where, AGAIN) from fault
        hours = whole_hours(begin, end)
        for start in hours:
            values[start] = value
            blocks[start] = float(len(hours))
    return values, blocks


def _fog(layers: dict, starts, where: str) -> Floats:
    """1 in the hours whose weather layer names fog, 0 where it names none."""
    said: dict[int, float] = {}
    for begin, end, raw in _intervals(layers, "weather", where):
        names = (
            [str(w.get("weather")) for w in raw if isinstance(w, dict)]
            if isinstance(raw, list)
            else []
        )
        for start in whole_hours(begin, end):
            said[start] = float(any("fog" in name for name in names))
    return np.array([said.get(int(s), math.nan) for s in starts])


def _remarks(speed_mps: Floats, direction: Floats, block_h: Floats) -> tuple[str, ...]:
    notes = []
    lost = int((np.isnan(direction) & (speed_mps > 0)).sum())
    if lost:
        notes.append(f"{lost} {'hour has' if lost == 1 else 'hours have'} a speed but no direction")
    long = int((block_h > 1).sum())
    if long:
        notes.append(f"{long} hours come in blocks of up to {int(block_h.max())} h")
    return tuple(notes)


NWS_GRID = Reader("the Weather Service's raw gridpoints", (FORECAST,), looks_like, read)
