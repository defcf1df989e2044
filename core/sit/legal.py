"""Legal light and closed hours of a date, and what they leave of a window."""

import datetime
from zoneinfo import ZoneInfo

import numpy as np

from core.errors import NoSun
from core.ground.layout import Closed, Season
from core.units import SECONDS_PER_MINUTE

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def local_s(timezone: str, date: datetime.date, clock: str) -> int:
    """Epoch seconds of a local HH:MM on a date."""
    hour, minute = (int(x) for x in clock.split(":"))
    if hour == 24:
        date, hour = date + datetime.timedelta(days=1), 0
    at = datetime.datetime(date.year, date.month, date.day, hour, minute, tzinfo=ZoneInfo(timezone))
    return int(at.timestamp())


def legal_light_s(day, season: Season):
    """Legal start rounded up to the minute, legal end rounded down. [epoch s]

    Args: day, anything with a date, sunrise and sunset, or those of many dates; the
    season whose rule it is. Returns: whole numbers, of the shape of the sunrise.
    Raises: NoSun where the sun does not rise or set that day.
    """
    sunless = np.isnan(day.sunrise_s) | np.isnan(day.sunset_s)
    if np.any(sunless):
        date = np.atleast_1d(np.array(day.date, "datetime64[D]"))[np.atleast_1d(sunless)][0]
        raise NoSun(
            f"the sun does not rise and set on {date} here",
            "the date",
            "Choose a date with a sunrise and a sunset.",
        )
    minute = SECONDS_PER_MINUTE
    start = np.ceil((day.sunrise_s - season.before_sunrise_min * minute) / minute) * minute
    end = np.floor((day.sunset_s + season.after_sunset_min * minute) / minute) * minute
    return start.astype(np.int64), end.astype(np.int64)


def closed_s(closed: tuple[Closed, ...], timezone: str, date) -> list[tuple[int, int]]:
    """Closed hours of a local date, in order. [epoch s]"""
    today = WEEKDAYS[date.weekday()]
    return sorted(
        (local_s(timezone, date, c.from_time), local_s(timezone, date, c.to_time))
        for c in closed
        if today in c.days
    )


def closed_on(season: Season | None, date: datetime.date) -> bool:
    """Whether a season closes any hours of a date. Args: the season, None outside; the date."""
    return season is not None and any(WEEKDAYS[date.weekday()] in c.days for c in season.closed)


def cut(whole: tuple[int, int], closed: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """What closed hours leave of a window, in order."""
    pieces, at = [], whole[0]
    for start, end in closed:
        if end <= at or start >= whole[1]:
            continue
        if start > at:
            pieces.append((at, start))
        at = max(at, end)
    if at < whole[1]:
        pieces.append((at, whole[1]))
    return pieces
