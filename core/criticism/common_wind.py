"""The wind that blows most in the hunting season, from a table of past hours."""

from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG
from core.ground.layout import LonLat, Property
from core.ground.timezone_places import great_circle_m
from core.sit.dates import covers
from core.units import M_PER_MILE
from core.weather.hours import DIRECTED, Hours

TYPICAL_PLACE: LonLat = (-79.95, 36.10)  # as the head of the typical year's file gives it
TYPICAL_WITHIN_M = 150 * M_PER_MILE  # farther off, another wind is common; an assumption


@dataclass(frozen=True, slots=True)
class CommonWind:
    """The most frequent of the sixteen points, its share of directed hours, and whence."""

    from_deg: float
    share: float
    source: str


def common_wind(hours: Hours, ground: Property, source: str, offset_s: int = 0):
    """The most frequent wind of the hours in the property's seasons.

    Args: a table of hours; the property (without a season all of the year counts);
    where the hours are from, in words; the offset of local time from UTC [s].

    Missing: None without a directed hour in season.
    """
    local = (hours.start_s + offset_s).astype("datetime64[s]").astype("datetime64[D]")
    days, at = np.unique(local, return_inverse=True)
    in_season = np.array([_in_season(day.item(), ground) for day in days], bool)[at]
    wind = hours.wind_from_deg[in_season & (hours.state == DIRECTED)]
    if not len(wind):
        return None
    sector = ((wind + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG).astype(int) % 16
    counts = np.bincount(sector, minlength=16)
    most = int(counts.argmax())
    return CommonWind(most * POINT_WIDTH_DEG, float(counts[most] / counts.sum()), source)


def _in_season(date, ground: Property) -> bool:
    return not ground.seasons or any(covers(s.first, s.last, date) for s in ground.seasons)


def near_typical(ground: Property) -> bool:
    """Whether a ground lies within 150 miles of the typical year's station."""
    return great_circle_m(ground.center, TYPICAL_PLACE) <= TYPICAL_WITHIN_M


def typical_common_wind(ground: Property) -> CommonWind | None:
    """The common wind of the typical year, for a ground that lies near its station.

    Missing: None farther off than 150 miles.
    """
    if not near_typical(ground):
        return None
    from core.weather.files.typical import STANDARD_OFFSET_S, typical_year

    return common_wind(typical_year(), ground, "Greensboro's typical year", STANDARD_OFFSET_S)
