"""The place of a time zone, to see when longitude and latitude are swapped.

Source: tzdata's zone1970.tab, whose second column is the zone's own place as
±DDMM±DDDMM or ±DDMMSS±DDDMMSS, latitude first.
"""

import functools
import importlib.resources
import math
import re
import zoneinfo
from pathlib import Path

from core.ground.layout import LonLat

MEAN_EARTH_RADIUS_M = 6371008.8  # IUGG mean radius; a sphere is enough here
ISO_6709 = re.compile(r"([+-])(\d{2})(\d{2})(\d{2})?([+-])(\d{3})(\d{2})(\d{2})?")


def timezone_place(timezone: str) -> LonLat | None:
    """(lon, lat) of a zone's own place; None for zones without one."""
    return _places().get(timezone)


def great_circle_m(a: LonLat, b: LonLat) -> float:
    """Distance of two places on a sphere. [m]

    Source: the haversine formula; within 0.6 % of the ellipsoid.
    """
    lon_a, lat_a, lon_b, lat_b = map(math.radians, (*a, *b))
    half = (
        math.sin((lat_b - lat_a) / 2) ** 2
        + math.cos(lat_a) * math.cos(lat_b) * math.sin((lon_b - lon_a) / 2) ** 2
    )
    return 2 * MEAN_EARTH_RADIUS_M * math.asin(min(1.0, math.sqrt(half)))


@functools.cache
def _places() -> dict[str, LonLat]:
    rows = [line.split("\t") for line in _table().splitlines() if line and line[0] != "#"]
    return {row[2]: _lonlat(row[1]) for row in rows if len(row) >= 3}


def _table() -> str:
    """The text of zone1970.tab, from the tzdata package or the machine; empty if absent."""
    try:
        table = importlib.resources.files("tzdata").joinpath("zoneinfo", "zone1970.tab")
        return table.read_text(encoding="utf-8")
    except (ModuleNotFoundError, OSError):
        pass
    for folder in zoneinfo.TZPATH:
        path = Path(folder, "zone1970.tab")
        if path.is_file():
            return path.read_text(encoding="utf-8")
    return ""


def _lonlat(text: str) -> LonLat:
    found = ISO_6709.fullmatch(text)
    if found is None:
        raise ValueError(f"not a place of zone1970.tab: {text}")
    lat = _degrees(found.group(1), *found.groups("0")[1:4])
    lon = _degrees(found.group(5), *found.groups("0")[5:8])
    return lon, lat


def _degrees(sign: str, degrees: str, minutes: str, seconds: str) -> float:
    size = int(degrees) + int(minutes) / 60 + int(seconds) / 3600
    return -size if sign == "-" else size
