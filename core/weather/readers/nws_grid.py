"""National Weather Service raw gridpoints: layers of intervals, hour by hour.

Here 0 degrees is north and 360 never occurs; at speed 0 a direction is still
given and means nothing.
"""

import datetime
import math
import re

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.errors import BadWeather
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH, c_from_f
from core.weather.hours import DIRECTED, ROW_S, Hours, make_hours

SPEEDS = {
    "km_h-1": MPS_PER_KMH, "m_s-1": 1.0, "kn": MPS_PER_KNOT, "kt": MPS_PER_KNOT,
    "mi_h-1": MPS_PER_MPH,
}  # fmt: skip
_PERIOD = re.compile(r"P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?)?")


def is_nws_grid(body: object) -> bool:
    """Whether a JSON body is a raw gridpoint. Args: the parsed body."""
    return isinstance(body, dict) and isinstance(_properties(body).get("windSpeed"), dict)


def _properties(body: dict) -> dict:
    inner = body.get("properties", body)
    return inner if isinstance(inner, dict) else {}


def read_nws_grid(body: dict, where: str) -> Hours:
    """The hourly table of a raw gridpoint.

    Args: the parsed body; the file's name for messages.
    Missing: null values and hours outside a layer are missing, not filled.
    Raises: BadWeather for unknown units, broken intervals or no hours.
    Source: the Service's own description of raw gridpoint data.
    """
    layers = _properties(body)
    speed, blocks = _layer(layers, "windSpeed", where)
    if not speed:
        raise BadWeather("the forecast has no hours of wind", where, "Fetch it again.")
    factor = _unit(layers, "windSpeed", where)
    starts = np.arange(min(speed), max(speed) + ROW_S, ROW_S)

    def column(name: str, scale: float = 1.0):
        hours, _ = _layer(layers, name, where)
        return np.array([hours.get(int(s), math.nan) for s in starts]) * scale

    direction = column("windDirection")
    speed_mps = column("windSpeed", factor)
    gust_scale = _unit(layers, "windGust", where) if _filled(layers, "windGust") else 1.0
    warm = column("temperature")
    if "degF" in str((layers.get("temperature") or {}).get("uom")):
        warm = c_from_f(warm)
    block_h = np.array([blocks.get(int(s), 1.0) for s in starts])
    table = make_hours(
        start_s=starts,
        speed_mps=speed_mps,
        wind_from_deg=direction,
        half_width_deg=HALF_WIDTH_DEGREES_DEG,
        gust_mps=column("windGust", gust_scale),
        cloud_frac=column("skyCover", 0.01),
        temperature_c=warm,
        block_h=block_h,
        rain_mm=column("quantitativePrecipitation"),
        rain_chance_frac=column("probabilityOfPrecipitation", 0.01),
        thunder_frac=column("probabilityOfThunder", 0.01),
        format="nws-gridpoint",
        zone="UTC",
        source="National Weather Service gridpoint forecast",
        updated_s=_instant(layers.get("updateTime"), where),
        notes=_notes(starts, speed_mps, direction, block_h),
    )
    if not (table.state == DIRECTED).any() and np.isnan(table.speed_mps).all():
        raise BadWeather("every hour of the forecast lacks its wind", where, "Fetch it again.")
    return table


def _filled(layers: dict, name: str) -> bool:
    layer = layers.get(name)
    return isinstance(layer, dict) and bool(layer.get("values"))


def _unit(layers: dict, name: str, where: str) -> float:
    unit = str(layers[name].get("uom", "")).split(":")[-1]
    if unit not in SPEEDS:
        raise BadWeather(
            f"{name} is in the unknown unit '{unit}'", where, "Use a file in km/h, m/s or knots."
        )
    return SPEEDS[unit]


def _layer(layers: dict, name: str, where: str) -> tuple[dict[int, float], dict[int, float]]:
    """Values and block lengths of a layer by hour."""
    values: dict[int, float] = {}
    blocks: dict[int, float] = {}
    if not _filled(layers, name):
        return values, blocks
    for entry in layers[name]["values"]:
        try:
            start, length = str(entry["validTime"]).split("/")
            begin, hours = _instant(start, where), _length_h(length)
            value = math.nan if entry["value"] is None else float(entry["value"])
        except (KeyError, TypeError, ValueError) as fault:
            raise BadWeather(
                f"{name} has an interval that can't be read: {entry!r}"[:160], where, "Fetch again."
            ) from fault
        if begin is None:
            continue
        first = begin // ROW_S * ROW_S
        for step in range(hours):
            values[first + step * ROW_S] = value
            blocks[first + step * ROW_S] = float(hours)
    return values, blocks


def _length_h(text: str) -> int:
    found = _PERIOD.fullmatch(text)
    if not found or not any(found.groups()):
        raise ValueError(text)
    days, hours, minutes = (int(x or 0) for x in found.groups())
    total = days * 24 + hours + math.ceil(minutes / 60)
    if not 0 < total <= 400:
        raise ValueError(text)
    return total


def _instant(text: object, where: str) -> int | None:
    if not text:
        return None
    try:
        at = datetime.datetime.fromisoformat(str(text).replace("Z", "+00:00"))
    except ValueError as fault:
        raise BadWeather(f"'{text}' is no time", where, "Fetch it again.") from fault
    if at.tzinfo is None:
        raise BadWeather(f"'{text}' has no zone", where, "Use the file as it was fetched.")
    return int(at.timestamp())


def _notes(starts, speed_mps, direction, block_h) -> tuple[str, ...]:
    notes = []
    missing = int(np.isnan(speed_mps).sum())
    if missing:
        notes.append(f"{missing} of {len(starts)} hours have no wind")
    lost = int((np.isnan(direction) & (speed_mps > 0)).sum())
    if lost:
        notes.append(f"{lost} hours have a speed but no direction")
    long = int((block_h > 1).sum())
    if long:
        notes.append(f"{long} hours come in blocks of up to {int(block_h.max())} h")
    return tuple(notes)
