"""The latest report of the nearest weather station, and how it sits with the forecast.

National Weather Service observation JSON: metric units named in each value; a speed
above 0 without a direction is variable, as airports report light wind.
"""

import datetime
import json
import math
from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG, point_name
from core.units import M_PER_MILE, MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.hours import (
    CALM,
    DIRECTED,
    FASTEST_MPS,
    MISSING,
    ROW_S,
    STATE_WORDS,
    VARIABLE,
    Hours,
)

SPEEDS = {"km_h-1": MPS_PER_KMH, "m_s-1": 1.0, "kn": MPS_PER_KNOT, "kt": MPS_PER_KNOT}
REFUSED = ("X", "B")  # its quality check: rejected, or bad in a person's eyes
STALE_S = 3 * 3600  # common practice, no source: older says nothing about now
FARTHEST_M = 100_000.0  # common practice, no source: farther says nothing about this ground
EARTH_M = 6_371_008.8


@dataclass(frozen=True, slots=True)
class Station:
    """One report of one station. Speeds at 10 m; NaN where not told."""

    id: str
    name: str
    distance_m: float
    at_s: float
    state: int
    wind_from_deg: float
    half_width_deg: float
    speed_mps: float
    gust_mps: float


def read_station(body: bytes | None, listed: bytes | None, place) -> Station | None:
    """A station's report. Args: its body; the body of the list of stations, for name and
    distance; (lon, lat) [deg].

    Returns: None where it has no wind, a wrong one, no time, or no sense.
    """
    try:
        properties = json.loads(body or b"")["properties"]
        at = datetime.datetime.fromisoformat(properties["timestamp"])
        speed = _value(properties.get("windSpeed"))
        if at.tzinfo is None or not 0 <= speed <= FASTEST_MPS:
            return None
        gust, wind = _value(properties.get("windGust")), _direction(properties, speed)
        named = str(properties.get("stationId") or properties.get("station") or "")
        station = named.rsplit("/", 1)[-1]
    except (KeyError, TypeError, ValueError, AttributeError):
        return None
    name, distance = _named(listed, place).get(station, ("", math.nan))
    state = CALM if speed == 0 else VARIABLE if math.isnan(wind) else DIRECTED
    return Station(
        id=station,
        name=str(properties.get("stationName") or name or station),
        distance_m=distance,
        at_s=at.timestamp(),
        state=state,
        wind_from_deg=wind if state == DIRECTED else math.nan,
        half_width_deg=HALF_WIDTH_DEGREES_DEG if state == DIRECTED else math.nan,
        speed_mps=speed,
        gust_mps=gust if gust >= speed else math.nan,
    )


def nearest_ids(listed: bytes, place) -> list[str]:
    """Stations of a list within 100 km, the nearest first. Args: the list's body;
    (lon, lat) [deg]."""
    found = _named(listed, place)
    near = [station for station in found if found[station][1] <= FARTHEST_M]
    return sorted(near, key=lambda station: found[station][1])


def _named(listed: bytes | None, place) -> dict[str, tuple[str, float]]:
    """Name and distance of each station by its id; those that can't be read left out."""
    found = {}
    try:
        features = json.loads(listed or b"{}").get("features", [])
    except (ValueError, AttributeError):
        return {}
    for feature in features:
        try:
            properties, lonlat = feature["properties"], feature["geometry"]["coordinates"]
            station = str(properties["stationIdentifier"])
            if not station.isalnum():  # it becomes a part of an address
                continue
            found[station] = (str(properties.get("name") or station), _apart_m(place, lonlat))
        except (KeyError, TypeError, ValueError):
            continue
    return found


def _apart_m(a, b) -> float:
    """Metres between two places (lon, lat), on a sphere: for telling near from far."""
    lon_a, lat_a, lon_b, lat_b = (math.radians(float(x)) for x in (*a, *b[:2]))
    half = (
        math.sin((lat_b - lat_a) / 2) ** 2
        + math.cos(lat_a) * math.cos(lat_b) * math.sin((lon_b - lon_a) / 2) ** 2
    )
    return 2 * EARTH_M * math.asin(math.sqrt(half))


