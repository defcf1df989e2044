"""Instants and spans of time as the Weather Service writes them, laid onto hours."""

import datetime
import math
import re

from core.errors import BadWeather
from core.weather.hours import ROW_S
from core.weather.reading.observations import EARLIEST_S, LATEST_S

LONGEST_H = 400  # one interval
LONGEST_SPAN_S = 60 * 86400  # a whole forecast
AGAIN = "Fetch it again."
_PERIOD = re.compile(r"P(?:(\d{1,4})D)?(?:T(?:(\d{1,4})H)?(?:(\d{1,5})M)?(?:\d{1,5}S)?)?")


def instant_s(text: object, where: str) -> int | None:
    """Epoch seconds of an ISO time with its offset; None for no text.

    Args: the text; the file for messages.
    Raises: BadWeather for no time, no offset, or a year before 1850 or after 2099.
    """
    if text is None or text == "":
        return None
    try:
        at = datetime.datetime.fromisoformat(str(text).strip().replace("Z", "+00:00"))
        seconds = at.timestamp() if at.tzinfo else math.nan
    except (ValueError, OverflowError) as fault:
        raise BadWeather(f"'{str(text)[:40]}' is no time", where, AGAIN) from fault
    if at.tzinfo is None:
        raise BadWeather(f"'{text}' has no zone", where, "Use the file as it was fetched.")
    if not EARLIEST_S <= seconds < LATEST_S:
        raise BadWeather(f"'{text}' is in an impossible year", where, AGAIN)
    return int(seconds)


def length_s(text: str) -> int:
    """Seconds of a length such as PT3H or P1DT6H. Args: the text. Raises: ValueError."""
    found = _PERIOD.fullmatch(text)
    if not found or not any(found.groups()):
        raise ValueError(text)
    days, hours, minutes = (int(x or 0) for x in found.groups())
    total = (days * 24 + hours) * ROW_S + minutes * 60
    if not 0 < total <= LONGEST_H * ROW_S:
        raise ValueError(text)
    return total


def number_of(value: object) -> float:
    """A number of a JSON body. Args: the value. Raises: TypeError, ValueError for a
    truth value or what is no number."""
    if isinstance(value, bool):
        raise TypeError(f"{value} is no number")
    return float(value)  # type: ignore[arg-type]


def whole_hours(begin_s: int, end_s: int) -> range:
    """Starts of the hours that a span touches, from its own begin where that is a quarter
    of an hour, else from the UTC hour. Args: epoch seconds, end left out."""
    first = begin_s if begin_s % (ROW_S // 4) == 0 else begin_s // ROW_S * ROW_S
    return range(first, end_s, ROW_S)


def check_span(starts, where: str) -> None:
    """Refuses a forecast that reaches over months. Args: starts. Raises: BadWeather."""
    if max(starts) - min(starts) > LONGEST_SPAN_S:
        days = (max(starts) - min(starts)) // 86400
        raise BadWeather(f"the forecast reaches over {days} days", where, AGAIN)
