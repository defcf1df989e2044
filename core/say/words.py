"""Numbers to words: clock times, winds, distances, and the words of groups and verdicts."""

import datetime
import math
from collections.abc import Iterable
from zoneinfo import ZoneInfo

import numpy as np

from core.angles import point_name
from core.sit.prepare import Sit
from core.sit.ways import MOST_SHOWN_YD
from core.units import M_PER_YD, MPS_PER_MPH
from core.weather.age import JUST_NOW, ago_words, got_words
from core.weather.entry import EXAMPLE_WIND
from core.weather.hours import CALM, MISSING, Hours

GROUPS_SAID = ("GO", "CAN'T CALL", "STAY OUT")
VERDICTS_SAID = ("clean", "just-off", "can't call", "wrong wind")

HOW_KNOWN = {
    "typed": "as you gave it, held for the whole sit",
    "typical": "typical day, not a forecast",
    EXAMPLE_WIND: "an example. Say today's under Wind",
}
AHEAD_S = 600.0  # a clock may be this far off


def clock_text(time_s: float, timezone: str) -> str:
    """A local clock time, as 5:29 am."""
    at = _local(time_s, timezone)
    return f"{_digits(at)} {'am' if at.hour < 12 else 'pm'}"


def clock_digits(time_s: float, timezone: str) -> str:
    """A local clock time where am and pm are plain, as 5:29."""
    return _digits(_local(time_s, timezone))


def _local(time_s: float, timezone: str) -> datetime.datetime:
    return datetime.datetime.fromtimestamp(round(time_s), tz=ZoneInfo(timezone))


def _digits(at: datetime.datetime) -> str:
    return f"{at.hour % 12 or 12}:{at.minute:02d}"


def like_text(distance_yd: float, unit: str = "yd") -> str:
    """How far a strength is like: whole tens of yards, or the two ends.

    Args: the distance; how its unit is written.
    """
    if math.isnan(distance_yd):
        return "not known"
    if distance_yd < 10:
        return f"under 10 {unit}"
    if distance_yd > MOST_SHOWN_YD:
        return "over 2 miles"
    step = 1 if distance_yd < 100 else 10
    return f"{int(distance_yd / step + 0.5) * step} {unit}"


def wind_text(sit: Sit, case: int | None = None) -> str:
    """The wind of the window, or of one of its rows, as NW 8 mph."""
    weather = sit.rows.weather.take(np.arange(len(sit.rows.start_s))[sit.told])
    if case is not None:
        return wind_words(weather, case)
    mean, speed = sit.mean_wind_deg, weather.speed_mps
    if np.isnan(speed).all():
        return "no wind given" if sit.weather.held else "no wind in this forecast"
    low, high = float(np.nanmin(speed)) / MPS_PER_MPH, float(np.nanmax(speed)) / MPS_PER_MPH
    if sit.weather.held:
        low = float(weather.speed_low_mps[0]) / MPS_PER_MPH
        high = float(weather.speed_high_mps[0]) / MPS_PER_MPH
    spread = f"{low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"
    if math.isnan(mean):
        return "calm" if (speed[~np.isnan(speed)] == 0).all() else f"variable, {spread} mph"
    return f"{point_name(mean)} {spread} mph"


def noted(notes: Iterable[str]) -> list[str]:
    """What a reader noted of a wind, as sentences: what was mended, left out or turned.

    Args: the notes.
    """
    return [f"{note[:1].upper()}{note[1:].rstrip('.')}." for note in notes]


def wind_words(weather: Hours, row: int) -> str:
    """One hour's wind in words. Args: the hours; which of them."""
    from_deg, speed_mps = float(weather.wind_from_deg[row]), float(weather.speed_mps[row])
    state = int(weather.state[row])
    if state == MISSING or math.isnan(speed_mps):
        return "no wind given"
    if state == CALM:
        return "calm"
    mph = f"{speed_mps / MPS_PER_MPH:.0f} mph"
    return f"variable {mph}" if math.isnan(from_deg) else f"{point_name(from_deg)} {mph}"


def at_time(sit: Sit, time_s: float) -> str:
    """A clock time on the property of a sit."""
    return clock_text(time_s, sit.timezone)


def minutes_text(minutes: float) -> str:
    """Whole minutes in words: "1 minute", "14 minutes". Args: how many."""
    return "1 minute" if round(minutes) == 1 else f"{minutes:.0f} minutes"


def place_text(distance_m: float) -> str:
    """A true distance in whole yards."""
    return f"{int(distance_m / M_PER_YD + 0.5)} yd"


def days_ago(days: int) -> str:
    """Such as `today`, `yesterday` or `9 days ago`. Args: whole days."""
    return {0: "today", 1: "yesterday"}.get(days, f"{days} days ago")


def in_a_row(names) -> str:
    """Names in a row: A; A and B; A, B and C."""
    names = list(names)
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def wind_line(sit: Sit, now_s: float | None) -> str:
    """The wind of the sit and how it is known, with its age.

    Args: the sit; the clock [epoch s] or None.
    """
    weather = sit.weather
    if weather.kind == "typed" and weather.fetched_s is not None and now_s is not None:
        ago = ago_words(now_s - weather.fetched_s)
        age = "" if ago == JUST_NOW else f" {ago}"
        return f"{wind_text(sit)}: as you gave it{age}, held for the whole sit."
    known = HOW_KNOWN.get(weather.source) or HOW_KNOWN.get(weather.kind)
    return f"{wind_text(sit)}: {known or _age_told(weather, now_s)}."


def _age_told(weather: Hours, now_s: float | None) -> str:
    """Source and age of a forecast: when it was got, and when it was last changed."""
    source = weather.source or weather.format
    if now_s is None:
        return source
    told = []
    if weather.fetched_s is not None:
        told.append(got_words(now_s - weather.fetched_s))
    if weather.updated_s is not None:
        ahead = weather.updated_s > now_s + AHEAD_S
        told.append(
            "updated ahead of this clock: check the clock"
            if ahead
            else f"the forecasters' update {ago_words(now_s - weather.updated_s)}"
        )
    elif weather.kind == "forecast":
        told.append("when it was updated is not known")
    return ", ".join([source, "; ".join(told)] if told else [source])
