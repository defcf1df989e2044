"""How old a forecast is by its own words, and whether it still looks ahead."""

import numpy as np

from core.weather.hours import ROW_S, Hours

HOURS_SHOWN = 48  # an age is told in hours up to here, then in days


def ago_words(age_s: float) -> str:
    """Such as `14 h ago` or `12 days ago`. Args: age. [s]"""
    hours = max(age_s, 0.0) / ROW_S
    return f"{hours:.0f} h ago" if hours < HOURS_SHOWN else f"{hours / 24:.0f} days ago"


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