def _value(told) -> float:
    """A speed in m/s; NaN where none is told or its source marks it as wrong."""
    if not isinstance(told, dict) or told.get("value") is None:
        return math.nan
    if told.get("qualityControl") in REFUSED:
        return math.nan
    return float(told["value"]) * SPEEDS[str(told.get("unitCode")).split(":")[-1]]


def _direction(properties: dict, speed_mps: float) -> float:
    told = properties.get("windDirection")
    if not isinstance(told, dict) or told.get("value") is None or speed_mps == 0:
        return math.nan
    wind = float(told["value"])
    if told.get("qualityControl") in REFUSED or not 0 <= wind <= 360:
        return math.nan
    # a light variable wind may be sent as 0; the report's own text then says so
    if wind == 0 and " VRB" in str(properties.get("rawMessage")):
        return math.nan
    return wind % 360.0


def station_words(station: Station, hours: Hours, now_s: float) -> str:
    """Report and forecast side by side, in plain words.

    Args: the report; the forecast; the clock [epoch s]. The forecast's row is the one
    of the report's hour, or its first row where that is later. Returns: empty where the
    report is over 3 h old.
    """
    if now_s - station.at_s > STALE_S:
        return ""
    minutes = max(0, round((now_s - station.at_s) / 60))
    far = f", {station.distance_m / M_PER_MILE:.0f} mi off," if station.distance_m >= 0 else ""
    when = f"{minutes} min ago" if minutes < 100 else f"{minutes / 60:.0f} h ago"
    said = _wind_words(station.state, station.wind_from_deg, station.speed_mps)
    row = _row_beside(hours, station.at_s)
    if row is None:
        return f"{station.name}{far} said {said} {when}."
    told = _wind_words(
        int(hours.state[row]), float(hours.wind_from_deg[row]), float(hours.speed_mps[row])
    )
    return f"{station.name}{far} said {said} {when}; the forecast said {told}."


def _row_beside(hours: Hours, at_s: float) -> int | None:
    """The row of an instant, or the first one where it begins within the next 3 h."""
    if not len(hours):
        return None
    row = max(int(np.searchsorted(hours.start_s, at_s, side="right")) - 1, 0)
    start = float(hours.start_s[row])
    near = start <= at_s < start + ROW_S or 0 <= start - at_s <= STALE_S
    return row if near and hours.state[row] != MISSING else None


def _wind_words(state: int, wind_from_deg: float, speed_mps: float) -> str:
    mph = f"{speed_mps / MPS_PER_MPH:.0f}"
    if state == CALM:
        return "calm"
    return f"variable {mph} mph" if state == VARIABLE else f"{point_name(wind_from_deg)} {mph} mph"


def station_dict(station: Station, hours: Hours, now_s: float) -> dict:
    """The report as plain values. Args: as `station_words`. Unknown is null."""
    row = _row_beside(hours, station.at_s)
    forecast = None
    if row is not None:
        forecast = {
            "state": STATE_WORDS[int(hours.state[row])],
            "wind_from_deg": _known(hours.wind_from_deg[row]),
            "wind_speed_mps": _known(hours.speed_mps[row]),
        }
    return {
        "id": station.id,
        "name": station.name,
        "distance_m": _known(station.distance_m),
        "at": datetime.datetime.fromtimestamp(station.at_s, datetime.UTC).isoformat(),
        "age_h": round((now_s - station.at_s) / 3600, 2),
        "state": STATE_WORDS[station.state],
        "wind_from_deg": _known(station.wind_from_deg),
        "wind_speed_mps": _known(station.speed_mps),
        "gust_mps": _known(station.gust_mps),
        "forecast": forecast,
        "words": station_words(station, hours, now_s),
    }


def _known(value) -> float | None:
    return None if math.isnan(value) else round(float(value), 3)
