"""How old a forecast is by its own words, and whether it still looks ahead."""

import numpy as np

from core.weather.hours import ROW_S, Hours

# an age is told in minutes, then in hours, up to these
MINUTES_SHOWN, HOURS_SHOWN = 90, 72
JUST_NOW = "just now"


def ago_words(age_s: float) -> str:
    """Such as `just now`, `14 h ago` or `12 days ago`. Args: age. [s]"""
    minutes = max(age_s, 0.0) / 60
    if minutes < 1:
        return JUST_NOW
    if minutes < MINUTES_SHOWN:
        return f"{minutes:.0f} min ago"
    hours = minutes / 60
    return f"{hours:.0f} h ago" if hours < HOURS_SHOWN else f"{hours / 24:.0f} days ago"


def got_words(age_s: float) -> str:
    """How long a forecast has been here, as: from 14 h ago. Args: age. [s]"""
    ago = ago_words(age_s)
    return f"fetched {ago}" if ago == JUST_NOW else f"from {ago}"


def hours_ahead(hours: Hours, now_s: float) -> int:
    """How many hours with a wind have not ended. Args: the table; now, epoch seconds."""
    return int(((hours.start_s + ROW_S > now_s) & ~np.isnan(hours.speed_mps)).sum())


def stale_note(hours: Hours, now_s: float) -> str:
    """What is wrong with a forecast that has no hour left; empty for another table.

    Args: the table; now, epoch seconds. The age is that of the forecasters' last
    change; when a service made its answer says nothing of it.
    """
    dated = hours.updated_s is not None or hours.format.startswith(("nws", "open-meteo"))
    if hours.kind != "forecast" or hours.held or not dated or not len(hours):
        return ""
    if hours_ahead(hours, now_s):
        return ""
    if hours.updated_s is None:
        return f"no future hours: the last ended {ago_words(now_s - hours.start_s[-1] - ROW_S)}"
    return f"forecast issued {ago_words(now_s - hours.updated_s)}, no future hours"


def known_until_s(hours: Hours) -> int | None:
    """End of the last hour with a wind [epoch s]; None for a held wind, or with none.

    Args: the table.
    """
    known = hours.start_s[~np.isnan(hours.speed_mps)]
    return None if hours.held or not len(known) else int(known[-1]) + ROW_S
