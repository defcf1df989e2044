"""When deer hold a place, and when a place counts at all."""

import numpy as np

from core.angles import in_ranges
from core.ground.layout import ALL_ROUND, Area
from core.sky.daylight import Day
from core.units import SECONDS_PER_MINUTE

# minutes before and after sunrise and sunset: common practice, no source
DAY_FROM_BEFORE_SUNRISE, DAY_TO_AFTER_SUNSET = 90, 30
NIGHT_FROM_BEFORE_SUNSET, NIGHT_TO_AFTER_SUNRISE = 90, 45


def held_at(held: str, time_s, day: Day):
    """Whether deer hold a place at instants of one local day. Elementwise.

    Args: the area's word (day, night, always, never); instants [epoch s].
    """
    time_s = np.asarray(time_s, float)
    minute = SECONDS_PER_MINUTE
    if held == "day":
        start = day.sunrise_s - DAY_FROM_BEFORE_SUNRISE * minute
        return (time_s >= start) & (time_s <= day.sunset_s + DAY_TO_AFTER_SUNSET * minute)
    if held == "night":
        evening = time_s >= day.sunset_s - NIGHT_FROM_BEFORE_SUNSET * minute
        return evening | (time_s <= day.sunrise_s + NIGHT_TO_AFTER_SUNRISE * minute)
    return np.full(time_s.shape, held == "always")


def held_by_area(areas: tuple[Area, ...], time_s, day: Day):
    """Whether each area is held at each instant. Shape (time, area)."""
    kinds = [area.held for area in areas]
    return _by_kind(kinds, lambda held: held_at(held, time_s, day), np.shape(time_s))


def counts_by_area(areas: tuple[Area, ...], month: int, wind_from_deg, half_width_deg):
    """Whether each area counts in each wind. Shape (..., area).

    Args: the areas; month 1 to 12; wind from and half-width of its report [deg].

    An area never held, outside its months, or whose own winds the report's span
    does not touch, does not count; without a direction its winds do not matter.
    """
    wind = np.asarray(wind_from_deg, float)

    def counts(kind):
        in_use, with_wind_deg = kind
        if not in_use:
            return np.zeros(wind.shape, bool)
        if with_wind_deg == ALL_ROUND:
            return np.ones(wind.shape, bool)
        return in_ranges(wind, with_wind_deg, half_width_deg) | np.isnan(wind)

    kinds = [(a.held != "never" and month in a.months, a.with_wind_deg) for a in areas]
    return _by_kind(kinds, counts, wind.shape)


def _by_kind(kinds: list, found, shape: tuple[int, ...]):
    """What is found of a kind, worked out once each, for every one. Shape (..., kind)."""
    if not kinds:
        return np.zeros((*shape, 0), bool)
    met = {kind: i for i, kind in enumerate(dict.fromkeys(kinds))}
    return np.stack([found(kind) for kind in met], axis=-1)[..., [met[kind] for kind in kinds]]
