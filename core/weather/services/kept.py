"""Forecasts kept on disk: the last good one for camp, and all of them for comparison.

Each is one small packed file that holds the parts of the service's own answer that the
reader uses; it is read by the same reader, so what can't be read is passed over and
the one before it is used. Kept apart from the HTTP cache, and never overwritten.
"""

import contextlib
import dataclasses
import datetime
import json
import math
from dataclasses import dataclass
from pathlib import Path

from core.ground.looking import only_looking
from core.weather.elsewhere import elsewhere_words, is_elsewhere
from core.weather.files.recognise import read_weather
from core.weather.hours import ROW_S, Hours
from core.weather.services.records import (
    BROKEN,
    ENDING,
    keep_record,
    kept_record,
    place_folder,
)
from core.weather.services.sources import ATTRIBUTION, NAMES, NWS, Place, degrees
from core.weather.services.station import Station, read_station

SUBFOLDER, CACHE = "forecasts", "http-cache"
MARK = "stand-and-wind forecast"
# layers of the National Weather Service's answer that are kept; the rest is large and unused
LAYERS = (
    "updateTime",
    "validTimes",
    "windSpeed",
    "windDirection",
    "windGust",
    "skyCover",
    "temperature",
    "relativeHumidity",
    "quantitativePrecipitation",
    "probabilityOfPrecipitation",
    "probabilityOfThunder",
    "weather",
    "visibility",
    "snowfallAmount",
    "iceAccumulation",
)
ALL_KEPT_S, LONGEST_KEPT_S = 10 * 86_400, 800 * 86_400
AHEAD_S = 600  # two clocks of one person may differ by this


@dataclass(frozen=True, eq=False)
class Kept:
    """A forecast with its age and where it is from.

    `updated_s` is when the forecasters last changed it, None where the source does not
    say; `attribution` the words and the address to show beside it; `trouble` what went
    wrong in getting a newer one, None for nothing. `station` is the latest report of
    the nearest station as of then. `place` is the rounded (lon, lat) it was asked for.
    """

    hours: Hours
    fetched_s: float
    updated_s: float | None
    source: str
    attribution: tuple[str, str]
    place: Place
    trouble: str | None = None
    station: Station | None = None

    @property
    def horizon_s(self) -> int:
        """End of the last hour with a wind."""
        known = self.hours.start_s[~_blank(self.hours)]
        return int(known[-1]) + ROW_S if len(known) else 0

    @property
    def name(self) -> str:
        """The source's name in words."""
        return NAMES.get(self.source, self.source)


def _blank(hours: Hours):
    from core.weather.hours import MISSING

    return hours.state == MISSING


def record_of(fetched, place: Place, fetched_s: float) -> dict:
    """What is kept of a fetched forecast. Args: a `Fetched`; (lon, lat) [deg]; when
    [epoch s]."""
    body = json.loads(fetched.body)
    if fetched.source == NWS:
        inner = body.get("properties", body)
        layers = {name: inner[name] for name in LAYERS if name in inner}
        body = {"geometry": body.get("geometry"), "properties": layers}
    station = json.loads(fetched.station) if fetched.station else None
    return {
        "source": fetched.source,
        "longitude": place[0],
        "latitude": place[1],
        "fetched_s": int(fetched_s),
        "body": body,
        "station": station,
        "stations": _only(fetched.listed, station),
    }


def _only(listed: bytes | None, station: dict | None) -> dict | None:
    """The list of stations, cut down to the one that reported."""
    if not listed or not station:
        return None
    said, features = str(station.get("properties")), []
    for feature in json.loads(listed)["features"]:
        told = feature.get("properties") if isinstance(feature, dict) else None
        if isinstance(told, dict) and str(told.get("stationIdentifier")) in said:
            named = {name: told.get(name) for name in ("stationIdentifier", "name")}
            features.append({"properties": named, "geometry": feature.get("geometry")})
    return {"features": features}


def from_record(record: dict, where: str) -> Kept:
    """A forecast from what was kept. Args: the record; its file for messages.

    Raises: BadWeather, or KeyError, TypeError, ValueError, for one that is broken.
    """
    place = (float(record["longitude"]), float(record["latitude"]))
    hours = read_weather(json.dumps(record["body"]).encode(), where)
    if hours.spot is not None and is_elsewhere(hours.spot, place):
        raise ValueError(f"a forecast of elsewhere: {elsewhere_words(hours.spot, place)}")
    fetched_s = int(record["fetched_s"])
    hours = dataclasses.replace(hours, fetched_s=fetched_s)
    station, listed = record.get("station"), record.get("stations")
    return Kept(
        hours=hours,
        fetched_s=fetched_s,
        updated_s=hours.updated_s,
        source=str(record["source"]),
        attribution=ATTRIBUTION[record["source"]],
        place=place,
        station=read_station(json.dumps(station).encode(), json.dumps(listed).encode(), place)
        if station
        else None,
    )


