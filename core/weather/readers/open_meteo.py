"""Open-Meteo forecast JSON: parallel arrays, one offset for the whole series."""

import datetime
import math

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.errors import BadWeather
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH, c_from_f
from core.weather.hours import ROW_S, Hours, make_hours

SPEEDS = {
    "km/h": MPS_PER_KMH, "m/s": 1.0, "mp/h": MPS_PER_MPH, "mph": MPS_PER_MPH,
    "kn": MPS_PER_KNOT, "kt": MPS_PER_KNOT,
}  # fmt: skip
SPEED = ("wind_speed_10m", "windspeed_10m")
DIRECTION = ("wind_direction_10m", "winddirection_10m")
GUST = ("wind_gusts_10m", "windgusts_10m")
CLOUD = ("cloud_cover", "cloudcover")


def is_open_meteo(body: object) -> bool:
    """Whether a JSON body is an Open-Meteo answer. Args: the parsed body."""
    return isinstance(body, dict) and ("hourly" in body or body.get("error") is True)


def read_open_meteo(body: dict, where: str) -> Hours:
    """The hourly table of an Open-Meteo answer.

    Args: the parsed body; the file's name for messages.
    Missing: null is missing.
    Raises: BadWeather for an error answer, no 10 m wind, unknown units, arrays
    that do not fit together, or local times without their offset.
    Source: the provider's documentation; UTC is time less utc_offset_seconds.
    """
    hourly, units = _checked(body, where)
    start_s = _times(body, hourly, units, where)
    n = len(start_s)
    if len(np.unique(start_s)) != n:
        raise BadWeather("an hour occurs twice", where, "Fetch the forecast again.")
    warm = _column(hourly, ("temperature_2m",), n, where)
    if "F" in str(units.get("temperature_2m", "")):
        warm = c_from_f(warm)
    speed_mps = _speed(hourly, units, SPEED, n, where)
    gust_mps, notes = _raised(_speed(hourly, units, GUST, n, where), speed_mps)
    return make_hours(
        start_s=start_s,
        speed_mps=speed_mps,
        wind_from_deg=_column(hourly, DIRECTION, n, where),
        half_width_deg=HALF_WIDTH_DEGREES_DEG,
        gust_mps=gust_mps,
        cloud_frac=_column(hourly, CLOUD, n, where) / 100.0,
        temperature_c=warm,
        rain_mm=_column(hourly, ("precipitation",), n, where),
        format="open-meteo",
        zone=str(body.get("timezone") or "UTC"),
        source="Open-Meteo.com forecast",
        notes=notes,
    )


def _checked(body: dict, where: str) -> tuple[dict, dict]:
    """The hourly block and its units, with a 10 m wind in it."""
    hourly, units = body.get("hourly"), body.get("hourly_units") or {}
    if not isinstance(hourly, dict) or not hourly.get("time"):
        reason = body.get("reason") or "the forecast has no hours"
        raise BadWeather(str(reason)[:160], where, "Fetch the forecast again.")
    if _name(hourly, SPEED) is None or _name(hourly, DIRECTION) is None:
        heights = sorted(k for k in hourly if k.replace("_", "").startswith("windspeed"))
        raise BadWeather(
            f"there is no wind for 10 m above ground (it has: {', '.join(heights) or 'none'})",
            where,
            "Ask for wind_speed_10m and wind_direction_10m.",
        )
    return hourly, units


def _speed(hourly: dict, units: dict, names: tuple[str, ...], n: int, where: str):
    """A speed column in m/s; all missing where the source has none."""
    values = _column(hourly, names, n, where)
    name = _name(hourly, names)
    if name is None or np.isnan(values).all():
        return values
    return values * _unit(units, name, where)


def _raised(gust_mps, speed_mps):
    """Gusts below the wind raised to it, and the notes on what was found."""
    low = gust_mps < speed_mps
    notes = [f"{int(low.sum())} gusts below the wind were raised to it"] if low.any() else []
    lost = int(np.isnan(speed_mps).sum())
    if lost:
        notes.append(f"{lost} of {len(speed_mps)} hours have no wind")
    return np.where(low, speed_mps, gust_mps), tuple(notes)


def _name(hourly: dict, names: tuple[str, ...]) -> str | None:
    return next((n for n in names if n in hourly), None)


def _unit(units: dict, name: str, where: str) -> float:
    # the unit may stand under the other spelling of the same name
    spellings = next(group for group in (SPEED, GUST) if name in group)
    word = next((units[s] for s in (name, *spellings) if s in units), None)
    if word not in SPEEDS:
        raise BadWeather(
            f"{name} has the unit '{word}', which is not known", where,
            "Use a file with km/h, m/s, mph or knots.",
        )  # fmt: skip
    return SPEEDS[word]


def _column(hourly: dict, names: tuple[str, ...], n: int, where: str):
    name = _name(hourly, names)
    if name is None:
        return np.full(n, np.nan)
    values = hourly[name]
    if not isinstance(values, list) or len(values) != n:
        raise BadWeather(f"{name} does not have {n} values", where, "Fetch the forecast again.")
    try:
        numbers = np.array([math.nan if v is None else float(v) for v in values])
    except (TypeError, ValueError) as fault:
        raise BadWeather(
            f"{name} holds something that is no number", where, "Fetch again."
        ) from fault
    if (np.abs(numbers[~np.isnan(numbers)]) > 1e4).any():
        raise BadWeather(f"{name} holds a number that can't be", where, "Fetch it again.")
    return numbers


def _times(body: dict, hourly: dict, units: dict, where: str):
    offset = body.get("utc_offset_seconds")
    stamps = hourly["time"]
    if units.get("time") == "unixtime" or isinstance(stamps[0], int):
        return np.array(stamps, np.int64) // ROW_S * ROW_S
    if not isinstance(offset, int | float):
        raise BadWeather("the times have no utc_offset_seconds", where, "Ask for timezone=GMT.")
    try:
        naive = [datetime.datetime.fromisoformat(str(t)) for t in stamps]
    except ValueError as fault:
        raise BadWeather(f"a time can't be read: {fault}", where, "Fetch it again.") from fault
    utc = [t.replace(tzinfo=t.tzinfo or datetime.UTC).timestamp() for t in naive]
    return (np.array(utc) - offset).astype(np.int64) // ROW_S * ROW_S
