"""The light of a day in words."""

import datetime
import math

from core.ground.layout import LonLat
from core.say.words import clock_text
from core.sky.daylight import Day, sun_day
from core.sky.moon import moon_illuminated_frac


def daylight_lines(day: Day, legal: tuple[float, float] | None) -> list[str]:
    """The day's light as times, in their order, and the moon.

    Args: the day; first and last instant of legal light [epoch s], None without a season.
    Missing: what the day lacks is left out.
    """
    start, end = legal or (math.nan, math.nan)
    times = {
        "First light (civil dawn)": day.civil_dawn_s,
        "Legal light begins": start,
        "Sunrise": day.sunrise_s,
        "Sunset": day.sunset_s,
        "Legal light ends": end,
        "Last light (civil dusk)": day.civil_dusk_s,
    }
    known = sorted((at, name) for name, at in times.items() if not math.isnan(at))
    lines = [f"{name} {clock_text(at, day.timezone)}" for at, name in known]
    moon = moon_illuminated_frac(day.noon_s) * 100
    return [*lines, f"Moon {moon:.0f} % lit; it counts for nothing"]


def sunrise_line(center: LonLat, timezone: str, date: datetime.date) -> str:
    """The day's sunrise, by which an owner sees whether the time zone is right.

    Args: a place (longitude, latitude) [deg]; its time zone; local date.
    Missing: empty where the sun does not rise on that date.
    """
    day = sun_day(center[1], center[0], timezone, date)
    if math.isnan(day.sunrise_s):
        return ""
    return (
        f"Sunrise there today is {clock_text(day.sunrise_s, timezone)} ({timezone}). "
        "If your clock says otherwise, the spot or the time zone is wrong."
    )