def cache_folder(folder: Path) -> Path:
    """Where the HTTP cache lies. Args: the user's folder."""
    return folder / SUBFOLDER / CACHE


def keep(folder: Path, record: dict) -> Path:
    """Writes a record to its own file, whole or not at all.

    Args: the user's folder; the record. Raises: OSError where the disk won't.
    """
    named = f"{degrees(record['latitude'])}_{degrees(record['longitude'])}"
    at = datetime.datetime.fromtimestamp(record["fetched_s"], datetime.UTC)
    path = folder / SUBFOLDER / named / f"{at:%Y%m%dT%H%M%SZ}-{record['source']}{ENDING}"
    keep_record(path, record, MARK, even_looking=True)
    return path


def kept_files(folder: Path, place: Place, source: str | None = None) -> list[Path]:
    """Files of the forecasts for a place, or for one close by; the newest first.

    Args: the user's folder; (lon, lat) [deg]; a source, None for any.
    """
    home = place_folder(folder / SUBFOLDER, place, f"*{ENDING}")
    found = home.glob(f"*-{source or '*'}{ENDING}")
    return sorted(found, key=lambda path: path.name, reverse=True)


def read_kept(path: Path) -> Kept | None:
    """The forecast of a file; None where it can't be read or used. Args: the file."""
    try:
        return from_record(kept_record(path, MARK), path.name)
    except BROKEN:
        return None


def newest(folder: Path, place: Place, now_s: float, source: str | None = None) -> Kept | None:
    """The last good forecast for a place; None where there is none.

    Args: the user's folder; (lon, lat) [deg]; the clock [epoch s]; a source, None for
    any. One that a wrong clock dated ahead of now is used only if there is no other.
    """
    files = kept_files(folder, place, source)
    ahead = [path for path in files if (_fetched_s(path) or 0) > now_s + AHEAD_S]
    for path in [*(p for p in files if p not in ahead), *reversed(ahead)]:
        kept = read_kept(path)
        if kept is not None:
            return kept
    return None


def kept_since(folder: Path, place: Place, since_s: float) -> list[Hours]:
    """The hours of kept forecasts, the first of each day it was asked; the newest first.

    Args: the user's folder; (lon, lat) [deg]; the earliest that counts [epoch s].
    """
    firsts: dict[str, Path] = {}
    for path in kept_files(folder, place):  # the newest first: the day's first is last
        if (_fetched_s(path) or 0.0) >= since_s:
            firsts[path.name[:8]] = path
    read = (read_kept(path) for path in firsts.values())
    return [kept.hours for kept in read if kept is not None]


def _fetched_s(path: Path) -> float | None:
    """When a file's forecast was fetched, by its name."""
    try:
        return datetime.datetime.fromisoformat(path.name[:16]).timestamp()
    except ValueError:
        return None


def prune(folder: Path, now_s: float) -> int:
    """Drops forecasts by the rule: all of the last 10 days, then one a day, 800 days.

    Args: the user's folder; the clock [epoch s]. Returns: how many were dropped. The one
    a day is the day's first, of each source; the newest of a place is never dropped. None
    is dropped where only looking is allowed.
    """
    dropped = 0
    if only_looking():
        return dropped
    homes = (folder / SUBFOLDER).iterdir() if (folder / SUBFOLDER).is_dir() else ()
    for home in homes:
        seen = set()
        for path in sorted(home.glob(f"*{ENDING}"))[:-1]:
            age_s = now_s - (_fetched_s(path) or now_s)
            day = (path.name[:8], path.name[17:])
            if age_s > LONGEST_KEPT_S or (age_s > ALL_KEPT_S and day in seen):
                with contextlib.suppress(OSError):
                    path.unlink()
                    dropped += 1
            seen.add(day)
    return dropped


def apart_km(a: Place, b: Place) -> float:
    """Roughly how far two places lie apart. [km] Args: (lon, lat) each. [deg]"""
    east = (a[0] - b[0]) * math.cos(math.radians((a[1] + b[1]) / 2))
    return math.hypot(east, a[1] - b[1]) * 111.2
