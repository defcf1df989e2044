"""Clock times in notes: 7:40 of an evening is twenty to eight at night."""

import datetime
import re
from collections.abc import Mapping
from typing import Any
from zoneinfo import ZoneInfo

HALF_WORDS = {
    "am": "morning",
    "morning": "morning",
    "dawn": "morning",
    "pm": "evening",
    "evening": "evening",
    "dusk": "evening",
    "afternoon": "evening",
    "all day": "all-day",
    "all-day": "all-day",
}
HALF_NAMES = {"morning": "morning", "evening": "evening", "all-day": "all day"}
CLOCK = re.compile(r"(?<![\d:])(?:(\d{1,2})[:.](\d{2})\s*([ap])?\.?m?\b|(\d{1,2})\s*([ap])m\b)")


def minute_of_day(clock: re.Match, half: str | None, last_minute: int) -> int | None:
    """Minute of the day of a written time. Args: a match of CLOCK; the half of the day the
    sit is in, or None; the minute written before it on the line, -1 for none.

    Returns: None where it is no time of day. A morning's times may run past noon, an
    evening's are after it; of a whole day's the small hours are the afternoon's.
    """
    hour, minute = int(clock[1] or clock[4]), int(clock[2] or 0)
    told = clock[3] or clock[5]
    if told:
        hour = hour % 12 + (12 if told == "p" else 0)
    elif hour < 12 and _after_noon(hour, minute, half, last_minute):
        hour += 12
    return hour * 60 + minute if hour <= 23 and minute <= 59 else None


def _after_noon(hour: int, minute: int, half: str | None, last_minute: int) -> bool:
    if half == "evening":
        return hour >= 1
    if half == "morning":
        return hour < 4 and last_minute >= 240  # after the sit began
    return hour < 5 or hour * 60 + minute < last_minute


def minute_words(minute_of_the_day: int) -> str:
    """A minute of the day as a clock shows it."""
    hour, minute = divmod(minute_of_the_day, 60)
    return f"{hour % 12 or 12}:{minute:02d} {'am' if hour < 12 else 'pm'}"


def timed(values: Mapping[str, Any], date: datetime.date, zone: ZoneInfo) -> dict[str, Any]:
    """Values whose minutes of the day are instants. Args: them; local date; time zone."""
    told = dict(values)
    for name in ("at", "from", "to"):
        if isinstance(told.get(name), int):
            hour, minute = divmod(told[name], 60)
            at = datetime.datetime(date.year, date.month, date.day, hour, minute, tzinfo=zone)
            told[name] = at.isoformat()
    return told
